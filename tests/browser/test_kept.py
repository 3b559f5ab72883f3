"""What is typed is never lost, and what is shown is never old without saying so, however quickly the reader goes on."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, Route, expect

from tests.browser.conftest import Garage

pytestmark = pytest.mark.slow

ELSEWHERE = "# changed in another editor\n"
UNSAVED = "# not saved yet\n"


def test_typed_while_it_is_saved(page: Page, garage: Garage) -> None:
    """What is typed while a save is answered stays in the text, as not saved; the next save writes it."""
    page.route("**/page/text", _typing(page))
    before = page.input_value("#text")
    page.fill("#text", before.replace("name: Dunlin", "name: Dunnock"))
    page.click("#save")
    expect(page.locator("#notice")).to_contain_text("Written")
    saved = before.replace("name: Dunlin", "name: Dunnock")
    assert garage.build.read_text() == saved
    expect(page.locator("#text")).to_have_value(saved + UNSAVED)
    expect(page.locator("#dirty")).to_be_visible()
    page.unroute("**/page/text")
    page.click("#save")
    expect(page.locator("#dirty")).to_be_hidden()
    assert garage.build.read_text() == saved + UNSAVED


def _typing(page: Page) -> Callable[[Route], None]:
    def typed(route: Route) -> None:
        page.evaluate("more => { text.value += more; text.dispatchEvent(new Event('input')); }", UNSAVED)
        route.continue_()

    return typed


@pytest.mark.parametrize("choice", ["Write yours in its place", "Leave the file as it is now"])
def test_conflict_of_undo_keeps_the_text(page: Page, garage: Garage, choice: str) -> None:
    """Whatever is chosen where an undo meets another change, a text that is not saved stays as it is."""
    page.fill("#text", page.input_value("#text") + "# one\n")
    page.click("#save")
    expect(page.locator("#notice")).to_contain_text("Written")
    garage.build.write_text(garage.build.read_text() + ELSEWHERE)
    mine = page.input_value("#text") + UNSAVED
    page.fill("#text", mine)
    page.click("#undo")
    expect(page.locator("#panel textarea")).to_be_hidden()
    page.locator("#panel .buttons").get_by_text(choice).click()
    expect(page.locator("#panel textarea")).to_have_count(0)
    expect(page.locator("#text")).to_have_value(mine)
    expect(page.locator("#dirty")).to_be_visible()


def test_all_parts_come_after_a_change(page: Page) -> None:
    """Who looks at a joint before all parts of the page are answered still gets all of them."""
    page.locator('#joints a:text-is("tee_axle")').click()
    page.locator("#panel .others").get_by_role("link", name="tee-axle-bubble", exact=True).click()
    page.evaluate(
        "new MutationObserver((_, seen) => {"
        " if (document.querySelector('#findings').textContent.includes('being looked for'))"
        " { seen.disconnect(); setTimeout(() => document.querySelector('#joints a').click(), 20); }"
        "}).observe(document.querySelector('#main'), {childList: true, subtree: true})"
    )
    page.click("#accept")
    expect(page.locator("#panel h2")).to_have_text("pedals.rod_front and mc_front.pushrod")
    expect(page.locator("#findings")).not_to_contain_text("being looked for")
    expect(page.locator("#bill")).to_contain_text("tee-axle-bubble")


def test_build_that_is_gone(page: Page, garage: Garage) -> None:
    """A page whose file was deleted says that what it shows is old, until the file is there again."""
    text = garage.build.read_text()
    garage.build.unlink()
    told = "there is no file build.yaml in the served folder. What is shown is as it was."
    expect(page.locator("#changed")).to_have_text(f"The build cannot be read now: {told}")
    garage.build.write_text(text)
    expect(page.locator("#changed")).to_be_hidden()


def test_catalog_changed_before_accepting(page: Page, garage: Garage) -> None:
    """A change that was seen with another catalog is not written before it has been seen with this one."""
    page.locator('#joints a:text-is("tee_axle")').click()
    page.locator("#panel .others").get_by_role("link", name="tee-axle-bubble", exact=True).click()
    expect(page.locator("#accept")).to_be_visible()
    before = garage.build.read_text()
    catalog = garage.folder / "house_parts.yaml"
    catalog.write_text(catalog.read_text() + ELSEWHERE)
    page.click("#accept")
    expect(page.locator("#panel")).to_contain_text("Another file of the build was changed since this was shown.")
    assert garage.build.read_text() == before
    page.click("#accept")
    expect(page.locator("#notice")).to_contain_text("Written")
    assert garage.build.read_text() == before.replace("tee-axle-double, on", "tee-axle-bubble, on")


def test_undo_is_of_what_its_button_names(page: Page, garage: Garage) -> None:
    """What another tab did since is not undone by a button that names an earlier change; the page names it then."""
    page.fill("#text", page.input_value("#text") + "# one\n")
    page.click("#save")
    expect(page.locator("#undo")).to_have_text("Undo: edit build.yaml")
    other = page.context.new_page()
    other.goto(garage.url)
    other.locator('#joints a:text-is("tee_axle")').click()
    other.locator("#panel .others").get_by_role("link", name="tee-axle-bubble", exact=True).click()
    other.click("#accept")
    expect(other.locator("#notice")).to_contain_text("Written")
    there = garage.build.read_text()
    page.click("#undo")
    expect(page.locator("#notice")).to_contain_text("Nothing was undone.")
    expect(page.locator("#undo")).to_have_text("Undo: exchange tee_axle for tee-axle-bubble")
    assert garage.build.read_text() == there
    page.click("#undo")
    expect(page.locator("#notice")).to_contain_text("Undone: exchange tee_axle for tee-axle-bubble.")
    assert garage.build.read_text() == there.replace("tee-axle-bubble, on", "tee-axle-double, on")
