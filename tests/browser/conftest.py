"""A real browser, the system's Chromium, before a server of its own: passed over where one of the two is missing."""

import os
import shutil
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import NamedTuple
from urllib.parse import urlencode

import pytest

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.checks.context import Context
from fitcheck.checks.run import check_context
from fitcheck.service.page.keys import names_of
from tests.service.answer_schemas import DEMO
from tests.service.server import running

playwright = pytest.importorskip("playwright.sync_api", reason="the browser is driven by playwright")
NAMES = ("chromium", "chromium-browser", "google-chrome")
PATIENCE_MS = 15_000
playwright.expect.set_options(timeout=PATIENCE_MS)


class Garage(NamedTuple):
    """A served copy of the demo car: its folder, and where the server answers."""

    folder: Path
    url: str

    @property
    def build(self) -> Path:
        """The build file."""
        return self.folder / "build.yaml"


@pytest.fixture(scope="package")
def browser() -> Iterator["playwright.Browser"]:
    """Return the system's Chromium; its driver keeps a loop running here, so it ends with the tests of this folder."""
    found = next((path for name in NAMES if (path := shutil.which(name))), None)
    if found is None:
        pytest.skip("no Chromium is installed here")
    arguments = ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    with playwright.sync_playwright() as driver:
        made = driver.chromium.launch(executable_path=found, args=arguments)
        yield made
        made.close()


@pytest.fixture(scope="session")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Garage]:
    """Return a server that serves a copy of the demo car."""
    folder = tmp_path_factory.mktemp("garage") / "car"
    shutil.copytree(DEMO, folder)
    with running(str(folder), "--port", "0") as url:
        yield Garage(folder, url)


@pytest.fixture
def garage(server: Garage) -> Garage:
    """Return that server with the files as they come."""
    for file in DEMO.iterdir():
        shutil.copyfile(file, server.folder / file.name)
    return server


@cache
def finding(number: int) -> str:
    """Return the address at which the page looks at a finding of the demo car, by its number now."""
    report = check_context(Context(assemble(load(DEMO))))
    return f"/?{urlencode({'at': f'finding {names_of(report.findings)[number - 1]}'})}"


class Told:
    """What a page said to the console, what went wrong in it, and which addresses it asked."""

    def __init__(self) -> None:
        self.words: list[str] = []
        self.asked: list[str] = []

    def listen(self, page: "playwright.Page") -> None:
        """Note everything from here on; that a file was changed meanwhile is an answer, not a fault."""
        page.on("console", lambda message: self.words.append(message.text) if "409" not in message.text else None)
        page.on("pageerror", lambda error: self.words.append(str(error)))
        page.on("request", lambda request: self.asked.append(request.url))


@pytest.fixture
def told() -> Told:
    """Return what notes all that the page says and asks."""
    return Told()


@pytest.fixture
def page(browser: "playwright.Browser", garage: Garage, told: Told) -> Iterator["playwright.Page"]:
    """Return a page of the demo car; nothing may be amiss in its console, and every request stays with the server."""
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    context.set_default_timeout(PATIENCE_MS)
    made = context.new_page()
    told.listen(made)
    made.goto(garage.url)
    yield made
    context.close()
    assert told.words == []
    assert [url for url in told.asked if not url.startswith((f"{garage.url}/", "data:"))] == []
