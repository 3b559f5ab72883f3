"""Filling, bleeding and leak-testing as pages to print, tick and sign. No script, nothing from outside."""

from collections.abc import Iterable, Iterator
from html import escape
from typing import Final

from fitcheck.bom.bleed_sheet import BleedSheet
from fitcheck.hydraulics.leak_test import Joined
from fitcheck.measures import Units
from fitcheck.reports.bleed_words import LEAK, leak_texts, mark_texts, ml, sentences, torque_text
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.make_page import EDGE_MM, SIZES, Paper
from fitcheck.reports.plain import visible

_STYLE: Final = """
@page{{size:{paper} portrait;margin:{edge}mm}}
*{{box-sizing:border-box}}
body{{font:10pt/1.35 sans-serif;margin:0;color:#000;background:#fff}}
section{{break-before:page}}section:first-of-type{{break-before:auto}}
h1{{font-size:17pt;margin:0 0 2mm}}h2{{font-size:12pt;margin:4mm 0 1mm;break-after:avoid}}
ul{{margin:0;padding-left:5mm}}li,tr{{break-inside:avoid}}
table{{border-collapse:collapse;width:100%;font-size:9pt;margin:2mm 0}}thead{{display:table-header-group}}
td,th{{border:.2mm solid #000;padding:.8mm 1.2mm;text-align:left;overflow-wrap:anywhere}}
th{{overflow-wrap:normal}}
.n{{text-align:right;white-space:nowrap}}.box{{width:17mm;text-align:center}}
.box i{{display:inline-block;width:4mm;height:4mm;border:.3mm solid #000}}
.sign td{{height:11mm;vertical-align:top;width:25%}}
.caution{{font-size:8pt;border-top:.3mm solid #000;margin-top:4mm;padding-top:1mm}}
@media screen{{body{{margin:8mm;max-width:190mm}}}}
"""
_WAYS: Final = ("", "Bleed screw", "Circuit", "Before it", "With it", "Let out", "Strokes to fill", "to flush", "Done")
_JOINTS: Final = ("Joint", "Thread", "Between", "Torque", "Tightened", "Dry, low", "Dry, high")
_FEEDS: Final = (*_JOINTS[:-2], "Dry")
_SIGN: Final = ("Low: {0} and hours", "High: {0} and minutes", "Pedal sank: {1}", "Tested by, date, signature")


def bleed_html(sheet: BleedSheet, paper: Paper = "a4") -> str:
    """Return the sheet as one HTML document that prints on `paper`: each leak test from a page of its own."""
    title = f"{sheet.bleed.build}: filling, bleeding, leak test"
    style = _STYLE.format(paper=SIZES[paper][0], edge=f"{EDGE_MM:g}")
    return "\n".join(
        [
            '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">',
            f"<title>{_safe(title)}</title><style>{style}</style></head><body>",
            *bleed_pages(sheet, title),
            "</body></html>",
        ]
    )


def bleed_pages(sheet: BleedSheet, title: str) -> Iterator[str]:
    """Yield the pages as HTML, each a section: filling and bleeding under `title`, leak tests, feeds and torques."""
    marks: list[str] = []
    yield from _filling(sheet, title)
    yield from _tests(sheet, marks)
    yield from _feeds(sheet, marks)


def _filling(sheet: BleedSheet, title: str) -> Iterator[str]:
    yield f"<section><h1>{_safe(title)}</h1>"
    for head, told in sentences(sheet):
        yield f"<h2>{_safe(head)}</h2>"
        if head == "Order of bleeding":
            yield from _ways(sheet)
            told = told[len(sheet.bleed.ways) :]
        yield _list(told)
    yield f"{_CAUTION}</section>"


def _ways(sheet: BleedSheet) -> Iterator[str]:
    yield f"<table><thead><tr>{_heads(_WAYS)}</tr></thead><tbody>"
    for place, way in enumerate(sheet.bleed.ways, 1):
        least = "at least " if way.unknown else ""
        screws = f" ({way.screws} screws)" if way.screws is not None and way.screws > 1 else ""
        name = f"{way.at}{screws}" + (f", banjo bolt at {way.ref}" if way.by_bolt else "")
        volumes = (way.before_mm3, way.mm3, way.flush_mm3)
        counts = ("not known" if count is None else str(count) for count in (way.fill_strokes, way.flush_strokes))
        numbers = (str(place), *(f"{least}{ml(volume)}" for volume in volumes), *counts)
        yield f'<tr><td class="n">{numbers[0]}</td><td>{_safe(name)}</td>'
        yield f"<td>{_safe(' and '.join(way.circuits) or way.outlet)}</td>"
        yield "".join(f'<td class="n">{_safe(cell)}</td>' for cell in numbers[1:]) + f"{_BOX}</tr>"
    yield "</tbody></table>"


def _tests(sheet: BleedSheet, marks: list[str]) -> Iterator[str]:
    for test in sheet.tests.tests:
        yield f"<section><h1>{_safe(sheet.bleed.build)}: leak test of {_safe(test.name)}</h1>"
        yield _list(leak_texts(test, sheet.units))
        yield from _joints(test.joints, marks, sheet.units)
        gauge = "psi" if sheet.units.pounds else "bar"
        signed = "".join(f"<td>{_safe(words.format(gauge, sheet.units.length))}</td>" for words in _SIGN)
        yield f'<table class="sign"><tbody><tr>{signed}</tr></tbody></table>'
        yield f"<h2>On a leak</h2>{_list(LEAK)}{_CAUTION}</section>"


def _feeds(sheet: BleedSheet, marks: list[str]) -> Iterator[str]:
    yield "<section>"
    if sheet.tests.feeds:
        yield "<h2>Feeds: no pressure, look at them when the reservoirs are full</h2>"
        yield from _joints(sheet.tests.feeds, marks, sheet.units, _FEEDS)
    yield f"<h2>Torques</h2>{_list(mark_texts(marks))}{_CAUTION}</section>"


def _joints(
    joints: Iterable[Joined], marks: list[str], units: Units, heads: tuple[str, ...] = _JOINTS
) -> Iterator[str]:
    yield f"<table><thead><tr>{_heads(heads)}</tr></thead><tbody>"
    for joined in joints:
        cells = (joined.what, joined.thread or "", " and ".join(joined.at), torque_text(joined, marks, units))
        yield f"<tr>{''.join(f'<td>{_safe(cell)}</td>' for cell in cells)}{_BOX * (len(heads) - len(cells))}</tr>"
    yield "</tbody></table>"


_BOX: Final = '<td class="box"><i></i></td>'
_CAUTION: Final = f'<p class="caution">{escape(CAUTION)}</p>'


def _heads(heads: Iterable[str]) -> str:
    return "".join(f"<th>{head}</th>" for head in heads)


def _list(told: Iterable[str]) -> str:
    return f"<ul>{''.join(f'<li>{_safe(words)}</li>' for words in told)}</ul>"


def _safe(words: str) -> str:
    return escape(visible(words))
