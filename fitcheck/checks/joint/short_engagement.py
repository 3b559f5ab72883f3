"""`short-engagement`: too little thread in the joint, or a rod that does not reach.

What it finds
-------------
Joints where the usable thread of the two sides together, from `depth` of the internal and `length` of the external
side, would strip: under tightening to the highest typical torque for the seat and tube (times 1.5), or under the
lower rated pressure of the two sides (times 4; 20 MPa if neither is rated) on all that the seal encloses. The
metals are those of the catalog, else the weakest casting: then it is a warning if soft steel would hold. Never less
than five pitches. Where no typical torque is known only pressure and the five pitches count. Also rods whose
`reach` is less than the other side asks for. Of a banjo bolt's length its washers are taken off; the eyes' thickness
is in no catalog, so such a joint is found when even thin eyes leave too little, else listed as not checked. Taper
threads are not looked at: they hold by taper. Where a depth or length is not in the catalog the joint is listed as not
checked. Wear, thin walls and repeated tightening are not considered.

Why it matters
--------------
A nut that holds by two threads seals on the bench and pulls out under a panic stop.

Example
-------
Catalog::

    catalog: 1
    parts:
      thin-union:
        kind: union
        ports:
          a: {thread: 3/8-24 UNF, gender: internal, seat: inverted-flare, tube: 3/16 in, depth: 4 mm}
          b: {same as: a}
      deep-union:
        kind: union
        ports:
          a: {thread: 3/8-24 UNF, gender: internal, seat: inverted-flare, tube: 3/16 in, depth: 11 mm}
          b: {same as: a}
      long-plug:
        kind: plug
        ports:
          end: {thread: 3/8-24 UNF, gender: external, seat: inverted-flare, tube: 3/16 in, length: 10 mm}

Fails::

    build: 1
    catalogs: [house.yaml]
    components:
      joiner: {part: thin-union}
      stop_a: {part: long-plug}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, joiner.b]

Passes::

    build: 1
    catalogs: [house.yaml]
    components:
      joiner: {part: deep-union}
      stop_a: {part: long-plug}
      stop_b: {part: long-plug}
    joints:
      - [stop_a.end, joiner.a]
      - [stop_b.end, joiner.b]

Source
------
Strip strength at minimum material: FED-STD-H28/2B (1991) table II.B.1; five pitches: its para 50.4. 20 MPa: 49 CFR
571.106, Table I. Four to one on pressure: SAE J1065, scope. Torques: the table of typical torques. Nut factor 0.2 and
1.5 on tightening: common practice, no source. Strengths of metals: marked in the table of engagement.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from fitcheck.build.graph import Joint
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Level, Looked, Said, Unchecked
from fitcheck.checks.joint.speak import places
from fitcheck.checks.joint_loads import Side, loads_of, threaded_sides, washers_mm
from fitcheck.measures import Units, exact, rating_text, torque_text
from fitcheck.standards.engagement import Metal, metal, needed, steel
from fitcheck.standards.threads import Thread

RULE = "short-engagement"


def find(context: Context) -> Iterator[Said]:
    """Yield every joint that holds by too little thread, and every rod that falls short."""
    for facts in context.facts:
        joint = facts.joint
        if joint.kind == "mechanical":
            yield from _rod(context, joint)
        elif joint.kind in ("pair", "tube", "banjo") and facts.rule not in ("thread-mismatch", "gender-clash"):
            yield from _thread(context, joint)


def _thread(context: Context, joint: Joint) -> Iterator[Said]:
    sides = threaded_sides(joint, context.fixings(joint))
    outer = next((side for side in sides if side.port.gender == "external"), None)
    inner = next((side for side in sides if side.port.gender == "internal"), None)
    if outer is None or inner is None or not _one_parallel_thread(outer.thread, inner.thread):
        return
    length, depth = outer.port.length, inner.port.depth
    if length is None or depth is None:
        side, key = (outer, "length") if length is None else (inner, "depth")
        yield Unchecked(RULE, places(joint), f"parts.{side.part.id}.ports.{side.port.name}.{key}")
        return
    yield Looked()
    if joint.kind != "banjo":
        yield from _judge(context, joint, (outer, inner), min(length, depth))
        return
    most = min(length - washers_mm(context.fixings(joint)), depth)
    said = list(_judge(context, joint, (outer, inner), most, "at most "))
    yield from said or [Unchecked(RULE, places(joint), "the thickness of the eyes on the bolt")]


def _one_parallel_thread(outer: Thread, inner: Thread) -> bool:
    """Return whether two threads are parallel and of one pitch; others are for other rules, or hold by taper."""
    return not outer.taper and not inner.taper and abs(outer.pitch_mm - inner.pitch_mm) < 1e-4


def _judge(context: Context, joint: Joint, sides: tuple[Side, Side], engaged: float, most: str = "") -> Iterator[Said]:
    """Yield the finding if `engaged` mm of thread are too few for what the joint has to carry."""
    outer, inner = sides
    loads, facts = loads_of(joint, context.fixings(joint), outer, inner)
    metals = metal(outer.part.material), metal(inner.part.material)
    wanted = needed(outer.thread, inner.thread, loads, *metals)
    if engaged >= wanted.length_mm - 1e-9:
        return
    of_steel = needed(outer.thread, inner.thread, loads, *(steel() if each.assumed else each for each in metals))
    level: Level = "error" if engaged < of_steel.length_mm - 1e-9 else "warning"
    doubt = "" if level == "error" else ", if the metal that is not stated is soft"
    unit = context.unit
    has, needs = exact(max(engaged, 0.0), unit), exact(wanted.length_mm, unit)
    message = f"{most}{has} of thread engaged, {needs} needed {_why(wanted.why, facts, context.units)}{doubt}"
    evidence = {"engaged_mm": engaged, "required_mm": round(wanted.length_mm, 3), "why": wanted.why, **facts}
    evidence |= {"metals": [_metal_evidence(side, each) for side, each in zip(sides, metals, strict=True)]}
    yield context.finding(RULE, level, message, places(joint), joint.path, evidence)


def _why(why: str, facts: Mapping[str, Any], units: Units) -> str:
    """Return what a thread has to carry, as the user measures torques and pressures."""
    torque, pressure = facts["torque_n_m"], facts["pressure_mpa"]
    if torque is not None:
        why = why.replace(f"{torque:g} N m", torque_text(torque * 1000.0, torque * 1000.0, units))
    return why.replace(f"{pressure:g} MPa", rating_text(pressure, units))


def _metal_evidence(side: Side, found: Metal) -> dict[str, Any]:
    material = side.part.material if not found.assumed else "assumed"
    return {"part": side.part.id, "metal": material, "tensile_mpa": found.tensile_mpa, "mark": found.mark}


def _rod(context: Context, joint: Joint) -> Iterator[Said]:
    ports = [end.port for end in joint.ends if end.port is not None]
    rod = next((port for port in ports if port.gender == "external"), None)
    other = next((port for port in ports if port is not rod), None)
    if rod is None or other is None:
        return
    if rod.reach is None or other.reach is None:
        end = joint.ends[0] if joint.ends[0].port is (rod if rod.reach is None else other) else joint.ends[1]
        name = end.port.name if end.port is not None else ""
        yield Unchecked(RULE, joint.refs, f"parts.{end.fitted.part_id}.ports.{name}.reach")
        return
    yield Looked()
    if rod.reach < other.reach - 1e-9:
        unit = context.unit
        message = f"the rod reaches {exact(rod.reach, unit)} of the {exact(other.reach, unit)} needed"
        evidence = {"reach_mm": rod.reach, "needed_mm": other.reach}
        yield context.finding(RULE, "error", message, joint.refs, joint.path, evidence)
