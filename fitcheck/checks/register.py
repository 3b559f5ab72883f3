"""Every rule, by family, in the order findings are shown; and the page of each.

A rule is the module `fitcheck.checks.FAMILY.NAME` with a docstring (its page), `RULE` and `find`.
"""

import re
from collections.abc import Callable, Iterator
from functools import lru_cache
from importlib import import_module
from inspect import cleandoc
from types import ModuleType
from typing import Final, NamedTuple

from fitcheck.checks.context import Context
from fitcheck.checks.findings import Said
from fitcheck.errors import FitcheckError
from fitcheck.naming import hint

FAMILIES: Final[dict[str, tuple[str, ...]]] = {
    "file": ("part-unknown", "port-unknown"),
    "joint": (
        "thread-mismatch",
        "gender-clash",
        "nut-mismatch",
        "seat-mismatch",
        "flare-mismatch",
        "tube-size-mismatch",
        "fixing-missing",
        "short-engagement",
    ),
    "circuit": (
        "circuits-crossed",
        "circuit-not-fed",
        "reservoir-missing",
        "dead-end",
        "port-reused",
        "single-circuit",
        "one-way-reversed",
        "circuit-looped",
        "no-bleeder",
        "reservoir-small",
        "air-trap",
        "residual-pressure",
    ),
    "duty": ("unpressurised-part", "tube-material-refused", "fluid-unsuitable", "stroke-short", "pressure-over-rating"),
    "place": (
        "rigid-across-bodies",
        "hose-short",
        "hose-bend-tight",
        "bend-tight",
        "bend-crowded",
        "length-disagrees",
        "line-dead-straight",
        "near-heat",
        "lines-touching",
        "panel-unguarded",
        "panel-misfit",
        "fixing-trapped",
        "clip-sparse",
    ),
    "acceptance": ("acceptance-stale",),
}
"""`acceptance-stale` belongs to the file, but has to be asked last: it looks at what the others found."""

NOT_YET: Final[tuple[str, ...]] = ()
"""Rules that are designed but not written: `check` says so every time instead of passing in silence."""


class UnknownRuleError(FitcheckError, LookupError):
    """A rule was asked for that does not exist."""

    def __init__(self, name: str) -> None:
        self.name = name
        super().__init__(f"no rule is called {name!r}{hint(name, names())}")


class Page(NamedTuple):
    """What `fitcheck rules NAME`, the SARIF rule table and the tests read: one text, taken apart.

    `sections` has the four headings; `fails` and `passes` are the two build files of the example, `catalog`
    the catalog they name `house.yaml`, empty if they need none.
    """

    name: str
    family: str
    short: str
    text: str
    sections: dict[str, str]
    fails: str
    passes: str
    catalog: str


def names() -> tuple[str, ...]:
    """Return the names of all rules, in the order findings are shown."""
    return tuple(name for family in FAMILIES.values() for name in family)


@lru_cache(maxsize=1)
def finders() -> tuple[tuple[str, Callable[[Context], Iterator[Said]]], ...]:
    """Return each rule's name and its function, in the order findings are shown."""
    return tuple((name, _module(family, name).find) for family, listed in FAMILIES.items() for name in listed)


def page(name: str) -> Page:
    """Return the page of a rule.

    Raises:
        UnknownRuleError: there is no such rule.
    """
    for family, listed in FAMILIES.items():
        if name in listed:
            return _page(family, name)
    raise UnknownRuleError(name)


def pages() -> tuple[Page, ...]:
    """Return the pages of all rules, in the order findings are shown."""
    return tuple(_page(family, name) for family, listed in FAMILIES.items() for name in listed)


def _module(family: str, name: str) -> ModuleType:
    folder = "file" if family == "acceptance" else family
    return import_module(f"fitcheck.checks.{folder}.{name.replace('-', '_')}")


_TITLE: Final = re.compile(r"`(?P<name>[a-z-]+)`: (?P<short>[^\n]+)\n")
_HEADING: Final = re.compile(r"^(?P<title>[A-Z][a-z ]+)\n-{3,}\n", re.MULTILINE)


@lru_cache(maxsize=64)
def _page(family: str, name: str) -> Page:
    text = cleandoc(_module(family, name).__doc__ or "")
    title = _TITLE.match(text)
    found = list(_HEADING.finditer(text))
    stops = [heading.start() for heading in found[1:]] + [len(text)]
    sections = {
        heading["title"]: text[heading.end() : stop].strip() for heading, stop in zip(found, stops, strict=True)
    }
    example = sections.get("Example", "")
    shown = "file" if family == "acceptance" else family
    short = title["short"] if title else ""
    blocks = (_block(example, label) for label in ("Fails::", "Passes::", "Catalog::"))
    return Page(name, shown, short, text, sections, *blocks)


def _block(text: str, label: str) -> str:
    """Return the indented lines that follow `label`, taken out by four spaces."""
    lines = text.split(label, 1)[-1].splitlines()[1:] if label in text else []
    block: list[str] = []
    for line in lines:
        if line and not line.startswith("    "):
            break
        block.append(line[4:])
    return "\n".join(block).strip("\n") + "\n" if block else ""
