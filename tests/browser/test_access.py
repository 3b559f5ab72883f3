"""The page for everybody: by keyboard, read aloud, in the dark, on a phone, on paper, without its script."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import Garage, Told, finding

pytestmark = pytest.mark.slow

STATES = (
    "/",
    finding(1),
    "/?at=tee_axle&words=tee&act=tee",
    "/?view=plan&tag=tee_axle&part=tee-axle-bubble",
    "/?variant=as_corrected&at=tee_axle",
)
PHONE = {"width": 320, "height": 640}
KEYS_TO_A_CHANGE = 400
SETTLED_MS = 400


def _violations(page: Page) -> list[tuple[str, list[str]]]:
    page.wait_for_timeout(SETTLED_MS)
    found = Axe().run(page).response["violations"]
    return [(each["id"], [node["html"][:200] for node in each["nodes"][:3]]) for each in found]


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("address", STATES)
def test_no_violation_of_access_rules(page: Page, garage: Garage, scheme: str, address: str) -> None:
    """axe-core finds nothing against it, light and dark, whatever is looked at."""
    page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
    page.goto(f"{garage.url}{address}")
    page.evaluate("document.querySelectorAll('details').forEach((each) => { each.open = true; })")
    assert _violations(page) == []


def test_no_violation_where_there_is_trouble(page: Page, garage: Garage) -> None:
    """Nor where a build cannot be read, or was changed elsewhere meanwhile."""
    page.fill("#text", page.input_value("#text").replace("name: Dunlin", "name: Dunnock"))
    garage.build.write_text(garage.build.read_text().replace("mass: 690 kg", "mass: 690"))
    page.click("#save")
    expect(page.locator("#panel h2")).to_have_text("Changed elsewhere meanwhile")
    assert _violations(page) == []
    page.get_by_role("link", name="Leave the file as it is now").click()
    expect(page.locator("#findings")).to_contain_text("The build cannot be read")
    assert _violations(page) == []


@pytest.mark.parametrize("data", [None, b"build: 1\nname: \xff\n"])
def test_no_violation_where_the_build_is_gone(page: Page, garage: Garage, told: Told, data: bytes | None) -> None:
    """Nor on the page that stands for a build that is not there, or is not UTF-8."""
    garage.build.unlink()
    if data is not None:
        garage.build.write_bytes(data)
    page.goto(garage.url)
    expect(page.locator(".box")).to_contain_text("line 2, column 7" if data is not None else "The build is not there")
    assert _violations(page) == []
    told.words.clear()  # the browser notes the status


def test_no_violation_where_a_link_is_old(page: Page, garage: Garage) -> None:
    """Nor where an old link is told as such."""
    link = page.locator("#findings h3 a").last
    garage.build.write_text(f"{garage.build.read_text()}# more\n")
    link.click()
    expect(page.locator("#panel")).to_contain_text("The build has changed since this link was made.")
    assert _violations(page) == []


def _tab_to(page: Page, selector: str) -> None:
    """Go to something with the Tab key alone."""
    for _ in range(KEYS_TO_A_CHANGE):
        if page.evaluate("(selector) => document.activeElement.matches(selector)", selector):
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"the Tab key never comes to {selector}")


def test_keyboard_alone(page: Page, garage: Garage) -> None:
    """A remedy is found, seen, accepted and undone without a mouse, and what has the focus can be seen."""
    before = garage.build.read_text()
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "Skip to the drawing"
    assert page.locator(".skip").first.bounding_box()["x"] >= 0  # type: ignore[index]
    _tab_to(page, "#findings h3 a")
    assert page.evaluate("getComputedStyle(document.activeElement).outlineStyle") == "solid"
    page.keyboard.press("Enter")
    expect(page.locator("#panel-title")).to_be_focused()
    _tab_to(page, "#panel .remedy button")
    page.keyboard.press("Enter")
    expect(page.locator("#panel-title")).to_have_text("What it changes")
    _tab_to(page, "#accept")
    page.keyboard.press("Enter")
    expect(page.locator("#notice")).to_be_focused()
    assert garage.build.read_text() == before.replace("bulkhead-union-m10x1-bubble", "bulkhead-union-3-16-inverted", 1)
    page.keyboard.press("Alt+z")
    expect(page.locator("#notice")).to_contain_text("Undone")
    assert garage.build.read_text() == before


def test_no_trap(page: Page) -> None:
    """The Tab key goes through the text and out of it again, and comes to the end of the page."""
    page.focus("#text")
    page.keyboard.press("Tab")
    expect(page.get_by_role("button", name="Show what it changes")).to_be_focused()
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Shift+Tab")
    assert page.evaluate("document.activeElement !== text")
    _tab_to(page, "#keys summary")


def test_phone(browser: Browser, garage: Garage) -> None:
    """On 320 pixels nothing has to be moved sideways but the drawing, a table, the text; all can be used."""
    context = browser.new_context(viewport=PHONE, has_touch=True, is_mobile=True)  # type: ignore[arg-type]
    page = context.new_page()
    for address in STATES:
        page.goto(f"{garage.url}{address}")
        page.evaluate("document.querySelectorAll('details').forEach((each) => { each.open = true; })")
        assert page.evaluate("[document.documentElement.scrollWidth, innerWidth]") == [320, 320]
    page.goto(garage.url)
    page.locator('.drawing [data-finding="1"]').first.tap()
    expect(page.locator("#panel-title")).to_be_in_viewport()
    targets = page.locator("button, .button, nav a").locator("visible=true")
    assert targets.count() > 20
    for target in targets.all():
        target.scroll_into_view_if_needed()  # what is far away is not laid out
        box = target.bounding_box()
        assert box is not None
        assert box["height"] >= 24, target.inner_text()  # WCAG 2.2, 2.5.8: targets of 24 px at least
    context.close()


def test_without_script(browser: Browser, garage: Garage) -> None:
    """Without script the page shows everything, and links and forms do the same work."""
    before = garage.build.read_text()
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(garage.url)
    assert page.locator("#findings > ol > li").count() >= 10
    assert page.locator(".drawing svg a.joint").count() == 34
    expect(page.locator("#findings")).to_contain_text("Remedy: fit 2 washers")
    page.locator('.drawing a[data-tag="tee_axle"]').first.click(force=True)
    expect(page.locator("#panel h2")).to_have_text("tee_axle")
    page.locator("#panel .others a").first.click()
    expect(page.locator("#panel")).to_contain_text("Findings gone")
    page.click("#accept")
    expect(page.locator("#notice")).to_contain_text("Written")
    assert garage.build.read_text() != before
    page.click("#undo")
    expect(page.locator("#notice")).to_contain_text("Undone")
    assert garage.build.read_text() == before
    text = page.input_value("#text")
    page.fill("#text", text.replace("mass: 690 kg", "mass: 690"))
    page.get_by_role("button", name="Show what it changes").click()
    expect(page.locator("#panel")).to_contain_text("The build could not be read any more")
    assert garage.build.read_text() == before
    context.close()
