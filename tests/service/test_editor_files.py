"""Texts in an editor against files on the disk, what is said of them, and the edits that turn one text into another."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.service.editor.actions import edits_between
from fitcheck.service.editor.diagnose import diagnose
from fitcheck.service.editor.texts import Open, Shelves, kind_of_text

HOUSE = "catalog: 1\nparts:\n  house-tee: {kind: tee}\n"


def build(name: str) -> str:
    """Return a build that names one catalog and a part of it."""
    return f"build: 1\ncatalogs: [{name}]\ncomponents:\n  a: {{part: house-tee}}\n"


@pytest.mark.parametrize("way", ["beside", "above", "absolute"])
def test_files_are_found_as_the_disk_finds_them(tmp_path: Path, way: str) -> None:
    """A catalog beside, above or anywhere else by its whole path is read, and known to be one that the build names."""
    (tmp_path / "cars").mkdir()
    house = tmp_path / ("cars/house.yaml" if way == "beside" else "house.yaml")
    house.write_text(HOUSE, encoding="utf-8")
    name = {"beside": "house.yaml", "above": "../house.yaml", "absolute": house.as_posix()}[way]
    path = tmp_path / "cars" / "build.yaml"
    found = diagnose(Open({path: build(name)}), path, Shelves())
    assert [said.message for said in found.said[path] if said.rule == "part-unknown"] == []
    assert found.named == {house}


def test_problem_of_a_named_file_is_shown_in_that_file(tmp_path: Path) -> None:
    """An error in a catalog that is not open stands in the catalog, at its word."""
    house = tmp_path / "house.yaml"
    house.write_text(HOUSE.replace("tee}", "tea}"), encoding="utf-8")
    path = tmp_path / "build.yaml"
    found = diagnose(Open({path: build("house.yaml")}), path, Shelves())
    (said,) = found.said[house]
    assert said.message.startswith("'tea' is no kind of part; nearest is 'tee'")
    assert house.read_text(encoding="utf-8")[said.span.start : said.span.end] == "tea"
    assert found.said[path] == ()


def test_a_catalog_that_changes_is_read_again(tmp_path: Path) -> None:
    """Catalogs are kept only while their content is the same."""
    house, path, shelves = tmp_path / "house.yaml", tmp_path / "build.yaml", Shelves()
    house.write_text(HOUSE, encoding="utf-8")
    files = Open({path: build("house.yaml")})
    assert not any(said.rule == "part-unknown" for said in diagnose(files, path, shelves).said[path])
    house.write_text(HOUSE.replace("house-tee", "other-tee"), encoding="utf-8")
    assert any(said.rule == "part-unknown" for said in diagnose(files, path, shelves).said[path])


def test_offers_and_stock_of_a_build_are_looked_at(tmp_path: Path) -> None:
    """What is wrong with offers and stock that a build names is shown in those files."""
    for name, text in (("offers", "offers: 1\nsuppliers: {}\nprices: 3\n"), ("stock", "stock: 1\nshelf: x\n")):
        (tmp_path / f"{name}.yaml").write_text(text, encoding="utf-8")
    path = tmp_path / "build.yaml"
    text = "build: 1\noffers: [offers.yaml]\nstock: stock.yaml\n"
    found = diagnose(Open({path: text}), path, Shelves())
    assert [said.message for said in found.said[tmp_path / "offers.yaml"]] == ["expected a list, got text '3'"]
    assert [said.message for said in found.said[tmp_path / "stock.yaml"]] == ["expected a list, got text 'x'"]


@pytest.mark.parametrize(
    ("text", "kind"),
    [("build: 1\n  x: [", "build"), ("# a\ncatalog: 1\n{", "catalog"), ("offers: [a", None), ("services: [", None)],
)
def test_kind_of_a_broken_text(text: str, kind: str | None) -> None:
    """A text that cannot be read is ours only if it says so with a version."""
    assert kind_of_text(text) == kind


@settings(derandomize=True)
@given(st.lists(st.sampled_from("abc"), max_size=12), st.lists(st.sampled_from("abc"), max_size=12), st.booleans())
def test_edits_turn_one_text_into_the_other(old: list[str], new: list[str], ended: bool) -> None:
    """Made from the last to the first, the edits give the new text; equal texts need none."""
    before, after = "\n".join(old) + "\n" * ended, "\n".join(new) + "\n" * ended
    text = before
    for edit in reversed(edits_between(before, after)):
        text = text[: edit.start] + edit.text + text[edit.end :]
    assert text == after
    assert edits_between(before, before) == ()
