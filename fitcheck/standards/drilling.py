"""How fast a hole is drilled, in what steps and with what feed, by the metal and the tool.

Surface speeds are mm/s; a schedule is reckoned with the cautious one of those that are printed.
"""

from collections.abc import Mapping, Sequence
from functools import lru_cache
from math import ceil, pi
from typing import Any, Final, NamedTuple

from fitcheck.naming import plain_word
from fitcheck.standards.drill_sizes import Drill, DrillUnit, nearest_drill, sheet_tool
from fitcheck.standards.figures import flag, interval, measure
from fitcheck.standards.unknown import UnknownNameError

TOOLS: Final = ("HSS", "cobalt", "carbide", "carbon steel")
"""What drills are made of, by the words of the build file."""
_DUST: Final = 1e-9


class UnknownMetalError(UnknownNameError):
    """A metal that the table of drilling does not hold."""

    what = "metal in the table of drilling speeds"


class SpeedRange(NamedTuple):
    """A surface speed that a source prints [mm/s] for one tool; `left_out` if it is shown and not counted."""

    tool: str
    low_mm_s: float
    high_mm_s: float
    mark: str
    left_out: bool = False


class Metal(NamedTuple):
    """How one metal is drilled.

    Attributes:
        name: its name in the table.
        aliases: other ways people write it.
        speeds: what is printed.
        used_mm_s: by tool, the cautious speed that is reckoned with; `used_mark` says where it comes from.
        feed_mm: feed in one turn of a drill of the diameter that feeds are printed for; `feed_mark` likewise.
        hardens: it hardens under a tool that rubs.
    """

    name: str
    aliases: tuple[str, ...]
    speeds: tuple[SpeedRange, ...]
    used_mm_s: Mapping[str, float]
    used_mark: str
    feed_mm: float
    feed_mark: str
    hardens: bool


class Surface(NamedTuple):
    """Surface speeds [mm/s]: `used`, within `low` to `high` of what is printed; `mark` says by whom."""

    low_mm_s: float
    used_mm_s: float
    high_mm_s: float
    mark: str


class Speed(NamedTuple):
    """Turns a minute of a spindle: `used`, within `low` to `high` of what is printed; `mark` says by whom."""

    low_rpm: float
    used_rpm: float
    high_rpm: float
    mark: str


class Feed(NamedTuple):
    """How far a drill goes in one turn [mm], and where the figure comes from."""

    mm: float
    mark: str


class Step(NamedTuple):
    """One step of a hole: the drill, and whether it is a step drill or hole saw instead of a twist drill."""

    drill: Drill
    sheet_tool: bool = False


class Figure(NamedTuple):
    """A diameter, thickness or share of the table, and its source."""

    value: float
    mark: str


@lru_cache(maxsize=1)
def _table() -> dict[str, Any]:
    from fitcheck.standards.tables import load

    return load("drilling")


@lru_cache(maxsize=1)
def metals() -> dict[str, Metal]:
    """Return every metal by name, in the table's order."""
    return {name: _metal(name, row, _table()["unit"]) for name, row in _table()["metals"].items()}


def _metal(name: str, row: Mapping[str, Any], unit: str) -> Metal:
    return Metal(
        name,
        tuple(row["aliases"]),
        tuple(_range(one, unit) for one in row["speeds"]),
        {tool: measure(text, unit) for tool, text in row["used"].items() if tool != "mark"},
        row["used"]["mark"],
        measure(row["feed"]["per_turn"]),
        row["feed"]["mark"],
        flag(row["hardens"]["answer"]) if "hardens" in row else False,
    )


def _range(row: Mapping[str, Any], unit: str) -> SpeedRange:
    low, high = interval(row["speed"], unit)
    return SpeedRange(row["tool"], low, high, row["mark"], flag(row.get("left_out", "no")))


@lru_cache(maxsize=1)
def _by_alias() -> dict[str, Metal]:
    return {plain_word(word): found for found in metals().values() for word in (found.name, *found.aliases)}


def metal(text: str) -> Metal:
    """Return the metal that `text` means: its name or an alias; case, spaces and signs do not count.

    >>> metal("Aluminum").name, metal("1.4301").name
    ('aluminium', 'stainless steel')

    Raises:
        UnknownMetalError: the table holds no such metal; the message gives the nearest.
    """
    found = _by_alias().get(plain_word(text))
    if found is None:
        raise UnknownMetalError(text, metals())
    return found


def figure(name: str) -> Figure:
    """Return a single figure of the table: a diameter or thickness [mm], a share, a number of turns.

    >>> figure("twist_in_sheet").value, figure("web").value
    (10.0, 0.15)
    """
    row = _table()[name]
    key = next(key for key in row if key != "mark")
    return Figure(measure(row[key], "mm"), row["mark"])


def usual_screw() -> tuple[str, str]:
    """Return the thread that clips and brackets are screwed into where nobody says, and its mark."""
    row = _table()["usual_screw"]
    return row["thread"], row["mark"]


def rpm(surface_mm_s: float, diameter_mm: float) -> float:
    """Return turns a minute for a surface speed [mm/s] at a diameter [mm]: v / (pi d).

    80 ft/min at 1/2 in is 611 turns a minute.

    >>> round(rpm(80 * 304.8 / 60, 12.7))
    611
    """
    return 60.0 * surface_mm_s / (pi * diameter_mm)


def surface_speed(material: Metal, tool: str) -> Surface:
    """Return how fast a tool goes over a metal. A tool without figures of its own takes another's, times a factor.

    >>> speed = surface_speed(metal("mild steel"), "carbon steel")
    >>> [round(value * 0.06, 1) for value in (speed.low_mm_s, speed.used_mm_s, speed.high_mm_s)]  # m/min
    [10.5, 12.5, 18.0]
    """
    row = _table()["tools"][tool]
    factor = measure(row["factor"], "mm")
    counted = [one for one in material.speeds if one.tool == row["of"] and not one.left_out]
    marks = [*(one.mark for one in counted), *([row["mark"]] if tool != row["of"] else [])]
    return Surface(
        factor * min(one.low_mm_s for one in counted),
        factor * material.used_mm_s[row["of"]],
        factor * max(one.high_mm_s for one in counted),
        "; ".join(dict.fromkeys(marks)),
    )


def spindle_rpm(diameter_mm: float, material: Metal, tool: str) -> Speed:
    """Return how fast a drill turns: 1000 v / (pi d), for the least, the cautious and the greatest speed printed.

    Args:
        diameter_mm: of the hole [mm].
        material: as `metal` returns it.
        tool: one of `TOOLS`.

    >>> round(spindle_rpm(12.0, metal("mild steel"), "HSS").used_rpm)
    663
    """
    low, used, high, mark = surface_speed(material, tool)
    return Speed(rpm(low, diameter_mm), rpm(used, diameter_mm), rpm(high, diameter_mm), mark)


def setting(wanted_rpm: float, speeds: Sequence[float]) -> float:
    """Return which of a machine's speeds to set: the nearest at or below what is wanted, or else its slowest.

    >>> setting(660, [280, 600, 1100]), setting(200, [280, 600, 1100])
    (600, 280)
    """
    below = [speed for speed in speeds if speed <= wanted_rpm + _DUST]
    return max(below) if below else min(speeds)


def feed(diameter_mm: float, material: Metal) -> Feed:
    """Return how far a twist drill goes in one turn [mm].

    Printed for one diameter only: below it in proportion to the diameter, above it the same (derived).

    >>> round(feed(3.0, metal("mild steel")).mm, 2), feed(12.0, metal("mild steel")).mm
    (0.1, 0.2)
    """
    printed_for = figure("feed_for").value
    if diameter_mm < printed_for:
        mark = f"{material.feed_mark}; {_table()['feed_below']['mark']}"
        return Feed(material.feed_mm * diameter_mm / printed_for, mark)
    return Feed(material.feed_mm, material.feed_mark)


def is_sheet(thickness_mm: float | None) -> bool:
    """Return whether metal of a thickness [mm] counts as sheet; what is not known does."""
    return thickness_mm is None or thickness_mm <= figure("sheet").value


def steps(
    mm: float,
    thickness_mm: float | None,
    unit: DrillUnit = "mm",
    largest_mm: float | None = None,
    *,
    at_least: bool = False,
) -> tuple[Step, ...]:
    """Return the drills that a hole is made with, in order.

    Up to 5 mm one drill. Above, a pilot hole a little wider than the web of the next drill. A hole of more than 10 mm
    in sheet, or larger than the largest drill there is, is finished with a step drill or a hole saw. Source: common
    practice, no source; see the table's marks.

    Args:
        mm: diameter of the finished hole [mm].
        thickness_mm: of the metal [mm]; None counts as sheet.
        unit: what drills are sold in.
        largest_mm: the largest twist drill there is [mm]; that of the usual chuck if None.
        at_least: the hole may be no smaller; else the nearest size is taken.

    >>> [step.drill.name for step in steps(9.0, 1.5)]
    ['2.5 mm', '9 mm']
    >>> steps(14.0, 1.5)[-1].sheet_tool
    True
    """
    largest = largest_mm if largest_mm is not None else figure("chuck").value
    drill = nearest_drill(mm, unit, at_least=at_least)
    if drill.mm > largest or (is_sheet(thickness_mm) and drill.mm > figure("twist_in_sheet").value):
        pilot = nearest_drill(min(figure("step_pilot").value, largest), unit)
        return Step(pilot), Step(sheet_tool(mm, unit, at_least=at_least), sheet_tool=True)
    return (*pilots(drill.mm, unit), Step(drill))


def pilots(diameter_mm: float, unit: DrillUnit = "mm") -> tuple[Step, ...]:
    """Return the step before a twist drill [mm]: a pilot hole, or none up to 5 mm."""
    if diameter_mm <= figure("one_go").value:
        return ()
    return (Step(nearest_drill(pilot_mm(diameter_mm), unit, at_least=True)),)


def pilot_mm(diameter_mm: float) -> float:
    """Return the pilot hole [mm] for a twist drill [mm]: its web to the next half millimetre, 2.5 mm at least.

    >>> pilot_mm(8.5), pilot_mm(20.0)
    (2.5, 3.0)
    """
    step, least = measure(_table()["pilot"]["step"]), measure(_table()["pilot"]["least"])
    return max(least, ceil(figure("web").value * diameter_mm / step - _DUST) * step)
