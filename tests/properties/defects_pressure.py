"""Parts that are too weak for the pedal, and residual valves on brakes that they are not made for."""

from tests.properties.edited import Made, made
from tests.properties.editing import Edit
from tests.properties.generic_parts import drum_valves
from tests.properties.naive import look


def brake_too_weak(edit: Edit) -> Made:
    """A brake that is rated for less than the pedal makes; the build's own catalog has a stronger one."""
    tag = edit.pick(edit.of_kind("caliper", "wheel cylinder"))
    part = edit.part(tag)
    edit.own(part, max_pressure="20 MPa")
    edit.plan["components"][tag]["part"] = edit.own(f"own-{part}-small", max_pressure="2 MPa")
    for master in edit.of_kind("master cylinder"):
        edit.plan["components"][master]["part"] = edit.own(edit.part(master), bore="16 mm")
    for valve in edit.of_kind("proportioning valve"):
        edit.plan["components"][valve]["part"] = edit.own(edit.part(valve), setting="4 MPa", slope=0.5)
    edit.plan["pedal"] = {"force": "450 N", "ratio": 5, "balance": 0.5}
    edit.plan["brakes"] = {tag: {"axle": "front"}}
    return made("pressure-over-rating", tag)


def drum_valve_on_discs(edit: Edit) -> Made:
    """A residual valve for drums in a line that leads to calipers."""
    line = edit.pick([tag for tag in edit.lines(4.75) if _discs_behind(edit, tag)])
    back = _discs_behind(edit, line) == "from"
    tag = edit.fit(edit.pick(drum_valves(4.75)), like=edit.neighbour(line))
    near, far = (f"{tag}.out", f"{tag}.in") if back else (f"{tag}.in", f"{tag}.out")
    edit.cut(line, near, far)
    return made("residual-pressure", tag)


def _discs_behind(edit: Edit, line: str) -> str | None:
    """Return the end of a line behind which calipers lose their feed without it; None if none do."""
    seen = look(edit.plan | {"lines": {tag: entry for tag, entry in edit.plan["lines"].items() if tag != line}})
    discs = {ref for ref in seen.unfed if edit.kind(ref.partition(".")[0]) == "caliper"}
    ends = ("from", "to")
    return next((name for name in ends if seen.water_of(edit.plan["lines"][line][name]) & discs), None)
