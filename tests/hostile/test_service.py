"""Hostile text in every field of every file, in the page, in the answers of the API and in an editor."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import quote

import pytest
from starlette.testclient import TestClient

from fitcheck.service.app import create_app
from fitcheck.service.settings import Settings
from tests.hostile.answers import FILES, write
from tests.hostile.filled import all_at_once, said
from tests.hostile.judged import page_faults, page_words
from tests.hostile.texts import MARK, TEXTS, packed
from tests.service.editor_client import client

AT = "http://127.0.0.1:8750"
WORDS = said(list(TEXTS.values()))
LOOKED_AT = (
    "view=plan",
    "view=side",
    "view=front",
    "at=tee_a",
    "at=tee_a.top+front_run.to",
    "at=hose_a",
    "at=tee_a&words=tee&act=tee",
    "tag=tee_a&part=tee-3-16-inverted",
    "tag=cal_fl&part=mc-16",
    "file=offers.yaml",
    "file=parts.yaml",
)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with hostile text in every field."""
    return write(tmp_path_factory.mktemp("served"), all_at_once(WORDS))


@pytest.fixture(scope="module")
def page(folder: Path) -> Iterator[TestClient]:
    """Return a client of a server of that folder."""
    app = create_app(Settings(folder=str(folder), benches=1))
    with TestClient(app, base_url=AT, raise_server_exceptions=False) as found:
        yield found


def wrong(text: str) -> list[str]:
    """Return what of the texts has become more than text in a page."""
    found = page_faults(text)
    return found + [f"shows {char!r}" for char in dict.fromkeys(page_words(text)) if "\x7f" <= char < "\xa0"]


@pytest.mark.parametrize("query", ["", *(pytest.param(each, marks=pytest.mark.slow) for each in LOOKED_AT)])
def test_page_and_panels(page: TestClient, query: str) -> None:
    """Every view and panel of the page has the texts as text, and the file as it is to be edited."""
    answer = page.get(f"/?{query}")
    assert answer.status_code == 200
    assert wrong(answer.text) == []
    shown = packed(page_words(answer.text))
    assert MARK in shown
    name = WORDS[next(iter(WORDS))]
    assert packed(name) in shown


@pytest.mark.slow
def test_every_finding(page: TestClient) -> None:
    """So has the panel of every finding, with its evidence and remedies."""
    links = set(re.findall(r'href="(/\?[^"]*at=finding[^"]*)"', page.get("/").text))
    assert len(links) >= 8
    for link in links:
        answer = page.get(link.replace("&amp;", "&"))
        assert answer.status_code == 200
        assert wrong(answer.text) == [], link


@pytest.mark.slow
@pytest.mark.parametrize("name", TEXTS)
def test_addresses(page: TestClient, name: str) -> None:
    """What an address says is text too, wherever it is repeated."""
    evil = quote(TEXTS[name][:390])
    asked = ("at={0}", "tag={0}&part={0}", "at=tee_a&words={0}&act={0}", "changes={0}&act={0}")
    for query in (each.format(evil) for each in asked):
        answer = page.get(f"/?{query}&view={evil}&file={evil}&said={evil}")
        assert answer.status_code < 500
        assert wrong(answer.text) == [], query


@pytest.mark.slow
@pytest.mark.parametrize("question", ["check", "bom", "order", "make", "pedal", "draw"])
def test_api(page: TestClient, folder: Path, question: str) -> None:
    """The API takes the files in a body and answers with JSON or a drawing that holds the texts as text."""
    files = {name: (folder / name).read_text("utf-8") for name in (*FILES.values(), "rows.csv")}
    answer = page.post(f"/api/{question}", json={"build": files.pop("build.yaml"), "files": files})
    assert answer.status_code == 200, answer.text[:300]
    if "svg" in answer.headers["content-type"]:
        assert page_faults(answer.text) == []
    else:
        json.loads(answer.text)
        assert answer.headers["content-type"] == "application/json"
    assert answer.headers["x-content-type-options"] == "nosniff"


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    for inner in value.values() if isinstance(value, dict) else value if isinstance(value, list) else ():
        yield from _texts(inner)


@pytest.mark.slow
def test_editor(folder: Path) -> None:
    """The language server lives through all of it: findings, hovers, completion and remedies, none with a control."""
    text = (folder / "build.yaml").read_text("utf-8")
    lines = text.split("\n")
    with client(folder) as editor:
        build = folder / "build.yaml"
        editor.open(build, text)
        found = editor.diagnostics(build)
        assert len(found) >= 8
        told: list[Any] = [found]
        for number, line in enumerate(lines):
            for place in re.finditer(r'"[\w.-]{2,80}"', line):
                told.append(editor.at("hover", build, number, place.start() + 1))
            told.append(editor.at("completion", build, number, len(line)))
        for each in found:
            where = {"textDocument": {"uri": build.as_uri()}, "range": each["range"]}
            told.append(editor.ask("textDocument/codeAction", {**where, "context": {"diagnostics": [each]}}))
        parts = folder / "parts.yaml"
        editor.open(parts, parts.read_text("utf-8"))
        assert isinstance(editor.diagnostics(parts), list)
    shown = [word for word in _texts(told) if not word.startswith("file:") and word not in text]
    driving = {char for word in shown for char in word if char < " " and char not in "\n\t"}
    assert driving == set()
    assert any(MARK in word for word in shown)
