"""`hose-short`: a hose that does not reach in every position of what moves.

What it finds
-------------
Hoses whose ends come farther apart than they are long less what they lose under pressure (error), and those left with
less than 5 % slack (warning). Every pose of the bodies at both ends is looked at, and how they combine: droop and bump
each with lock one way and the other. The message names the position that governs, and the length that would do,
rounded up to 10 mm. A feed hose is under no pressure and loses nothing. A hose whose ends, length or bodies' poses are
not known is listed as not checked; what can be told at rest is told. Not looked at: positions on the way between two
poses, the length of the hose's own stiff ends, and what the hose has to be led round.

Why it matters
--------------
Under pressure a hose shortens. One that is just long enough at rest tears its fitting or its bracket out at full lock
in a dip: when the brakes are needed.

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
        bend_radius: 40 mm

Fails::

    build: 1
    catalogs: [house.yaml]
    bodies:
      axle: {poses: {droop: {shift: [0, 0, -90]}, bump: {shift: [0, 0, 70]}}}
    components:
      bracket: {part: union-3-16-inverted, at: [0, 250, 400]}
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
      bracket: {part: union-3-16-inverted, at: [0, 180, 400]}
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
AC 43.13-1B, p 9-23: hoses change their length by +2 to -4 % under pressure. Slack of 5 to 8 % of the length: a naval
training course on fluid lines. Modification codes ask for hoses long enough for all steering and suspension travel.
"""

from collections.abc import Iterator

from fitcheck.build.hose_reach import SLACK, Reach, Span, need_of
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Level, Looked, Said, Unchecked
from fitcheck.measures import both_told, exact, no_shorter, number, percent_short, tenths

RULE = "hose-short"
_ROUNDING = 1e-9


def find(context: Context) -> Iterator[Said]:
    """Yield every hose that does not reach in some position, or has hardly any slack there."""
    for found in context.reaches:
        for field in found.missing:
            yield Unchecked(RULE, (found.tag,), field)
        if found.far is not None and found.length_mm is not None:
            yield Looked()
            level = _level(found, found.far, found.length_mm)
            if level is not None:
                yield _finding(context, found, found.far, found.length_mm, level)


def _level(found: Reach, far: Span, length: float) -> Level | None:
    if far.chord_mm > length * (1.0 - found.shrinks + _ROUNDING):
        return "error"
    return "warning" if far.chord_mm > length * (1.0 - SLACK + _ROUNDING) else None


def _finding(context: Context, found: Reach, far: Span, length: float, level: Level) -> Said:
    unit = context.unit
    need = need_of(found, unit).length_mm
    wants = no_shorter(need or 0.0, unit)
    enough = f"it takes at least {wants}" if found.missing else f"{wants} would do"
    shrunk = length * (1.0 - found.shrinks)
    long = exact(length, unit)
    if level == "warning":
        slack = percent_short(1.0 - far.chord_mm / length, SLACK)
        fact = f"{found.tag}, {long} long, has {slack} % slack, not {number(100.0 * SLACK)} %, {far.where}"
    elif far.chord_mm > length:
        short, chord = both_told(length, far.chord_mm, unit, tenths)
        long = long if tenths(length, unit) == short else short
        fact = f"{found.tag} is {long} long, its ends are {chord} apart {far.where}"
    else:
        short, chord = both_told(shrunk, far.chord_mm, unit, tenths)
        fact = f"{found.tag}, {long} long, shortens to {short} under pressure, its ends are {chord} apart {far.where}"
    evidence = {
        "length_mm": length,
        "shortened_mm": shrunk,
        "chord_mm": far.chord_mm,
        "slack": 1.0 - far.chord_mm / length,
        "slack_wanted": SLACK,
        "position": far.where,
        "length_needed_mm": need,
        "twist_deg": found.twisted.twist_deg if found.twisted is not None else 0.0,
        "source": "AC 43.13-1B, p 9-23",
    }
    ends = (found.tag, f"{found.tag}.from", f"{found.tag}.to")
    return context.finding(RULE, level, f"{fact}; {enough}", ends, ("hoses", found.tag), evidence)
