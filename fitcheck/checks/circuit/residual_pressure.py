"""`residual-pressure`: a residual valve that discs lack by the height of their fluid, or one that makes brakes drag.

What it finds
-------------
Calipers that stand higher than the fluid that feeds them, without a residual valve on the way or with one that holds
less than that column of fluid weighs; calipers behind a valve for drums, an error; and brakes behind a valve that
holds more than any that is sold for them. Notes: drums behind no valve, or a weaker one than is usual, which only
spring cup expanders make good, and a valve that no height asks for. The fluid is taken to stand at the reservoir's
outlet, without a reservoir at the master cylinder's feed, and the calipers where their inlets are, the car at rest.
Heights that are not stated are listed. Clutches are not looked at, and a valve inside a master cylinder is not known.

Why it matters
--------------
Fluid that stands lower than the calipers runs back through the open master cylinder and draws the pistons off the
discs: the first push of the pedal finds nothing. A drum has springs that pull against what is held; a disc has none, so
it drags and boils its fluid.

Example
-------
Fails::

    build: 1
    components:
      tank: {part: reservoir-1-outlet, at: [0, 0, 250]}
      mc: {part: mc-m10x1-bubble, at: [0, 0, 200]}
      caliper: {part: caliper-m10x1-bubble, at: [900, 0, 330]}
    lines:
      run: {from: mc.outlet, to: caliper.inlet, tube: tube-3-16-cuni}
    hoses:
      feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed}

Passes::

    build: 1
    components:
      tank: {part: reservoir-1-outlet, at: [0, 0, 650]}
      mc: {part: mc-m10x1-bubble, at: [0, 0, 600]}
      caliper: {part: caliper-m10x1-bubble, at: [900, 0, 330]}
    lines:
      run: {from: mc.outlet, to: caliper.inlet, tube: tube-3-16-cuni}
    hoses:
      feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed}

Source
------
Trade pages on residual valves: 2 psi for discs whose master cylinder is lower, 10 psi for drums, never on discs; a
study guide: 5 to 12 psi for drums. What a column of fluid weighs: density x gravity x height, the density from memory.
"""

from collections.abc import Iterator

from fitcheck.checks.circuit_words import few
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Level, Looked, Said, Unchecked
from fitcheck.hydraulics.heads import Column, columns
from fitcheck.measures import INCH_MM, LengthUnit
from fitcheck.standards.residual import residual_setting

RULE = "residual-pressure"
_PSI = 0.006894757
_ROUNDED = 1.01
"""Settings are sold as whole psi and written in any unit."""


def find(context: Context) -> Iterator[Said]:
    """Yield every group of brakes that has the wrong residual pressure, or none where it needs one."""
    unknown: set[Unchecked] = set()
    for said in _all(context):
        if not isinstance(said, Unchecked) or said not in unknown:
            yield said
        if isinstance(said, Unchecked):
            unknown.add(said)


def _all(context: Context) -> Iterator[Said]:
    for column in columns(context.graph, context.circuits, context.outlets):
        if column.held_mpa is None:
            yield from (Unchecked(RULE, (gap.at,), gap.missing) for gap in column.gaps if gap.at in column.valves)
        elif column.discs:
            yield from _discs(context, column, column.held_mpa)
        else:
            yield Looked()
            yield from _drums(context, column, column.held_mpa)


def _discs(context: Context, column: Column, held: float) -> Iterator[Said]:
    usual, drums = residual_setting("disc"), residual_setting("drum")
    if held > usual.high_mpa * _ROUNDED:
        yield Looked()
        level: Level = "error" if held >= drums.low_mpa / _ROUNDED else "warning"
        yield _told(context, column, level, f"{_holding(column, held)} on {few(column.tags)}: discs drag")
    elif column.rise_mm is None or column.head_mpa is None:
        yield from (Unchecked(RULE, (gap.at,), gap.missing) for gap in column.gaps)
    else:
        yield Looked()
        yield from _heights(context, column, held, column.rise_mm, column.head_mpa)


def _heights(context: Context, column: Column, held: float, rise: float, head: float) -> Iterator[Said]:
    stands = f"{few(column.tags)} {'stands' if len(column.tags) == 1 else 'stand'}"
    stands = f"{stands} {_rise(rise, context.unit)} above the fluid"
    if held == 0.0 and rise > 0.0:
        wanted = _psi(residual_setting("disc").setting_mpa)
        message = f"{stands}, which runs back: a residual valve of {wanted} is wanted behind {column.outlet}"
        yield _told(context, column, "warning", message)
    elif 0.0 < held < head:
        yield _told(context, column, "warning", f"{stands}, which weighs {_psi(head)}: {_holding(column, held)}")
    elif held > 0.0 >= rise:
        message = f"{_holding(column, held)} on {few(column.tags)}: discs lower than their fluid need none"
        yield _told(context, column, "note", message)


def _rise(mm: float, unit: LengthUnit) -> str:
    return f"{mm / INCH_MM:.1f} in" if unit == "in" else f"{mm:.0f} mm"


def _drums(context: Context, column: Column, held: float) -> Iterator[Said]:
    usual = residual_setting("drum")
    want = f"drums want {usual.low_mpa / _PSI:.0f} to {_psi(usual.high_mpa)}"
    if held > usual.high_mpa * _ROUNDED:
        yield _told(context, column, "warning", f"{_holding(column, held)} on {few(column.tags)}: {want}")
    elif held < usual.low_mpa / _ROUNDED:
        on = few(column.tags)
        have = f"{_holding(column, held)} on {on}" if held else f"no residual valve is on the way to {on}"
        yield _told(context, column, "note", f"{have}: {want}, unless spring cup expanders keep the cups out")


def _holding(column: Column, held: float) -> str:
    if not column.valves:  # circuits that are joined: the valve is not on the way to the nearest outlet
        return f"a residual valve behind {column.outlet} holds {_psi(held)}"
    return f"{few(column.valves)} {'holds' if len(column.valves) == 1 else 'hold'} {_psi(held)}"


def _psi(mpa: float) -> str:
    return f"{mpa / _PSI:.1f} psi".replace(".0 psi", " psi")


def _told(context: Context, column: Column, level: Level, message: str) -> Finding:
    usual = residual_setting("disc" if column.discs else "drum")
    evidence = {
        "outlet": column.outlet,
        "held_mpa": column.held_mpa,
        "usual_mpa": usual._asdict(),
        "rise_mm": column.rise_mm,
        "head_mpa": column.head_mpa,
        "fluid": column.fluid or "not stated: taken as glycol",
        "density_kg_m3": column.density._asdict(),
    }
    at = (*column.valves, *column.tags) if column.valves else (*column.tags, column.outlet)
    return context.finding(RULE, level, message, at, context.graph.path_of(at[0]), evidence)
