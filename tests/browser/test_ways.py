"""Ways through the page: variants, back and forward, old links, quick clicks, what is told once, a lost build."""

import re

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import Garage, Told, finding

pytestmark = pytest.mark.slow

VARIANT = "as_corrected"
LATE_MS = 1_200


def _choose(page: Page, name: str) -> None:
    page.get_by_role("navigation", name="Variants").get_by_role("link", name=name, exact=True).click()


def test_variant_chosen(page: Page) -> None:
    """A variant that is chosen is shown in every part, stays chosen while things are looked at, and is left again."""
    _choose(page, VARIANT)
    expect(page.locator("#head .variants")).to_contain_text("All that is shown is of the variant as_corrected")
    expect(page.locator("#head .variants [aria-current]")).to_have_text(VARIANT)
    expect(page.locator("#head .variants [aria-current]")).to_be_focused()
    expect(page.locator("#findings .finding.error")).to_have_count(0)
    expect(page.locator("#bill")).to_contain_text("tee-axle-bubble")
    page.locator('.drawing a[data-tag="tee_axle"]').first.click(force=True)
    expect(page.locator("#panel")).to_contain_text("tee-axle-bubble: tee")
    page.get_by_role("link", name="Plan").click()
    expect(page.locator(".drawing svg")).to_have_attribute("aria-label", re.compile("plan"))
    assert page.evaluate("Object.fromEntries(new URLSearchParams(location.search))") == {
        "view": "plan",
        "variant": VARIANT,
        "at": "tee_axle",
    }
    _choose(page, "As built")
    expect(page.locator("#findings .finding.error").first).to_be_visible()
    expect(page.locator("#panel")).to_contain_text("tee-axle-double: tee")
    page.go_back()
    expect(page.locator("#findings .finding.error")).to_have_count(0)
    expect(page.locator("#head .variants [aria-current]")).to_have_text(VARIANT)


def test_variant_changed(page: Page, garage: Garage) -> None:
    """A swap that is accepted while a variant is shown goes into its block, and is undone from there."""
    before = garage.build.read_text()
    _choose(page, VARIANT)
    expect(page.locator("#head .variants [aria-current]")).to_have_text(VARIANT)
    page.locator('#joints a:text-is("mc_front")').click()
    page.locator("#panel .others").get_by_role("link", name="mc-19", exact=True).click()
    page.get_by_role("button", name="Accept: write it into build.yaml, variant as_corrected").click()
    told = "Written: exchange mc_front for mc-19, in the variant as_corrected."
    expect(page.locator("#notice")).to_contain_text(told)
    head, block = before.split(f"  {VARIANT}:\n")
    after = garage.build.read_text()
    assert after.startswith(head)
    assert after.replace("      mc_front: mc-19\n", "", 1) == f"{head}  {VARIANT}:\n{block}"
    expect(page.locator("#head .variants [aria-current]")).to_have_text(VARIANT)
    page.click("#undo")
    expect(page.locator("#notice")).to_contain_text("Undone")
    assert garage.build.read_text() == before


def test_variant_keeps_the_text(page: Page) -> None:
    """A text that is not saved stays while variants are chosen."""
    typed = page.input_value("#text") + "# not saved yet\n"
    page.fill("#text", typed)
    _choose(page, VARIANT)
    expect(page.locator("#head .variants [aria-current]")).to_have_text(VARIANT)
    expect(page.locator("#text")).to_have_value(typed)
    expect(page.locator("#dirty")).to_be_visible()


def test_variant_without_script(browser: Browser, garage: Garage) -> None:
    """Without script a variant is chosen and changed by plain links and forms."""
    before = garage.build.read_text()
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(garage.url)
    _choose(page, VARIANT)
    assert page.locator("#findings .finding.error").count() == 0
    page.locator('#joints a:text-is("mc_front")').click()
    page.locator("#panel .others").get_by_role("link", name="mc-19", exact=True).click()
    page.click("#accept")
    expect(page.locator("#notice")).to_contain_text("in the variant as_corrected. build.yaml now says so.")
    assert "      mc_front: mc-19\n" in garage.build.read_text()
    page.reload()
    assert page.locator("#notice .box").count() == 0
    page.click("#undo")
    expect(page.locator("#notice")).to_contain_text("Undone")
    assert garage.build.read_text() == before
    context.close()


def test_back_through_files(page: Page) -> None:
    """Going back after another file was opened shows the file of that address; an unsaved text is asked for."""
    tabs = page.get_by_role("list", name="Files")
    tabs.get_by_role("link", name="stock.yaml").click()
    expect(page.locator("#editor h2")).to_have_text("stock.yaml")
    tabs.get_by_role("link", name="offers.yaml").click()
    expect(page.locator("#editor h2")).to_have_text("offers.yaml")
    page.go_back()
    expect(page.locator("#editor h2")).to_have_text("stock.yaml")
    page.go_back()
    expect(page.locator("#editor h2")).to_have_text("build.yaml")
    page.go_forward()
    expect(page.locator("#editor h2")).to_have_text("stock.yaml")
    page.fill("#text", page.input_value("#text") + "# not saved yet\n")
    page.once("dialog", lambda dialog: dialog.dismiss())
    page.go_back()
    expect(page).to_have_url(re.compile("file=stock.yaml"))
    expect(page.locator("#text")).to_have_value(re.compile("# not saved yet\n$"))
    expect(page.locator("#editor h2")).to_have_text("stock.yaml")


def test_told_once(page: Page, garage: Garage) -> None:
    """What was written is told once: the address says nothing of it, and loading the page again does not repeat it."""
    page.fill("#text", page.input_value("#text") + "# one\n")
    page.click("#save")
    expect(page.locator("#notice")).to_contain_text("Written: edit build.yaml.")
    assert "said" not in page.url
    page.reload()
    expect(page.locator("#notice .box")).to_have_count(0)
    assert garage.build.read_text().endswith("# one\n")


def test_old_link(page: Page, garage: Garage) -> None:
    """A mark of a drawing that is old by now shows its own finding or none, never the one that has its number now."""
    link = page.locator("#findings h3 a", has_text="needs 2 washers")
    words = page.locator("#findings h3 a").last.inner_text().split(" ", 1)[1]
    garage.build.write_text(garage.build.read_text().replace("washers: 1}", "washers: 2}"))
    link.click()
    expect(page.locator("#panel")).to_contain_text("This is not there now.")
    page.locator("#findings h3 a").last.click()
    expect(page.locator("#panel-title")).to_contain_text(words)
    expect(page.locator("#panel")).to_contain_text("The build has changed since this link was made.")
    page.get_by_role("link", name="Go on from here").click()
    expect(page.locator("#panel")).not_to_contain_text("The build has changed")
    expect(page.locator("#panel-title")).to_contain_text(words)


def test_last_click_wins(page: Page) -> None:
    """Of two quick clicks the last is shown and stands in the address, though the first is answered after it."""
    page.evaluate(
        "() => { const own = window.fetch; let count = 0; window.fetch = async (...all) => {"
        " const late = String(all[0]).includes('/?') && (count += 1) === 1;"
        f" const answer = await own(...all); if (late) await new Promise((go) => setTimeout(go, {LATE_MS}));"
        " if (late) window.lateCame = true; return answer; }; }"
    )
    page.evaluate(
        "() => { const links = document.querySelectorAll('#findings h3 a'); links[0].click(); links[1].click(); }"
    )
    expect(page.locator("#panel-title")).to_contain_text("2:")
    page.wait_for_timeout(2 * LATE_MS)
    assert page.evaluate("window.lateCame")
    expect(page.locator("#panel-title")).to_contain_text("2:")
    second = page.locator("#findings h3 a").nth(1).get_attribute("href")
    assert second is not None
    assert page.url.endswith(second)
    page.reload()
    expect(page.locator("#panel-title")).to_contain_text("2:")


def test_click_while_it_is_tried(page: Page) -> None:
    """A click on something else while a change is worked out leaves no drawing of the change behind."""
    page.locator('#joints a:text-is("tee_axle")').click()
    page.locator("#panel .others").get_by_role("link", name="tee-axle-bubble", exact=True).evaluate(
        "(link) => { link.click(); document.querySelector('#findings h3 a').click(); }"
    )
    expect(page.locator("#panel-title")).to_contain_text("1:")
    page.wait_for_timeout(LATE_MS)
    expect(page.locator("#panel-title")).to_contain_text("1:")
    expect(page.locator(".drawing.would")).to_have_count(0)


def test_gone_and_back(page: Page, garage: Garage, told: Told) -> None:
    """A page of a build that was renamed says so, and is the build's by itself once it is back."""
    aside = garage.build.rename(garage.folder / "aside.yaml")
    page.goto(f"{garage.url}{finding(1)}")
    expect(page.locator(".box")).to_contain_text(
        "The build is not there: there is no file build.yaml in the served folder."
    )
    assert told.words == ["Failed to load resource: the server responded with a status of 404 (Not Found)"]
    told.words.clear()
    aside.rename(garage.build)
    expect(page.locator("h1")).to_have_text("Dunlin")
    expect(page.locator("#panel-title")).to_contain_text("1:")
