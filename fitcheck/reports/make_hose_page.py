"""The page of one hose to print: what to order, how it hangs, how to fit it, and the hose drawn to scale."""

from collections.abc import Iterable, Iterator
from html import escape

from fitcheck.making.hose_sheet import HoseSheet
from fitcheck.reports.make_hose_drawing import Block, hose_drawing
from fitcheck.reports.make_hoses import (
    ABOUT,
    end_words,
    facts,
    fitting_steps,
    hose_concern,
    hose_fault,
    missing_words,
    positions,
)
from fitcheck.reports.plain import visible


def hose_told(sheet: HoseSheet, unit: str) -> Iterator[str | Block]:
    """Yield what stands on a hose's page: HTML, and its drawing."""
    yield f"<h1>{_safe(sheet.tag)}: {_safe(sheet.part)}</h1>"
    for words in (
        *([sheet.description] if sheet.description else ()),
        *map(end_words, sheet.ends),
        *facts(sheet, unit),
    ):
        yield f"<p>{_safe(words)}</p>"
    if sheet.faults:
        yield '<div class="faults">Will not do:<ul>'
        yield from _items(hose_fault(fault, unit) for fault in sheet.faults)
        yield "</ul></div>"
    yield from _headed("Positions", "ul", positions(sheet, unit))
    drawing = hose_drawing(sheet, unit, 0.0)
    if drawing is not None:
        yield drawing
    yield from _headed("How to fit it", "ol", fitting_steps(sheet, unit))
    yield from _headed("Look at", "ul", (hose_concern(concern, unit) for concern in sheet.concerns))
    if sheet.missing:
        yield f"<p>{_safe(missing_words(sheet))}</p>"
    yield f"<p>{escape(ABOUT)}</p>"


def _headed(head: str, kind: str, sentences: Iterable[str]) -> Iterator[str]:
    items = list(_items(sentences))
    if items:
        yield f"<h2>{head}</h2><{kind}>"
        yield from items
        yield f"</{kind}>"


def _items(sentences: Iterable[str]) -> Iterator[str]:
    return (f"<li>{_safe(words)}</li>" for words in sentences)


def _safe(words: str) -> str:
    return escape(visible(words))
