"""Reading files: what is taken, what is refused with which sentence, and where everything stands."""

import json
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from fitcheck import sources
from fitcheck.sources import Document, InputError, Mapping, Mark, Problem, Sequence, parse, read

_WORDS = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Zl", "Zp")), max_size=8)
_TREES = st.recursive(
    st.none() | _WORDS.filter(lambda text: "\ufeff" not in text),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.from_regex(r"[a-z]{1,4}", fullmatch=True), inner),
    max_leaves=20,
)
_YAMLISH = st.lists(
    st.sampled_from([*"ab:- \n\r\t[]{},#&*!|>'\"%?~.0\\é😀\x00\x85\u2028\ufeff", "\r\n", "---\n", "<<: ", "  "])
).map("".join)

ANCHORS = "anchors and aliases (& and *) are not taken here; write the value out, or put it in quotes"
TAGS = "tags such as !name are not taken here; write the plain value, in quotes if it begins with '!'"
BLOCK = "expected nothing more on this line, then the text on lines of their own, indented by spaces"
REFUSED = {
    "": "f:1:1: the file is empty",
    "# only a comment\n": "f:1:1: the file is empty",
    "a: &x 1\nb: *x\n": "f:1:4: " + ANCHORS,
    "a: *x\n": "f:1:4: " + ANCHORS,
    "a: *": "f:1:5: " + ANCHORS,
    "a: &x {b: 1}": "f:1:4: " + ANCHORS,
    "<<: {a: 1}": "f:1:1: merge keys (<<) are not taken here; write the keys out",
    "a: !!str 1": "f:1:4: " + TAGS,
    "a: !x [1]": "f:1:4: " + TAGS,
    "%YAML 1.2\n---\na: 1\n": "f:1:1: directives (a line that begins with '%') are not taken here",
    "a: 1\n---\nb: 2\n": "f:2:1: a second document begins here; a file holds one",
    "a: 1\n...\nb: 2\n": "f:3:1: a second document begins here; a file holds one",
    '"a" b': "f:1:5: expected the end of the file; this text belongs to nothing before it",
    "? [1]\n: 2\n": "f:1:3: expected a key of plain text, got a list",
    "? {a: 1}\n: 2\n": "f:1:3: expected a key of plain text, got a mapping",
    "? \n: 1": "f:1:2: expected a key before ':'",
    "a: 1\x00": "f:1:5: the character U+0000 is not taken in a file; delete it",
    "a: 1\nb: x\u2028y": "f:2:5: the character U+2028 is not taken in a file; delete it",
    "a: \x85": "f:1:4: the character U+0085 is not taken in a file; delete it",
    "a: \ufeff": "f:1:4: the character U+FEFF is not taken in a file; delete it",
    "a: \ud800": "f:1:4: the character U+D800 is not taken in a file; delete it",
    'a: "\\0"': "f:1:4: the character U+0000 is not taken in a file; delete it",
    "\ta: 1\n": "f:1:1: a tab cannot indent; use spaces",
    "a:\n\tb: 1": "f:2:1: a tab cannot indent; use spaces",
    "a: [1\nb: 2\n": "f:2:2: expected ',' or ']' in the list that begins on line 1",
    "a: {b: c]": "f:1:9: expected ',' or '}' in the mapping that begins on line 1",
    "a: b: c": "f:1:5: did not expect ': ' here; check the indent, or put the text in quotes",
    "a: - b": "f:1:4: did not expect a list item here; put '- ' on a line of its own",
    "a: ? b": "f:1:4: did not expect '? ' here; write the key as plain text",
    "a:\n  b: 1\n c: 2": "f:3:2: expected a key at the indent of the mapping that begins on line 1",
    "- a\nb: c": "f:2:1: expected another '- ' at the indent of the list that begins on line 1",
    "a: 1\nb\nc: 1": "f:2:1: expected ': ' after this key, on the same line",
    'a: 1\nb: "x\n': "f:2:4: this quoted text has no closing quote",
    "a: 'b\n---\nc'": "f:1:4: this quoted text has no closing quote",
    'a: "b"c': "f:1:7: expected the end of the line here; put the whole value in quotes",
    "a: @b": "f:1:4: a value cannot begin with '@'; put it in quotes",
    "a: 1\n%b: 1": "f:2:3: a line that begins with '%' is not taken here; put the text in quotes",
    'a: "\\q"': "f:1:5: unknown escape after the backslash; in single quotes it needs none",
    'a: "\\xzz"': "f:1:7: expected hexadecimal digits after this escape",
    'a: "\\ud800"': "f:1:7: this escape is no character",
    "a: |x\n": "f:1:5: " + BLOCK,
    "[a,,b]": "f:1:4: expected a value here",
}


def _refusal(text: str) -> str:
    with pytest.raises(InputError) as caught:
        parse(text, "f")
    return str(caught.value)


@pytest.mark.parametrize("text", REFUSED, ids=repr)
def test_refusals(text: str) -> None:
    """Every construct that is not taken is refused with one plain sentence at its place."""
    assert _refusal(text) == REFUSED[text]


@pytest.mark.parametrize("text", REFUSED, ids=repr)
def test_refusals_without_the_c_parser(text: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where PyYAML has no C parser the same texts are refused, in sentences of ours."""
    monkeypatch.delattr(yaml, "CLoader")
    assert "expected plain YAML" not in _refusal(text)


def test_every_repeated_key_is_reported() -> None:
    """Each repeated key is named with the line of the first, in every mapping of the file."""
    text = "a: 1\nb:\n  c: 1\n  c: 2\na: 2\n'a': 3\nd: {e: 1, e: [2]}\n"
    assert _refusal(text).splitlines() == [
        "f:4:3: the key 'c' is given on line 3 already",
        "f:5:1: the key 'a' is given on line 1 already",
        "f:6:1: the key 'a' is given on line 1 already",
        "f:7:11: the key 'e' is given on line 7 already",
    ]


def test_very_many_repeated_keys_are_counted() -> None:
    """After a thousand repeated keys the rest are counted, so that the answer stays bounded."""
    lines = _refusal("a: 1\n" * 1500).splitlines()
    assert len(lines) == 1001
    assert lines[-1] == "f:1001:1: 499 more keys after this one are given twice"


def test_scalars_stay_text() -> None:
    """Words that YAML 1.1 turns into truth values, times and octal numbers are read as written."""
    text = "a: no\nb: 12:30\nc: 010\nd: '~'\ne: \"null\"\nf: 1e3\n"
    assert parse(text, "f").root == {"a": "no", "b": "12:30", "c": "010", "d": "~", "e": "null", "f": "1e3"}


def test_nothing_is_none() -> None:
    """An empty plain value, a tilde and a plain null are None; keys are text all the same."""
    assert parse("a:\nb: ~\nc: null\nnull: [~]\n", "f").root == {
        "a": None,
        "b": None,
        "c": None,
        "null": [None],
    }


def test_marks_and_spans() -> None:
    """Keys, values, list items and missing things are found by path; quotes belong to the span."""
    document = parse("a:\n  b: 'x y'\n  c: [1, \"2\"]\n", "f")
    assert document.mark(("a", "b")) == Mark(2, 6, 8)
    assert document.mark(("a", "b"), key=True) == Mark(2, 3, 5)
    assert document.mark(("a", "c", 1)) == Mark(3, 10, 23)
    assert document.mark(("a", "zz", 1)) == Mark(1, 1, 0)
    assert document.mark(("zz",)) == Mark(1, 1, 0)
    assert document.mark(("a", "c", 9)) == Mark(3, 3, 16)
    start, end = document.span(("a", "b"))
    assert document.text[start:end] == "'x y'"
    assert document.scalar(("a", "c", 1)) == (23, 26, '"')


def test_span_of_no_scalar() -> None:
    """Asking for the span of a list, or of nothing, is refused with the place."""
    document = parse("a:\n  b: [1]\n", "f")
    with pytest.raises(InputError, match=r"^f:2:6: expected a single value at a\.b$"):
        document.span(("a", "b"))
    with pytest.raises(InputError, match=r"^f:1:1: expected a single value at a\.c$"):
        document.span(("a", "c"))


@pytest.mark.parametrize("loader", ["CLoader", "Loader"])
@pytest.mark.parametrize("newline", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("bom", ["", "\ufeff"])
def test_offsets_count_characters(loader: str, newline: str, bom: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Offsets are indices into the text whatever line ends, byte order mark and wide characters it has."""
    monkeypatch.setattr(yaml, "CLoader", getattr(yaml, loader))
    text = bom + newline.join(["é: 😀😀 # ½", "b: |", "  x", "c: '😀' ", "d: [e, 'f']", ""])
    document = parse(text, "f")
    assert document.root == {"é": "😀😀", "b": "x\n", "c": "😀", "d": ["e", "f"]}
    assert document.mark(("é",)) == Mark(1, 4, len(bom) + 3)
    assert document.mark(("c",)) == Mark(4, 4, text.index("'😀'"))
    for path, written in {("é",): "😀😀", ("c",): "'😀'", ("d", 0): "e", ("d", 1): "'f'"}.items():
        start, end = document.span(path)
        assert text[start:end] == written


@given(_TREES)
def test_every_span_holds_its_value(tree: object) -> None:
    """Any tree written as JSON is read back the same, and each span read alone gives its value."""
    text = json.dumps({"top": tree}, ensure_ascii=False)
    document = parse(text, "f")
    assert document.root == {"top": tree}
    for path, value in _leaves(tree, ("top",)):
        start, end = document.span(path)
        assert parse(text[start:end], "f").root == value


def _leaves(node: object, path: tuple[str | int, ...]) -> list[tuple[tuple[str | int, ...], object]]:
    if isinstance(node, dict):
        return [leaf for key, value in node.items() for leaf in _leaves(value, (*path, key))]
    if isinstance(node, list):
        return [leaf for index, value in enumerate(node) for leaf in _leaves(value, (*path, index))]
    return [(path, node)]


def _answer(text: str) -> Document | InputError:
    try:
        return parse(text, "f")
    except InputError as error:
        return error


@given(_YAMLISH | st.text())
def test_any_text_is_answered(text: str) -> None:
    """Whatever the text, the answer is a document or problems whose places are inside the text."""
    answer = _answer(text)
    if isinstance(answer, Document):
        assert answer.text == text
        return
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    assert answer.problems
    for problem in answer.problems:
        assert 1 <= problem.line <= len(lines)
        assert 1 <= problem.column <= len(lines[problem.line - 1]) + 1
        assert "expected plain YAML" not in problem.message


@given(st.binary(max_size=60))
def test_any_bytes_are_answered(tmp_path_factory: pytest.TempPathFactory, data: bytes) -> None:
    """Whatever bytes a file holds, reading gives a document with exactly this text or an InputError."""
    path = tmp_path_factory.mktemp("any") / "f.yaml"
    path.write_bytes(data)
    try:
        text = read(path).text
    except InputError:
        return
    assert text.encode() == data


def test_not_utf8(tmp_path: Path) -> None:
    """A byte that is not UTF-8 is named with its line and column."""
    path = tmp_path / "f.yaml"
    path.write_bytes("a: 1\r\né: ".encode() + b"\xe9\n")
    with pytest.raises(InputError) as caught:
        read(path)
    expected = "byte 0xE9 is not UTF-8; save the file as UTF-8"
    assert caught.value.problems == (Problem(path.as_posix(), 2, 4, expected),)


def test_files_that_cannot_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A missing file, a folder, a name with NUL and a file too large each have a sentence at line 1."""
    large = tmp_path / "large.yaml"
    large.write_text("a: 12345")
    monkeypatch.setattr(sources, "MOST_BYTES", 7)
    for path, message in {
        tmp_path / "none.yaml": "there is no such file",
        tmp_path: "this is a folder; expected a file",
        tmp_path / "a\0b": "cannot be read: embedded null byte",
        Path("/dev/null"): "this is not an ordinary file",
        large: "the file is larger than 32 MiB; split it",
    }.items():
        with pytest.raises(InputError) as caught:
            read(path)
        assert caught.value.problems == (Problem(path.as_posix(), 1, 1, message),)


def test_trees_are_plain_and_can_be_changed_in_copies() -> None:
    """Mappings and lists are dicts and lists; copies keep positions and leave the original alone."""
    document = parse("a: {b: 1}\nc: [x, y]\nd: {e: 2}\n", "f")
    root = document.root
    assert isinstance(root, Mapping)
    copy = root.copy()
    copy["a"] = copy["a"].copy()
    copy["a"].take("b", root["d"], "e")
    copy["c"] = root["c"].keeping(lambda item: item == "y").joined(root["c"])
    changed = document.with_root(copy)
    assert changed.root == {"a": {"b": "2"}, "c": ["y", "x", "y"], "d": {"e": "2"}}
    assert changed.mark(("a", "b")) == document.mark(("d", "e"))
    assert changed.mark(("c", 0)) == document.mark(("c", 1))
    assert document.root == {"a": {"b": "1"}, "c": ["x", "y"], "d": {"e": "2"}}
    assert isinstance(root["c"].copy(), Sequence)
    assert isinstance(document, Document)
