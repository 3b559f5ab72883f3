"""The table of look-alikes as a page to look at and to print: a grid of letters, then each dangerous pair in words."""

from collections.abc import Iterator, Sequence
from html import escape
from typing import Final

from fitcheck.measures import number
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.thread_words import OUTCOME, span
from fitcheck.standards.threads import dangerous
from fitcheck.standards.threads.look_alikes import seems_to_start
from fitcheck.standards.threads.pair_table import Pair

_LETTERS: Final = {
    "runs-in-loose": ("L", "goes home and does not hold: DANGEROUS"),
    "starts-then-binds": ("B", "starts, then binds: DANGEROUS"),
    "seems-to-start": ("S", "seems to start: lets itself in for half a turn or more, then stops"),
    "may-bind": ("R", "may bind at the root"),
    "mates": ("M", "mates"),
    "will-not-start": ("", "blank: will not start, though the lead-in may catch for up to two turns"),
    "drops-through": ("·", "drops through"),
}
"""What a cell of the grid says, with its key; letter and frame tell it, so that it prints in black and white."""

_STYLE: Final = """
body{font:15px/1.45 system-ui,sans-serif;margin:1.5rem;color:#111;background:#fff}
table{border-collapse:collapse}
.grid{overflow-x:auto}
.grid td,.grid th{border:1px solid #bbb;font-size:11px;padding:1px 3px;text-align:center;white-space:nowrap}
.grid thead th{writing-mode:vertical-rl;transform:rotate(180deg);text-align:left}
.grid tbody th{text-align:right;position:sticky;left:0;background:#fff}
td.L{background:#111;color:#fff;font-weight:bold}
td.B{background:#ddd;font-weight:bold;outline:2px solid #111;outline-offset:-2px}
td.M{background:#eef4fb}
.pairs td,.pairs th{border-bottom:1px solid #ccc;padding:3px 10px;text-align:left;font-variant-numeric:tabular-nums}
tr{break-inside:avoid}
dl{display:grid;grid-template-columns:auto 1fr;gap:2px 10px}dd{margin:0}
.caution{border:2px solid #111;padding:.6rem}
@media print{@page{size:A4 landscape;margin:8mm}body{margin:0;font-size:11px}
.grid td,.grid th{font-size:7px;padding:0 1px}}
"""


def table_html(rows: Sequence[Sequence[Pair]]) -> str:
    """Return the whole table as one page of HTML that needs nothing else: no script, no network."""
    return "\n".join(
        [
            '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">',
            '<meta name="viewport" content="width=device-width,initial-scale=1">',
            f"<title>Threads that are taken for each other</title><style>{_STYLE}</style></head><body>",
            *_head(rows),
            *_grid(rows),
            *_pairs(rows),
            f'<p class="caution">{escape(CAUTION)}</p></body></html>',
        ]
    )


def _head(rows: Sequence[Sequence[Pair]]) -> Iterator[str]:
    length = number(rows[0][0].fit.engagement_mm)
    count = sum(map(len, rows))
    yield "<h1>Threads that are taken for each other</h1>"
    yield (
        f"<p>{len(rows)} external threads of the trade (down) into {len(rows[0])} internal ones (across), {count}"
        f" pairs, over {length} mm of engagement. Computed from the limits of size of both at both extremes;"
        " <code>fitcheck thread A B --explain</code> shows how for any pair.</p><dl>"
    )
    for letter, words in _LETTERS.values():
        yield f"<dt><b>{letter}</b></dt><dd>{escape(words)}</dd>"
    yield "</dl>"


def _grid(rows: Sequence[Sequence[Pair]]) -> Iterator[str]:
    yield '<div class="grid"><table><thead><tr><td></td>'
    yield "".join(f'<th scope="col">{escape(pair.internal.designation)}</th>' for pair in rows[0])
    yield "</tr></thead><tbody>"
    for row in rows:
        yield f'<tr><th scope="row">{escape(row[0].external.designation)}</th>{"".join(map(_cell, row))}</tr>'
    yield "</tbody></table></div>"


def _cell(pair: Pair) -> str:
    letter, _ = _LETTERS["seems-to-start" if seems_to_start(pair.fit) else pair.fit.verdict]
    words = f"{pair.external.designation} into {pair.internal.designation} {OUTCOME[pair.fit.verdict]}"
    shown = f' class="{letter}"' if letter.isalpha() else ""
    return f'<td{shown} title="{escape(words)}">{letter}</td>'


def _pairs(rows: Sequence[Sequence[Pair]]) -> Iterator[str]:
    yield "<h2>Pairs that go together by hand and do not hold</h2>"
    yield '<table class="pairs"><thead><tr><th>External</th><th>into internal</th><th>what happens</th>'
    yield "<th>turns before it binds</th><th>thread height that overlaps, %</th><th>strip strength left, %</th></tr>"
    yield "</thead><tbody>"
    for pair in sorted(_dangerous(rows), key=lambda pair: pair.fit.verdict != "runs-in-loose"):
        met = pair.fit
        overlap = (max(met.overlap_percent[0], 0.0), max(met.overlap_percent[1], 0.0))
        left = "" if met.strip_share is None else span((100.0 * met.strip_share[0], 100.0 * met.strip_share[1]), 0)
        cells = (
            pair.external.designation,
            pair.internal.designation,
            OUTCOME[met.verdict],
            span(met.free_turns, 1),
            span(overlap, 0),
            left,
        )
        yield f"<tr>{''.join(f'<td>{escape(cell)}</td>' for cell in cells)}</tr>"
    yield "</tbody></table>"


def _dangerous(rows: Sequence[Sequence[Pair]]) -> Iterator[Pair]:
    return (pair for row in rows for pair in row if dangerous(pair.fit))
