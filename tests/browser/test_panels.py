"""The panels of pedal and purchase: on a click, by keyboard, without script, on a phone, on paper, for everybody."""

from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import Garage

pytestmark = pytest.mark.slow

STATES = ("/?plots=1", "/?aim=cheapest", "/?aim=trade-off", "/?aim=cheapest&by=2020-01-01&cured=1")
PHONE = {"width": 360, "height": 640}
SETTLED_MS = 400
LONG_MS = 30_000


def _open_all(page: Page) -> None:
    page.evaluate("document.querySelectorAll('details').forEach((each) => { each.open = true; })")


def test_plots_on_a_click(page: Page) -> None:
    """The plots come into their place when they are asked for, with the focus, and can be read aloud."""
    page.set_default_timeout(LONG_MS)
    expect(page.locator("#pedal svg")).to_have_count(0)
    page.get_by_role("link", name="Draw the plots").click()
    expect(page.locator("#pedal .plot svg")).to_have_count(2, timeout=LONG_MS)
    expect(page.locator("#pedal-title")).to_be_focused()
    expect(page.locator("#pedal svg").first).to_have_attribute("role", "img")
    expect(page.get_by_role("img", name="Dunlin: pedal to caliper").first).to_be_visible()
    assert page.evaluate("getComputedStyle(document.querySelector('.plot svg text')).fontSize") != "16px"


def test_purchase_by_keyboard(page: Page) -> None:
    """The plan is asked for with the keys, comes into its place, and stays when something is looked at."""
    page.get_by_label("here first").focus()
    page.keyboard.press("Space")
    page.keyboard.press("Enter")
    expect(page.locator("#purchase")).to_contain_text("Order 1 of", timeout=LONG_MS)
    expect(page.locator("#purchase-title")).to_be_focused()
    expect(page.get_by_label("here first")).to_be_checked()
    assert "aim=soonest" in page.url
    page.locator('#joints a:text-is("tee_axle")').click()
    expect(page.locator("#panel h2")).to_have_text("tee_axle")
    expect(page.locator("#purchase")).to_contain_text("Order 1 of")


def test_without_script(browser: Browser, garage: Garage) -> None:
    """Plain links and forms do the same."""
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(garage.url)
    page.get_by_role("link", name="Draw the plots").click()
    expect(page.locator("#pedal .plot svg")).to_have_count(2, timeout=LONG_MS)
    page.get_by_role("button", name="Plan the purchase").click()
    expect(page.locator("#purchase")).to_contain_text("Order 1 of", timeout=LONG_MS)
    expect(page.locator("#purchase")).to_contain_text("held up by")
    context.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("address", STATES)
def test_no_violation_of_access_rules(page: Page, garage: Garage, scheme: str, address: str) -> None:
    """axe-core finds nothing against them, light and dark."""
    page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
    page.goto(f"{garage.url}{address}", timeout=LONG_MS)
    _open_all(page)
    page.wait_for_timeout(SETTLED_MS)
    found = Axe().run(page).response["violations"]
    assert [(each["id"], [node["html"][:200] for node in each["nodes"][:3]]) for each in found] == []


@pytest.mark.parametrize("address", STATES)
def test_phone(browser: Browser, garage: Garage, address: str) -> None:
    """On 360 pixels the page itself is never moved sideways, and what is to be touched is large enough."""
    context = browser.new_context(viewport=PHONE, has_touch=True, is_mobile=True)  # type: ignore[arg-type]
    page = context.new_page()
    page.goto(f"{garage.url}{address}", timeout=LONG_MS)
    _open_all(page)
    assert page.evaluate("[document.documentElement.scrollWidth, innerWidth]") == [360, 360]
    small = page.evaluate(
        "[...document.querySelectorAll('#purchase label, #paper label, #pedal .button, #purchase button')]"
        ".map((each) => each.getBoundingClientRect().height).filter((height) => height < 24)"
    )
    assert small == []
    context.close()


def test_on_paper(page: Page, garage: Garage, tmp_path: Path) -> None:
    """Plots and plan are printed whole, without the form."""
    pymupdf = pytest.importorskip("pymupdf", reason="pymupdf is not installed: what is printed was not read")
    page.goto(f"{garage.url}/?plots=1&aim=cheapest", timeout=LONG_MS)
    page.pdf(path=tmp_path / "page.pdf", format="A4", prefer_css_page_size=True)
    printed = [sheet.get_text() for sheet in pymupdf.open(tmp_path / "page.pdf")]
    text = "\n".join(printed)
    for words in ("Pressure at the outlets", "Order 1 of 3", "What can be made now", "carriage"):
        assert words in text
    for words in ("Plan the purchase", "Draw the plots"):
        assert words not in text
    assert any("Pressure at the outlets" in each and "Where the fluid goes" in each for each in printed)
