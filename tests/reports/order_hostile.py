"""Purchase plans whose every text is somebody else's: names, numbers, notes, places, reasons."""

from collections.abc import Iterator
from typing import Any

from hypothesis import settings
from hypothesis import strategies as st

from fitcheck.bom.need import SPARE
from fitcheck.bom.ordering.record import Plan, Readiness
from tests.reports.order_samples import PLAN, READY

LOOK = settings(derandomize=True, database=None, deadline=None, max_examples=60)
"""The same texts on every run, so that a change is judged and not the luck of a draw."""
_OURS = {"unit", "origin", "of", "to"}
"""Fields whose values come from the program or are checked when a file is read."""

_BEGINNINGS = st.sampled_from(
    ["", " ", "\t", "\r\n", "'", "''", '"', '";', ";", "a;", "x\n", "\ufeff", "\u200b", "\u3000"]
)
_BAIT = st.sampled_from(
    [
        "=1+1",
        "@SUM(A1)",
        "+1",
        "-3 AN",
        "\uff1d1",
        '=HYPERLINK("http://example.org")',
        "http://example.org",
        "mailto:a@example.org",
        "{=1}",
        "<r><t>x</r>",
        "<r></r>",
        "_x000D__x0041_x000A_",
        "]]>&amp;<!--",
        "Bcc: a@example.org",
        "Summary",
        "History",
        "summary (2)",
        "[a]:*?/\\'",
        "x" * 40,
        "\x1b[2J\x00\x9b\u202e\ufffe",
        "12.50",
        "TRUE",
        ".",
    ]
)
TEXT = st.one_of(st.builds(lambda a, b, c: a + b + c, _BEGINNINGS, _BAIT, st.text(max_size=8)), st.text(max_size=60))
TEXTS = st.lists(TEXT, min_size=1, max_size=12)


def disguised(value: Any, texts: list[str]) -> Any:
    """Return a record with all its texts replaced, the same text by the same one wherever it stands."""
    found = list(dict.fromkeys(strings(value)))
    return _changed(value, {text: texts[place % len(texts)] for place, text in enumerate(found)})


def hostile(texts: list[str]) -> tuple[Plan, Readiness]:
    """Return the sample plan and readiness with these texts in every field."""
    plan, readiness = disguised((PLAN, READY), texts)
    return plan, readiness


def strings(value: Any, name: str = "") -> Iterator[str]:
    """Yield every text in a record that a user wrote."""
    if isinstance(value, str):
        if name not in _OURS and value != SPARE:
            yield value
    elif isinstance(value, tuple):
        names = getattr(value, "_fields", [name] * len(value))
        for field, item in zip(names, value, strict=True):
            if not (field == "currency" or (field == "tag" and item == SPARE)):
                yield from strings(item, field)


def _changed(value: Any, texts: dict[str, str], name: str = "") -> Any:
    if isinstance(value, str):
        return value if name in _OURS or name == "currency" else texts.get(value, value)
    if isinstance(value, tuple):
        names = getattr(value, "_fields", [name] * len(value))
        items = [_changed(item, texts, field) for field, item in zip(names, value, strict=True)]
        return value._make(items) if hasattr(value, "_make") else tuple(items)
    return value
