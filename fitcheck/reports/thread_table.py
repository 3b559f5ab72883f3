"""The table of look-alikes: every external thread of the trade into every internal one. Text and JSON."""

import json
from collections.abc import Iterator, Sequence
from typing import Any, Final

from fitcheck.measures import number
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.plain import WIDTH, caution_lines, paragraph
from fitcheck.reports.plain_json import json_text
from fitcheck.reports.thread_words import span
from fitcheck.standards.threads import dangerous, known_uses
from fitcheck.standards.threads.look_alikes import seems_to_start
from fitcheck.standards.threads.pair_table import Pair

_GROUPS: Final = {
    "runs-in-loose": "GOES HOME, DOES NOT HOLD",
    "starts-then-binds": "starts, then binds",
    "will-not-start": "seems to start",
    "may-bind": "may bind at the root",
    "mates": "mates",
}
"""Verdicts that the page shows, the worst first; of the pairs that will not start those that seem to at first."""


def table_json(rows: Sequence[Sequence[Pair]]) -> str:
    """Return every pair with its figures as JSON text; lengths in mm."""
    head: dict[str, Any] = {
        "engagement_mm": rows[0][0].fit.engagement_mm,
        "external": [row[0].external.designation for row in rows],
        "internal": [pair.internal.designation for pair in rows[0]],
        "verdicts": {
            row[0].external.designation: {pair.internal.designation: pair.fit.verdict for pair in row} for row in rows
        },
        "figure_sources": dict(rows[0][0].fit.sources),
        "caution": CAUTION,
    }
    # One line a pair: indented, a page of three thousand pairs would be four times as long and as slow.
    pairs = ",\n    ".join(json.dumps(_pair_value(pair)) for row in rows for pair in row)
    return f'{json_text(head)[:-2]},\n  "pairs": [\n    {pairs}\n  ]\n}}'


def _pair_value(pair: Pair) -> dict[str, Any]:
    figures = pair.fit.to_json()
    for shared in ("engagement_mm", "source"):  # the same for all, or that of each thread's own limits
        del figures[shared]
    names = {"external": pair.external.designation, "internal": pair.internal.designation}
    return names | figures | {"dangerous": dangerous(pair.fit)}


def table_text(rows: Sequence[Sequence[Pair]], *, width: int = WIDTH) -> str:
    """Return for each external thread the internal ones that it goes into, the dangerous ones first."""
    return "\n".join([*_head(rows, width), *(line for row in rows for line in _row(row, width)), *caution_lines(width)])


def _head(rows: Sequence[Sequence[Pair]], width: int) -> Iterator[str]:
    pairs = [pair for row in rows for pair in row]
    danger = sum(dangerous(pair.fit) for pair in pairs)
    length = number(pairs[0].fit.engagement_mm)
    yield from paragraph(
        f"Threads of the trade: {len(rows)} external into {len(rows[0])} internal, {len(pairs)} pairs, {danger} of them"
        f" dangerous; {length} mm of engagement",
        width,
    )
    yield from paragraph(
        "Pairs left out drop through or will not start, not even for half a turn: a wrong thread may still catch for up"
        " to two turns on the lead-in. % is the thread height that overlaps, turns are those before it binds. Computed"
        " from the limits of size of both threads; fitcheck thread A B shows any pair.",
        width,
    )


def _row(row: Sequence[Pair], width: int) -> Iterator[str]:
    external = row[0].external.designation
    yield ""
    yield from paragraph(f"{external}: {known_uses()[external]}", width, "", "  ")
    for verdict, words in _GROUPS.items():
        found = [pair for pair in row if pair.fit.verdict == verdict and _shown(pair)]
        if found:
            yield from paragraph(f"{words}: {', '.join(map(_entry, found))}", width, "  ", "    ")


def _shown(pair: Pair) -> bool:
    return pair.fit.verdict != "will-not-start" or seems_to_start(pair.fit)


def _entry(pair: Pair) -> str:
    name, met = pair.internal.designation, pair.fit
    if met.verdict == "runs-in-loose":
        return f"{name} ({span((max(met.overlap_percent[0], 0.0), met.overlap_percent[1]), 0)} %)"
    if met.verdict == "will-not-start":
        return f"{name} (at most {met.free_turns[1]:.1f} turn)"
    if met.verdict == "starts-then-binds":
        return f"{name} ({span(met.free_turns, 1)} turns)"
    return name
