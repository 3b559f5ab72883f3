"""A part and its ports as plain records: what the graph, the rules and the take-off work with."""

from collections.abc import Mapping
from typing import Any, Final, NamedTuple

from fitcheck.standards.threads import Thread
from fitcheck.standards.threads import parse as parse_thread

KINDS: Final = (
    "pedal box",
    "reservoir",
    "master cylinder",
    "slave cylinder",
    "wheel cylinder",
    "caliper",
    "union",
    "bulkhead union",
    "tee",
    "elbow",
    "adapter",
    "plug",
    "cap",
    "banjo bolt",
    "washer",
    "nut",
    "sleeve",
    "tube",
    "hose",
    "feed hose",
    "pressure switch",
    "gauge",
    "proportioning valve",
    "residual valve",
    "shut-off valve",
    "clip",
    "grommet",
    "fluid",
    "sealant",
    "dust cap",
    "spring guard",
)
BRAKES: Final = frozenset({"caliper", "wheel cylinder"})
CONSUMERS: Final = BRAKES | {"slave cylinder"}
"""Kinds that turn pressure into force: each must be fed, and each must be bled."""
SCREWED: Final = frozenset({"nut", "sleeve", "banjo bolt", "plug", "cap"})
"""Kinds that are nothing but one port: without it nobody could tell what they fit."""
LOOSE: Final = frozenset(
    {"banjo bolt", "washer", "nut", "sleeve", "tube", "clip", "grommet", "fluid", "sealant", "dust cap", "spring guard"}
)
"""Kinds that are counted but never fitted as a component with joints of its own."""
RIDES: Final = frozenset({"spring guard", "grommet", "clip"})
"""Kinds that slide onto a tube and stay on it, besides nut and sleeve."""


class Port(NamedTuple):
    """One opening of a part. Lengths in mm; None where the catalog does not say."""

    name: str
    thread: Thread | None = None
    gender: str | None = None
    seat: str | None = None
    tube: float | None = None
    hose: float | None = None
    eye: float | None = None
    depth: float | None = None
    length: float | None = None
    pattern: str | None = None
    reach: float | None = None
    offset: tuple[float, float, float] | None = None

    @property
    def mechanical(self) -> bool:
        """True for a rod, pushrod or mounting: a port that carries force, not fluid."""
        return self.pattern is not None or self.reach is not None


class Part(NamedTuple):
    """One catalog entry. Lengths in mm, pressure in MPa, volumes in mm3, mass in kg, give in mm3/MPa.

    `expansion` of a hose are pairs of pressure [MPa] and swelling [mm3 for each mm of free length].
    """

    id: str
    kind: str
    description: str
    ports: Mapping[str, Port]
    passages: tuple[tuple[str, ...], ...]
    outlets: tuple[str, ...] = ()
    feeds: tuple[str, ...] = ()
    ends: frozenset[str] = frozenset()
    bleeder: str | None = None
    one_way: tuple[str, str] | None = None
    volume: float | None = None
    reservoir_volume: float | None = None
    displacement: float | None = None
    bore: float | None = None
    stroke: float | None = None
    mass: float | None = None
    material: str | None = None
    max_pressure: float | None = None
    setting: float | None = None
    fluid_families: tuple[str, ...] | None = None
    equivalent_to: tuple[str, ...] = ()
    od: float | None = None
    wall: float | None = None
    length: float | None = None
    bend_radius: float | None = None
    panel: tuple[float | None, float | None] | None = None
    inside: float | None = None
    outside: float | None = None
    thickness: float | None = None
    eyes: int | None = None
    for_hose: float | None = None
    source: str | None = None
    catalog: str = ""
    chambers: tuple[float, ...] = ()
    cut_off: float | None = None
    pistons: tuple[float, ...] = ()
    style: str | None = None
    give: float | None = None
    expansion: tuple[tuple[float, float], ...] = ()
    expansion_limit: str | None = None
    rubber: tuple[str, ...] = ()
    slope: float | None = None
    burst: float | None = None
    bleed_screws: int | None = None
    bleeder_at: tuple[float, float, float] | None = None
    side: str | None = None

    def fluid_ports(self) -> tuple[Port, ...]:
        """Return the ports that carry fluid, in the catalog's order."""
        return tuple(port for port in self.ports.values() if not port.mechanical)


_PLAIN_FIELDS: Final = (
    "bleeder",
    "volume",
    "reservoir_volume",
    "displacement",
    "bore",
    "stroke",
    "mass",
    "material",
    "max_pressure",
    "setting",
    "od",
    "wall",
    "length",
    "bend_radius",
    "inside",
    "outside",
    "thickness",
    "eyes",
    "for_hose",
    "source",
    "cut_off",
    "style",
    "give",
    "expansion_limit",
    "slope",
    "burst",
    "bleed_screws",
    "side",
)


def part_from_row(part_id: str, row: Mapping[str, Any], catalog: str = "") -> Part:
    """Build a part from a checked row: quantities already in working units, threads still text.

    The row has the keys of a catalog file's part. Where it leaves them out, the usual holds: all fluid
    ports share one passage (a master cylinder's outlets and feeds share none), a caliper's, switch's,
    gauge's and plug's fluid ports are ends, and a master cylinder's other fluid ports are its feeds.
    """
    ports = {name: _port(name, data) for name, data in row.get("ports", {}).items()}
    fluid = tuple(name for name, port in ports.items() if not port.mechanical)
    outlets = tuple(row.get("outlets", ()))
    feeds = tuple(row["feeds"]) if "feeds" in row else _usual_feeds(row["kind"], fluid, outlets)
    passages = row.get("passages")
    one_way = row.get("one_way")
    panel = row.get("panel")
    families = row.get("fluid_families")
    return Part(
        id=part_id,
        kind=row["kind"],
        description=row.get("description", ""),
        ports=ports,
        passages=tuple(map(tuple, passages)) if passages is not None else _usual_passages(fluid, outlets, feeds),
        outlets=outlets,
        feeds=feeds,
        ends=frozenset(row["ends"]) if "ends" in row else _usual_ends(row["kind"], fluid),
        one_way=(one_way[0], one_way[1]) if one_way else None,
        panel=(panel.get("hole"), panel.get("grip")) if panel else None,
        fluid_families=tuple(families) if families is not None else None,
        equivalent_to=tuple(row.get("equivalent_to", ())),
        chambers=tuple(row.get("chambers", ())),
        pistons=tuple(row.get("pistons", ())),
        expansion=tuple((at, swelling) for at, swelling in row.get("expansion", ())),
        rubber=tuple(row.get("rubber", ())),
        bleeder_at=(spot[0], spot[1], spot[2]) if (spot := row.get("bleeder_at")) else None,
        catalog=catalog,
        **{name: row[name] for name in _PLAIN_FIELDS if name in row},
    )


def _port(name: str, data: Mapping[str, Any]) -> Port:
    fields = dict(data)
    thread = fields.pop("thread", None)
    offset = fields.pop("offset", None)
    return Port(
        name=name,
        thread=parse_thread(thread) if thread is not None else None,
        offset=(offset[0], offset[1], offset[2]) if offset else None,
        **fields,
    )


def _usual_feeds(kind: str, fluid: tuple[str, ...], outlets: tuple[str, ...]) -> tuple[str, ...]:
    if kind != "master cylinder":
        return ()
    return tuple(name for name in fluid if name not in outlets)


def _usual_passages(
    fluid: tuple[str, ...], outlets: tuple[str, ...], feeds: tuple[str, ...]
) -> tuple[tuple[str, ...], ...]:
    shared = tuple(name for name in fluid if name not in outlets and name not in feeds)
    return (shared,) if shared else ()


_USUAL_ENDS: Final = CONSUMERS | {"pressure switch", "gauge", "plug", "cap"}


def _usual_ends(kind: str, fluid: tuple[str, ...]) -> frozenset[str]:
    return frozenset(fluid) if kind in _USUAL_ENDS else frozenset()
