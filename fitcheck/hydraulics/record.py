"""Pressure, stroke and balance as records, free of wording, so that they can be told, drawn and tabulated.

Lengths in mm, areas in mm2, volumes in mm3, forces in N, pressures in MPa (gauge), torques in N mm, decelerations in
parts of standard gravity (9.80665 m/s2, exact by definition).
"""

from collections.abc import Mapping
from typing import Literal, NamedTuple

from fitcheck.measures import Units

Axle = Literal["front", "rear"]
Drives = Literal["brake", "clutch"]
Known = Literal["stated", "catalog", "standard", "assumed"]
Cause = Literal["gap", "knock-back", "give", "swelling", "stretch", "squeeze", "air", "cut-off", "travel"]


class Figure(NamedTuple):
    """One input that an answer rests on.

    Attributes:
        key: the field that states it or would state it, such as `parts.caliper-2x44.give`.
        value: what is used, in working units.
        unit: its working unit; empty for a plain number.
        known: who says so; of `assumed` nobody does.
        source: the words for it: file, standard and clause, or `common practice, no source`.
        low, high: the range over which an assumption may lie; equal to `value` for what is known.
    """

    key: str
    value: float
    unit: str
    known: Known
    source: str
    low: float
    high: float


class Gap(NamedTuple):
    """What could not be computed for `at` (a tag, a circuit, `pedal`, `car`), and the field that is missing."""

    at: str
    missing: str


class Outlet(NamedTuple):
    """One pressure outlet and what pushes it.

    Attributes:
        ref: the port, such as `mc_front.outlet`; `tag` is its master cylinder.
        circuits: the names the build gives to what it feeds; empty if it gives none.
        drives: which pedal; None if it feeds neither brake nor slave cylinder.
        axles: the axles that its brakes are on, as far as known.
        area_mm2, stroke_mm, cut_off_mm: of its piston; `stroke_mm` is that of its own chamber, None if not known.
        share: of the pushrod's force of its pedal, that on its master cylinder; None if not known.
        consumers: tags of what it moves, in the order of the file.
        metered: by tag of a consumer, the proportioning valves on the way to it, in the order of flow.
        residual_mpa: by tag of a consumer, what a residual valve on the way holds back; 0 if there is none.
    """

    ref: str
    tag: str
    circuits: tuple[str, ...]
    drives: Drives | None
    axles: tuple[Axle, ...]
    area_mm2: float | None
    stroke_mm: float | None
    cut_off_mm: float | None
    share: float | None
    consumers: tuple[str, ...]
    metered: Mapping[str, tuple[str, ...]]
    residual_mpa: Mapping[str, float]

    @property
    def name(self) -> str:
        """What reports call it: its circuits, or its port."""
        return " and ".join(self.circuits) or self.ref


class Push(NamedTuple):
    """One pedal pressed. `rod_n` is the force on all its pushrods together, booster included.

    `forces_n` are those on each master cylinder by tag, `pressures_mpa` those at each outlet by ref, `at_mpa` those at
    each consumer by tag, behind metering valves.
    """

    drives: Drives
    foot_n: float
    rod_n: float
    forces_n: Mapping[str, float]
    pressures_mpa: Mapping[str, float]
    at_mpa: Mapping[str, float]


class Corner(NamedTuple):
    """One brake at one pedal force. None where the build does not say what it takes.

    `clamp_n` is the force of one pad or shoe, `torque_nmm` that at the wheel, `force_n` that at the tyre's tread before
    the tyre's own grip is asked; `limit_n` is the most that the tyre holds at the deceleration reached. `disc` tells
    calipers from drums.
    """

    tag: str
    axle: Axle | None
    pressure_mpa: float | None
    piston_mm2: float | None
    clamp_n: float | None
    torque_nmm: float | None
    force_n: float | None
    limit_n: float | None = None
    disc: bool = False


class Stop(NamedTuple):
    """What the car does at one pedal force.

    `asked_g` is the deceleration that the brakes ask for, `reached_g` what the tyres let them have. `front_share` is
    that of the brake force asked, `ideal_share` the share at which both axles would lock together at `reached_g`.
    `locks` is the axle that slides, None if none does, `both` if both do.
    """

    foot_n: float
    asked_g: float
    reached_g: float
    front_share: float
    ideal_share: float
    locks: Literal["front", "rear", "both"] | None


class Balance(NamedTuple):
    """How braking is shared between the axles, over deceleration.

    `ideal` are pairs of deceleration [g] and the front share at which both axles lock together; `share` is the front
    share of the brakes as they are, `lowest` and `highest` those at the ends of the bar's adjustment. `locks_first` and
    `locks_at_g` say which axle slides first on a road that grips like `tyre_friction`, and when. `right_balance` is the
    share of the push to the front master cylinder at which both lock together there, `right_front_mm` where the bar's
    pivot then stands from the front rod; `reachable` whether the bar can be set so.
    """

    ideal: tuple[tuple[float, float], ...]
    share: float
    lowest: float | None
    highest: float | None
    locks_first: Literal["front", "rear", "both"] | None
    locks_at_g: float | None
    right_balance: float | None
    right_front_mm: float | None
    reachable: bool | None


class Take(NamedTuple):
    """What one component, line or hose takes of the fluid that the master cylinder moves, at one pressure [mm3].

    `cause` is one of: `gap` (pads and shoes until they bite), `knock-back`, `give` (pads, seals, castings), `swelling`
    (hose), `stretch` (tube), `squeeze` (the fluid in it), `air` (free air), `cut-off` (before the feed is shut off),
    `travel` (what a slave cylinder is pushed by).
    """

    tag: str
    cause: Cause
    mm3: float
    low_mm3: float
    high_mm3: float
    upper_bound: bool = False


class Stroke(NamedTuple):
    """What one outlet's piston does at one pedal force.

    `takes` are the parts of the sum. `used_mm` is its stroke, cut-off included, `spread_mm` the range of that over all
    assumptions; `reserve` is the share of the stroke that is left, None if the stroke is not known. Where something is
    missing it is not `complete`: it takes more than that.
    """

    outlet: str
    pressure_mpa: float
    takes: tuple[Take, ...]
    used_mm: float
    spread_mm: tuple[float, float]
    stroke_mm: float | None
    complete: bool = True

    @property
    def reserve(self) -> float | None:
        """Share of the stroke that is left, negative if it is not enough."""
        return None if self.stroke_mm is None else 1.0 - self.used_mm / self.stroke_mm


class Travel(NamedTuple):
    """How far the foot goes at one pedal force [mm]; `spread_mm` over all assumptions, `floor_mm` where it stops.

    Where something is missing it is not `complete`: it goes further than that.
    """

    drives: Drives
    foot_n: float
    foot_mm: float
    spread_mm: tuple[float, float]
    floor_mm: float | None
    complete: bool = True

    @property
    def reserve(self) -> float | None:
        """Share of the way to the floor that is left, negative if there is none; None if the floor is not known."""
        return None if self.floor_mm is None else 1.0 - self.foot_mm / self.floor_mm


class Failure(NamedTuple):
    """One outlet's circuit lost to a leak anywhere in it.

    `reached_g` is what is left at the stated pedal force, `travel_mm` how far the foot goes before the rest makes
    pressure, `travel_left` whether neither the pedal reaches its floor nor a piston that is left the end of its stroke;
    None where not known. `against` is what the published rules ask that the build names. It is `doubtful` where the
    pedal or a piston may come to its end by what is assumed. Where something is missing it is not `complete`: the foot
    goes further than that.
    """

    lost: str
    circuits: tuple[str, ...]
    reached_g: float | None
    travel_mm: float | None
    travel_left: bool | None
    against: tuple["Required", ...] = ()
    doubtful: bool = False
    complete: bool = True


class Required(NamedTuple):
    """What one clause of a published rule asks, and whether that is met; `reached_g` is at the force it allows.

    `least_g` is that with the most friction that is assumed in the pedal, None if its friction is stated.
    `travel_left` is whether pedal and pistons have way enough to reach what is asked: without it nothing is met.
    """

    rule: str
    clause: str
    words: str
    required_g: float
    at_foot_n: float
    reached_g: float | None
    met: bool | None
    source: str
    least_g: float | None = None
    travel_left: bool | None = None


class Clutch(NamedTuple):
    """A clutch's slave cylinder, pedal right down: travel [mm] and force [N], against what the clutch needs.

    `spread_mm` is the travel over all assumptions, `least_n` the force with the most friction that is assumed in the
    pedal, None if that is stated. Where something is missing it is not `complete`: it travels less.
    """

    tag: str
    force_n: float | None
    travel_mm: float | None
    needs_force_n: float | None
    needs_travel_mm: float | None
    spread_mm: tuple[float, float] | None = None
    complete: bool = True
    least_n: float | None = None


class Lag(NamedTuple):
    """How a brake follows the foot at -40 degC [s], the fluid being as thick as its standard lets it be [mm2/s]."""

    tag: str
    lag_s: float
    fluid: str
    viscosity_mm2_s: float
    source: str


class Answer(NamedTuple):
    """Everything that `fitcheck pedal` says of a build, at the stated force unless told otherwise.

    `service` is what the rules that the build names ask of the brakes with nothing lost. Where nobody measured what
    friction leaves of the push, `weakest` are the pushes and `weakest_stop` the stop at the least that is assumed.
    `feet` are pairs of deceleration [g] and the push of the foot that reaches it [N], None if none does. `ratio` is
    that of the brake pedal. `lags` are those of the brakes in deep cold.
    """

    build: str
    outlets: tuple[Outlet, ...]
    pushes: tuple[Push, ...]
    corners: tuple[Corner, ...]
    stop: Stop | None
    balance: Balance | None
    strokes: tuple[Stroke, ...]
    travels: tuple[Travel, ...]
    curves: Mapping[str, tuple[tuple[float, float, float], ...]]
    failures: tuple[Failure, ...]
    clutches: tuple[Clutch, ...]
    figures: tuple[Figure, ...]
    gaps: tuple[Gap, ...]
    service: tuple[Required, ...] = ()
    weakest: tuple[Push, ...] = ()
    weakest_stop: Stop | None = None
    feet: tuple[tuple[float, float | None], ...] = ()
    ratio: float | None = None
    units: Units = Units()
    lags: tuple[Lag, ...] = ()

    @property
    def names(self) -> dict[str, str]:
        """What reports call each outlet, by ref: its circuits, with its port where that is not enough."""
        told = [outlet.name for outlet in self.outlets]
        return {one.ref: one.name if told.count(one.name) == 1 else f"{one.name} ({one.ref})" for one in self.outlets}
