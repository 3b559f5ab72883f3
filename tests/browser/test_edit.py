"""The file as text: errors at their line as it is written, saving, and changes made elsewhere meanwhile."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Garage

pytestmark = pytest.mark.slow

MINUS = "\N{MINUS SIGN}"
ELSEWHERE = "# changed in another editor\n"


def _type(page: Page, old: str, new: str) -> None:
    text = page.input_value("#text")
    assert text.count(old) == 1
    page.fill("#text", text.replace(old, new))


def test_error_at_its_line(page: Page, garage: Garage) -> None:
    """An error stands at its line as it is typed, with line and column and the sentence; the link leads there."""
    before = garage.build.read_text()
    _type(page, "travel: 135 mm\n  free_play: 4 mm\n\nclutch", "travel: 135\n  free_play: 4 mm\n\nclutch")
    line = 1 + before[: before.index("  travel: 135 mm")].count("\n")
    link = page.locator("#told a")
    expect(link).to_have_text(f"line {line}, column 11")
    expect(page.locator("#told")).to_contain_text(": a bare number where a length is needed")
    row = page.locator(".gutter div").nth(line - 1)
    expect(row).to_have_class("error")
    assert row.inner_text() == f"✕ {line}"
    expect(page.locator("#text")).to_have_attribute("aria-invalid", "true")
    link.click()
    assert page.evaluate("text.value.slice(text.selectionStart, text.selectionEnd)") == "135"
    assert garage.build.read_text() == before
    _type(page, "travel: 135\n", "travel: 135 mm\n")
    expect(page.locator("#told")).to_contain_text("Dunlin: 10 errors")
    expect(page.locator("#text")).to_have_attribute("aria-invalid", "false")
    expect(page.locator("#dirty")).to_be_hidden()


def test_link_counts_characters(page: Page) -> None:
    """The link leads to the very column, whatever characters stand before it."""
    _type(page, "offers: [offers.yaml, barnstock.csv]", "offers: [\N{RACING CAR}\N{RACING CAR}.yaml, lost.csv]")
    link = page.locator("#told a").nth(1)
    expect(link).to_have_text("line 12, column 19")
    link.click()
    assert page.evaluate("text.value.slice(text.selectionStart, text.selectionEnd)") == "lost.csv]"


def test_findings_at_their_lines(page: Page) -> None:
    """Findings stand at the lines that they are of, told apart by a sign as well as by colour."""
    marks = page.locator(".gutter .error")
    assert marks.count() >= 8
    assert all(text.startswith("✕ ") for text in marks.all_inner_texts())


def test_seen_and_saved(page: Page, garage: Garage) -> None:
    """A text shows what it changes before it is saved; saving writes exactly it."""
    before = garage.build.read_text()
    _type(page, "mc_front: {part: mc-16,", "mc_front: {part: mc-19,")
    expect(page.locator("#dirty")).to_be_visible()
    page.keyboard.press("Control+Enter")
    expect(page.locator("#panel h2")).to_have_text("What your text changes")
    expect(page.locator("#panel")).to_contain_text("changed: 1 -> 2 mc-19")
    assert garage.build.read_text() == before
    page.focus("#text")
    page.keyboard.press("Control+s")
    expect(page.locator("#notice")).to_contain_text("Written: edit build.yaml.")
    assert garage.build.read_text() == before.replace("mc_front: {part: mc-16,", "mc_front: {part: mc-19,")
    expect(page.locator("#dirty")).to_be_hidden()


def test_another_file(page: Page, garage: Garage) -> None:
    """The files that the build names are edited in the same way."""
    page.locator("#editor").get_by_role("link", name="stock.yaml").click()
    expect(page.locator("#editor h2")).to_have_text("stock.yaml")
    page.fill("#text", page.input_value("#text") + ELSEWHERE)
    page.click("#save")
    expect(page.locator("#notice")).to_contain_text("stock.yaml now says so")
    assert (garage.folder / "stock.yaml").read_text().endswith(ELSEWHERE)


def test_conflict_shows_both(page: Page, garage: Garage) -> None:
    """A file that was changed elsewhere is not overwritten: the page says so and shows both; leaving keeps theirs."""
    _type(page, "name: Dunlin", "name: Dunnock")
    there = garage.build.read_text() + ELSEWHERE
    garage.build.write_text(there)
    page.click("#save")
    panel = page.locator("#panel")
    expect(panel.locator("h2")).to_have_text("Changed elsewhere meanwhile")
    expect(panel).to_contain_text("Nothing was written.")
    assert panel.locator("table").first.locator("tr.in").inner_text().endswith("+ # changed in another editor")
    assert panel.locator("table").nth(1).locator("tr.out").all_inner_texts()[0].endswith(f"{MINUS} name: Dunlin")
    assert panel.locator("table").nth(1).locator("tr.in").inner_text().endswith("+ name: Dunnock")
    assert garage.build.read_text() == there
    assert "name: Dunnock" in page.input_value("#text")
    page.click("#save")
    expect(panel.locator("h2")).to_have_text("Changed elsewhere meanwhile")
    assert garage.build.read_text() == there
    panel.get_by_role("link", name="Leave the file as it is now").click()
    expect(page.locator("#text")).to_have_value(there)
    assert garage.build.read_text() == there


def test_conflict_mine_is_chosen(page: Page, garage: Garage) -> None:
    """The reader may put the own version in the place of the other one, which can be had back."""
    _type(page, "name: Dunlin", "name: Dunnock")
    mine = page.input_value("#text")
    there = garage.build.read_text() + ELSEWHERE
    garage.build.write_text(there)
    page.click("#save")
    page.get_by_role("button", name="Write yours in its place").click()
    expect(page.locator("#notice")).to_contain_text("build.yaml now says so")
    assert garage.build.read_text() == mine
    page.click("#undo")
    expect(page.locator("#notice")).to_contain_text("Undone")
    assert garage.build.read_text() == there


def test_swap_conflict(page: Page, garage: Garage) -> None:
    """A change that was seen is not made in a file that has become another one; it can be seen again in that."""
    page.locator('#joints a:text-is("tee_axle")').click()
    page.locator("#panel .others").get_by_role("link", name="tee-axle-bubble", exact=True).click()
    expect(page.locator("#accept")).to_be_visible()
    there = garage.build.read_text() + ELSEWHERE
    garage.build.write_text(there)
    page.click("#accept")
    expect(page.locator("#panel h2")).to_have_text("Changed elsewhere meanwhile")
    assert garage.build.read_text() == there
    page.get_by_role("link", name="See the same change in it").click()
    expect(page.locator("#panel h2")).to_have_text("What it changes")
    page.click("#accept")
    expect(page.locator("#notice")).to_contain_text("Written")
    assert garage.build.read_text() == there.replace("tee-axle-double, on", "tee-axle-bubble, on")


def test_undo_conflict(page: Page, garage: Garage) -> None:
    """Undo does not overwrite what was written elsewhere since."""
    _type(page, "name: Dunlin", "name: Dunnock")
    page.click("#save")
    expect(page.locator("#notice")).to_contain_text("Written")
    there = garage.build.read_text() + ELSEWHERE
    garage.build.write_text(there)
    page.click("#undo")
    expect(page.locator("#panel h2")).to_have_text("Changed elsewhere meanwhile")
    assert garage.build.read_text() == there
    expect(page.locator("#panel")).to_contain_text(f"as it is now ({MINUS}), yours (+)")


def test_change_elsewhere_is_noticed(page: Page, garage: Garage) -> None:
    """A page that is open says that a file was changed elsewhere, and shows it when asked to."""
    garage.build.write_text(garage.build.read_text().replace("name: Dunlin", "name: Dunnock"))
    page.get_by_role("button", name="Show it as it is now").click()
    expect(page.locator("h1")).to_have_text("Dunnock")
    expect(page.locator("#text")).to_have_value(garage.build.read_text())


def test_unreadable_build(page: Page, garage: Garage) -> None:
    """A build that cannot be read still has its page: the errors, and the file to put them right in."""
    garage.build.write_text(garage.build.read_text().replace("mass: 690 kg", "mass: 690"))
    page.goto(garage.url)
    expect(page.locator("#head")).to_contain_text("the build cannot be read")
    page.locator("#findings a.line").click()
    assert page.evaluate("text.value.slice(text.selectionStart, text.selectionEnd)") == "690"
    _type(page, "mass: 690", "mass: 690 kg")
    expect(page.locator("#told")).to_contain_text("10 errors")
    page.click("#save")
    expect(page.locator("h1")).to_have_text("Dunlin")
    assert page.locator(".drawing svg a.joint").count() == 34
