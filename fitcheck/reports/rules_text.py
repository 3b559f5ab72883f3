"""The rules: their list, by family, and one rule's page."""

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Any

from fitcheck.checks.register import Page
from fitcheck.reports.plain import WIDTH, count_of, paragraph


def rules_list(pages: Sequence[Page], *, width: int = WIDTH) -> str:
    """Return the rules by family, each with its one line."""
    return "\n".join(_list(pages, width))


def _list(pages: Sequence[Page], width: int) -> Iterator[str]:
    yield f"{count_of(len(pages), 'rule')}; fitcheck rules NAME shows one page"
    column = max((len(page.name) for page in pages), default=0) + 4
    ordered = {page.family: index for index, page in reversed(list(enumerate(pages)))}
    for family, group in groupby(sorted(pages, key=lambda page: ordered[page.family]), lambda page: page.family):
        yield from ("", family)
        for page in group:
            lead = f"  {page.name:<{column - 2}}"
            yield from paragraph(page.short, width, lead, " " * column)


def rule_page(page: Page) -> str:
    """Return one rule's page as it is written."""
    return page.text


def rules_json(pages: Sequence[Page]) -> list[dict[str, Any]]:
    """Return the pages as plain values: name, family, one line, and the text under each heading."""
    return [
        {"name": page.name, "family": page.family, "short": page.short, "sections": dict(page.sections)}
        for page in pages
    ]
