"""Rows that families take from the standards' own tables, so that each figure stands in one place only.

A family asks by `rows from: {table: tubes}`; further keys choose rows, as `{table: hoses, name: rubber-1-8}`.
Figures stay in the unit they were printed in, so that descriptions read as the shop does.
"""

from collections.abc import Callable, Iterator, Mapping
from typing import Any, Final

from fitcheck.errors import FitcheckError
from fitcheck.naming import hint
from fitcheck.standards.figures import measure
from fitcheck.standards.sizes import same_tube, size_name
from fitcheck.standards.tables import load

Row = dict[str, str | None]


class FamilyError(FitcheckError, ValueError):
    """A family of the generic catalog that cannot be expanded. Only its maintainers can meet it."""


def slug(text: str) -> str:
    """Return `text` as it stands in an id: `3/16 in` is `3-16`, `M10x1.25` is `m10x1-25`, `8 mm` is `8mm`.

    A length in inches loses its unit, as the shop says it, and a thread the word for its series.
    """
    words = text.lower().replace("/", "-").replace(".", "-").split()
    if words[-1] in ("in", "un", "unf", "uns", "unc"):
        words.pop()
    if words[-1] == "mm":
        return "".join(words)
    return "-".join(words)


def rows_from(wanted: Mapping[str, str]) -> list[Row]:
    """Return the rows of a table that agree with every other key of `wanted`, in the table's order.

    Raises:
        FamilyError: there is no such table, or no row of it agrees.
    """
    name = wanted.get("table", "")
    if name not in _TABLES:
        raise FamilyError(f"no table is called {name!r}{hint(name, _TABLES)}")
    keys = {key: value for key, value in wanted.items() if key != "table"}
    found = [row for row in _TABLES[name]() if all(row.get(key) == value for key, value in keys.items())]
    if not found:
        raise FamilyError(f"no row of the table {name} has {keys}")
    return found


def of_topic(topic: str, mark: str) -> str:
    """Return what a mark says of one topic, such as `thread`: its parts in brackets tell what each is about."""
    parts = [part for part in mark.split("; ") if "(" not in part or topic in part.rpartition("(")[2]]
    return "; ".join(part.partition(" (")[0] for part in parts)


def _printed(text: str, unit: str) -> str:
    """Return a figure of a table with its unit; a whole number without its `.0`."""
    return text if text[-1].isalpha() else f"{text.removesuffix('.0')} {unit}"


def _bolts() -> Iterator[Row]:
    for row in load("banjo")["bolts"]:
        yield {"thread": row["thread"], "from": of_topic("thread", row["mark"])}


def _washers() -> Iterator[Row]:
    table = load("banjo")
    first: dict[tuple[str, str], Any] = {}
    for row in table["washers"]:
        kind = first.setdefault((row["nominal"], row["material"]), row)
        bolt = f"M{row['nominal']}" if row["nominal"].isdigit() else row["nominal"]
        sizes = {key: _printed(row[key], table["unit"]) for key in ("inside", "outside", "thickness")}
        yield {
            "metal": row["material"],
            "size": slug(bolt) + _washer_tail(row, kind, table["unit"]),
            "for": " or ".join([bolt, *row.get("also", ())]),
            "from": row["mark"],
            **sizes,
        }


def _washer_tail(row: Mapping[str, str], usual: Mapping[str, str], unit: str) -> str:
    if row is usual:
        return ""
    if row["thickness"] != usual["thickness"]:
        return "-thin" if measure(row["thickness"], unit) < measure(usual["thickness"], unit) else "-thick"
    return f"-{slug(_printed(row['outside'], unit))}"


def _tubes() -> Iterator[Row]:
    """Yield each size of each metal once; the first wall of a size has the plain id, others name their wall."""
    table = load("tubes")
    seen: dict[tuple[str, str], set[str]] = {}
    for row in table["tubes"]:
        unit = row.get("unit", table["unit"])
        od, wall, metal = _printed(row["od"], unit), _printed(row["wall"], unit), row["material"]
        walls = seen.setdefault((od, metal), set())
        if wall not in walls:
            tail = f"-{slug(wall)}" if walls else ""
            walls.add(wall)
            yield {"od": od, "wall": wall, "metal": metal, "tail": tail, "from": _standard(row), **_bend(od, metal)}


def _standard(row: Mapping[str, str]) -> str:
    standard, mark = row["standard"], row["mark"]
    return mark if standard in mark or standard == "trade sizes" else f"{standard}, {mark}"


def _bend(od: str, metal: str) -> Row:
    """Return the radius printed for this tube, else for its metric or inch twin; none where only memory has one."""
    table, size = load("tubes"), measure(od)
    seen = [row for row in table["bend_figures"] if row["material"] == metal and "from memory" not in row["mark"]]
    named = [row for row in seen if size_name(measure(row["od"], table["unit"])) == size_name(size)]
    twins = [row for row in seen if same_tube(measure(row["od"], table["unit"]), size)]
    for row in named or twins:
        words = f"; bend radius: {row['mark']}, for {_printed(row['od'], table['unit'])} tube"
        return {"bend": _printed(row["radius"], table["unit"]), "bend_words": words}
    return {"bend": None, "bend_words": ""}


def _hoses() -> Iterator[Row]:
    table = load("hoses")
    for name, row in table["constructions"].items():
        parts = [part for part in row["mark"].split("; ") if not part.endswith("(swelling)")]
        sizes = {key: _printed(row[key], table["unit"]) for key in ("bore", "bend")}
        yield {"name": name, "from": "; ".join(parts), **sizes}


_TABLES: Final[dict[str, Callable[[], Iterator[Row]]]] = {
    "bolts": _bolts,
    "washers": _washers,
    "tubes": _tubes,
    "hoses": _hoses,
}
