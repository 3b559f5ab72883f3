"""Hostile text in every field of every file shows as text in every answer of the command line."""

import re
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from tests.hostile.answers import QUICK, SLOW, Answer, answers, sample, write
from tests.hostile.fields import renamed
from tests.hostile.filled import all_at_once, problems, said
from tests.hostile.judged import faults, lost, shown
from tests.hostile.texts import MARK, NAMES, TEXTS

SILENT = {"make {b} --format dxf", "bridge mc_front.outlet cal_fl.inlet --build {b} --explain"}
"""Commands that show names and parts of the generic catalog only."""
Commands = Sequence[tuple[str, str]]
OTHERS = sorted(NAMES.keys() - {"formula"})
_MARKS = re.compile(f"{MARK}[0-9]{{3}}{MARK}")


class Plain(NamedTuple):
    """What a command answers about the sample with ordinary words: its code, and the marks of places that it shows."""

    code: int
    marks: frozenset[str]


def marks(answer: Answer) -> frozenset[str]:
    """Return the marks of the places that an answer shows."""
    return frozenset(_MARKS.findall(shown(answer)))


def plain(folder: Path, commands: Commands) -> dict[str, Plain]:
    """Return what each command answers about the sample with ordinary words in every place."""
    write(folder, all_at_once(said(["words zq"])))
    return {answer.command: Plain(answer.code, marks(answer)) for answer in answers(folder, commands)}


def told(folder: Path, words: dict[str, str], commands: Commands, before: dict[str, Plain]) -> list[str]:
    """Return what is wrong with the answers about a build that holds these words."""
    files = all_at_once(words)
    assert problems(folder, files) == ()
    wrong = []
    for answer in answers(folder, commands):
        found = faults(answer)
        if answer.command in before:
            expected = before[answer.command]
            found += [f"exit code {answer.code} in place of {expected.code}"] * (answer.code != expected.code)
            found += [f"does not show {words[each]!r:.50}" for each in sorted(expected.marks - marks(answer))]
        found += lost(answer, {each: words[each] for each in marks(answer)})
        wrong += [f"{answer.command}: {fault}" for fault in found]
    return wrong


@pytest.fixture(scope="module")
def usual(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Plain]:
    """Return what the quick commands answer about ordinary words."""
    return plain(tmp_path_factory.mktemp("usual"), QUICK)


@pytest.fixture(scope="module")
def usual_slow(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Plain]:
    """Return what the commands that take longer answer about ordinary words."""
    return plain(tmp_path_factory.mktemp("usual"), SLOW)


def test_ordinary_words_are_shown(usual: dict[str, Plain]) -> None:
    """The sample is answered by every command, and most of them show words of its files: what follows has a subject."""
    assert [command for command, answer in usual.items() if answer.code == 2] == []
    assert {command for command, answer in usual.items() if not answer.marks} == SILENT
    assert len(frozenset().union(*(answer.marks for answer in usual.values()))) >= 20


@pytest.mark.parametrize("first", [0, *(pytest.param(each, marks=pytest.mark.slow) for each in (13, 29))])
def test_all_texts_at_once(tmp_path: Path, usual: dict[str, Plain], first: int) -> None:
    """With another hostile text in each field, every answer shows as many of them, all as text."""
    assert told(tmp_path, said(list(TEXTS.values()), first), QUICK, usual) == []


def test_all_texts_at_once_in_drawings_and_packs(tmp_path: Path) -> None:
    """So do the answers that take longer to make: PDF, packs, plots, cures."""
    assert told(tmp_path, said(list(TEXTS.values()), 5), SLOW, {}) == []


@pytest.mark.slow
@pytest.mark.parametrize("name", TEXTS)
def test_one_text_everywhere(tmp_path: Path, usual: dict[str, Plain], name: str) -> None:
    """Each hostile text in all fields at once, in every form of the quick answers."""
    assert told(tmp_path, said([TEXTS[name]]), QUICK, usual) == []


@pytest.mark.slow
@pytest.mark.parametrize("first", range(1, len(TEXTS), 14))
def test_more_texts_in_drawings_and_packs(tmp_path: Path, usual_slow: dict[str, Plain], first: int) -> None:
    """With other texts in each field, packs and the like show the same fields as with ordinary words."""
    assert told(tmp_path, said(list(TEXTS.values()), first), SLOW, usual_slow) == []


def _names(files: dict[str, Any]) -> list[str]:
    build = files["build"]
    sections = ("bodies", "components", "lines", "hoses", "circuits", "heat", "panels", "variants")
    named = [name for section in sections for name in build[section]]
    parts = files["catalog"]["parts"]
    ports = [name for part in parts.values() if part["kind"] != "hose" for name in part.get("ports", {})]
    return [*named, *parts, *ports, *files["offers"]["suppliers"]]


@pytest.mark.parametrize("name", ["formula", *(pytest.param(name, marks=pytest.mark.slow) for name in OTHERS)])
def test_hostile_names(tmp_path: Path, name: str) -> None:
    """Tags, ids of parts, ports and suppliers that read like formulas, are long, or are of other scripts."""
    files = sample()
    ids = {*files["catalog"]["parts"], *files["offers"]["suppliers"]}
    longer = {each: "w" * 900 * (name == "long" and each in ids) for each in _names(files)}
    names = {each: NAMES[name].format(each) + more for each, more in longer.items()}
    changed = {kind: renamed(tree, names) for kind, tree in files.items()}
    for kind in ("shelf", "coming"):
        assert changed["stock"][kind]
    write(tmp_path, changed)
    rows = tmp_path / "rows.csv"
    rows.write_text(rows.read_text().replace("hose-odd,counter", f"{names['hose-odd']},{names['counter']}"), "utf-8")
    wrong = []
    for answer in answers(tmp_path, QUICK if name == "formula" else (*QUICK, *SLOW), names):
        found = faults(answer)
        found += [f"refused: {answer.said:.200}"] * (answer.code == 2)
        wrong += [f"{answer.command}: {fault}" for fault in found]
    assert wrong == []
