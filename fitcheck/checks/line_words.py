"""How rules speak of places along a line. The words are the same whichever end the line is told from."""

from fitcheck.build.load import MM
from fitcheck.build.routes import Point
from fitcheck.build.runs import Run
from fitcheck.checks.context import Context
from fitcheck.naming import in_order

Path = tuple[str | int, ...]


def place_words(context: Context, point: Point) -> str:
    """Return a point [mm] as the file would state it: `(1500, 330, 540) mm`, to a tenth of a mm or finer."""
    unit = MM[context.file.coordinates]
    places = {"mm": 1, "cm": 2, "m": 4, "in": 2}[context.file.coordinates]
    numbers = (f"{value / unit:.{places}f}" for value in point)
    return f"({', '.join(_short(number) for number in numbers)}) {context.file.coordinates}"


def bend_words(context: Context, run: Run, index: int) -> str:
    """Return where a bend is, counted from 0: `at (1500, 330, 540) mm`, or `after leg 2`."""
    if run.points is not None:
        return f"at {place_words(context, min(run.legs[index][1], run.legs[index + 1][0]))}"
    return f"after leg {index + 1}"


def leg_words(context: Context, run: Run, index: int) -> str:
    """Return where a leg is, counted from 0: `between a.from and (1500, 330, 540) mm`, or `in leg 2`."""
    if run.points is None:
        return f"in leg {index + 1}"
    start, end = run.legs[index]
    last = len(run.legs) - 1
    first = f"{run.tag}.from" if index == 0 else place_words(context, start)
    final = f"{run.tag}.to" if index == last else place_words(context, end)
    ends = sorted(((start, first), (end, final)))
    return f"between {ends[0][1]} and {ends[1][1]}"


def route_path(run: Run, bend: int) -> Path:
    """Return where the file states a bend, counted from 0; the route if it states none there."""
    entry = run.node_of(bend) if run.route is not None and run.route.bends else None
    return ("lines", run.tag, "route", *(() if entry is None else (entry,)))


def ordered(*tags: str) -> list[str]:
    """Return tags in the order in which people count, whatever the order of the file."""
    return sorted(tags, key=in_order)


def _short(number: str) -> str:
    text = number.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
