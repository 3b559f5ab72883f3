"""Spoiling a build file as text and as a tree: what editors, merges and cats on keyboards do to it."""

from typing import Any

import yaml
from hypothesis import strategies as st

from tests.properties.growing import Draw, Plan
from tests.properties.strategies import text_of

SCRAPS = (
    *(
        "",
        "~",
        "null",
        "[]",
        "{}",
        "- a",
        "a: b",
        ": ",
        "?",
        "!",
        "&a",
        "*a",
        "<<",
        "%",
        "#",
        "'",
        '"',
        "|",
        ">",
        "---",
    ),
    *("0", "-1", "1e999", "-1e-999", "9" * 400, "0x1F", "010", "1_000", "12:30", "no", "NaN", "inf", "٣", "²", "½"),
    *(
        "3/16 in",
        "3/0 in",
        "5 mm",
        "5mm",
        "-5 mm",
        "1e308 mm",
        "350 Nm",
        "-7 MPa",
        "5 N",
        "90 deg",
        "1/0",
        "mm",
        "5 furlong",
    ),
    *("a.b", ".", "..", "a.", ".b", "a.b.c", "mc", "caliper_fl.inlet", "front_feed.from", "chassis", "x" * 90),
    *(
        "M10x1",
        "3/8-24 UNF",
        "M99999x0",
        "M10x10",
        "1/8-27 NPT",
        "bubble",
        "external",
        "inverted-flare",
        "DOT 4",
        "DOT 9",
    ),
    *(
        "tube-3-16-cuni",
        "nut-m10x1-bubble",
        "banjo-bolt-m10x1",
        "union-3-16-inverted",
        "mc-an4",
        "dead-end",
        "single-circuit",
    ),
    *(
        "\u00e9",
        "\u4e2d",
        "\U0001f527",
        "\u202e",
        "\u200b",
        "\ufeff",
        "\u0000",
        "\u0085",
        "\u2028",
        "\ud7ff",
        "\t",
        "\r",
        "\x1b",
    ),
)
"""Values that files hold by mistake."""


def mangled_text(text: str, draw: Draw) -> str:
    """Return a text with up to four pieces of it deleted, doubled, moved or replaced."""
    for _ in range(draw(st.integers(1, 4))):
        text = draw(st.sampled_from((_lines, _piece, _word, _letter)))(text, draw)
    return text


def _lines(text: str, draw: Draw) -> str:
    lines = text.splitlines(keepends=True) or [""]
    at, other = draw(st.integers(0, len(lines) - 1)), draw(st.integers(0, len(lines) - 1))
    form = draw(st.sampled_from(["delete", "double", "swap", "indent", "outdent", "cut"]))
    if form == "delete":
        del lines[at]
    elif form == "double":
        lines.insert(other, lines[at])
    elif form == "swap":
        lines[at], lines[other] = lines[other], lines[at]
    elif form == "indent":
        lines[at] = " " * draw(st.integers(1, 5)) + lines[at]
    elif form == "outdent":
        lines[at] = lines[at].lstrip(" ")
    else:
        del lines[at:]
    return "".join(lines)


def _piece(text: str, draw: Draw) -> str:
    start = draw(st.integers(0, len(text)))
    end = min(len(text), start + draw(st.integers(0, 30)))
    return text[:start] + draw(st.sampled_from(["", text[start:end] * 2])) + text[end:]


def _word(text: str, draw: Draw) -> str:
    words = text.split(" ")
    at = draw(st.integers(0, len(words) - 1))
    words[at] = draw(st.sampled_from(SCRAPS) | st.sampled_from(words))
    return " ".join(words)


def _letter(text: str, draw: Draw) -> str:
    at = draw(st.integers(0, len(text)))
    return text[:at] + draw(st.characters() | st.sampled_from(SCRAPS)) + text[at:]


def mangled_tree(plan: Plan, draw: Draw) -> str:
    """Return the text of a build of which up to four values or keys are replaced by others, or by junk."""
    tree: Any = plan
    for _ in range(draw(st.integers(1, 4))):
        path = draw(st.sampled_from(list(_places(tree))))
        if path:
            form = draw(st.sampled_from(["value", "value", "value", "delete", "key"]))
            tree = _changed(tree, path, form, _junk(tree, path, draw), draw)
    return text_of(tree)


def _junk(tree: Any, path: tuple[Any, ...], draw: Draw) -> Any:
    """Return what may stand at `path` by mistake: mostly what stands elsewhere under a like key."""
    form = draw(st.sampled_from(["alike", "alike", "alike", "any", "scrap", "empty"]))
    if form == "scrap":
        return draw(st.sampled_from(SCRAPS))
    if form == "empty":
        return draw(st.sampled_from(["", [], {}]))
    places = [at for at in _places(tree) if form == "any" or (len(at) == len(path) and at[-1:] == path[-1:])]
    return _at(tree, draw(st.sampled_from(places)))


def _places(node: Any, path: tuple[Any, ...] = ()) -> Any:
    yield path
    pairs = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    for key, value in pairs:
        yield from _places(value, (*path, key))


def _at(node: Any, path: tuple[Any, ...]) -> Any:
    for key in path:
        node = node[key]
    return node


def _changed(node: Any, path: tuple[Any, ...], form: str, junk: Any, draw: Draw) -> Any:
    """Return a copy of the tree with the value at `path` replaced or taken out, or its key renamed."""
    key, *rest = path
    if rest:
        inner = _changed(node[key], tuple(rest), form, junk, draw)
        return node | {key: inner} if isinstance(node, dict) else [*node[:key], inner, *node[key + 1 :]]
    if isinstance(node, list):
        return [*node[:key], *([junk] if form == "value" else []), *node[key + 1 :]]
    if form == "value":
        return node | {key: junk}
    left = {name: value for name, value in node.items() if name != key}
    return left if form == "delete" else left | {draw(st.sampled_from(SCRAPS)): node[key]}


def plan_of(text: str) -> Plan:
    """Return a well-made file as a plain dict, every value as text."""
    plan: Plan = yaml.load(text, Loader=yaml.BaseLoader)
    return plan
