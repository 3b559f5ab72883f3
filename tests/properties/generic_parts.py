"""The generic catalog as plain rows, and what goes with what: told by equal designations, no rule asked.

Nothing here comes from `fitcheck.checks` or `fitcheck.build`: what the strategies call valid is judged anew.
"""

import json
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

import fitcheck.catalog.generic as generic

Row = dict[str, Any]
Port = dict[str, Any]

ROWS: dict[str, Row] = json.loads(Path(generic.__file__).with_name("parts.json").read_text(encoding="utf-8"))
NUTTED = ("inverted-flare", "bubble", "cone-37")
"""Seats that a flared tube goes into; a cone is the outside of its port, the others are inside."""
TUBES = {
    4.75: ("tube-3-16-cuni", "tube-3-16-steel", "tube-3-16-stainless", "tube-4-75mm-cuni", "tube-4-75mm-steel"),
    6.35: ("tube-1-4-cuni", "tube-1-4-steel", "tube-1-4-stainless"),
    6.0: ("tube-6mm-cuni", "tube-6mm-steel"),
}
"""Tube that may carry pressure, by the size it counts as."""
JOINING = ("union", "bulkhead union", "elbow", "adapter")
CLOSING = ("plug", "cap", "pressure switch", "gauge")
DRUM_VALVE_MPA = 0.03
"""What a residual valve for drums holds at least; one for discs holds half of it."""


def nominal_mm(thread: str) -> float:
    """Return the outside diameter of a metric or unified thread, by its designation."""
    if thread.startswith("M"):
        return float(thread[1:].partition("x")[0])
    return round(float(Fraction(thread.partition("-")[0])) * 25.4, 4)


@cache
def bolts(thread: str, eyes: int) -> list[str]:
    """Return the banjo bolts of a thread that are long enough for so many eyes."""
    return [key for key in of_kind("banjo bolt") if port(key, "bolt")["thread"] == thread and ROWS[key]["eyes"] >= eyes]


def passes(thread: str, eye: float) -> bool:
    """Return whether a bolt of this thread goes through an eye and fills it."""
    return 0 <= round(eye - nominal_mm(thread), 4) <= 0.8


def port(part_id: str, name: str) -> Port:
    """Return one port of a part of the generic catalog."""
    found: Port = ROWS[part_id]["ports"][name]
    return found


def same_size(a: float | None, b: float | None) -> bool:
    """Return whether two tubes are one size: neither is over 0.1 mm larger."""
    return a is not None and b is not None and abs(a - b) < 0.1001


def takes_tube(found: Port, size: float) -> bool:
    """Return whether a flared tube of this size, with the right nut, seals in a port."""
    inside = found.get("gender") == "internal"
    return found.get("seat") in NUTTED and inside == (found["seat"] != "cone-37") and same_size(found.get("tube"), size)


def screws(a: Port, b: Port) -> bool:
    """Return whether two ports seal when screwed, or pushed, straight together."""
    if "eye" in a or "eye" in b or a.get("seat") is None or a.get("seat") != b.get("seat"):
        return False
    if {a.get("gender"), b.get("gender")} != {"internal", "external"} or a.get("thread") != b.get("thread"):
        return False
    if a["seat"] in NUTTED:
        return same_size(a.get("tube"), b.get("tube"))
    return a["seat"] != "push-on" or same_size(a.get("hose"), b.get("hose"))


def clamps(found: Port, eye: Port) -> bool:
    """Return whether a banjo eye can be bolted to a port."""
    if "eye" not in eye or "eye" in found:
        return False
    faced = found.get("seat") == "washer-face" and found.get("gender") == "internal"
    return faced and bool(bolts(found["thread"], 1)) and passes(found["thread"], eye["eye"])


def of_kind(*kinds: str) -> list[str]:
    """Return the ids of parts of these kinds."""
    return [part_id for part_id, row in ROWS.items() if row["kind"] in kinds]


def other(part_id: str, name: str) -> str:
    """Return the other port of a part with two."""
    (found,) = (key for key in ROWS[part_id]["ports"] if key != name)
    return found


def _ends(part_id: str) -> list[tuple[str, Port]]:
    return list(ROWS[part_id]["ports"].items())


@cache
def joiners(size: float) -> list[tuple[str, str]]:
    """Return parts with two ports that both take this tube: the id, and the port to go in by."""
    return [
        (part_id, name)
        for part_id in of_kind(*JOINING)
        for name, _ in _ends(part_id)
        if all(takes_tube(found, size) for _, found in _ends(part_id))
    ]


@cache
def valves(size: float) -> list[str]:
    """Return valves that work one way only, take this tube and suit any brake."""
    found = _taking(size, "proportioning valve", "residual valve")
    return [part_id for part_id in found if ROWS[part_id].get("setting", 0.0) < DRUM_VALVE_MPA]


@cache
def drum_valves(size: float) -> list[str]:
    """Return residual valves for drums that take this tube."""
    return [part_id for part_id in _taking(size, "residual valve") if ROWS[part_id]["setting"] >= DRUM_VALVE_MPA]


def _taking(size: float, *kinds: str) -> list[str]:
    return [part_id for part_id in of_kind(*kinds) if all(takes_tube(found, size) for _, found in _ends(part_id))]


@cache
def tees(size: float) -> list[tuple[str, str, str]]:
    """Return tees with two ports for this tube: the id and those two; the third may be anything."""
    return [
        (part_id, first, second)
        for part_id in of_kind("tee")
        for first, a in _ends(part_id)
        for second, b in _ends(part_id)
        if first != second and takes_tube(a, size) and takes_tube(b, size)
    ]


@cache
def closers(part_id: str, name: str) -> list[tuple[str, str]]:
    """Return plugs, caps, switches and gauges for a port, with their own port."""
    wanted = port(part_id, name)
    return [(key, own) for key in of_kind(*CLOSING) for own, found in _ends(key) if screws(wanted, found)]


@cache
def steps(part_id: str, name: str, size: float) -> list[tuple[str, str]]:
    """Return parts to screw or bolt to a port whose other port takes this tube, with the port to go in by."""
    wanted = port(part_id, name)
    return [
        (key, own)
        for key in of_kind("elbow", "adapter", "union", "bulkhead union")
        for own, found in _ends(key)
        if (screws(wanted, found) or clamps(wanted, found)) and takes_tube(port(key, other(key, own)), size)
    ]


@cache
def hose_targets(hose_id: str, *kinds: str) -> list[tuple[str, str]]:
    """Return ports of parts of these kinds that a hose's far end goes on."""
    end = port(hose_id, "to")
    return [
        (key, own) for key in of_kind(*kinds) for own, found in _ends(key) if screws(found, end) or clamps(found, end)
    ]


@cache
def hoses_to(*kinds: str) -> list[str]:
    """Return pressure hoses whose far end goes on something of these kinds."""
    return [hose_id for hose_id in of_kind("hose") if hose_targets(hose_id, *kinds)]


@cache
def holders(hose_id: str, size: float) -> list[tuple[str, str]]:
    """Return joining parts that take this tube on one side and a hose's near end on the other, with that port."""
    end = port(hose_id, "from")
    return [
        (key, own)
        for key in of_kind("union", "bulkhead union", "elbow", "adapter")
        for own, found in _ends(key)
        if screws(found, end) and takes_tube(port(key, other(key, own)), size)
    ]


@cache
def consumers(kind: str, size: float) -> list[str]:
    """Return the parts of a kind whose inlet takes this tube."""
    return [key for key in of_kind(kind) if takes_tube(port(key, "inlet"), size)]


@cache
def nut_for(part_id: str, name: str) -> str:
    """Return the nut for a port that takes a tube, by what the port is."""
    wanted = port(part_id, name)
    return next(key for key in of_kind("nut") if screws(wanted, port(key, "nut")))


FLARE = {"inverted-flare": "double-45", "bubble": "bubble", "cone-37": "single-37"}
