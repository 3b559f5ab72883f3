"""The sample with hostile texts in its places: which places take any words, and what is done with the others."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any, NamedTuple

from fitcheck.build.load import load
from fitcheck.sources import InputError
from fitcheck.trees import Problem
from tests.hostile.answers import sample, write
from tests.hostile.fields import Place, Way, places, put, renamed, spots
from tests.hostile.texts import MARK

LOOKED_UP = {
    "build: fluid": "a fluid of the table",
    "build: catalogs.[]": "a file",
    "build: offers.[]": "a file",
    "build: stock": "a file",
    "build: bodies.*?": "a tag",
    "build: components.*.on": "a body",
    "build: lines.*.route.[].through": "a panel",
    "build: lines.*.bender": "a bender",
    "build: heat.*.on": "a body",
    "build: variants.*.swap.*?": "a tag",
    "build: variants.*.set.*?": "a path",
    "build: variants.*.add.*?": "a section",
    "build: variants.*.add.*": "a section",
    "build: variants.*.drop.[]": "a path",
    "build: components.*?": "a tag",
    "build: lines.*?": "a tag",
    "build: lines.*.route": "a route in words",
    "build: hoses.*?": "a tag",
    "build: circuits.*?": "a tag",
    "build: circuits.*.fluid": "a fluid of the table",
    "build: heat.*?": "a tag",
    "build: panels.*?": "a tag",
    "build: brakes.*?": "a tag",
    "build: car.rules.[]": "a rule of the table",
    "build: consumables.clips.fixed.thread": "a thread",
    "build: consumables.clips.fixed.screw": "a thread",
    "build: variants.*?": "a tag",
    "catalog: parts.*.ports.*.thread": "a thread",
    "catalog: parts.*.bleeder": "a thread",
    "catalog: parts.*.rubber.[]": "a rubber of the table",
}
"""Places whose schema allows any text, and as what it is looked up all the same."""


_OF_A_TUBE = ("parts", "tube-odd", "material")
"""Of a tube, unlike of other parts, the material is one of the table."""
_LONGEST_KEY = 500
"""YAML has no longer keys on one line than 1,024 characters."""


def mark(number: int) -> str:
    """Return the mark of a place, by its number."""
    return f"{MARK}{number:03}{MARK}"


def takes_any() -> tuple[Place, ...]:
    """Return the places that take any words."""
    return tuple(place for place in places() if place.free and str(place) not in LOOKED_UP)


class Target(NamedTuple):
    """A place that takes any words, and one of the spots in the sample where it is."""

    place: Place
    way: Way


def targets() -> tuple[Target, ...]:
    """Return everything in the sample that can be any words; what the sample leaves out, once."""
    files = sample()
    found = (Target(place, way) for place in takes_any() for way in spots(files[place.kind], place.path))
    return tuple(target for target in found if target.way != _OF_A_TUBE)


def said(texts: Sequence[str], first: int = 0) -> dict[str, str]:
    """Return what goes into each target, by its mark: one text after the other."""
    found = {}
    for number, target in enumerate(targets()):
        text = texts[(number + first) % len(texts)].replace(MARK, mark(number))
        found[mark(number)] = text[:_LONGEST_KEY] if target.place.key else text
    return found


def all_at_once(words: dict[str, str]) -> dict[str, Any]:
    """Return the sample with words in every target."""
    files = sample()
    named: dict[str, dict[str, str]] = {}
    for (place, way), text in zip(targets(), words.values(), strict=True):
        if place.key:
            named.setdefault(place.kind, {})[str(way[-1])] = text
        else:
            put(files[place.kind], way, text)
    return {kind: renamed(tree, named.get(kind, {})) for kind, tree in files.items()}


def problems(folder: Path, files: dict[str, Any], kind: str | None = None) -> tuple[Problem, ...]:
    """Return what keeps the files from being read, of one kind or of all; nothing if they can be."""
    place = write(folder, files)
    try:
        build = load(place)
        if kind in ("offers", None):
            build.offers()
        if kind in ("stock", None):
            build.stock()
        for variant in build.file.variants if kind in ("build", None) else ():
            load(place, variant)
    except InputError as error:
        return error.problems
    return ()
