"""Text that a spreadsheet could take for a formula: made harmless where it is written, put back where it is read.

A cell that begins like a formula gets an apostrophe in front, and so does each piece of it after a semicolon or a line
end: where the comma is the decimal sign, spreadsheets part the cells of a CSV there. All files that we write do so.
"""

import re
from typing import Final

_SIGNS: Final = "=+\\-@\uff1d\uff0b\uff0d\uff20\ufe66\ufe62\ufe63\ufe6b\u2212\u207a\u207c\u208a\u208c\u2a75\u2a76\ufb29"
"""Signs that begin a formula: ASCII, full width, small forms, and others that Unicode holds equal to them."""
_FORMULA: Final = f"(?='*[\\s\"\u200b-\u200f\u2060\ufeff]*[\t\r\n{_SIGNS}])"
"""The start of a formula after quotes and spaces seen and unseen, and of one that has been defused already."""
_LIVE: Final = re.compile(f"(^|[;\n]){_FORMULA}")
_DEFUSED: Final = re.compile(f"(^|[;\n])'{_FORMULA}")


def defused(text: str) -> str:
    """Return `text` with an apostrophe in front of all that a spreadsheet could take for a formula.

    >>> defused("=1+1"), defused("tee; -3"), defused("tee, brass")
    ("'=1+1", "tee;' -3", 'tee, brass')
    """
    return _LIVE.sub(r"\1'", text)


def restored(cell: str) -> str:
    """Return the text that `defused` made `cell` of.

    >>> restored("'=1+1"), restored("tee;' -3"), restored("'tee'")
    ('=1+1', 'tee; -3', "'tee'")
    """
    return _DEFUSED.sub(r"\1", cell)
