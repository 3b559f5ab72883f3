"""Hostile text in every cell of a supplier's price list: what is made of it holds it as text."""

import csv
import io
import random
from pathlib import Path

import pytest

from fitcheck.catalog.offer_file import read_offers
from fitcheck.sources import read
from tests.hostile.answers import Answer, run
from tests.hostile.judged import faults
from tests.hostile.texts import MARK, REFUSED, TEXTS

_GOOD = ("N-{}", "Tube nut M10x1 bubble flare 3/16 tube", "3.50", "a note")
_HEAD = ("number", "description", "price EUR", "note")


def price_list(path: Path, texts: list[str]) -> Path:
    """Write a list with each text in each of its cells in turn, the other cells being good ones."""
    made = io.StringIO(newline="")
    table = csv.writer(made)
    table.writerow(_HEAD)
    for number, text in enumerate(texts):
        for column in range(len(_HEAD)):
            row = [cell.format(f"{number}-{column}") for cell in _GOOD]
            row[column] = text if column != 1 else f"{_GOOD[1]} {text}"
            table.writerow(row)
    path.write_bytes(made.getvalue().encode("utf-8", "replace"))
    return path


def taken(path: Path, folder: Path) -> list[str]:
    """Take a list in and return what is wrong with the answer and with the files that were written."""
    wrong = []
    for form in ("text", "json"):
        words = ["parts", "take-in", str(path), "--format", form, "--out", str(folder), "--also-likely"]
        code, content, said = run(words)
        wrong += faults(Answer("parts take-in", form, code, content, said))
    for file in folder.glob("*.csv"):  # rows are handed back as they were written, controls too
        told = faults(Answer(file.name, "csv", 0, file.read_bytes(), ""))
        wrong += [fault for fault in told if not fault.startswith("drives the terminal")]
    for file in folder.glob("*.yaml"):
        assert read(file).root
    return wrong


def test_every_text_in_every_cell(tmp_path: Path) -> None:
    """Each hostile text in each column: the catalog and the offers that are written can be read, all of it is text."""
    path = price_list(tmp_path / "list.csv", [text for text in TEXTS.values() if len(text) < 2000])
    assert taken(path, tmp_path / "out") == []
    offers = read_offers([tmp_path / "out" / "list-offers.yaml"])
    numbers = [offer.number or "" for part in offers.parts for offer in offers.of(part)]
    assert sum(MARK in number for number in numbers) >= len(TEXTS) // 2


@pytest.mark.parametrize("name", REFUSED)
def test_characters_that_no_file_may_hold(tmp_path: Path, name: str) -> None:
    """A control and the like in a list is refused with its place, or its row is; no catalog or offer holds it."""
    path = price_list(tmp_path / "list.csv", [f"a{REFUSED[name]}b"])
    assert taken(path, tmp_path / "out") == []


def test_random_bytes(tmp_path: Path) -> None:
    """Bytes of any kind as a list: an answer or an error with a place, never a crash."""
    draw = random.Random(8)
    for number in range(20):
        path = tmp_path / f"list{number}.csv"
        path.write_bytes(b"number,description,price EUR\n" + draw.randbytes(300))
        assert taken(path, tmp_path / f"out{number}") == []
