"""Lengths and clips: what the route comes to, and clips where the rule asks for them."""

from collections import Counter
from collections.abc import Iterator
from typing import Final

from fitcheck.build.clips import SPACING_MM, fits_tube
from fitcheck.build.curves import Curve, length_of, point_at
from fitcheck.build.load import MM
from fitcheck.build.routes import Point, developed_length
from fitcheck.changes import Change, Plain, Put
from fitcheck.checks.findings import Finding
from fitcheck.measures import LengthUnit, whole
from fitcheck.remedies.bench import Bench
from fitcheck.remedies.remedy import Remedy, fresh_tag

_PLACES: Final = {"mm": 1, "cm": 2, "m": 4, "in": 3}
"""Decimals that a coordinate is written with: a tenth of a mm or better."""


def as_the_route(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """State the length that the route comes to, to the mm; a length without a route has to be measured again."""
    run = bench.context.runs.get(finding.at[0])
    if run is None or run.route is None or run.fault is not None or "length_mm" not in finding.evidence:
        return
    value = whole(developed_length(run.route), bench.graph.unit)
    note = f"whether it is the length of {run.tag} that was measured wrong, or its route, before it is cut"
    yield Remedy("measured", (Put(("lines", run.tag, "length"), value),), tags=(run.tag,), notes=(note,))


def clips(bench: Bench, finding: Finding) -> Iterator[Remedy]:
    """State clips as far apart as hold a line, or place some more where a line is not held."""
    if "spacing_mm" in finding.evidence:
        yield Remedy("clips", (Put(("consumables", "clips", "spacing"), whole(SPACING_MM, bench.graph.unit)),))
        return
    run = bench.context.runs.get(finding.at[0])
    clip = _clip_for(bench, run.od_mm) if run is not None else None
    if run is None or clip is None:
        return
    changes: list[Change] = []
    taken: list[str] = []
    for at_mm in finding.evidence["positions_mm"]:
        taken.append(fresh_tag(bench.build, "clip", run.tag, taken))
        entry: dict[str, Plain] = {"part": clip, "at": as_written(bench, _point(run.curve, at_mm))}
        body = bench.body_of(f"{run.tag}.from")
        changes.append(Put(("components", taken[-1]), entry | ({} if body is None else {"on": body})))
    note = f"whether there is something to fix clips to at {_listed(finding, bench.graph.unit)} from {run.tag}.from"
    yield Remedy("clip places", tuple(changes), (clip,) * len(changes), (run.tag,), notes=(note,))


def _listed(finding: Finding, unit: LengthUnit) -> str:
    places = (whole(at, unit).rpartition(" ")[0] for at in finding.evidence["positions_mm"])
    return f"{', '.join(places)} {unit}"


def _clip_for(bench: Bench, od_mm: float | None) -> str | None:
    """Return the clip for a tube that the build has most of, else the first of the catalogs; None if there is none."""
    if od_mm is None:
        return None
    used = Counter(component.part for component in bench.file.components.values())
    fitting = [part.id for part in bench.shelf.of_kind("clip") if part.inside is not None and fits_tube(part, od_mm)]
    return min(fitting, key=lambda part: -used[part], default=None)


def _point(curve: Curve, at_mm: float) -> Point:
    """Return the point so far along a centre-line [mm]."""
    before = 0.0
    for piece in curve[:-1]:
        if at_mm <= before + length_of(piece):
            return point_at(piece, (at_mm - before) / length_of(piece))
        before += length_of(piece)
    return point_at(curve[-1], min(1.0, (at_mm - before) / length_of(curve[-1])))


def as_written(bench: Bench, point: Point) -> Plain:
    """Return a point [mm] as the file would write it, in its own unit and to a tenth of a mm."""
    unit = MM[bench.file.coordinates]
    numbers = (f"{value / unit:.{_PLACES[bench.file.coordinates]}f}" for value in point)
    return [_short(number) for number in numbers]


def _short(number: str) -> str:
    text = number.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
