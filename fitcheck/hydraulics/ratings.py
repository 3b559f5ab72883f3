"""What every part under pressure is rated for, beside the pressure that it sees at the stated push of the foot.

Pressures in MPa; `part_rating` says what a rating is. With one circuit of a balance bar lost the other may see more:
what `pedal.share_left` says, or up to all of the push where the build does not say. Limits: quasi-static, at the force
that the build states; a fright makes more (`standards.tube_rating.panic_pressure`). A part behind a proportioning valve
whose figures are not known is held against the pressure before the valve.
"""

from collections.abc import Callable, Iterator, Mapping
from typing import Final, NamedTuple

from fitcheck.build.circuits import Circuits
from fitcheck.build.fixings import Fixings, fixings
from fitcheck.build.graph import Joint, PortGraph
from fitcheck.build.refs import tag_of
from fitcheck.catalog.part import Part
from fitcheck.hydraulics.outlets import Outlets, idle, outlets
from fitcheck.hydraulics.part_rating import Rating, missing, rating
from fitcheck.hydraulics.push import lever, metered_mpa, press, pressure_mpa, stated_foot_n
from fitcheck.hydraulics.record import Drives, Gap, Outlet, Push
from fitcheck.hydraulics.side import side

_WITHOUT: Final = frozenset({"feed hose", "reservoir"})
"""Kinds that hold no pressure at all: that they are under it is the fault, which another rule tells."""
_SECTION: Final[Mapping[Drives, str]] = {"brake": "pedal", "clutch": "clutch"}


class Rated(NamedTuple):
    """One part under pressure at one place.

    `at` is the tag of what is fitted, or the port that a nut, sleeve, bolt or washer is at. `pressure_mpa` is the
    highest that it sees, from `outlet` at `foot_n` on the pedal. `rating` is None if nothing tells it, `missing` the
    field that would. `lost` is the outlet whose circuit has to be lost for that pressure, empty if none has; `most_mpa`
    is what it may see with one lost where the build does not state how much of the push that leaves. `behind` are
    fields of valves on the way without which `pressure_mpa` is only an upper bound.
    """

    at: str
    part_id: str
    outlet: str
    foot_n: float
    pressure_mpa: float
    rating: Rating | None
    missing: str
    behind: tuple[str, ...] = ()
    lost: str = ""
    most_mpa: float | None = None


class Ratings(NamedTuple):
    """Every part under known pressure, in the order of the file, and outlets whose pressure is not known."""

    rated: tuple[Rated, ...]
    gaps: tuple[Gap, ...]


class _Seen(NamedTuple):
    """The pressure somewhere, and who makes it."""

    mpa: float
    outlet: str
    foot_n: float
    behind: tuple[str, ...] = ()
    lost: str = ""
    most_mpa: float | None = None


class _Load(NamedTuple):
    """The pressure at one outlet at a push of the foot, and the words of `Rated` for it."""

    outlet: Outlet
    mpa: float
    foot_n: float
    lost: str
    most_mpa: float | None


def ratings(
    graph: PortGraph,
    circuits: Circuits,
    found: Outlets | None = None,
    needs: Callable[[Joint], Fixings] | None = None,
) -> Ratings:
    """Return what every part under pressure is rated for and what it sees.

    `needs` tells what a joint needs besides its two sides; of nuts, sleeves, bolts and washers only those are returned
    whose catalog states a rating.
    """
    found = found or outlets(graph, circuits)
    pushes, gaps = _pushes(graph, found)
    seen = _seen(graph, circuits, found, pushes)
    rated = [*_fitted(graph, seen), *_fixed(graph, circuits, seen, needs or (lambda joint: fixings(graph, joint)))]
    return Ratings(tuple(rated), tuple(dict.fromkeys(gaps)))


def _pushes(graph: PortGraph, found: Outlets) -> tuple[dict[Drives, Push], list[Gap]]:
    """Return what each pedal does, and for each outlet without pressure what is missing."""
    pushes: dict[Drives, Push] = {}
    gaps: list[Gap] = []
    lacking_of = _lacking(found)
    drives: Drives
    for drives, section in _SECTION.items():
        by, _, lacking = lever(graph.build.file, drives)
        foot = stated_foot_n(graph.build.file, drives)
        fields = [*([f"{section}.force"] if foot is None else []), *(gap.missing for gap in lacking)]
        if by is not None and foot is not None:
            pushes[drives] = press(foot, drives, by, found)
        gaps += [
            Gap(one.ref, field) for one in found.of(drives) for field in fields or _unpressed(one, pushes, lacking_of)
        ]
    gaps += [idle(one) for one in found.outlets if one.drives is None]
    return pushes, gaps


class _Lacking(NamedTuple):
    """Bores that are missing, by the tag of their cylinder, and what the pedal does not say."""

    bores: Mapping[str, list[str]]
    shared: list[str]


def _lacking(found: Outlets) -> _Lacking:
    bores: dict[str, list[str]] = {}
    for gap in found.gaps:
        if gap.missing.endswith(".bore"):
            bores.setdefault(gap.at, []).append(gap.missing)
    return _Lacking(bores, [gap.missing for gap in found.gaps if gap.at == "pedal"])


def _unpressed(outlet: Outlet, pushes: Mapping[Drives, Push], lacking: _Lacking) -> list[str]:
    if outlet.drives is not None and outlet.ref in pushes[outlet.drives].pressures_mpa:
        return []
    shared = lacking.shared if outlet.drives == "brake" and outlet.share is None else []
    return lacking.bores.get(outlet.tag, []) + shared or [f"the share of the push that {outlet.tag} gets"]


def _seen(graph: PortGraph, circuits: Circuits, found: Outlets, pushes: Mapping[Drives, Push]) -> dict[str, _Seen]:
    """Return by tag the highest pressure that anything sees."""
    seen: dict[str, _Seen] = {}
    for outlet in found.outlets:
        push = pushes.get(outlet.drives) if outlet.drives is not None else None
        load = _load(graph, found, outlet, push) if push is not None else None
        if load is None:
            continue
        _higher(seen, outlet.tag, _Seen(load.mpa, outlet.ref, load.foot_n, (), load.lost, load.most_mpa))
        for each in side(graph, circuits, outlet).parts:
            _higher(seen, each.item.tag, _behind(graph, found, load, each.like))
    return seen


def _load(graph: PortGraph, found: Outlets, outlet: Outlet, push: Push) -> _Load | None:
    """Return the highest pressure at an outlet, with nothing lost or the bar's other circuit."""
    pressure = push.pressures_mpa.get(outlet.ref)
    if pressure is None or outlet.area_mm2 is None:
        return None
    other = next((one.ref for one in found.of("brake") if one.tag != outlet.tag), "")
    if outlet.drives != "brake" or not other or outlet.share is None:
        return _Load(outlet, pressure, push.foot_n, "", None)
    pedal = graph.build.file.pedal
    stated = pedal.share_left if pedal is not None else None
    left = pressure_mpa((1.0 if stated is None else stated) * push.rod_n, outlet.area_mm2)
    if stated is None or left <= pressure:
        return _Load(outlet, pressure, push.foot_n, "", left if stated is None else None)
    return _Load(outlet, left, push.foot_n, other, None)


def _higher(seen: dict[str, _Seen], tag: str, now: _Seen) -> None:
    before = seen.get(tag)
    most = max((one.most_mpa for one in (before, now) if one is not None and one.most_mpa is not None), default=None)
    higher = now if before is None or now.mpa > before.mpa else before
    seen[tag] = higher._replace(most_mpa=most)


def _behind(graph: PortGraph, found: Outlets, load: _Load, like: str) -> _Seen:
    """Return what a part sees that is behind the same valves as the consumer `like`."""
    names = load.outlet.metered.get(like, ())
    valves = [valve for name in names if (valve := found.valves[name]) is not None]
    lacking = tuple(gap.missing for name in names if found.valves[name] is None for gap in found.gaps if gap.at == name)
    most = metered_mpa(load.most_mpa, valves) if load.most_mpa is not None else None
    return _Seen(metered_mpa(load.mpa, valves), load.outlet.ref, load.foot_n, lacking, load.lost, most)


def _fitted(graph: PortGraph, seen: Mapping[str, _Seen]) -> Iterator[Rated]:
    for tag, item in graph.fitted.items():
        if tag not in seen or item.part is None or item.part.kind in _WITHOUT:
            continue
        known = rating(item.part)
        yield _rated(tag, item.part, seen[tag], known, "" if known is not None else missing(item.part))


def _fixed(
    graph: PortGraph, circuits: Circuits, seen: Mapping[str, _Seen], needs: Callable[[Joint], Fixings]
) -> Iterator[Rated]:
    for joint in graph.joints:
        network = circuits.of(joint.refs[0])
        if network is None or not network.pressurised or joint.assumed:
            continue
        at = max((seen[tag] for tag in map(tag_of, joint.refs) if tag in seen), key=lambda one: one.mpa, default=None)
        for fixing in needs(joint).items if at is not None else ():
            if at is not None and fixing.part is not None and fixing.part.max_pressure is not None:
                yield _rated(joint.refs[0], fixing.part, at, rating(fixing.part), "")


def _rated(at: str, part: Part, seen: _Seen, known: Rating | None, lacking: str) -> Rated:
    return Rated(at, part.id, seen.outlet, seen.foot_n, seen.mpa, known, lacking, seen.behind, seen.lost, seen.most_mpa)
