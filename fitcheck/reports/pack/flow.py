"""Sections of a pack as reportlab's flowables: the HTML of a section, element by element."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any, Final
from xml.etree.ElementTree import Element

from fitcheck.reports import pdf_fonts as fonts
from fitcheck.reports.pack.looks import ALARM, FRAME_MM, LINE, MM, TEXT_MM, Looks
from fitcheck.reports.pack.parts import Figure, Grid, Headline, Tick
from fitcheck.reports.pack.turned import Words
from fitcheck.reports.pdf_figures import size_pt
from fitcheck.reports.pdf_painting import picture

_PAD: Final = 3.0
_LOOKS: Final = frozenset(("item", "more", "alarm", "warning", "caution"))
_LEAST_COLUMN: Final = 14.0
_MOST_LEAST: Final = 0.3
"""Share of a table that the longest word of a column may claim: longer ones are broken."""
_FIRST_ROWS: Final = 110.0
"""Room that a heading wants with the first rows of its table [pt]."""
_PLOTS_HEADING: Final = 60.0
"""Room that the heading before plots takes [pt], so that both stand on one page."""


class Flow:
    """Makes flowables of elements; `most` is how high a drawing may be [pt]: what is higher is shrunk."""

    def __init__(self, looks: Looks, most: float) -> None:
        self.looks = looks
        self.most = most

    def of(self, parent: Element) -> Iterator[Any]:
        """Yield the flowables of everything within an element."""
        children = list(parent)
        for place, child in enumerate(children):
            if child.tag in ("h3", "h4"):
                yield from self.heading(child, children[place + 1] if place + 1 < len(children) else None)
            else:
                yield from _KINDS.get(child.tag, _inside)(self, child)

    def heading(self, element: Element, following: Element | None = None) -> Iterator[Any]:
        """Yield a heading; what has an anchor goes into the table of contents.

        It stays with what follows, but a table may end on the next page: with its first rows.
        """
        from reportlab.platypus import CondPageBreak

        before_table = following is not None and following.find("table") is not None
        if before_table:
            yield CondPageBreak(_FIRST_ROWS)
        made = Headline(markup(element), self.looks[f"{element.tag}{'-table' if before_table else ''}"])
        if "id" in element.attrib:
            made.contents = (int(element.tag[1]) - 2, "".join(element.itertext()), element.attrib["id"])
        yield made

    def paragraph(self, element: Element, style: str, **more: Any) -> Any:
        """Return an element's words as a paragraph."""
        return Words(markup(element), self.looks[style], **more)


def markup(element: Element) -> str:
    """Return the words of an element as reportlab's markup: bold stays bold, all else is plain text."""
    parts = [fonts.marked(element.text or "")]
    for child in element:
        inner = markup(child)
        parts.append(f"<b>{inner}</b>" if child.tag == "b" else inner)
        parts.append(fonts.marked(child.tail or ""))
    return "".join(parts)


def _inside(flow: Flow, element: Element) -> Iterator[Any]:
    return flow.of(element)


def _heading(flow: Flow, element: Element) -> Iterator[Any]:
    yield flow.paragraph(element, element.tag)


def _words(flow: Flow, element: Element) -> Iterator[Any]:
    look = element.get("class", "")
    yield flow.paragraph(element, look if look in _LOOKS else "text")


def _list(flow: Flow, element: Element) -> Iterator[Any]:
    style = flow.looks["item"]
    wide = 26.0 if element.tag == "ol" else 10.0
    base = style.clone("listed", leftIndent=style.leftIndent + wide, bulletIndent=style.leftIndent)
    for place, item in enumerate(element, 1):
        if element.tag == "ol":
            yield Tick(Words(f"{place}. {markup(item)}", base), base.bulletIndent)
        else:
            yield Words(markup(item), base, bulletText="\u2022")


def _div(flow: Flow, element: Element) -> Iterator[Any]:
    from reportlab.platypus import CondPageBreak, KeepTogether, PageBreak

    looks = element.get("class", "").split()
    if "drawing" in looks:
        yield from _drawn(flow, element)
        return
    inside = list(flow.of(element))
    if "page" in looks:
        yield PageBreak()
    if "faults" in looks:
        yield _boxed(flow, element)
    elif "finding" in looks:
        yield CondPageBreak(40.0)
        yield KeepTogether(inside)
    else:
        yield from inside


def _drawn(flow: Flow, element: Element) -> Iterator[Any]:
    most = flow.most - (_PLOTS_HEADING if "plots" in element.get("class", "").split() else 0.0)
    for svg in element.findall("svg"):
        wide, high = size_pt(svg)
        scale = min(1.0, FRAME_MM * MM / wide, most / high)
        yield Figure(lambda svg=svg: picture(svg), wide, high, scale)  # type: ignore[misc]


def _boxed(flow: Flow, element: Element) -> Any:
    """Return what must not be passed over, in a frame."""
    from reportlab.platypus import TableStyle

    words = [element.text or "", *(f"\u2022 {''.join(item.itertext())}" for item in element.iter("li"))]
    rows = [[Words(f"<b>{fonts.marked(each)}</b>", flow.looks["cell"])] for each in words]
    rules: list[Any] = [("BOX", (0, 0), (-1, -1), 1.5, ALARM), ("TOPPADDING", (0, 0), (-1, -1), 2)]
    return Grid(rows, colWidths=[TEXT_MM * MM], style=TableStyle(rules), hAlign="CENTER", splitInRow=1, spaceAfter=6)


def _table(flow: Flow, element: Element) -> Iterator[Any]:
    from reportlab.platypus import TableStyle

    heads = element.findall("thead/tr")
    rows = [*heads, *element.findall("tbody/tr")]
    if not element.findall("tbody/tr"):
        return
    sign = element.get("class") == "sign"
    cells = [[_cell(flow, cell) for cell in row] for row in rows]
    widths = column_widths([[_extent(cell) for cell in row] for row in rows], TEXT_MM * MM)
    if sign:
        widths = [TEXT_MM * MM / len(widths)] * len(widths)
    rules: list[Any] = [
        ("GRID", (0, 0), (-1, -1), 0.5, LINE),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), _PAD),
        ("RIGHTPADDING", (0, 0), (-1, -1), _PAD),
        ("TOPPADDING", (0, 0), (-1, -1), 1.5),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 2.5),
        *([("BACKGROUND", (0, 0), (-1, len(heads) - 1), "#e8e8e8")] if heads else []),
    ]
    yield Grid(
        cells, colWidths=widths, rowHeights=[34.0] if sign else None, repeatRows=len(heads), splitInRow=int(not sign),
        style=TableStyle(rules), hAlign="CENTER", spaceBefore=3, spaceAfter=6,
    )  # fmt: skip


def _cell(flow: Flow, cell: Element) -> Any:
    """Return what is in a cell: a box to tick, or its paragraphs."""
    from reportlab.lib.enums import TA_RIGHT

    if cell.find("i") is not None:
        return Tick(None, 1.0)
    style = flow.looks["head" if cell.tag == "th" else "cell"]
    if cell.get("class") == "n":
        style = style.clone("right", alignment=TA_RIGHT)
    first, *others = _lines(cell)
    return [Words(first, style), *(Words(each, style) for each in others)]


def _lines(cell: Element) -> list[str]:
    """Return a cell's lines as markup: what stands in it by itself, then each of its paragraphs."""
    own = fonts.marked(cell.text or "") + "".join(f"<b>{markup(each)}</b>" for each in cell if each.tag == "b")
    return [own, *(markup(each) for each in cell if each.tag == "p")]


def _extent(cell: Element) -> tuple[float, float]:
    """Return how wide a cell is at least, its longest word, and how wide it would like to be [pt]."""
    if cell.find("i") is not None:
        return _LEAST_COLUMN, _LEAST_COLUMN
    texts = [(cell.text or "") + "".join("".join(each.itertext()) for each in cell if each.tag == "b")]
    texts += ["".join(each.itertext()) for each in cell if each.tag == "p"]
    bold = cell.tag == "th" or cell.find("b") is not None
    size = 8.0
    words = [word for text in texts for word in text.split()]
    longest = max((fonts.width(word, size, bold) for word in words), default=0.0)
    whole = max((fonts.width(text, size, bold) for text in texts), default=0.0)
    pad = 2.0 * _PAD + 1.0
    return longest + pad, whole + pad


def column_widths(rows: Sequence[Sequence[tuple[float, float]]], most: float) -> list[float]:
    """Return the widths of columns from the least and the wanted width of each cell; together they are `most`.

    Each column gets its longest word if all of that fits, and of the rest a share by what it would like more.

    >>> column_widths([[(20.0, 20.0), (20.0, 60.0)]], 100.0)
    [25.0, 75.0]
    """
    columns = list(zip(*rows, strict=True))
    least = [max(_LEAST_COLUMN, min(_MOST_LEAST * most, max(cell[0] for cell in column))) for column in columns]
    wanted = [max(low, *(cell[1] for cell in column)) for low, column in zip(least, columns, strict=True)]
    if sum(least) >= most:
        over = [width - _LEAST_COLUMN for width in least]
        return [_LEAST_COLUMN + (most - _LEAST_COLUMN * len(over)) * width / sum(over) for width in over]
    more = [want - low for want, low in zip(wanted, least, strict=True)]
    if sum(more) <= most - sum(least):
        return [most * want / sum(wanted) for want in wanted]
    share = (most - sum(least)) / sum(more)
    return [low + share * each for low, each in zip(least, more, strict=True)]


def _facts(flow: Flow, element: Element) -> Iterator[Any]:
    """Yield names and what they stand for, side by side."""
    names, values = element.findall("dt"), element.findall("dd")
    rows = [
        [Words(f"<b>{markup(name)}</b>", flow.looks["cell"]), Words(markup(value), flow.looks["cell"])]
        for name, value in zip(names, values, strict=True)
    ]
    widths, style = [80.0, TEXT_MM * MM - 80.0], [("VALIGN", (0, 0), (-1, -1), "TOP")]
    yield Grid(rows, colWidths=widths, style=style, hAlign="CENTER", splitInRow=1, spaceBefore=8, spaceAfter=8)


_KINDS: Final[Mapping[str, Callable[[Flow, Element], Iterator[Any]]]] = {
    "h1": _heading,
    "p": _words,
    "ul": _list,
    "ol": _list,
    "div": _div,
    "dl": _facts,
    "table": _table,
}
