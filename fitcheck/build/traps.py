"""What keeps a line from being put together, told apart so that a rule and a bench sheet say the same of it."""

from typing import Literal, NamedTuple

from fitcheck.build.assemblies import ENDS, Assembly, EndFacts, HoleFacts
from fitcheck.build.assembly import FROM, Block

Word = Literal["end-too-large", "thing-off", "thing-long", "no-room-to-flare", "bend-stuck"]


class Trap(NamedTuple):
    """Why a line does not go together. Lengths in mm; what does not belong to the word is left empty.

    Attributes:
        word: `end-too-large`: a formed end passes no hole; `thing-off`: something has to go on and both ends are
            formed; `thing-long`: it lies on no straight and slides past no bend; `no-room-to-flare`: an end has to be
            formed in the car and its straight is too short; `bend-stuck`: a bend does not pass a hole.
        end, what: the end it is about, and what is so large there.
        has_mm, needs_mm: what there is, and what is needed; `at_least` if there may be more of it.
        hole: the panel of it; `hole_mm` its width.
        thing: what cannot go on.
        both: whether both ends are formed already.
        certain: no figure was only taken to be the usual one.
    """

    word: Word
    end: str = ""
    what: str = ""
    has_mm: float = 0.0
    needs_mm: float = 0.0
    hole: str = ""
    hole_mm: float = 0.0
    thing: str = ""
    both: bool = False
    certain: bool = True
    at_least: bool = False


def trap_of(found: Assembly) -> Trap | None:
    """Return what keeps a line from being put together, None if nothing that is known does."""
    certain = found.certain is None
    if not certain and found.usual is not None:
        return None
    both = all(end.formed for end in found.ends)
    if both and found.rings:
        return Trap("thing-off", thing=found.rings[0], both=True, certain=certain)
    single = [blocks[0] for blocks in found.blocks if len(blocks) == 1]
    listed = single or [block for blocks in found.blocks for block in blocks]
    trap = _long(found, listed) or _no_room(found, listed, certain) or _stuck(found, listed) or _large(found, certain)
    return trap._replace(both=both, certain=certain)


def blocked_by(found: Assembly, tag: str) -> list[list[str]]:
    """Return the smallest sets of what is in the way, each as fields of the build, parts and places."""
    return [[_name(found, tag, block) for block in blocks] for blocks in found.blocks]


def _name(found: Assembly, tag: str, block: Block) -> str:
    if block.word == "formed":
        return f"lines.{tag}.ends.{ENDS[block.which]}.formed"
    if block.word == "room":
        return f"straight at {tag}.{ENDS[block.which]}"
    if block.word == "long":
        return f"lines.{tag}.slides.{block.which}"
    panel = found.holes[block.which].panel
    return f"panels.{panel}.{'hole' if block.word == 'hole' else 'thickness'}"


def _long(found: Assembly, blocks: list[Block]) -> Trap | None:
    ring = next((block.which for block in blocks if block.word == "long"), None)
    if ring is None:
        return None
    return Trap("thing-long", thing=found.rings[ring], has_mm=max(found.straights_mm, default=0.0))


def _no_room(found: Assembly, blocks: list[Block], certain: bool) -> Trap | None:
    side = next((block.which for block in blocks if block.word == "room"), None)
    if side is None or not found.straights_mm:
        return None
    end, hole = found.ends[side], _narrowest(found)
    nut = 0.0 if end.rides_up else end.size.least_mm if certain else end.size.mm
    room = found.straights_mm[0 if side == FROM else -1] - nut
    return Trap("no-room-to-flare", end.ref, "", room, found.grip_mm, hole.panel, hole.hole_mm or 0.0)


def _stuck(found: Assembly, blocks: list[Block]) -> Trap | None:
    index = next((block.which for block in blocks if block.word == "bend"), None)
    if index is None:
        return None
    hole = found.holes[index]
    needed = min(mm for mm in found.bores_mm[index] if hole.hole_mm is not None and mm > hole.hole_mm)
    return Trap("bend-stuck", "", "", hole.thickness_mm or 0.0, needed, hole.panel, hole.hole_mm or 0.0)


def _large(found: Assembly, certain: bool) -> Trap:
    """Return the trap of the end that comes nearest to passing; of equals the same one whichever is called `from`."""
    hole = _narrowest(found)
    formed = [end for end in found.ends if end.formed] or list(found.ends)
    end = min(formed, key=lambda end: (_across(end, certain), end.across.what, end.joined))
    wide = _across(end, certain)
    found_mm = hole.hole_mm or 0.0
    trap = Trap("end-too-large", end.ref, end.across.what, wide, 0.0, hole.panel, found_mm)
    return trap._replace(at_least=wide < end.across.mm)


def _across(end: EndFacts, certain: bool) -> float:
    return end.across.least_mm if certain else end.across.mm


def _narrowest(found: Assembly) -> HoleFacts:
    return min(found.holes, key=lambda hole: hole.hole_mm if hole.hole_mm is not None else float("inf"))
