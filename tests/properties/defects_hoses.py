"""Hoses that do not reach, or that are folded: their two ends are placed so; nothing else has a place."""

from fitcheck.quantities import parse
from tests.properties.edited import Made, made
from tests.properties.editing import Edit

_LONGEST_MM = 400.0
"""There is a longer one of each hose up to here."""


def hose_that_does_not_reach(edit: Edit) -> Made | None:
    """A hose whose ends are farther apart than it is long."""
    found = _placed(edit, 1.02)
    return found and made("hose-short", found)


def hose_that_shortens_too_much(edit: Edit) -> Made | None:
    """A hose that is just long enough until there is pressure in it."""
    found = _placed(edit, 0.97)
    return found and made("hose-short", found)


def hose_that_is_folded(edit: Edit) -> Made | None:
    """A hose whose ends are hardly apart at all."""
    found = _placed(edit, 0.02)
    return found and made("hose-bend-tight", found)


def _placed(edit: Edit, share: float) -> str | None:
    """Put the two ends of a brake hose this share of its length apart, and return its tag; None if there is none."""
    hoses = []
    for tag, entry in edit.plan["hoses"].items():
        tags = [entry.get(name, "").partition(".")[0] for name in ("from", "to")]
        length = edit.row(entry["part"]).get("length")
        if edit.kind(tag) != "hose" or length is None or not all(each in edit.plan["components"] for each in tags):
            continue
        if tags[0] != tags[1] and _mm(length) <= _LONGEST_MM:
            hoses.append((tag, tags, _mm(length)))
    if not hoses:
        return None
    tag, tags, length = edit.pick(hoses)
    edit.plan["components"][tags[0]]["at"] = [0, 0, 300]
    edit.plan["components"][tags[1]]["at"] = [0, round(share * length, 3), 300]
    return tag


def _mm(length: object) -> float:
    return float(parse(length, "length")) if isinstance(length, str) else float(str(length))
