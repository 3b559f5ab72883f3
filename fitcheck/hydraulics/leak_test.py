"""The leak test: how much pressure each circuit may see, and every joint that is looked at.

Pressures in MPa, forces in N. No circuit is tested above the lowest rating of what is in it (`part_rating`), as far as
that is known; what has no rating is named. What a regulation asks of a finished car in use is kept apart from what is
common practice on the bench.
"""

from typing import Final, Literal, NamedTuple

from fitcheck.build.circuits import Circuits, Network
from fitcheck.build.graph import Joint, PortGraph
from fitcheck.build.joint_torques import joint_torque
from fitcheck.build.refs import tag_of
from fitcheck.hydraulics.bleed import Bleed, Way
from fitcheck.hydraulics.part_rating import Rating, missing, rating
from fitcheck.hydraulics.record import Drives
from fitcheck.hydraulics.system import System, system
from fitcheck.standards.bleeding import bleed_figure
from fitcheck.standards.torques import Torque, bleed_screw_torque

What = Literal["tube nut", "two tubes", "banjo bolt", "screwed joint", "taper joint", "hose on barb", "bleed screw"]
_WITHOUT: Final = frozenset({"feed hose", "reservoir"})


class Joined(NamedTuple):
    """One joint to look at: what it is, its ends, its thread as the catalog has it, and its typical torque.

    `torque` is None where the table has none, or where there is nothing to tighten.
    """

    what: What
    at: tuple[str, ...]
    thread: str | None
    torque: Torque | None


class Lowest(NamedTuple):
    """The part that stands least, and its rating."""

    tag: str
    part_id: str
    rating: Rating


class LeakTest(NamedTuple):
    """The test of what shares one fluid under pressure.

    Attributes:
        outlets: the ports that push into it; `circuits` are its names.
        lowest: the part rated lowest; None if nothing in it has a rating.
        unrated: tags of what has no rating, each with the field that would give it one.
        low_mpa, high_mpa: the pressures to test at, from and to, the rating kept.
        capped: True if the rating is what holds the high test down.
        gauge: the bleed screw farthest away, in whose place a gauge goes; None if there is none.
        gauges: gauges that are fitted.
        drives: which pedal pushes into it; None if none does, or nobody knows.
        pedal_mpa: what the regulation's push on the brake pedal makes here; None if not known, and for a clutch.
        foot_n: the push that makes the lower and the higher of `high_mpa`; None if not known, or with a booster.
        foot_most_n: the push at which the first of all circuits of that pedal, `foot_limit`, reaches its lowest rating;
            None as above.
        joints: all its joints and bleed screws.
    """

    outlets: tuple[str, ...]
    circuits: tuple[str, ...]
    lowest: Lowest | None
    unrated: tuple[tuple[str, str], ...]
    low_mpa: tuple[float, float]
    high_mpa: tuple[float, float]
    capped: bool
    gauge: Way | None
    gauges: tuple[str, ...]
    drives: Drives | None
    pedal_mpa: float | None
    foot_n: tuple[float, float] | None
    joints: tuple[Joined, ...]
    foot_most_n: float | None = None
    foot_limit: str = ""

    @property
    def name(self) -> str:
        """What reports call it."""
        return " and ".join(self.circuits) or " and ".join(self.outlets)

    @property
    def pedal_too_much(self) -> bool:
        """True if the regulation's push would go beyond the lowest rating, here or in a circuit of the same pedal."""
        own = self.lowest is not None and self.pedal_mpa is not None and self.pedal_mpa > self.lowest.rating.mpa
        return own or (self.foot_most_n is not None and self.foot_most_n < bleed_figure("pedal_test").value)


class LeakTests(NamedTuple):
    """The leak tests of a build, circuit by circuit, and the joints that feed them, which are under no pressure."""

    tests: tuple[LeakTest, ...]
    feeds: tuple[Joined, ...]


def leak_tests(graph: PortGraph, circuits: Circuits, found: Bleed) -> LeakTests:
    """Return the leak tests of a build that is bled as `found` says."""
    pressed = system(graph, circuits)
    numbers = {id(network): index for index, network in enumerate(circuits.networks)}
    by_network: dict[int, list[Joint]] = {}
    for joint in graph.joints:
        network = circuits.of(joint.refs[0])
        if network is not None and joint.kind != "mechanical":
            by_network.setdefault(numbers[id(network)], []).append(joint)
    tests: list[LeakTest] = []
    feeds: list[Joined] = []
    for index, network in enumerate(circuits.networks):
        joints = by_network.get(index, [])
        if network.pressurised:
            tests.append(_test(graph, network, joints, found, pressed))
        else:
            feeds += map(_joined, joints)
    return LeakTests(tuple(_bounded(test, tests) for test in tests), tuple(feeds))


def _bounded(test: LeakTest, tests: list[LeakTest]) -> LeakTest:
    """Return a test with the push that one of its pedal's circuits bears least: one foot presses them all."""
    reached = [
        (other.foot_n[1] * other.lowest.rating.mpa / other.high_mpa[1], other.name)
        for other in tests
        if other.drives == test.drives and other.foot_n is not None and other.lowest is not None
    ]
    most, name = min(reached, default=(None, ""))
    return test._replace(foot_most_n=most, foot_limit=name)


def within(low: float, high: float, most: float | None) -> tuple[float, float]:
    """Return a range of pressure that is nowhere above `most`; None sets no bound.

    >>> within(10.0, 15.0, 12.0), within(10.0, 15.0, 8.0), within(10.0, 15.0, None)
    ((10.0, 12.0), (8.0, 8.0), (10.0, 15.0))
    """
    return (low, high) if most is None else (min(low, most), min(high, most))


def _test(graph: PortGraph, network: Network, joints: list[Joint], found: Bleed, pressed: System) -> LeakTest:
    ways = [way for way in found.ways if way.outlet in network.outlets]
    lowest, unrated = _rated(graph, network)
    low, high = bleed_figure("low_test"), bleed_figure("high_test")
    most = lowest.rating.mpa if lowest is not None else None
    tested = within(high.least, high.most, most)
    outlets = {outlet.ref: outlet for outlet in pressed.outlets.outlets}
    drives = next((outlets[ref].drives for ref in network.outlets if ref in outlets), None)
    foot = bleed_figure("pedal_test").value
    pedal = _pressed(pressed, network, drives, foot)
    tags = dict.fromkeys(map(tag_of, network.ends))
    parts = {tag: graph.fitted[tag].part for tag in tags}
    names = [name for ref in network.outlets if ref in outlets for name in outlets[ref].circuits]
    return LeakTest(
        outlets=network.outlets,
        circuits=tuple(dict.fromkeys(names)),
        lowest=lowest,
        unrated=unrated,
        low_mpa=within(low.least, low.most, most),
        high_mpa=tested,
        capped=tested != (high.least, high.most),
        gauge=ways[0] if ways else None,
        gauges=tuple(tag for tag, part in parts.items() if part is not None and part.kind == "gauge"),
        drives=drives,
        pedal_mpa=pedal if drives == "brake" else None,
        foot_n=_foot(pressed, drives, tested, foot, pedal),
        joints=(*map(_joined, joints), *map(_screw, ways)),
    )


def _rated(graph: PortGraph, network: Network) -> tuple[Lowest | None, tuple[tuple[str, str], ...]]:
    lowest: Lowest | None = None
    unrated: list[tuple[str, str]] = []
    for tag in dict.fromkeys(map(tag_of, network.ends)):
        item = graph.fitted[tag]
        if item.part is None:
            unrated.append((tag, f"parts.{item.part_id}"))
        elif item.part.kind not in _WITHOUT:
            known = rating(item.part)
            if known is None:
                unrated.append((tag, missing(item.part)))
            elif lowest is None or known.mpa < lowest.rating.mpa:
                lowest = Lowest(tag, item.part.id, known)
    return lowest, tuple(unrated)


def _pressed(pressed: System, network: Network, drives: Drives | None, foot_n: float) -> float | None:
    """Return the highest pressure that a push of the foot makes in a network; None if the pedal is not known."""
    push = pressed.push(foot_n, drives) if drives is not None else None
    if push is None:
        return None
    return max((push.pressures_mpa[ref] for ref in network.outlets if ref in push.pressures_mpa), default=None)


def _foot(
    pressed: System, drives: Drives | None, high: tuple[float, float], foot_n: float, pedal: float | None
) -> tuple[float, float] | None:
    """Return the pushes that make the high test: pressure goes with the push where no booster helps."""
    by = pressed.levers.get(drives) if drives is not None else None
    if not pedal or by is None or by.gain != 1.0:
        return None
    return foot_n * high[0] / pedal, foot_n * high[1] / pedal


def _joined(joint: Joint) -> Joined:
    torque = joint_torque(joint)
    threads = [
        end.port.thread.designation for end in joint.ends if end.port is not None and end.port.thread is not None
    ]
    return Joined(_what(joint), joint.refs, threads[0] if threads else None, torque)


def _what(joint: Joint) -> What:
    seats = {end.port.seat for end in joint.ends if end.port is not None}
    if "push-on" in seats:
        return "hose on barb"
    if joint.kind == "banjo":
        return "banjo bolt"
    if joint.kind == "tubes":
        return "two tubes"
    if joint.kind == "tube":
        return "tube nut"
    return "taper joint" if "taper" in seats else "screwed joint"


def _screw(way: Way) -> Joined:
    return Joined("bleed screw", (way.ref if way.by_bolt else way.at,), None, bleed_screw_torque())
