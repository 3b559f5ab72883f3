"""Buttons that write: pressed twice, without an answer, without a file; the reader is told what came of it."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Garage, Told

pytestmark = pytest.mark.slow

MORE = "# more\n"


def _try_a_swap(page: Page) -> None:
    page.locator('#joints a:text-is("tee_axle")').click()
    page.locator("#panel .others").get_by_role("link", name="tee-axle-bubble", exact=True).click()
    expect(page.locator("#accept")).to_be_visible()


@pytest.mark.parametrize("button", ["#save", "#accept"])
def test_pressed_twice(page: Page, garage: Garage, told: Told, button: str) -> None:
    """Two clicks are one change: the second is not told as a change made elsewhere."""
    if button == "#accept":
        _try_a_swap(page)
    else:
        page.fill("#text", page.input_value("#text") + MORE)
    before = garage.build.read_text()
    page.dblclick(button)
    expect(page.locator("#notice")).to_contain_text("Written")
    page.wait_for_load_state("networkidle")
    expect(page.locator("#notice")).to_contain_text("Written")
    assert sum(url.endswith(("/page/text", "/page/accept")) for url in told.asked) == 1
    page.click("#undo")
    expect(page.locator("#notice")).to_contain_text("Undone")
    assert garage.build.read_text() == before


def test_accepted_without_a_file(page: Page, garage: Garage, told: Told) -> None:
    """A change that cannot be written since the file is gone is told where the reader looks, as not written."""
    _try_a_swap(page)
    page.locator("#accept").scroll_into_view_if_needed()
    garage.build.unlink()
    page.click("#accept")
    changed = page.locator("#changed")
    expect(changed).to_contain_text("Nothing was written: there is no file build.yaml in the served folder.")
    expect(changed).to_be_in_viewport()
    assert not garage.build.exists()
    expect(page.locator("#accept")).to_be_visible()
    changed.get_by_role("button", name="Close").click()
    expect(page.locator("#accept")).to_be_visible()
    told.words.clear()  # the browser notes the status


def test_saved_without_an_answer(page: Page, garage: Garage, told: Told) -> None:
    """Where no answer comes it is not known whether it was written; the text stays, and can be saved later."""
    page.fill("#text", page.input_value("#text") + MORE)
    before = garage.build.read_text()
    page.route("**/page/text", lambda route: route.abort())
    page.click("#save")
    changed = page.locator("#changed")
    expect(changed).to_contain_text("It is not known whether it was written: the server does not answer.")
    expect(changed).to_be_in_viewport()
    page.unroute("**/page/text")
    changed.get_by_role("button", name="Show what is there now").click()
    expect(changed).to_be_hidden()
    assert page.input_value("#text") == before + MORE
    page.click("#save")
    expect(page.locator("#notice")).to_contain_text("Written")
    assert garage.build.read_text() == before + MORE
    told.words.clear()  # the browser notes that one failed


def test_looked_at_without_an_answer(page: Page, told: Told) -> None:
    """What cannot be fetched is told in words of ours, and is fetched by a second try."""
    page.route("**/?*", lambda route: route.abort())
    page.locator('#joints a:text-is("tee_axle")').click()
    changed = page.locator("#changed")
    expect(changed).to_contain_text("The page could not be brought up to date: the server does not answer.")
    expect(changed).to_be_in_viewport()
    page.unroute("**/?*")
    changed.get_by_role("button", name="Try again").click()
    expect(page.locator("#panel-title")).to_have_text("tee_axle")
    expect(changed).to_be_hidden()
    told.words.clear()
