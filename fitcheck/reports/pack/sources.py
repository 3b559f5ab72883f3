"""The last section of a pack: where figures come from, what its words for that mean, what to take care of."""

from collections.abc import Iterable, Iterator
from typing import Final

from fitcheck.bom.bleed_sheet import BleedSheet
from fitcheck.bom.record import Bom
from fitcheck.build.graph import PortGraph
from fitcheck.checks.findings import Report
from fitcheck.checks.register import page
from fitcheck.naming import in_order
from fitcheck.reports.bleed_words import cautions
from fitcheck.reports.pack.markup import heading, listed, table

MARKS: Final = (
    "A standard, a clause, an article: published there.",
    "common practice, no source: what the trade does; nobody was found who publishes it.",
    "from memory: of a published table, not looked up again.",
    "derived: computed from figures that have a source; the rule or sheet says how.",
    "assumed: nobody states it; its range stands beside it, and the field that would replace it.",
)
"""What stands beside figures of this pack, and what it means."""
_CARE: Final = (
    "This pack belongs to the files whose hashes stand on its cover: after any change to them make it again, and throw"
    " the old one away.",
    "What was not checked is listed after the findings: look at it by hand.",
    "Print at 100 %: templates, rulers and the line to measure are only then in their true size.",
)


def sources_told(graph: PortGraph, report: Report, bom: Bom, bleeding: BleedSheet) -> Iterator[str]:
    """Yield where figures of parts come from, what rules that spoke rest on, then the cautions."""
    yield heading("What the words for sources mean")
    yield listed(MARKS)
    yield heading("Figures of parts")
    yield from table(("source", "parts"), _of_parts(graph, bom))
    spoken = dict.fromkeys(each.rule for each in (*report.findings, *report.accepted))
    if spoken:
        yield heading("Rules that found something")
        yield from table(("rule", "rests on"), ((rule, " ".join(_source(rule).split())) for rule in spoken))
    yield heading("Take care")
    yield listed((*_CARE, *cautions(bleeding)))


def _of_parts(graph: PortGraph, bom: Bom) -> Iterable[tuple[str, str]]:
    """Return each source with the parts whose figures come from there."""
    shelf = graph.build.shelf
    used = {fitted.part_id for fitted in graph.fitted.values()} | {row.part for row in bom.rows if row.part is not None}
    found: dict[str, list[str]] = {}
    for part_id in sorted(used, key=in_order):
        part = shelf.get(part_id)
        said = "in no catalog" if part is None else part.source or "not stated"
        found.setdefault(said, []).append(part_id)
    return [(source, ", ".join(parts)) for source, parts in sorted(found.items())]


def _source(rule: str) -> str:
    return page(rule).sections["Source"]
