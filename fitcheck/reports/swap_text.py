"""What an exchange of parts changes: findings gone and new, the bill of materials changed. Text and JSON."""

from collections import Counter
from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from typing import Any, NamedTuple, TypeVar

from fitcheck.bom.change import BomChange
from fitcheck.bom.record import Row
from fitcheck.catalog.money import Money
from fitcheck.checks.findings import LEVELS, Finding, Report, Unchecked
from fitcheck.hydraulics.change import Changed
from fitcheck.reports.bom_json import row_value
from fitcheck.reports.bom_words import amount, name_of
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.check_json import finding_value
from fitcheck.reports.check_text import finding_lines
from fitcheck.reports.gaps import gap_text, gaps_of
from fitcheck.reports.pedal_change import pedal_lines, pedal_value
from fitcheck.reports.plain import WIDTH, caution_lines, count_of, paragraph
from fitcheck.reports.plain_json import json_text
from fitcheck.reports.swap_purchase import Purchase, purchase_lines, purchase_value

T = TypeVar("T")


class Difference(NamedTuple):
    """Findings and open questions that come and go between two reports. Accepted findings are among them."""

    gone: tuple[Finding, ...]
    new: tuple[Finding, ...]
    stay: int
    unchecked_gone: tuple[Unchecked, ...]
    unchecked_new: tuple[Unchecked, ...]


def difference(before: Report, after: Report) -> Difference:
    """Return what differs between two reports. A finding is the same if rule, place and message are."""
    old, new = [*before.findings, *before.accepted], [*after.findings, *after.accepted]
    appeared = _less(new, old, _identity)
    return Difference(
        gone=_less(old, new, _identity),
        new=appeared,
        stay=len(new) - len(appeared),
        unchecked_gone=_less(before.unchecked, after.unchecked, _question),
        unchecked_new=_less(after.unchecked, before.unchecked, _question),
    )


def _identity(finding: Finding) -> Hashable:
    return finding.rule, finding.at, finding.message


def _question(item: Unchecked) -> Hashable:
    return item.rule, item.at, item.missing


def _less(items: Iterable[T], others: Iterable[T], key: Callable[[T], Hashable]) -> tuple[T, ...]:
    """Return the items without those that `others` has as well, each as often as it is there."""
    left = Counter(map(key, others))
    kept = []
    for item in items:
        if left[key(item)] > 0:
            left[key(item)] -= 1
        else:
            kept.append(item)
    return tuple(kept)


def swap_json(
    before: Report, after: Report, change: BomChange, purchase: Purchase = None, pedal: Changed | None = None
) -> str:
    """Return the changes as JSON text."""
    return json_text(swap_value(before, after, change, purchase, pedal))


def swap_value(
    before: Report, after: Report, change: BomChange, purchase: Purchase = None, pedal: Changed | None = None
) -> dict[str, Any]:
    """Return the changes as plain values, keys in the order in which they are written.

    `purchase` is what changes in the purchase plan, or why nobody can say; None if nothing is on offer. `pedal` is what
    differs at the pedals; None if the build says nothing of one.
    """
    found = difference(before, after)
    bom: dict[str, Any] = {
        "gone": [row_value(row, change.priced) for row in change.gone],
        "new": [row_value(row, change.priced) for row in change.new],
        "changed": [
            {"before": row_value(old, change.priced), "after": row_value(new, change.priced)}
            for old, new in change.changed
        ],
    }
    if change.priced:
        bom["totals_before"] = [str(total) for total in change.totals_before]
        bom["totals_after"] = [str(total) for total in change.totals_after]
        bom["unpriced_before"], bom["unpriced_after"] = change.unpriced
    return {
        "build": after.build,
        "gone": [_finding(finding) for finding in found.gone],
        "new": [_finding(finding) for finding in found.new],
        "stay": found.stay,
        "unchecked_gone": [_unchecked(item) for item in found.unchecked_gone],
        "unchecked_new": [_unchecked(item) for item in found.unchecked_new],
        "bom": bom,
        **purchase_value(purchase),
        **pedal_value(pedal),
        "summary": {level: after.count(level) for level in LEVELS},
        "caution": CAUTION,
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return finding_value(finding) | {"accepted": finding.accepted}


def _unchecked(item: Unchecked) -> dict[str, Any]:
    return {"rule": item.rule, "at": list(item.at), "missing": item.missing}


def swap_text(
    before: Report,
    after: Report,
    change: BomChange,
    purchase: Purchase = None,
    pedal: Changed | None = None,
    *,
    width: int = WIDTH,
) -> str:
    """Return the changes for people, in lines of at most `width` columns."""
    found = difference(before, after)
    counts = ", ".join(count_of(after.count(level), level) for level in LEVELS)
    lines = paragraph(f"{after.build}: what the exchange changes", width)
    lines += change_lines(found, change, width)
    lines += purchase_lines(purchase, width)
    lines += pedal_lines(pedal, width)
    lines += ["", *paragraph(f"After it: {counts}; {count_of(found.stay, 'finding')} as before.", width)]
    return "\n".join([*lines, *caution_lines(width)])


def change_lines(found: Difference, change: BomChange | None, width: int = WIDTH) -> Iterator[str]:
    """Yield what comes and goes: findings, open questions, lines of the bill, which is left out if there is none."""
    yield from _findings("FINDINGS GONE", found.gone, width)
    yield from _findings("FINDINGS NEW", found.new, width)
    if not (found.gone or found.new):
        yield from ("", "no finding comes or goes")
    yield from _questions("NOT CHECKED, NEW", found.unchecked_new, width)
    yield from _questions("NOT CHECKED, GONE", found.unchecked_gone, width)
    if change is not None:
        yield from _bom(change, width)


def _findings(heading: str, findings: Sequence[Finding], width: int) -> Iterator[str]:
    if not findings:
        return
    yield from ("", f"{heading} ({len(findings)})")
    for finding in findings:
        accepted = f", accepted: {finding.accepted}" if finding.accepted is not None else ""
        yield ""
        yield from paragraph(f"{finding.level} {finding.rule}{accepted}", width, "  ", "    ")
        yield from finding_lines(finding, width)


def _questions(heading: str, items: Sequence[Unchecked], width: int) -> Iterator[str]:
    """Yield open questions by rule and missing field."""
    if not items:
        return
    yield from ("", f"{heading} ({len(items)})", "")
    for gap in gaps_of(items):
        yield from paragraph(gap_text(gap), width, "  ", "    ")


def _bom(change: BomChange, width: int) -> Iterator[str]:
    if change.empty:
        yield from ("", "no line of the bill of materials changes")
    else:
        yield from ("", "BILL OF MATERIALS", "")
    for word, rows in (("gone", change.gone), ("new", change.new)):
        for row in rows:
            yield from paragraph(f"{word}: {amount(row, change.told_in)} {_name(row)}", width, "  ", "    ")
    for old, new in change.changed:
        before, after = (amount(row, change.told_in) for row in (old, new))
        text = f"changed: {before} -> {after} {_name(new)}"
        yield from paragraph(text, width, "  ", "    ")
    if change.priced and not change.empty:
        yield from paragraph(_totals(change), width, "  ", "    ")


def _name(row: Row) -> str:
    return f"{name_of(row)}, {row.description}" if row.description else name_of(row)


def _totals(change: BomChange) -> str:
    before, after = (_sum(totals) for totals in (change.totals_before, change.totals_after))
    without = f" (without {change.unpriced[0]} -> {change.unpriced[1]} lines)" if any(change.unpriced) else ""
    return f"total: {before} -> {after}{without}"


def _sum(totals: Sequence[Money]) -> str:
    return " + ".join(map(str, totals)) or "no price"
