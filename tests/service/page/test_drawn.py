"""Drawings in the page: links around what can be looked at, and nothing lost."""

import re
from urllib.parse import parse_qs, urlsplit
from xml.etree import ElementTree

import pytest

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.checks.context import Context
from fitcheck.checks.run import check_context
from fitcheck.reports.drawing import Drawing
from fitcheck.service.page.drawn import VIEWS, Links, colours, drawn, linked
from fitcheck.service.page.keys import names_of
from tests.service.answer_schemas import DEMO


@pytest.mark.parametrize("view", VIEWS)
def test_every_view(view: str) -> None:
    """Every joint, part and mark is a link or in one; no link is within another; no style is left in the drawing."""
    context = Context(assemble(load(DEMO)))
    report = check_context(context)
    names = names_of(report.findings)
    svg = drawn(context, report, Links(view, "as_corrected", "5" * 64, names))
    root = ElementTree.fromstring(svg)
    links = list(root.iter("a"))
    assert links
    assert all(each.get("href", "").startswith(f"/?view={view}&variant=as_corrected&at=") for each in links)
    marks = [each for each in root.iter() if each.get("data-finding")]
    for mark in marks:
        name = f"finding {names[int(mark.get('data-finding', '')) - 1]}"
        said = parse_qs(urlsplit(mark.get("data-look", "")).query)
        assert (mark.get("data-name"), said["at"], said["of"]) == (name, [name], ["5" * 12])
    assert not any(inner is not each for each in links for inner in each.iter("a"))
    inside = {id(part) for each in links for part in each.iter()}
    told = [each for each in root.iter() if each.get("data-at") or each.get("data-finding")]
    assert all(id(each) in inside for each in told)
    assert "<style" not in svg
    assert " style=" not in svg
    if view == "circuit":
        assert sum(each.get("class") == "joint" for each in links) == len(context.graph.joints)


def test_hostile_names_stay_text() -> None:
    """A name that would be markup is text, in the link's address and in its label."""
    evil = "&quot;&gt;&lt;script&gt;"
    made = linked(
        Drawing(10.0, 10.0, '"><script>', "", (f'<g data-tag="{evil}"><title>x</title></g>',)), Links("circuit", '"<')
    )
    root = ElementTree.fromstring(made)
    assert root.get("aria-label") == '"><script>'
    assert next(root.iter("a")).get("href") == "/?view=circuit&variant=%22%3C&at=%22%3E%3Cscript%3E#panel"
    assert "<script" not in made


def test_colours_follow_the_reader() -> None:
    """The dark colours are for the screen only: paper is white."""
    assert re.match(r"@media screen and \(prefers-color-scheme:dark\)\{\.s-ink\{stroke:#f2f2f2\}", colours())
