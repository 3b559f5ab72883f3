"""Stroke and travel of one pedal at one push of the foot: budgets, strokes, travel and clutch put together."""

from collections.abc import Mapping
from typing import NamedTuple

from fitcheck.build.circuits import Circuits
from fitcheck.build.graph import PortGraph
from fitcheck.build.model import BuildFile
from fitcheck.hydraulics.budget import Budget, budget
from fitcheck.hydraulics.clutch import clutches, resisted
from fitcheck.hydraulics.outlets import Outlets
from fitcheck.hydraulics.push import Lever, lever, press, stated_foot_n
from fitcheck.hydraulics.record import Clutch, Drives, Figure, Gap, Push, Stroke, Travel
from fitcheck.hydraulics.stroke import stroke
from fitcheck.hydraulics.travel import floor_mm, free_play, travel


class Displacement(NamedTuple):
    """What one pedal moves. `by` and `push` are None if the build does not say how the foot presses.

    `push` is what the pistons work against: of a clutch no more than it resists with. `clutches` are filled for the
    clutch pedal only. `gaps` are those of this side; those of the outlets themselves are theirs.
    """

    drives: Drives
    by: Lever | None
    push: Push | None
    budgets: Mapping[str, Budget]
    strokes: tuple[Stroke, ...]
    travel: Travel | None
    clutches: tuple[Clutch, ...]
    figures: tuple[Figure, ...]
    gaps: tuple[Gap, ...]


def unpressed(file: BuildFile, found: Outlets, drives: Drives, foot_n: float | None = None) -> tuple[Gap, ...]:
    """Return what the build does not say of a pedal itself: how it presses, how far it goes."""
    section = "pedal" if drives == "brake" else "clutch"
    gaps = list(lever(file, drives)[2])
    if foot_n is None and stated_foot_n(file, drives) is None:
        gaps.append(Gap(section, f"{section}.force"))
    if floor_mm(file, drives) is None and found.of(drives):
        gaps.append(Gap(section, f"{section}.travel"))
    return tuple(gaps)


def pressed(file: BuildFile, drives: Drives) -> bool:
    """Return whether the build says how the foot presses a pedal: its ratio and its force."""
    return lever(file, drives)[0] is not None and stated_foot_n(file, drives) is not None


def displacement(
    graph: PortGraph, circuits: Circuits, found: Outlets, drives: Drives, foot_n: float | None = None
) -> Displacement:
    """Return what a pedal moves at a push of the foot, without one at that which the build states."""
    file = graph.build.file
    by, assumed, _ = lever(file, drives)
    foot = foot_n if foot_n is not None else stated_foot_n(file, drives)
    gaps = list(unpressed(file, found, drives, foot_n))
    budgets = {outlet.ref: budget(graph, circuits, outlet) for outlet in found.of(drives)}
    pushed = press(foot, drives, by, found) if by is not None and foot is not None else None
    weakest = None
    if by is not None and foot is not None and assumed:
        weakest = press(foot, drives, by._replace(efficiency=assumed[0].low), found)
    done = clutches(graph, found, budgets, pushed, weakest) if drives == "clutch" else ()
    push = resisted(graph, found, pushed) if pushed is not None and drives == "clutch" else pushed
    least = weakest if drives == "brake" else None
    made = (stroke(each, push, least) for each in budgets.values()) if push is not None else ()
    strokes = tuple(one for one in made if one is not None)
    goes = travel(file, found, push, strokes) if push is not None else None
    gaps += [gap for each in budgets.values() for gap in each.gaps]
    figures = [*assumed, free_play(file, drives)]
    for one in strokes:
        figures += budgets[one.outlet].figures(one.pressure_mpa, push.at_mpa if push is not None else None)
    told = tuple(dict.fromkeys(figures))
    return Displacement(drives, by, push, budgets, strokes, goes, done, told, tuple(dict.fromkeys(gaps)))
