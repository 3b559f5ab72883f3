"""The page's panels of figures: the pedal with its plots, and what to buy where."""

import re
from collections.abc import Iterator
from typing import Final

from fitcheck.service.answers.source import Answer, AskedError, Options, Source
from fitcheck.service.page.known import looked
from fitcheck.service.page.told import lower

HTML: Final = "text/html"
_NO_PEDAL: Final = "The build says nothing of a pedal: what its parts alone say is computed."
_FOLDED: Final = ("FLUID TAKEN", "HOSES AND HARD LINES", "ASSUMED")
"""Headings of what few readers want at once: it is folded under them."""
_PARTS: Final = re.compile(r"(?=<h3>)")
_TAG: Final = re.compile(r"<[a-z][^<>]* style=\"[^\"<>]*\"[^<>]*>")
_STYLE: Final = re.compile(r" style=\"([^\"<>]*)\"")
_RULES: Final = re.compile(r"<style\b.*?</style>", re.DOTALL)


def pedal(source: Source, options: Options) -> Answer:
    """Return the pedal's figures as HTML, and what is missing for more, as `fitcheck pedal` tells them."""
    from fitcheck.hydraulics.answer import has_pedal
    from fitcheck.reports.pack.markup import paragraph
    from fitcheck.reports.pack.sheets import pedal_figures_told

    found = looked(source, options)
    said = "" if has_pedal(found.context.file) else paragraph(_NO_PEDAL)
    *figures, limits = pedal_figures_told(found.pedal)
    parts = _PARTS.split(lower("".join(figures), by=-1))
    return Answer("".join((said, *map(_folded, parts), limits)), media=HTML)


def _folded(part: str) -> str:
    """Return a piece that begins with a heading, folded under it if it is one of those."""
    if not part.removeprefix("<h3>").startswith(_FOLDED):
        return part
    head, body = part.split("</h3>", 1)
    return f'<details class="fold"><summary>{head}</h3></summary>{body}</details>'


def plots(source: Source, options: Options) -> Answer:
    """Return the pedal's plots as drawings within HTML, or why there are none."""
    from fitcheck.reports.pack.sheets import pedal_plots_told
    from fitcheck.reports.pedal_svg import NothingToPlotError

    found = looked(source, options).pedal
    html = unstyled("".join(pedal_plots_told(found)))
    if not html:
        raise AskedError(str(NothingToPlotError([gap.missing for gap in found.gaps])))
    return Answer(html.replace('<div class="drawing plots">', '<div class="wide plot">'), media=HTML)


def unstyled(svg: str) -> str:
    """Return drawings with each style as attributes, which mean the same: the page's policy allows no style in it.

    >>> unstyled('<svg><style>*{}</style><path d="M0 0" style="fill: none; stroke: #000"/></svg>')
    '<svg stroke-linejoin="round"><path d="M0 0" fill="none" stroke="#000"/></svg>'
    """
    bare = _RULES.sub("", svg).replace("<svg", '<svg stroke-linejoin="round"')
    return _TAG.sub(lambda found: _STYLE.sub(lambda style: "".join(_attributes(style[1])), found[0]), bare)


def _attributes(style: str) -> Iterator[str]:
    for rule in style.split(";"):
        name, _, value = rule.partition(":")
        if value.strip():
            yield f' {name.strip()}="{value.strip()}"'


def purchase(source: Source, options: Options) -> Answer:
    """Return what to buy where, what it costs and when each circuit can be finished, or what waiting saves, as HTML."""
    from fitcheck.reports.pack.shopping import order_told, trade_off_told
    from fitcheck.service.answers.purchase import purchase_of

    found = looked(source, options)
    made = purchase_of(found.context, options, found.report)
    if made.planned is None:
        return Answer("".join(trade_off_told(made.rows, made.on)), media=HTML)
    return Answer("".join(order_told(*made.planned, made.errors)), media=HTML)
