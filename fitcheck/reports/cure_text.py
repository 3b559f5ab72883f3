"""What a cure did: the acts, what they buy, the difference of the file, what is left. Text and JSON."""

from collections.abc import Iterator
from difflib import unified_diff
from typing import Any

from fitcheck.bom.change import compare
from fitcheck.bom.take_off import take_off
from fitcheck.remedies.cure import Cured
from fitcheck.remedies.cures import BY_HAND, UNCURED
from fitcheck.remedies.proof import Witness
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.check_json import finding_value
from fitcheck.reports.check_text import finding_lines
from fitcheck.reports.plain import WIDTH, caution_lines, count_of, paragraph, visible
from fitcheck.reports.plain_json import json_text
from fitcheck.reports.remedy_words import cost_of, cost_value, edit_text, orders, remedy_text, remedy_value


def cure_text(cured: Cured, *, width: int = WIDTH) -> str:
    """Return the cure for people, in lines of at most `width` columns; lines of the file are never broken."""
    lines = paragraph(_headline(cured), width)
    lines += _applied(cured, width)
    lines += _orders(cured, width)
    lines += _edit(cured)
    lines += _left(cured, width)
    return "\n".join([*lines, *caution_lines(width)])


def _headline(cured: Cured) -> str:
    name = cured.report_before.build
    if not cured.applied and not cured.left:
        standing = cured.report_after.count("error")
        return f"{name}: nothing to cure" + (f" here; {count_of(standing, 'error')} elsewhere" if standing else "")
    done, left = count_of(len(cured.applied), "finding"), count_of(len(cured.left), "finding")
    if cured.only:
        here = sum(finding.level == "error" for finding in cured.left)
        after = f"{_errors(here)} here, {_errors(cured.report_after.count('error') - here)} elsewhere"
        return f"{name}: {done} put right here, {left} left here; checked again: {after}"
    return f"{name}: {done} put right, {left} left; checked again: {_errors(cured.report_after.count('error'))}"


def _errors(count: int) -> str:
    return count_of(count, "error") if count else "no error"


def _applied(cured: Cured, width: int) -> Iterator[str]:
    if not cured.applied:
        return
    yield from ("", f"PUT RIGHT ({len(cured.applied)})", "")
    for finding, proven in cured.applied:
        yield from paragraph(f"{finding.rule}: {finding.message}", width, "  ", "    ")
        yield from paragraph(remedy_text(proven), width, "    ", "      ")
        for note in proven.remedy.notes if proven.remedy.kind not in ("name", "unlist") else ():
            yield from paragraph(f"look by hand: {note}", width, "    ", "      ")


def _witness(cured: Cured) -> Witness:
    bills = compare(take_off(cured.before.graph), take_off(cured.after.graph))
    return Witness((), (), None, bills)


def _orders(cured: Cured, width: int) -> Iterator[str]:
    if not cured.applied:
        return
    witness = _witness(cured)
    for heading, rows in orders(witness):
        yield from ("", heading.upper(), "")
        for row in rows:
            yield from paragraph(row, width, "  ", "    ")
    cost = cost_of(witness)
    if cost is not None:
        yield from ("", *paragraph(f"COST {cost}", width))


def difference_lines(cured: Cured) -> list[str]:
    """Return the change of the build file as a unified difference, without line ends."""
    name = cured.before.graph.build.document.name
    before = cured.before.graph.build.document.text.splitlines()
    return list(unified_diff(before, cured.text.splitlines(), name, name, lineterm="", n=1))


def _edit(cured: Cured) -> Iterator[str]:
    if not cured.applied:
        return
    lines = difference_lines(cured)
    if not lines:  # a variant is not in the text: it cannot be edited there
        lines = [f"  {edit_text(change)}" for _, proven in cured.applied for change in proven.remedy.changes]
    yield from ("", "EDIT", "", *map(visible, lines))


def _left(cured: Cured, width: int) -> Iterator[str]:
    if not cured.left:
        return
    yield from ("", f"LEFT ({len(cured.left)}): no remedy that holds", "")
    for finding in cured.left:
        yield f"  {finding.level} {finding.rule}"
        yield from finding_lines(finding, width)
        reason = UNCURED.get(finding.rule) or BY_HAND.get(finding.rule)
        if reason is not None:
            yield from paragraph(reason, width, "      ", "        ")


def cure_json(cured: Cured) -> str:
    """Return the cure as JSON text."""
    witness = _witness(cured)
    order = dict(orders(witness))
    value: dict[str, Any] = {
        "build": cured.report_before.build,
        "put_right": [
            {"finding": finding_value(finding), "remedy": remedy_value(proven)} for finding, proven in cured.applied
        ],
        "buy": order.get("buy", []),
        "take_off": order.get("take off the order", []),
        **cost_value(witness),
        "edit": difference_lines(cured) if cured.applied else [],
        "left": [finding_value(finding) for finding in cured.left],
        "errors_after": cured.report_after.count("error"),
        "caution": CAUTION,
    }
    return json_text(value)
