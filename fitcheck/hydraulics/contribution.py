"""What each hose and each rigid line takes of the fluid, and what rigid line in place of the hoses would save.

It is read off an answer, so that it says the same as the answer does.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Final, NamedTuple

from fitcheck.hydraulics.record import Answer, Cause, Stroke, Take
from fitcheck.standards.displacement import assumption

_RUNS: Final[Mapping[Cause, bool]] = {"swelling": True, "stretch": False}
"""Causes that only a run has, and whether it is a hose."""


class Run(NamedTuple):
    """One hose or line of an outlet: its length [mm], None if not known, and what it takes in all [mm3]."""

    outlet: str
    tag: str
    hose: bool
    length_mm: float | None
    mm3: float
    low_mm3: float
    high_mm3: float
    upper_bound: bool


class Saved(NamedTuple):
    """What the hoses of one outlet take, and what they would as rigid line like the outlet's own.

    Volumes in mm3, lengths in mm. `all_mm3` is what everything of that outlet takes. `saves_mm3`, `stroke_mm` and
    `foot_mm` are what fluid, piston and foot would go less, None if not known. Where the hoses' swelling is only
    limited these are `at_most`: worked out from `most_mm3`, the limit.
    """

    outlet: str
    hoses_mm: float
    hoses_mm3: float
    most_mm3: float
    lines_mm: float
    lines_mm3: float
    all_mm3: float
    saves_mm3: float
    stroke_mm: float | None
    foot_mm: float | None
    at_most: bool


def runs(found: Answer) -> tuple[Run, ...]:
    """Return what each hose and each line of an answer takes, by outlet and in the order of the file."""
    lengths = {figure.key: figure.value for figure in found.figures}
    return tuple(run for stroke in found.strokes for run in _runs(stroke, lengths))


def _runs(stroke: Stroke, lengths: Mapping[str, float]) -> Iterable[Run]:
    by_tag: dict[str, list[Take]] = {}
    for take in stroke.takes:
        by_tag.setdefault(take.tag, []).append(take)
    for tag, takes in by_tag.items():
        kinds = [_RUNS[take.cause] for take in takes if take.cause in _RUNS]
        if kinds:
            key = f"{'hoses' if kinds[0] else 'lines'}.{tag}.length"
            yield Run(stroke.outlet, tag, kinds[0], lengths.get(key), *_sums(takes))


def _sums(takes: Sequence[Take]) -> tuple[float, float, float, bool]:
    return (
        sum(take.mm3 for take in takes),
        sum(take.low_mm3 for take in takes),
        sum(take.high_mm3 for take in takes),
        any(take.upper_bound for take in takes),
    )


def saved(found: Answer) -> tuple[Saved, ...]:
    """Return for each outlet that has both hoses and lines what rigid line in place of the hoses would save."""
    known = [run for run in runs(found) if run.length_mm is not None]
    return tuple(one for stroke in found.strokes if (one := _saved(found, stroke, known)) is not None)


class Knocked(NamedTuple):
    """What knock-back at every caliper that states none would add: so far [mm], at the foot [mm], its mark."""

    back_mm: float
    foot_mm: float
    mark: str


def knocked(found: Answer) -> Knocked | None:
    """Return what knock-back as hard cornering may leave would add at the foot; None if that is not known."""
    hard = assumption("hard_knock_back")
    figures = {figure.key: figure for figure in found.figures}
    gaps = {tag.tag: figures.get(f"brakes.{tag.tag}.gap") for tag in found.corners if tag.disc}
    foot = 0.0
    for stroke in found.strokes:
        outlet = next(one for one in found.outlets if one.ref == stroke.outlet)
        if outlet.drives != "brake" or outlet.area_mm2 is None or outlet.share is None or found.ratio is None:
            continue
        for take in stroke.takes:
            gap, stated = gaps.get(take.tag), figures.get(f"brakes.{take.tag}.knock_back")
            if take.cause == "gap" and gap and gap.value and stated is not None and stated.known == "assumed":
                foot += found.ratio * outlet.share * take.mm3 * hard.value / gap.value / outlet.area_mm2
    return Knocked(hard.value, foot, hard.mark) if foot else None


def _saved(found: Answer, stroke: Stroke, known: Sequence[Run]) -> Saved | None:
    hoses = [run for run in known if run.outlet == stroke.outlet and run.hose]
    lines = [run for run in known if run.outlet == stroke.outlet and not run.hose]
    lines_mm, hoses_mm = (sum(run.length_mm or 0.0 for run in each) for each in (lines, hoses))
    whole = sum(take.mm3 for take in stroke.takes)
    if not lines_mm or not hoses_mm or not whole:
        return None
    lines_mm3, hoses_mm3 = (sum(run.mm3 for run in each) for each in (lines, hoses))
    at_most = any(run.upper_bound for run in hoses)
    most = sum(run.high_mm3 for run in hoses) if at_most else hoses_mm3
    saves = max(0.0, most - lines_mm3 / lines_mm * hoses_mm)
    outlet = next(one for one in found.outlets if one.ref == stroke.outlet)
    less = saves / outlet.area_mm2 if outlet.area_mm2 else None
    known_foot = less is not None and found.ratio is not None and outlet.share is not None and outlet.drives == "brake"
    foot = (found.ratio or 0.0) * (outlet.share or 0.0) * (less or 0.0) if known_foot else None
    return Saved(stroke.outlet, hoses_mm, hoses_mm3, most, lines_mm, lines_mm3, whole, saves, less, foot, at_most)
