"""`hose-bend-tight`: a hose that bends tighter than it may.

What it finds
-------------
Hoses whose curve, where their ends come nearest to each other, has a smaller radius than the part's `bend_radius`
(error). The curve is that of least bending, with ends that point where they like: no port has a direction in the
catalog. For a brake hose that states no bend radius, a radius below that of rubber hose with a single wire braid of
the same bore is told (warning), and the part stays listed as not checked, since another make may want more. A hose
that does not reach is told by `hose-short`. Not looked at: the weight of the hose, fittings that point elsewhere and
so bend it more, what it is led round, and positions on the way between two poses.

Why it matters
--------------
A hose bent past its limit kinks, and one that flexes there every time the wheel moves cracks from the inside: it
bursts, or a flap of its lining holds the brake on.

Example
-------
Catalog::

    catalog: 1
    parts:
      hose-300:
        kind: hose
        ports:
          from: {thread: 3/8-24 UNF, gender: external, seat: inverted-flare, tube: 3/16 in, length: 9 mm}
          to: {same as: from}
        length: 300 mm
        bend_radius: 50 mm

Fails::

    build: 1
    catalogs: [house.yaml]
    bodies:
      axle: {poses: {droop: {shift: [0, 0, -90]}, bump: {shift: [0, 0, 70]}}}
    components:
      bracket: {part: union-3-16-inverted, at: [0, 60, 380]}
      stop_a: {part: plug-3-8-24-inverted}
      far: {part: union-3-16-inverted, on: axle, at: [0, 0, 300]}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, bracket.a]
      - [stop_b.end, far.b]
    hoses:
      jump: {part: hose-300, from: bracket.b, to: far.a}

Passes::

    build: 1
    catalogs: [house.yaml]
    bodies:
      axle: {poses: {droop: {shift: [0, 0, -90]}, bump: {shift: [0, 0, 70]}}}
    components:
      bracket: {part: union-3-16-inverted, at: [0, 180, 380]}
      stop_a: {part: plug-3-8-24-inverted}
      far: {part: union-3-16-inverted, on: axle, at: [0, 0, 300]}
      stop_b: {part: plug-3-8-24-inverted}
    joints:
      - [stop_a.end, bracket.a]
      - [stop_b.end, far.b]
    hoses:
      jump: {part: hose-300, from: bracket.b, to: far.a}

Source
------
The part's own bend radius; AC 43.13-1B, table 9-3, for wire-braided hose (MIL-H-8794). The curve is derived: see
`fitcheck.build.hose_curve`.
"""

from collections.abc import Iterator

from fitcheck.build.hose_curve import free_curve, widest_radius_mm
from fitcheck.build.hose_reach import Reach, Span, need_of
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Level, Looked, Said, Unchecked
from fitcheck.measures import tenths, told_short
from fitcheck.standards.hoses import wire_braid

RULE = "hose-bend-tight"
_ROUNDING_MM = 1e-6


def find(context: Context) -> Iterator[Said]:
    """Yield every hose that bends tighter in some position than it may."""
    for found in context.reaches:
        part = found.part
        missing = list(found.missing)
        if part.bend_radius is None:
            missing.append(f"parts.{part.id}.bend_radius")
        for field in missing:
            yield Unchecked(RULE, (found.tag,), field)
        if found.near is None or found.length_mm is None:
            continue
        if part.bend_radius is not None:
            yield Looked()
            yield from _judge(context, found, found.near, found.length_mm, part.bend_radius, "error")
        elif part.kind == "hose" and part.inside is not None and (size := wire_braid(part.inside)) is not None:
            yield from _judge(context, found, found.near, found.length_mm, size.bend_radius_mm, "warning")


def _judge(context: Context, found: Reach, near: Span, length: float, allowed: float, level: Level) -> Iterator[Said]:
    curve = free_curve(length, near.chord_mm)
    if curve is None or curve.radius_mm >= allowed - _ROUNDING_MM:
        return
    bends, least = told_short(curve.radius_mm, allowed, context.unit, tenths)
    if level == "error":
        limit, source = f"{found.part.id} stands {least}", f"{found.part.id}: bend_radius"
    else:
        limit = f"wire-braided hose of this bore stands {least}"
        source = "AC 43.13-1B, table 9-3 (MIL-H-8794)"
    evidence = {
        "length_mm": length,
        "chord_mm": near.chord_mm,
        "radius_mm": curve.radius_mm,
        "radius_at_best_mm": widest_radius_mm(length, near.chord_mm),
        "allowed_mm": allowed,
        "position": near.where,
        "length_needed_mm": need_of(found, context.unit).length_mm,
        "twist_deg": found.twisted.twist_deg if found.twisted is not None else 0.0,
        "source": source,
    }
    message = f"{found.tag} bends to a radius of {bends} {near.where}; {limit}"
    ends = (found.tag, f"{found.tag}.from", f"{found.tag}.to")
    yield context.finding(RULE, level, message, ends, ("hoses", found.tag), evidence)
