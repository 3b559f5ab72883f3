"""`pressure-over-rating`: a part that sees more pressure than it is rated for, or nearly as much.

What it finds
-------------
Components, lines and hoses, and nuts, sleeves, bolts and washers whose catalog states a rating, that see more pressure
than they are rated for at the force that the build states for the pedal: behind proportioning valves what these let on.
A rating is `max_pressure`, else `burst` over 4. Rigid tube without either is rated by Barlow's formula on the outside
diameter, 2 S t / D, with the least tensile strength of its material and the thinnest wall of its standard, over 4; a
hose that states its limits of 49 CFR 571.106 by the burst which that asks for, over 4. An excess is an error; it is a
warning where the strength is assumed, and where the pressure is over nine tenths of the rating. Feed hoses and
reservoirs are left to `unpressurised-part`. With one circuit of a balance bar lost the other may see more: that counts
where the build states `pedal.share_left`; where it does not, all of the push is assumed, for a note. Where force, ratio
or bores are not known nothing is compared.

Why it matters
--------------
A fitting that bursts does so at the hardest stop. A driver in fright can make some 15 MPa whatever the build states.

Example
-------
Catalog::

    catalog: 1
    parts:
      mc-16:
        kind: master cylinder
        ports: {outlet: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}}
        outlets: [outlet]
        bore: 16 mm
        reservoir_volume: 150 cm3
        max_pressure: 14 MPa
      caliper-weak:
        kind: caliper
        ports: {inlet: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}}
        bleeder: M10x1
        displacement: 10 cm3
        max_pressure: 7 MPa
      caliper-strong:
        kind: caliper
        ports: {inlet: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}}
        bleeder: M10x1
        displacement: 10 cm3
        max_pressure: 14 MPa

Fails::

    build: 1
    catalogs: [house.yaml]
    components: {mc: {part: mc-16}, caliper: {part: caliper-weak}}
    lines:
      run: {from: mc.outlet, to: caliper.inlet, tube: tube-3-16-cuni}
    pedal: {force: 400 N, ratio: 5}

Passes::

    build: 1
    catalogs: [house.yaml]
    components: {mc: {part: mc-16}, caliper: {part: caliper-strong}}
    lines:
      run: {from: mc.outlet, to: caliper.inlet, tube: tube-3-16-cuni}
    pedal: {force: 400 N, ratio: 5}

Source
------
SAE J1065 for 4 to 1 on the least tensile strength of tube; SAE J526 and J527 for 290 MPa of steel. The tenth below a
rating: common practice, no source. That 15 MPa may come up in a fright: a trade page.
"""

from collections.abc import Iterator
from functools import partial

from fitcheck.checks.context import Context
from fitcheck.checks.findings import Level, Looked, Said, Unchecked
from fitcheck.hydraulics.part_rating import Rating
from fitcheck.hydraulics.ratings import Rated, ratings
from fitcheck.measures import Units, force_text, pressure_text, told_apart
from fitcheck.standards.tube_rating import near_share, panic_pressure

RULE = "pressure-over-rating"


def find(context: Context) -> Iterator[Said]:
    """Yield every part that sees more than it is rated for, and one thing unchecked for each part without a rating."""
    found = ratings(context.graph, context.circuits, context.outlets, context.fixings)
    unknown: dict[str, dict[str, None]] = {}
    for gap in found.gaps:
        unknown.setdefault(gap.missing, {})[gap.at] = None
    for one in found.rated:
        if one.rating is None:
            unknown.setdefault(one.missing, {})[one.at] = None
        else:
            yield from _compared(context, one, one.rating)
    for missing, at in unknown.items():
        yield Unchecked(RULE, tuple(at), missing)


def _compared(context: Context, one: Rated, known: Rating) -> Iterator[Said]:
    level = _level(one, known)
    if level is not None and one.behind:
        for missing in one.behind:
            yield Unchecked(RULE, (one.at,), missing)
        return
    yield Looked()
    if level is not None:
        fitted = context.graph.fitted.get(one.at)
        path = fitted.path if fitted is not None else context.graph.path_of(one.at)
        yield context.finding(
            RULE,
            level,
            _message(one, known, context.units),
            (one.at,),
            path,
            _evidence(one, known),
        )


def _level(one: Rated, known: Rating) -> Level | None:
    if one.pressure_mpa > known.fails_mpa:
        return "error"
    if _near(one, known):
        return "warning"
    return "note" if _may(one, known) else None


def _near(one: Rated, known: Rating) -> bool:
    return one.pressure_mpa > near_share().value * known.mpa


def _may(one: Rated, known: Rating) -> bool:
    """Return whether it is over its rating if the other circuit is lost and all of the push is left to it."""
    return one.most_mpa is not None and one.most_mpa > known.mpa


def _message(one: Rated, known: Rating, units: Units) -> str:
    who = one.at if "." not in one.at else f"{one.part_id} at {one.at}"
    lost = f" and {one.lost} lost" if one.lost else ""
    foot = f"{force_text(one.foot_n, units)} on the pedal"
    may = not _near(one, known) and one.most_mpa is not None
    reaches = one.most_mpa if may and one.most_mpa is not None else one.pressure_mpa
    seen, rated = told_apart(reaches, known.mpa, partial(pressure_text, units=units))
    words = rated + (f" ({known.told(units)})" if known.how != "max_pressure" else "")
    if may:
        sees = f"{who} may see {seen} at {foot}, the other circuit lost"
        return f"{sees} and all of the push left to it, it is rated {words}"
    sees = f"{who} sees {seen} at {foot}{lost}"
    if one.pressure_mpa <= known.mpa:
        return f"{sees}, {100 * one.pressure_mpa / known.mpa:.0f} % of its rating of {words}"
    return f"{sees}, it is rated {words}"


def _evidence(one: Rated, known: Rating) -> dict[str, object]:
    return {
        "part": one.part_id,
        "outlet": one.outlet,
        "foot_n": one.foot_n,
        "pressure_mpa": one.pressure_mpa,
        "most_mpa": one.most_mpa,
        "lost": one.lost,
        "rating_mpa": known.mpa,
        "rating": known.words,
        "rating_source": known.source,
        "rating_assumed": known.assumed,
        **known.figures,
        "panic_mpa": panic_pressure().value,
        "panic_mark": panic_pressure().mark,
    }
