"""Texts that try to be more than text: in every field of the build and of its catalogs, in what is typed and asked."""

import re
from urllib.parse import quote

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Garage, Told, finding

pytestmark = pytest.mark.slow

EVIL = "<img src=x onerror=evil()><script>evil()</script></textarea></title></svg>\u202e{{7*7}}&amp;\"'>"
"""Would run `evil` wherever it is taken for HTML, end what it stands in, turn what follows round."""
WATCH = "window.__evil = 0; window.evil = () => { window.__evil += 1; };"
AT = (
    "",
    finding(1),
    "?variant=as_corrected",
    "?at=tee_axle&words=tee",
    "?at=hose_axle",
    "?view=plan",
    "?tag=tee_axle&part=tee-axle-bubble",
)


def _everywhere(text: str) -> str:
    """Return a file with hostile text in every value that takes any text."""
    quoted = '"' + EVIL.replace("\\", "\\\\").replace('"', '\\"') + '"'
    free = r"^(\s*)(name|note|why|description|source|url|maker): .*$"
    found = re.sub(free, lambda line: f"{line[1]}{line[2]}: {quoted}", text, flags=re.MULTILINE)
    return re.sub(r"(note|why|description|source): [^{}\[\]]*?(?=[,}])", rf"\1: {quoted}", found)


@pytest.mark.parametrize("at", AT)
def test_hostile_files(page: Page, garage: Garage, at: str) -> None:
    """Hostile text in the build and its catalogs is shown as text; no script of it runs, nothing is loaded for it."""
    for name in ("build.yaml", "house_parts.yaml", "offers.yaml", "stock.yaml"):
        file = garage.folder / name
        file.write_text(_everywhere(file.read_text()))
    page.add_init_script(WATCH)
    page.goto(f"{garage.url}/{at.removeprefix('/')}")
    assert page.inner_text("h1") == EVIL.replace("\u202e", "\\u202e")
    assert EVIL.replace("\u202e", "\\u202e") in page.inner_text("main")
    assert page.evaluate("[window.__evil, document.images.length, document.querySelectorAll('script').length]") == [
        0,
        0,
        2,
    ]
    assert page.input_value("#text") == garage.build.read_text()


def test_hostile_tags_and_parts(page: Page, garage: Garage) -> None:
    """Part ids and ports that no catalog has are told as they are written."""
    quoted = "'" + EVIL.replace("'", "''") + "'"
    garage.build.write_text(garage.build.read_text().replace("part: tee-axle-double", f"part: {quoted}"))
    page.add_init_script(WATCH)
    page.goto(f"{garage.url}/?at=tee_axle")
    expect(page.locator("#panel")).to_contain_text("<img src=x onerror=evil()>")
    assert page.evaluate("[window.__evil, document.images.length]") == [0, 0]


def test_hostile_addresses(page: Page, garage: Garage) -> None:
    """Nor does what an address says become more than text."""
    page.add_init_script(WATCH)
    evil = quote(EVIL)
    for said in (
        f"at={evil}",
        f"tag={evil}&part={evil}",
        f"changes={evil}&act={evil}",
        f"at=tee_axle&words={evil}&act={evil}",
        f"variant={evil}",
        f"at=finding+{evil}",
    ):
        page.goto(f"{garage.url}/?view={evil}&file={evil}&of={evil}&{said}")
        assert page.evaluate("[window.__evil, document.images.length]") == [0, 0]
        assert page.locator("#panel").inner_text()


def test_hostile_typing(page: Page) -> None:
    """What is typed, and what is wrong with it, is shown as text."""
    page.evaluate(f"{WATCH} null")
    page.fill("#text", f"build: 1\n'{EVIL.replace(chr(39), '')}': 1\n")
    expect(page.locator("#told")).to_contain_text("<img src=x onerror=evil()>")
    page.get_by_role("button", name="Show what it changes").click()
    expect(page.locator("#panel")).to_contain_text("The build could not be read any more")
    assert page.evaluate("[window.__evil, document.images.length]") == [0, 0]


def test_no_script_of_others(page: Page, told: Told) -> None:
    """Even a script that did get into the page would not run: the policy allows files of the server only."""
    page.evaluate(f"{WATCH} null")
    page.evaluate("document.body.insertAdjacentHTML('beforeend', '<img src=\"/page/nothing\" onerror=\"evil()\">')")
    page.evaluate(
        "document.images[0].complete ||"
        " new Promise((done) => document.images[0].addEventListener('error', () => done(true)))"
    )
    assert page.evaluate("window.__evil") == 0
    assert any(
        "violates the following Content Security Policy directive 'script-src 'self''" in said for said in told.words
    )
    told.words.clear()
