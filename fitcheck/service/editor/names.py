"""What a build names, and where it may be named again: tags with their ports, parts, bodies, panels, benders."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cached_property
from typing import Any, Final, NamedTuple

from fitcheck.build.load import CHASSIS
from fitcheck.catalog.part import LOOSE, RIDES, Part, Port
from fitcheck.catalog.shelf import Shelf
from fitcheck.trees import Mapping as Tree
from fitcheck.trees import Node

Path = tuple[str | int, ...]
FITTED: Final = ("components", "lines", "hoses")
_RUNS: Final = ("lines", "hoses")
ENDS: Final = ("from", "to")
_REFS: Final = frozenset({"from", "to", "port", "eyes", "ports", "feeds", "joints"})
_HOSES: Final = frozenset({"hose", "feed hose"})
_KINDS: Final[Mapping[str, frozenset[str]]] = {
    "tube": frozenset({"tube"}),
    "nut": frozenset({"nut"}),
    "sleeve": frozenset({"sleeve"}),
    "bolt": frozenset({"banjo bolt"}),
    "grommet": frozenset({"grommet"}),
    "slides": RIDES,
}
"""Kinds of part that a key of a build names."""


class Fit(NamedTuple):
    """Something fitted: its section, and the part that it is, None if no catalog has that."""

    section: str
    part_id: str
    part: Part | None


def slot(path: Path) -> str:
    """Return the last key of a path: that of a list for its items."""
    return next((step for step in reversed(path) if isinstance(step, str)), "")


def takes_ref(path: Path) -> bool:
    """Return whether the value at a path of a build is an end, `tag.port`."""
    section, key = path[0] if path else "", slot(path)
    if section == "joints":
        return key in _REFS
    return section in (*_RUNS, "circuits") and key in _REFS and path[2:3] == (key,)


def part_kinds(path: Path) -> frozenset[str] | None:
    """Return the kinds of part that the value at a path of a build may name; None if it names no part."""
    section, key = path[0] if path else "", slot(path)
    if key == "part" and section == "components":
        return None if len(path) != 3 else _COMPONENTS
    if key == "part" and section == "hoses":
        return _HOSES
    if section == "variants" and path[2:3] == ("swap",):
        return _COMPONENTS | _HOSES | _KINDS["tube"]
    return _KINDS.get(key) if section in ("lines", "joints", "panels") else None


def _every_kind() -> frozenset[str]:
    from fitcheck.catalog.part import KINDS

    return frozenset(KINDS)


_COMPONENTS: Final = _every_kind() - LOOSE - _HOSES


class Names:
    """What a build's tree names. Nothing is asked of it but to be a tree: it may be wrong in every other way."""

    def __init__(self, root: Node, shelf: Shelf) -> None:
        self.root = root if isinstance(root, Tree) else Tree()
        self.shelf = shelf

    @cached_property
    def fitted(self) -> dict[str, Fit]:
        """Everything with a tag."""
        return {tag: fit for section in FITTED for tag, fit in self._section(section)}

    def _section(self, section: str) -> Iterator[tuple[str, Fit]]:
        for tag, entry in self._mapping(section).items():
            said = entry.get("tube" if section == "lines" else "part") if isinstance(entry, Tree) else None
            part_id = said if isinstance(said, str) else ""
            yield tag, Fit(section, part_id, self.shelf.get(part_id))

    def _mapping(self, *path: str) -> Tree:
        node: Any = self.root
        for step in path:
            node = node.get(step) if isinstance(node, Tree) else None
        return node if isinstance(node, Tree) else Tree()

    def ends(self, tag: str) -> dict[str, Port | None]:
        """Return the ports of a component, or the two ends of a line or hose."""
        fit = self.fitted.get(tag)
        if fit is None:
            return {}
        if fit.section in _RUNS:
            ports = fit.part.ports if fit.part is not None and fit.section == "hoses" else {}
            return {end: ports.get(end) for end in ENDS}
        return dict(fit.part.ports) if fit.part is not None else {}

    @cached_property
    def used(self) -> frozenset[str]:
        """Every end that is named already by a line, a hose or a joint."""
        found: set[str] = set()
        for section in _RUNS:
            for entry in self._mapping(section).values():
                found.update(_texts(entry.get(end) for end in ENDS) if isinstance(entry, Tree) else ())
        found.update(_texts([self.root.get("joints")]))
        return frozenset(word for word in found if "." in word)

    def choices(self, path: Path) -> Iterable[str]:
        """Return the names that may stand at a path because something else of the build has them; none if any may."""
        ask = _CHOICES.get(slot(path))
        return ask(self) if ask is not None else ()

    def place_of(self, word: str, path: Path) -> Path | None:
        """Return where the build says what `word`, which stands at a path, is; None if it names nothing."""
        tag = word.partition(".")[0]
        section = _SECTIONS.get(slot(path))
        if section is not None:
            return (*section, word) if word in self._mapping(*section) else None
        fit = self.fitted.get(tag)
        if fit is not None:
            return fit.section, tag
        return ("circuits", tag) if tag in self._mapping("circuits") else None

    def known(self, *section: str) -> tuple[str, ...]:
        """Return the names in a section."""
        return tuple(self._mapping(*section))


def _rules(names: Names) -> Iterable[str]:
    from fitcheck.checks.register import names as rules

    return rules()


def _fluids(names: Names) -> Iterable[str]:
    from fitcheck.standards.fluids import fluids

    return tuple(fluids())


def _acceptable(names: Names) -> Iterable[str]:
    return (*names.fitted, *names.known("circuits"))


_SECTIONS: Final[Mapping[str, tuple[str, ...]]] = {
    "on": ("bodies",),
    "through": ("panels",),
    "bender": ("tools", "benders"),
}
_CHOICES: Final[Mapping[str, Callable[[Names], Iterable[str]]]] = {
    "on": lambda names: (CHASSIS, *names.known("bodies")),
    "through": lambda names: names.known("panels"),
    "bender": lambda names: names.known("tools", "benders"),
    "rule": _rules,
    "at": _acceptable,
    "fluid": _fluids,
}


def _texts(values: Iterable[Any]) -> Iterator[str]:
    """Yield every text in a tree."""
    for value in values:
        if isinstance(value, str):
            yield value
        elif isinstance(value, (dict, list)):
            yield from _texts(value.values() if isinstance(value, dict) else value)
