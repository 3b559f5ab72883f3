"""The part that a build states for what the work uses up, and what is wrong with it."""

from fitcheck.bom.need import Need
from fitcheck.catalog.shelf import Shelf


def stated_part(shelf: Shelf, kind: str, part_id: str | None) -> Need | None:
    """Return the need, with no amounts yet, for a stated part of one kind; None if none is stated.

    A part that no catalog has, or that is of another kind, is still what the build says: it is marked as unlisted.
    """
    if part_id is None:
        return None
    part = shelf.get(part_id)
    if part is not None and part.kind == kind:
        return Need(part.id, kind, part.description, "each")
    if part is not None:
        reason = f"{part_id} is a {part.kind}, not a {kind}"
    else:
        near = shelf.nearest(part_id)
        reason = f"no catalog has a part {part_id!r}" + (f"; nearest is {near}" if near else "")
    return Need(part_id, kind, reason, "each", unlisted=True)
