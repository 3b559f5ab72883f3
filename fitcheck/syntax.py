"""Sentences for what is wrong with a file's YAML, in words of the file instead of the parser's."""

from typing import Final, NamedTuple

from fitcheck.trees import MOST_LEVELS

TAGS: Final = "tags such as !name are not taken here; write the plain value, in quotes if it begins with '!'"
ANCHORS: Final = "anchors and aliases (& and *) are not taken here; write the value out, or put it in quotes"
TOO_DEEP: Final = f"nested deeper than {MOST_LEVELS} levels"
MORE: Final = "expected the end of the file; this text belongs to nothing before it"
_COLON: Final = "expected ': ' after this key, on the same line"
_NO_COLON: Final = "did not expect ': ' here; check the indent, or put the text in quotes"
_NO_ITEM: Final = "did not expect a list item here; put '- ' on a line of its own"
_PERCENT: Final = "a line that begins with '%' is not taken here; put the text in quotes"
_QUOTES: Final = ("while scanning a quoted scalar", "while scanning a double-quoted scalar")


class Fault(NamedTuple):
    """A YAML error: what was being read, from which line, what is wrong, at which character, after what."""

    context: str
    line: int
    problem: str
    character: str
    before: str


_BY_PROBLEM: Final = (
    ("could not find expected ':'", _COLON),
    ("could not found expected ':'", _COLON),
    ("mapping values are not allowed", _NO_COLON),
    ("sequence entries are not allowed", _NO_ITEM),
    ("mapping keys are not allowed", "did not expect '? ' here; write the key as plain text"),
    ("unknown escape character", "unknown escape after the backslash; in single quotes it needs none"),
    ("hexdecimal", "expected hexadecimal digits after this escape"),
    ("invalid Unicode character escape", "this escape is no character"),
    ("tab character", "a tab cannot indent; use spaces"),
    ("document start>", MORE),
    ("nesting depth", TOO_DEEP),
)
_BY_CONTEXT: Final = (
    ("anchor", ANCHORS),
    ("alias", ANCHORS),
    ("tag", TAGS),
    ("directive", _PERCENT),
    (
        "block scalar",
        "expected nothing more on this line, then the text on lines of their own, indented by spaces",
    ),
)


def at_context(fault: Fault) -> bool:
    """Return whether the place to show is where the construct begins, not where the parser gave up on it."""
    return "could not f" in fault.problem or _unclosed_quote(fault)


def sentence(fault: Fault) -> str:
    """Return one plain sentence for a YAML error: what was expected, or what is in the way."""
    if _unclosed_quote(fault):
        return "this quoted text has no closing quote"
    for part, text in _BY_CONTEXT:
        if part in fault.context:
            return text
    if "cannot start any token" in fault.problem:
        return _bad_start(fault.character)
    for part, text in _BY_PROBLEM:
        if part in fault.problem:
            return text
    return _expected(fault)


def _unclosed_quote(fault: Fault) -> bool:
    return fault.context in _QUOTES and ("end of stream" in fault.problem or "document" in fault.problem)


def _bad_start(character: str) -> str:
    if character == "\t":
        return "a tab cannot indent; use spaces"
    return f"a value cannot begin with {character!r}; put it in quotes"


def _expected(fault: Fault) -> str:
    line, problem = fault.line, fault.problem
    if "']'" in problem:
        return f"expected ',' or ']' in the list that begins on line {line}"
    if "'}'" in problem:
        return f"expected ',' or '}}' in the mapping that begins on line {line}"
    if "node content" in problem:
        return "expected a value here"
    if fault.before.strip():
        return "expected the end of the line here; put the whole value in quotes"
    if "-' indicator" in problem or ("<block end>" in problem and "collection" in fault.context):
        return f"expected another '- ' at the indent of the list that begins on line {line}"
    if "expected key" in problem or "<block end>" in problem:
        return f"expected a key at the indent of the mapping that begins on line {line}"
    return f"expected plain YAML: {problem}"
