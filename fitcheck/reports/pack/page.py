"""A pack as one HTML document: no script, nothing from outside; light and dark, on a phone and on paper."""

import re
from collections.abc import Iterator
from typing import Final, NamedTuple

from fitcheck.reports.make_page import SIZES
from fitcheck.reports.pack.markup import WIDE, in_style, safe
from fitcheck.reports.pack.record import Pack, Section
from fitcheck.reports.pack.sheets import caution_told

MADE_BY: Final = "fitcheck pack"
"""Stands in both files, so that a later run knows its own."""
_HEADING: Final = re.compile(r"<h3>(.*?)</h3>")

_STYLE: Final = """
@page{{size:{paper} portrait;margin:10mm 10mm 14mm;
@bottom-left{{content:"{foot}";font:7pt sans-serif}}@bottom-right{{content:counter(page);font:7pt sans-serif}}}}
:root{{--ink:#000;--soft:#444;--paper:#fff;--line:#777;--alarm:#b33a00;--link:#00518a;color-scheme:light dark}}
@media screen and (prefers-color-scheme:dark){{
:root{{--ink:#f2f2f2;--soft:#c4c4c4;--paper:#161616;--line:#8a8a8a;--alarm:#ff8a3d;--link:#8ecbf5}}}}
*{{box-sizing:border-box}}
body{{font:1rem/1.45 sans-serif;margin:0 auto;max-width:60rem;padding:1rem;color:var(--ink);background:var(--paper);
overflow-wrap:anywhere}}
a{{color:var(--link)}}
h1{{font-size:2rem;margin:.5rem 0}}h2{{font-size:1.6rem;margin:2.5rem 0 .5rem;border-bottom:2px solid var(--line)}}
h3{{font-size:1.25rem;margin:1.6rem 0 .4rem}}h4{{font-size:1.05rem;margin:1.1rem 0 .3rem}}
h2,h3,h4{{break-after:avoid}}p{{margin:.25rem 0}}ul,ol{{margin:.3rem 0;padding-left:1.6rem}}li{{break-inside:avoid}}
.item{{padding-left:1rem}}.more{{padding-left:2.2rem;color:var(--soft)}}
.wide{{overflow-x:auto}}
table{{border-collapse:collapse;width:100%;margin:.5rem 0;font-size:.9em}}thead{{display:table-header-group}}
td,th{{border:1px solid var(--line);padding:.2rem .45rem;text-align:left;vertical-align:top;overflow-wrap:normal}}
tr{{break-inside:avoid}}.n{{text-align:right;white-space:nowrap}}.bends .n{{font-weight:bold}}
.order p{{margin:.1rem 0;color:var(--soft)}}
.warning,.alarm{{color:var(--alarm);font-weight:bold}}
.warning{{font-size:1.5rem;border:4px solid var(--alarm);padding:.6rem 1rem}}
.facts{{display:grid;grid-template-columns:max-content 1fr;gap:.15rem 1rem}}.facts dt{{font-weight:bold}}
.facts dd{{margin:0}}
.finding{{border-left:4px solid var(--line);padding-left:.8rem;margin:.8rem 0;break-inside:avoid}}
.finding.error{{border-left:8px double var(--alarm)}}
.faults{{border:3px solid var(--alarm);padding:.5rem;font-weight:bold}}
.caution{{font-size:.85em;border-top:1px solid var(--line);margin-top:1rem;padding-top:.3rem;color:var(--soft)}}
.drawing{{margin:.6rem 0;overflow-x:auto}}
.drawing>svg{{display:block;max-width:100%;height:auto;background:#fff}}.drawing.paged>svg{{width:100%}}
@media screen{{.drawing.paged>svg{{min-width:58rem}}.order td:nth-child(4){{min-width:14rem}}}}
.box{{text-align:center}}
.box i,i.tick{{display:inline-block;width:1em;height:1em;border:1.5px solid var(--ink);vertical-align:middle}}
.sign td{{height:3rem}}
.page ol>li{{position:relative;padding-left:1.7em}}
.page ol>li::before{{content:"";position:absolute;left:.3em;top:.25em;width:.9em;height:.9em;
border:1.5px solid var(--ink)}}
nav ol{{list-style:none;padding-left:1rem}}nav>ol{{padding-left:0}}
footer{{font-size:.85em;color:var(--soft)}}
@media print{{body{{font-size:9.5pt;line-height:1.3;max-width:none;padding:0}}a{{color:inherit;text-decoration:none}}
section,.page,.drawings h3{{break-before:page}}section>.page:first-of-type,.drawings h2+h3{{break-before:auto}}
.wide,.drawing{{overflow:visible}}.drawing>svg{{max-width:none;height:auto}}
.drawing.paged>svg{{max-width:100%;max-height:235mm}}h1{{font-size:20pt}}h2{{font-size:16pt}}h3{{font-size:12pt}}
h4{{font-size:10pt}}}}
"""


class Entry(NamedTuple):
    """A section as the table of contents has it: its anchor, its title, and its own headings as HTML."""

    anchor: str
    title: str
    headings: tuple[tuple[str, str], ...]
    body: tuple[str, ...]
    drawings: bool = False


def pack_html(pack: Pack, paper: str = "a4") -> str:
    """Return the pack as one HTML document that prints on `paper`. Same input, same text."""
    entries = [entry(place, section) for place, section in enumerate(pack.sections, 1)]
    style = _STYLE.format(paper=SIZES[paper][0], foot=in_style(f"{pack.build}, {pack.revision.words}"))
    return "\n".join(
        [
            '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">',
            f'<meta name="generator" content="{MADE_BY}">',
            '<meta name="viewport" content="width=device-width,initial-scale=1">',
            f"<title>{safe(pack.build)}: pack</title><style>{style}</style></head><body>",
            *cover(pack),
            *_contents(entries),
            "<main>",
            *(part for each in entries for part in _section(each)),
            f"</main><footer><p>{safe(pack.revision.words)}</p></footer></body></html>\n",
        ]
    )


def entry(place: int, section: Section) -> Entry:
    """Return a section with an anchor at each of its headings."""
    anchor = f"s{place}"
    found: list[tuple[str, str]] = []

    def anchored(words: "re.Match[str]") -> str:
        found.append((f"{anchor}-{len(found) + 1}", words[1]))
        return f'<h3 id="{found[-1][0]}">{words[1]}</h3>'

    body = tuple(_HEADING.sub(anchored, part) for part in section.body)
    return Entry(anchor, section.title, tuple(found), body, section.drawings)


def cover(pack: Pack) -> Iterator[str]:
    """Yield what stands on the first page."""
    yield f"<header><h1>{safe(pack.build)}</h1>"
    yield "<p>Brake and clutch plumbing: drawings, findings, shopping list, sheets to work from.</p>"
    if pack.warning:
        yield f'<p class="warning">{safe(pack.warning)}</p>'
    yield f"<p>{safe(pack.summary)}</p>"
    yield '<dl class="facts">'
    variant = pack.revision.variant
    facts = (*pack.facts, ("Variant", variant if variant is not None else "none, as the file stands"))
    for name, words in (*facts, ("Date", pack.revision.on.isoformat()), ("Revision", pack.revision.hash)):
        yield f"<dt>{safe(name)}</dt><dd>{safe(words)}</dd>"
    yield f"</dl>{WIDE}<table><thead><tr><th>made from</th><th>SHA-256</th></tr></thead><tbody>"
    for stamp in pack.revision.files:
        yield f"<tr><td>{safe(stamp.name)}</td><td>{stamp.short}</td></tr>"
    yield f"</tbody></table></div>{caution_told()}</header>"


def _contents(entries: list[Entry]) -> Iterator[str]:
    yield '<nav aria-label="Contents"><h2>Contents</h2><ol>'
    for each in entries:
        yield f'<li><a href="#{each.anchor}">{safe(each.title)}</a>'
        if each.headings:
            links = (f'<li><a href="#{anchor}">{words}</a></li>' for anchor, words in each.headings)
            yield f"<ol>{''.join(links)}</ol>"
        yield "</li>"
    yield "</ol></nav>"


def _section(each: Entry) -> Iterator[str]:
    look = ' class="drawings"' if each.drawings else ""
    yield f'<section id="{each.anchor}"{look}><h2>{safe(each.title)}</h2>'
    yield from each.body
    yield "</section>"
