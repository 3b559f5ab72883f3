"""`short-engagement`: too little thread in the joint, or a rod that does not reach.

What it finds
-------------
Joints where the usable thread of the two sides together is less than half the thread's diameter, taken from
`depth` of the internal and `length` of the external side; and rods whose `reach` is less than the other side
asks for. Taper threads are not looked at: they seal and hold by taper. Where a depth or length is not in the
catalog the joint is listed as not checked. The strength of the metal is not considered.

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
Half a diameter as the least: common practice, no source. FED-STD-H28/2B paragraph 30 counts 0.67 to 1.5
diameters as the usual length of engagement.
"""

from collections.abc import Iterator
from typing import Final

from fitcheck.build.graph import Joint
from fitcheck.catalog.part import Port
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Looked, Said, Unchecked
from fitcheck.checks.joint.speak import places
from fitcheck.checks.joint_words import mm

RULE = "short-engagement"
LEAST_DIAMETERS: Final = 0.5


def find(context: Context) -> Iterator[Said]:
    """Yield every joint that holds by too little thread, and every rod that falls short."""
    for facts in context.facts:
        joint = facts.joint
        if joint.kind == "mechanical":
            yield from _rod(context, joint)
        elif joint.kind in ("pair", "tube") and facts.rule not in ("thread-mismatch", "gender-clash"):
            yield from _thread(context, joint)


def _sides(context: Context, joint: Joint) -> list[tuple[Port, str]]:
    """Return the threaded sides of a joint with the catalog name of each: ports, and a tube end's nut."""
    ends = [(end.port, end.fitted.part_id) for end in joint.ends if end.port is not None]
    nut = context.fixings(joint).one("nut")
    if nut is not None and nut.part is not None:
        ends += [(port, nut.part.id) for port in nut.part.ports.values()]
    return [(port, part_id) for port, part_id in ends if port.thread is not None]


def _thread(context: Context, joint: Joint) -> Iterator[Said]:
    sides = _sides(context, joint)
    outer = next(((p, i) for p, i in sides if p.gender == "external"), None)
    inner = next(((p, i) for p, i in sides if p.gender == "internal"), None)
    if outer is None or inner is None or outer[0].thread is None or outer[0].thread.taper:
        return
    (male, male_part), (female, female_part) = outer, inner
    if male.length is None or female.depth is None:
        port, part_id, key = (male, male_part, "length") if male.length is None else (female, female_part, "depth")
        yield Unchecked(RULE, places(joint), f"parts.{part_id}.ports.{port.name}.{key}")
        return
    yield Looked()
    engaged, nominal = min(male.length, female.depth), outer[0].thread.nominal_mm
    if engaged < LEAST_DIAMETERS * nominal - 1e-9:
        message = f"{mm(engaged)} of thread engaged, {mm(LEAST_DIAMETERS * nominal)} is the least"
        evidence = {"engaged_mm": engaged, "least_mm": LEAST_DIAMETERS * nominal, "nominal_mm": nominal}
        yield context.finding(RULE, "error", message, places(joint), joint.path, evidence)


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
        message = f"the rod reaches {mm(rod.reach)} of the {mm(other.reach)} needed"
        evidence = {"reach_mm": rod.reach, "needed_mm": other.reach}
        yield context.finding(RULE, "error", message, joint.refs, joint.path, evidence)
