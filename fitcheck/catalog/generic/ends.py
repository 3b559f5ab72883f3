"""The ends that families are made of: thread, seat, size and side, under the names that ids use."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any, Final

from fitcheck.catalog.generic.from_tables import FamilyError, slug
from fitcheck.naming import hint
from fitcheck.sources import read
from fitcheck.standards.figures import INCH_MM
from fitcheck.standards.nuts import Nut, nuts
from fitcheck.standards.ports import usual_ports
from fitcheck.standards.threads import parse as parse_thread

FAMILIES: Final = Path(__file__).with_name("families")
_FORMS: Final = {"inverted-flare": "inverted", "bubble": "bubble", "cone-37": "an"}
_WORDS: Final = {"inverted-flare": "inverted flare", "bubble": "bubble flare", "cone-37": "37 degree"}
_SIDES: Final = {"inverted-flare": "internal", "bubble": "internal", "cone-37": "external"}
_MATES: Final = {"external": "internal", "internal": "external"}
_SCREWED: Final = {"o-ring": ("oring", "O-ring"), "washer-face": ("washer", "washer face")}
_SUFFIXES: Final = {"-male": "external", "-female": "internal"}


@dataclass(frozen=True, slots=True)
class End:
    """One end of a fitting. `gender` is the end's own; `stated` is true if the name says it."""

    name: str
    seat: str
    text: str
    source: str
    gender: str | None = None
    thread: str | None = None
    tube: str | None = None
    hose: str | None = None
    eye: str | None = None
    inch: bool = False
    usual: bool = True
    stated: bool = False

    def __str__(self) -> str:
        return self.name

    @property
    def label(self) -> str:
        """What the shop calls it, with its tube where that is not the thread's usual one."""
        return self.text if self.usual else f"{self.text} ({self.tube} tube)"

    @property
    def plain(self) -> str:
        """The name without its side."""
        return self.name.removesuffix("-male").removesuffix("-female")

    @property
    def hose_slug(self) -> str:
        """The name as it stands in a hose's id: its 37 degree end is always the swivel, so unsaid."""
        return self.plain if self.seat == "cone-37" else self.name

    @property
    def through(self) -> str:
        """The name in unions, tees and elbows: by tube for inch inverted flare, else by thread."""
        if self.seat == "inverted-flare" and self.inch and self.usual and self.tube and not self.stated:
            return f"{slug(self.tube)}-inverted"
        return self.plain if self.seat == "taper" and self.gender == "internal" else self.name

    @property
    def metal(self) -> str:
        """The usual metal of a fitting with this end: brass for inch inverted flare, else steel."""
        return "brass" if self.seat == "inverted-flare" and self.inch else "steel"

    def port(self, gender: str | None) -> dict[str, Any]:
        """Return the port that this end makes, its side replaced by `gender` (`mate` for the other one)."""
        side = self.gender if gender is None else gender
        if side == "mate":
            side = _MATES[self.gender or ""]
        if side is None and self.thread is not None:
            raise FamilyError(f"end {self.name} needs a side: write {self.name}-male or {self.name}-female")
        keys = {
            "thread": self.thread,
            "gender": side,
            "seat": self.seat,
            "tube": self.tube,
            "hose": self.hose,
            "eye": self.eye,
        }
        return {key: value for key, value in keys.items() if value is not None}


def end(name: str) -> End:
    """Return the end called `name`, with its side if the name has `-male` or `-female`.

    Raises:
        FamilyError: there is no such end.
    """
    known = table()
    if name in known:
        return known[name]
    for suffix, gender in _SUFFIXES.items():
        base = known.get(name.removesuffix(suffix)) if name.endswith(suffix) else None
        if base is not None:
            return replace(base, name=name, text=f"{base.text} {suffix[1:]}", gender=gender, stated=True)
    raise FamilyError(f"no end is called {name!r}{hint(name, known)}")


def group(name: str) -> tuple[str, ...] | None:
    """Return the ends in a group such as `inverted-inch` or `bubble-odd`; None if it is no group.

    `-odd` groups hold the threads that are not the usual one for their tube.
    """
    found = [one.name for one in table().values() if one.tube is not None and _group_of(one) == name]
    return tuple(found) or None


def _group_of(one: End) -> str:
    form = _FORMS[one.seat]
    system = ("-inch" if one.inch else "-metric") if form == "inverted" else ""
    return f"{form}{system}" + ("" if one.usual else "-odd")


@cache
def table() -> dict[str, End]:
    """Return every end by name: of flared tube from the table of nuts, of rings and washers from that of ports.

    The rest stand in `ends.yaml`.
    """
    found = {one.name: one for one in (*_flared(), *_screwed())}
    data: Any = read(FAMILIES / "ends.yaml").root
    for name, entry in data["ends"].items():
        found[name] = End(name=name, **entry)
    return found


def _flared() -> Iterator[End]:
    """Yield the ends of flared tube: for each seat and thread one plain name, and the other tubes by name."""
    rows = [nut for nut in nuts() if nut.seat in _FORMS]
    plain = _plain_rows(rows)
    for nut in rows:
        thread = parse_thread(nut.thread).designation
        is_plain = plain.get((nut.seat, thread)) is nut
        if nut.seat == "cone-37":
            dash = round(nut.od_mm / INCH_MM * 16)
            name, text = f"an{dash}", f"37 degree -{dash}"
        else:
            name = f"{slug(thread)}-{_FORMS[nut.seat]}"
            text = f"{thread.split()[0]} {_WORDS[nut.seat]}"
        if not is_plain:
            name = f"{name}-for-{slug(nut.tube).removesuffix('mm')}"
        yield End(
            name=name,
            seat=nut.seat,
            text=text,
            source=_without_hexes(nut.mark),
            gender=_SIDES[nut.seat],
            thread=thread,
            tube=nut.tube,
            inch=not _metric(thread),
            usual=is_plain,
        )


def _screwed() -> Iterator[End]:
    """Yield the ends that seal on a ring or a washer."""
    for port in usual_ports():
        if port.seat in _SCREWED:
            thread, (form, word) = port.thread, _SCREWED[port.seat]
            text = f"{thread.split()[0]} {word}"
            yield End(f"{slug(thread)}-{form}", port.seat, text, port.mark, thread=thread)


def _plain_rows(rows: Iterable[Nut]) -> dict[tuple[str, str], Nut]:
    """Return the nut with the plain name of its seat and thread: a usual one, of the thread's own system."""
    found: dict[tuple[str, str], Nut] = {}
    for nut in rows:
        key = (nut.seat, parse_thread(nut.thread).designation)
        if nut.use == "usual" and (key not in found or _alike(nut) > _alike(found[key])):
            found[key] = nut
    return found


def _alike(nut: Nut) -> bool:
    return _metric(nut.thread) == nut.tube.endswith("mm")


def _metric(thread: str) -> bool:
    return thread.startswith("M")


def _without_hexes(mark: str) -> str:
    """Return a nut's mark without what it says about hexes, which ends do not have."""
    parts = [part.replace(" and hex)", ")") for part in mark.split("; ")]
    return "; ".join(part for part in parts if "(hex" not in part)
