"""Changes that are seen, accepted, undone and done again."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Garage
from tests.service.answer_schemas import DEMO

OLD, NEW = "tee_axle: {part: tee-axle-double,", "tee_axle: {part: tee-axle-bubble,"


def _try_other_tee(page: Page) -> None:
    page.locator('#joints a:text-is("tee_axle")').click()
    page.locator("#panel .others").get_by_role("link", name="tee-axle-bubble", exact=True).click()
    expect(page.locator("#panel h2")).to_have_text("What it changes")


def test_swap_seen_before_it_is_made(page: Page, garage: Garage) -> None:
    """Another part is shown with findings gone and new, bill and drawing; nothing is written yet."""
    _try_other_tee(page)
    panel = page.locator("#panel")
    expect(panel).to_contain_text("Findings gone (1)")
    expect(panel).to_contain_text("bubble of hose_axle.to against inverted-flare of tee_axle.top")
    expect(panel).to_contain_text("new: 1 tee-axle-bubble")
    expect(panel).to_contain_text("pressure, stroke, travel and balance stay as they are")
    expect(page.locator(".drawing.would")).to_contain_text("tee-axle-bubble")
    assert garage.build.read_bytes() == (DEMO / "build.yaml").read_bytes()


@pytest.mark.slow
def test_swap_left(page: Page, garage: Garage) -> None:
    """A change that is left shows the build as it is again."""
    _try_other_tee(page)
    page.locator("#panel").get_by_role("link", name="Leave it").click()
    expect(page.locator("#panel h2")).to_have_text("tee_axle")
    expect(page.locator(".drawing.would")).to_have_count(0)
    assert garage.build.read_bytes() == (DEMO / "build.yaml").read_bytes()


def test_swap_accepted_undone_and_redone(page: Page, garage: Garage) -> None:
    """An accepted change is one value of the file and nothing else; undo and redo write the versions back."""
    before = garage.build.read_text()
    count = page.locator("#findings > ol > li").count()
    _try_other_tee(page)
    page.locator("#accept").click()
    expect(page.locator("#notice")).to_contain_text("Written: exchange tee_axle for tee-axle-bubble. build.yaml now")
    assert garage.build.read_text() == before.replace(OLD, NEW)
    expect(page.locator("#findings > ol > li")).to_have_count(count - 1)
    expect(page.locator("#bill")).to_contain_text("tee-axle-bubble")
    assert NEW in page.input_value("#text")
    page.locator("#undo").click()
    expect(page.locator("#notice")).to_contain_text("Undone: exchange tee_axle for tee-axle-bubble")
    assert garage.build.read_text() == before
    expect(page.locator("#findings > ol > li")).to_have_count(count)
    page.keyboard.press("Alt+y")
    expect(page.locator("#notice")).to_contain_text("Done again: exchange tee_axle for tee-axle-bubble")
    assert garage.build.read_text() == before.replace(OLD, NEW)


@pytest.mark.slow
def test_remedy(page: Page, garage: Garage) -> None:
    """A remedy is seen and accepted as another part is; comments stay."""
    before = garage.build.read_text()
    page.locator('#findings a:text-is("fit 2 washers")').click()
    page.get_by_role("button", name="See what it changes: fit 2 washers").click()
    expect(page.locator("#panel")).to_contain_text("caliper_fl.inlet needs 2 washers, 1 stated")
    page.locator("#accept").click()
    expect(page.locator("#notice")).to_contain_text("Written: fit 2 washers.")
    assert garage.build.read_text() == before.replace("washers: 1}", "washers: 2}")
    assert "left over from a heating job" in garage.build.read_text()


@pytest.mark.slow
def test_search(page: Page) -> None:
    """A part is searched for in the catalogs, of its kind or of all, and tried from there."""
    page.locator('#joints a:text-is("tee_axle")').click()
    page.get_by_label("Search the catalogs").fill("3/16 inverted")
    page.keyboard.press("Enter")
    expect(page.locator("#panel")).to_contain_text("found")
    page.locator("#panel").get_by_role("link", name="tee-3-16-inverted", exact=True).first.click()
    expect(page.locator("#panel")).to_contain_text("exchange tee_axle for tee-3-16-inverted")
    expect(page.locator("#panel")).to_contain_text("Findings new")


@pytest.mark.slow
def test_pedal_figures_differ(page: Page) -> None:
    """A master cylinder of another bore shows what it does to pressure and travel."""
    page.locator('#joints a:text-is("mc_front")').click()
    page.locator("#panel .others").get_by_role("link", name="mc-19", exact=True).click()
    row = page.locator("#panel tr", has_text="MPa").first.locator("td")
    expect(row).to_have_text(["pressure, front", "5.62 MPa", "3.98 MPa"])
