"""Every place that may hold text: the list is complete, and what does not belong is refused where it stands."""

from itertools import cycle
from pathlib import Path
from typing import Any

import pytest

from fitcheck.build.load import load
from fitcheck.sources import InputError
from fitcheck.trees import Problem
from tests.hostile import fields
from tests.hostile.answers import FILES, sample
from tests.hostile.fields import Place, filled, places, spot, value_at
from tests.hostile.filled import LOOKED_UP, problems, takes_any
from tests.hostile.texts import REFUSED, TEXTS

LIKE_NAMES = (TEXTS["code"], TEXTS["long word"], TEXTS["marks"])
"""What may be, or may hold, an id of a part: letters of any script and their marks, of any number."""
ORDINARY = "ordinary words, nothing else"


def test_every_place_is_in_the_sample() -> None:
    """What is around each place that may hold text is in the sample, so that a text can be put there."""
    files = sample()
    assert [str(place) for place in places() if spot(files[place.kind], place.path) is None] == []


def test_places_take_any_words_or_are_looked_up(tmp_path: Path) -> None:
    """A place takes any words, or its schema says what it may be, or it is listed as looked up: none is left out."""
    files = sample()
    refused = {str(place) for place in places() if place.free and problems(tmp_path, filled(files, place, ORDINARY))}
    assert refused == set(LOOKED_UP)
    assert not {str(place) for place in takes_any()} & refused


def test_a_new_field_is_picked_up(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A field that a model gets later is a place at once, and a section that the sample lacks is noticed."""
    whole = fields.schema("build")
    whole["$defs"]["Component"]["properties"]["colour"] = {"type": "string"}
    seat = {"properties": {"maker": {"type": "string"}}}
    whole["properties"]["seats"] = {"type": "object", "additionalProperties": seat}
    monkeypatch.setattr(fields, "schema", lambda kind: whole)
    found = {str(place): place for place in places() if place.kind == "build"}
    assert found["build: components.*.colour"] == Place("build", ("components", "*", "colour"), False, True)
    made = filled(sample(), found["build: components.*.colour"], "<zq>")
    assert value_at(made["build"], ("components", "box", "colour")) == "<zq>"
    (problem,) = problems(tmp_path, made)
    assert problem.message.startswith("unknown key 'colour' in a component")
    assert spot(sample()["build"], found["build: seats.*.maker"].path) is None


def _told(found: tuple[Problem, ...], folder: Path, place: Place, text: str) -> list[str]:
    """Return what is wrong with how a text in a place was refused."""
    file = folder / FILES[place.kind]
    lines = file.read_bytes().decode("utf-8", "surrogatepass").split("\n")
    faults = ["it is taken"] * (not found)
    for problem in found:
        inside = 1 <= problem.line <= len(lines) and 1 <= problem.column <= len(lines[problem.line - 1]) + 1
        if problem.file != file.as_posix() or not inside:
            faults.append(f"it is refused at {problem.file}:{problem.line}:{problem.column}")
        if len(problem.message) > 600:
            faults.append(f"it is refused in {len(problem.message)} characters")
    return [f"{text!r:.30} in {place}: {fault}" for fault in faults]


def _refused(folder: Path, pairs: Any) -> list[str]:
    files, faults = sample(), []
    for place, text in pairs:
        found = problems(folder, filled(files, place, text), place.kind)
        faults += _told(found, folder, place, text)
    return faults


NARROW = tuple(place for place in places() if not place.free or str(place) in LOOKED_UP)


def test_what_is_looked_up_refuses_with_a_place(tmp_path: Path) -> None:
    """A hostile text for a quantity, a name, a file and the like is an input error with file, line and column."""
    texts = cycle(text for text in TEXTS.values() if text not in LIKE_NAMES)
    assert _refused(tmp_path, zip(NARROW, texts, strict=False)) == []


def test_characters_that_no_file_may_hold(tmp_path: Path) -> None:
    """Controls, half a pair and the like, as an escape in quotes: an input error with its place wherever they stand."""
    characters = cycle(f"a{character}b" for character in REFUSED.values())
    assert _refused(tmp_path, zip(takes_any(), characters, strict=False)) == []


@pytest.mark.parametrize("name", REFUSED)
def test_bare_characters_that_no_file_may_hold(tmp_path: Path, name: str) -> None:
    """Nor may they stand in a file as they are: the error names the file and where they stand."""
    files = {**sample(), "build": {"build": "1", "name": "NAME"}}
    assert problems(tmp_path, files) == ()
    build = tmp_path / FILES["build"]
    build.write_bytes(build.read_bytes().replace(b"NAME", f"a{REFUSED[name]}b".encode("utf-8", "surrogatepass")))
    with pytest.raises(InputError) as caught:
        load(tmp_path)
    (problem,) = caught.value.problems
    assert (problem.file, problem.line) == (build.as_posix(), 3)
    assert "not taken in a file" in problem.message or "is not UTF-8" in problem.message


@pytest.mark.slow
@pytest.mark.parametrize("first", range(1, len(TEXTS), 14))
def test_other_texts_in_every_place(tmp_path: Path, first: int) -> None:
    """Another text in each place alone: taken where any words are, else refused with its place."""
    texts = [*TEXTS.values()][first:] + [*TEXTS.values()][:first]
    files = sample()
    for place, text in zip(takes_any(), cycle(texts), strict=False):
        assert problems(tmp_path, filled(files, place, text[:500]), place.kind) == (), str(place)
    others = (text for text in cycle(texts) if text not in LIKE_NAMES)
    assert _refused(tmp_path, zip(NARROW, others, strict=False)) == []


@pytest.mark.slow
@pytest.mark.parametrize("first", range(1, len(REFUSED), 3))
def test_no_such_character_in_any_place(tmp_path: Path, first: int) -> None:
    """Each character that no file may hold, in another place each time, looked-up ones too."""
    characters = [*REFUSED.values()][first:] + [*REFUSED.values()][:first]
    assert _refused(tmp_path, zip(places(), (f"a{each}b" for each in cycle(characters)), strict=False)) == []


def test_long_texts_are_refused_in_short(tmp_path: Path) -> None:
    """However long a text is, or a name that another one means, the refusal quotes its beginning only."""
    endless = {str(place): place for place in NARROW}
    parts = ("kind", "eyes", "ports.*.same as")
    for name in (*(f"catalog: parts.*.{key}" for key in parts), "build: lines.*.bender"):
        made = filled(sample(), endless[name], TEXTS["long word"])
        assert _told(problems(tmp_path, made), tmp_path, endless[name], name) == []
