"""The page as it comes, and looking at joints, parts and findings."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Garage

SETTLED_MS = 400


def test_page_shows_everything(page: Page) -> None:
    """Drawing, findings, what was not checked, parts and cost, sheets, pedal and file are there at once."""
    expect(page).to_have_title("Dunlin: fitcheck")
    assert page.locator(".drawing svg a.joint").count() == 34
    assert page.locator("#findings .finding").count() == page.locator("#findings > ol > li").count() >= 10
    expect(page.locator("#unchecked")).to_contain_text("parts.nut-3-8-24-inverted.ports.nut.length")
    expect(page.locator("#bill")).to_contain_text("Total")
    assert page.locator("#sheets details").count() == 16
    expect(page.locator("#pedal")).to_contain_text("MPa")
    assert page.input_value("#text").startswith("# Dunlin: an invented car.")
    assert "Brakes hurt people when they fail." in page.inner_text("footer")


def test_joint_clicked(page: Page) -> None:
    """A joint that is clicked shows both ends with thread and seat, the verdict, and how it is put together."""
    page.locator('.drawing a[data-at="hose_fr.from bracket_fr.outside"] path').first.click(force=True)
    panel = page.locator("#panel")
    expect(panel.locator("h2")).to_have_text("hose_fr.from and bracket_fr.outside")
    assert panel.locator(".end h3").all_inner_texts() == ["hose_fr.from", "bracket_fr.outside"]
    expect(panel).to_contain_text("3/8-24 UNF external, inverted-flare")
    expect(panel).to_contain_text("error thread-mismatch: hose_fr.from (3/8-24 UNF) runs in loose and strips in")
    expect(panel).to_contain_text("N m: typical, the maker's own figure comes first")
    expect(panel.locator("h2")).to_be_focused()


@pytest.mark.slow
def test_sound_joint(page: Page) -> None:
    """A joint that fits says how far, and what was looked at: nothing passes in silence."""
    page.locator("#joints a", has_text="front_feed.from").first.click()
    expect(page.locator("#panel")).to_contain_text("fits in what was looked at; not all was")
    expect(page.locator("#panel")).to_contain_text("Looked at: fixing-missing, flare-mismatch, gender-clash")
    expect(page.locator("#panel")).to_contain_text("Not checked: short-engagement, for want of")


def test_mark_clicked(page: Page) -> None:
    """A numbered mark opens its finding: message, evidence, remedies and the rule's page."""
    page.locator('.drawing [data-finding="1"]').first.click()
    panel = page.locator("#panel")
    expect(panel.locator("h2")).to_contain_text("1: hose_fr.from (3/8-24 UNF) runs in loose and strips in")
    expect(panel.locator("dt:text-is('overlap') + dd")).to_have_text(["0.0806, 0.29 mm", "14.9, 53.6 %"])
    expect(panel).to_contain_text("ASME B1.1-2003 paras 5.1 and 5.8")
    panel.get_by_text("The rule: thread-mismatch").click()
    expect(panel.locator("pre")).to_contain_text("Why it matters")


@pytest.mark.slow
def test_close_goes_back(page: Page) -> None:
    """Escape closes what is looked at, and the focus is where it was opened."""
    link = page.locator("#findings h3 a").first
    link.focus()
    page.keyboard.press("Enter")
    expect(page.locator("#panel-title")).to_be_focused()
    page.keyboard.press("Escape")
    expect(page.locator("#panel")).to_contain_text("Nothing yet.")
    expect(link).to_be_focused()


@pytest.mark.slow
def test_views(page: Page) -> None:
    """The other views are drawn in place, and what is in them is looked at in the same way."""
    page.get_by_role("link", name="Plan").click()
    expect(page.locator(".drawing svg")).to_have_attribute("aria-label", "Dunlin: plan")
    page.locator('.drawing a[data-tag="caliper_fl"]').first.click(force=True)
    expect(page.locator("#panel h2")).to_have_text("caliper_fl")
    expect(page.locator(".drawing svg")).to_have_attribute("aria-label", "Dunlin: plan")


@pytest.mark.parametrize(
    ("width", "name"),
    [
        (360, "File"),
        *(
            pytest.param(width, name, marks=pytest.mark.slow)
            for width in (360, 1280)
            for name in ("Not checked", "Parts and cost", "Purchase", "Bench sheets", "Looked at", "File")
            if (width, name) != (360, "File")
        ),
    ],
)
def test_way_to_a_part(page: Page, width: int, name: str) -> None:
    """A link to a part of the page leads to its very top, though what lies between has not been laid out before."""
    page.set_viewport_size({"width": width, "height": 740})
    link = page.get_by_role("navigation", name="Parts of this page").get_by_role("link", name=name)
    place = page.locator(f"section{link.get_attribute('href')}")
    link.click()
    page.wait_for_timeout(SETTLED_MS)
    box = place.bounding_box()
    assert box is not None
    assert -10 < box["y"] < 20


def test_address_is_the_state(page: Page, garage: Garage) -> None:
    """What is looked at stands in the address: going back and loading again show it."""
    page.locator("#findings h3 a").first.click()
    expect(page.locator("#panel-title")).to_contain_text("1:")
    page.locator("#findings h3 a").nth(1).click()
    expect(page.locator("#panel-title")).to_contain_text("2:")
    page.go_back()
    expect(page.locator("#panel-title")).to_contain_text("1:")
    page.reload()
    expect(page.locator("#panel-title")).to_contain_text("1:")


SIZES = [(1280, 900), pytest.param(1280, 500, marks=pytest.mark.slow), pytest.param(360, 740, marks=pytest.mark.slow)]


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_link_from_elsewhere(page: Page, garage: Garage, width: int, height: int) -> None:
    """An address that names what to look at leads there, with the focus, as soon as it is loaded."""
    page.set_viewport_size({"width": width, "height": height})
    page.goto("about:blank")
    page.goto(f"{garage.url}/?at=tee_axle#panel")
    page.wait_for_timeout(SETTLED_MS)
    expect(page.locator("#panel-title")).to_be_focused()
    _in_view(page, height)


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_nothing_is_covered_by_what_is_told(page: Page, garage: Garage, width: int, height: int) -> None:
    """What is looked at comes under the bar that tells of a change made elsewhere, not behind it."""
    page.set_viewport_size({"width": width, "height": height})
    garage.build.write_text(garage.build.read_text() + "# elsewhere\n")
    expect(page.locator("#changed")).to_be_visible()
    page.locator("#findings h3 a").first.click()
    expect(page.locator("#panel-title")).to_be_focused()
    page.wait_for_timeout(SETTLED_MS)
    bar = page.locator("#changed").bounding_box()
    assert bar is not None
    _in_view(page, height, bar["y"] + bar["height"])


def _in_view(page: Page, height: int, below: float = 0.0) -> None:
    box = page.locator("#panel-title").bounding_box()
    assert box is not None
    assert below - 1 <= box["y"] < height - box["height"]


SLOW = """() => {
  const ask = window.fetch;
  window.fetch = async (...said) => { await new Promise((go) => setTimeout(go, 400)); return ask(...said); };
}"""
"""Let every answer wait."""


def test_whoever_scrolls_meanwhile_is_not_pulled_back(page: Page) -> None:
    """Between a click and its answer the reader may scroll on: the panel comes, and the page stays where they are."""
    page.set_viewport_size({"width": 360, "height": 740})
    page.evaluate(SLOW)
    page.locator("#findings h3 a").first.click()
    page.mouse.wheel(0, 300)
    page.wait_for_timeout(200)
    there = page.evaluate("scrollY")
    expect(page.locator("#panel-title")).to_be_focused()
    page.wait_for_timeout(SETTLED_MS)
    assert page.evaluate("scrollY") == pytest.approx(there, abs=2)


MOVED = """async (act) => {
  const frame = () => new Promise(requestAnimationFrame);
  document.querySelector('nav[aria-label="Parts of this page"] a[href="#pedal"]').click();
  await frame(); await frame();
  const kinds = { keydown: KeyboardEvent, wheel: WheelEvent, pointerdown: PointerEvent };
  if (act) document.body.dispatchEvent(new kinds[act](act, { bubbles: true }));
  scrollTo(0, 0);
  for (let left = 12; left; left -= 1) await frame();
  return scrollY;
}"""
"""Go to a part of the page, act while what lies between settles, and say where the page is in the end."""


@pytest.mark.parametrize(
    "act", ["pointerdown", *(pytest.param(act, marks=pytest.mark.slow) for act in ("keydown", "wheel"))]
)
def test_nothing_moves_under_the_pointer(page: Page, act: str) -> None:
    """A page that still settles stops as soon as a button or a key is pressed: the click lands where it was meant."""
    assert page.evaluate(MOVED, None) > 1000
    assert page.evaluate(MOVED, act) == 0


def test_panel_in_view_does_not_move_the_page(page: Page) -> None:
    """On a wide screen the panel scrolls by itself: what is looked at comes to its top, and the page stays."""
    page.locator('#joints a:text-is("tee_axle")').click()
    expect(page.locator("#panel h2")).to_have_text("tee_axle")
    page.locator("#panel .others a").last.scroll_into_view_if_needed()
    before = page.evaluate("scrollY")
    page.locator("#panel .others a").last.click()
    expect(page.locator("#panel h2")).to_have_text("What it changes")
    page.wait_for_timeout(SETTLED_MS)
    assert abs(page.evaluate("scrollY") - before) < 20
    box = page.locator("#panel h2").bounding_box()
    assert box is not None
    assert 0 <= box["y"] < 60
