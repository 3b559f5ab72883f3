"""Cures by rule: what could put a finding right. Each is a proposal; `remedies.proof` re-checks it."""

from collections.abc import Callable, Iterator, Mapping
from typing import Final

from fitcheck.checks.findings import Finding
from fitcheck.remedies.bench import Bench
from fitcheck.remedies.cures import (
    bends,
    chains,
    circuits,
    exchanges,
    fixings,
    holes,
    measured,
    moving,
    names,
    open_ends,
    ratings,
    shifts,
    strokes,
    trapped,
)
from fitcheck.remedies.remedy import Remedy

Cure = Callable[[Bench, Finding], Iterator[Remedy]]

_TWO_SIDES: Final[tuple[Cure, ...]] = (
    circuits.turned_round,
    exchanges.exchanged,
    chains.adapters,
    exchanges.otherwise_closed,
)
"""What brings two ports together that do not suit each other."""

CURES: Final[Mapping[str, tuple[Cure, ...]]] = {
    "part-unknown": (names.part,),
    "port-unknown": (names.port,),
    "acceptance-stale": (names.acceptance,),
    "thread-mismatch": (fixings.bolt_and_washers, *_TWO_SIDES),
    "gender-clash": _TWO_SIDES,
    "seat-mismatch": _TWO_SIDES,
    "tube-size-mismatch": (fixings.tube_of_the_size, *_TWO_SIDES),
    "flare-mismatch": (fixings.flare, exchanges.other_tube),
    "nut-mismatch": (fixings.nut, chains.adapters),
    "fixing-missing": (fixings.bolt_and_washers, fixings.union, exchanges.exchanged, chains.adapters),
    "short-engagement": (exchanges.exchanged,),
    "dead-end": (open_ends.dead_end,),
    "port-reused": (open_ends.reused,),
    "circuit-not-fed": (open_ends.missing_run,),
    "reservoir-missing": (open_ends.reservoir,),
    "reservoir-small": (exchanges.exchanged,),
    "circuits-crossed": (circuits.crossed,),
    "circuit-looped": (circuits.looped,),
    "single-circuit": (circuits.one_outlet,),
    "one-way-reversed": (circuits.turned,),
    "no-bleeder": (exchanges.exchanged,),
    "unpressurised-part": (moving.pressure_run, exchanges.exchanged),
    "tube-material-refused": (exchanges.exchanged,),
    "fluid-unsuitable": (exchanges.exchanged,),
    "stroke-short": (strokes.other_cylinder,),
    "pressure-over-rating": (ratings.stronger,),
    "residual-pressure": (ratings.other_valve,),
    "rigid-across-bodies": (circuits.wrong_body, moving.hose_for_line),
    "hose-short": (exchanges.hose_that_hangs,),
    "hose-bend-tight": (exchanges.hose_that_hangs,),
    "bend-tight": (bends.wider,),
    "bend-crowded": (bends.crowded,),
    "length-disagrees": (measured.as_the_route,),
    "clip-sparse": (measured.clips,),
    "near-heat": (shifts.moved,),
    "lines-touching": (shifts.moved,),
    "panel-unguarded": (holes.grommet,),
    "panel-misfit": (holes.to_suit,),
    "fixing-trapped": (trapped.freed,),
}
"""What is tried for a finding of each rule, in the order of trying."""

UNCURED: Final[Mapping[str, str]] = {
    "air-trap": "the line or the part has to go lower, or be bled at its highest point: the car decides where",
    "line-dead-straight": "one bend, or a loop, has to go in: the room on the car decides where",
}
"""Rules whose findings no part and no change of the file alone puts right, and why."""

BY_HAND: Final[Mapping[str, str]] = {
    "bend-tight": "a wider bend takes more of the legs beside it: move its corner, or list the bender that makes it",
    "bend-crowded": "the corner has to move, or one bend to go: the room on the car decides where",
    "length-disagrees": "one of the two was measured wrong: measure again",
    "clip-sparse": "clips go on where the finding says; then state their spacing, or place them",
    "near-heat": "the line has to go elsewhere, or a shield between, which is then accepted",
    "lines-touching": "one of the two has to go another way: the room on the car decides which",
    "panel-unguarded": "state the grommet by the panel's `grommet`, of the tube's size and for that hole",
    "fixing-trapped": "form one end after it went through, drill the hole wider, or cut one end off and make it anew",
    "stroke-short": "take out what takes most (long or soft hoses, air, wide gaps), or give the pedal another ratio",
    "pressure-over-rating": "put a stronger part, or thicker tube, into your catalog, or ask the maker for a rating",
    "residual-pressure": "mount the reservoir above the calipers, or put in a 2 psi residual valve behind the outlet",
    "panel-misfit": "choose the part for the hole that is there; set apart what a spanner has no room between",
}
"""What is left to do where none of a rule's cures holds."""


def cures(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """Yield what could put `finding` right, in the order in which it is tried; nothing has been checked yet."""
    seen: set[frozenset[object]] = set()
    for cure in CURES.get(finding.rule, ()) if finding.at else ():
        for remedy in cure(bench, finding):
            key = frozenset(map(repr, remedy.changes))
            if remedy.changes and key not in seen:
                seen.add(key)
                yield remedy
