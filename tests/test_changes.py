"""Changes as data: put together or refused, made in the tree, and made in the text with all else as it was."""

import pytest

from fitcheck.changes import Append, Change, ConflictError, Drop, Put, changed_document, changed_tree, merged
from fitcheck.sources import InputError, parse
from fitcheck.trees import Mark

FILE = """\
# an invented car
build: 1
components:
  pedals:  {part: box}   # floor mounted
  # above the pedals
  tank:    {part: 'tank-2', on: chassis}
  # spare: {part: tank-1}

joints:   # port to port
  - [pedals.rod, mc.pushrod]
  - {port: caliper.inlet, eyes: [hose.to], washers: 1}  # banjo
# rigid tube
lines:
  feed:
    from: mc.outlet # front
    to: tee.left
    # measured twice
  run: {from: "tee.top", to: caliper.inlet}
"""


def changed(text: str, *changes: Change) -> str:
    """Return the changed text, which reads as the changed tree."""
    document = parse(text, "f")
    after = changed_document(document, changes)
    assert after.root == changed_tree(document, changes).root
    assert parse(after.text, "f").root == after.root
    return after.text


def edited(*parts: tuple[str, str], text: str = FILE) -> str:
    """Return the file with each first text, which stands in it once, replaced by the second."""
    for old, new in parts:
        assert text.count(old) == 1
        text = text.replace(old, new)
    return text


def test_additions_stand_at_the_end_of_their_section() -> None:
    """New entries follow the last of their section, aligned with it, and its comments; a new section ends the file."""
    after = changed(
        FILE,
        Put(("components", "tee"), {"part": "tee-3", "note": "new, 2026"}),
        Append(("joints",), ["switch.port", "tee.top"]),
        Put(("lines", "feed", "tube"), "cuni"),
        Put(("lines", "run", "ends", "from"), {"nut": "n"}),
        Put(("hoses", "front"), {"part": "hose-350"}),
        Append(("accept",), {"rule": "r", "at": "x"}),
    )
    assert after == edited(
        ("tank-1}\n", 'tank-1}\n  tee:     {part: tee-3, note: "new, 2026"}\n'),
        ("# banjo\n", "# banjo\n  - [switch.port, tee.top]\n"),
        ("    # measured twice\n", "    # measured twice\n    tube: cuni\n"),
        (
            "to: caliper.inlet}\n",
            "to: caliper.inlet, ends: {from: {nut: n}}}\n"
            "hoses:\n  front: {part: hose-350}\naccept:\n  - {rule: r, at: x}\n",
        ),
    )


def test_values_keep_their_quoting() -> None:
    """A value keeps its quoting and its comment; of a list or a mapping put anew only what differs is touched."""
    after = changed(
        FILE,
        Put(("build",), "2"),
        Put(("components", "tank", "part"), "it's"),
        Put(("joints", 0), ["pedals.rod", "mc.pushrod_2"]),
        Put(("joints", 1), {"port": "caliper.inlet", "eyes": ["hose.to"], "washers": "2"}),
        Put(("lines", "feed"), {"from": "mc.rear", "to": "tee.left"}),
        Put(("lines", "run", "from"), "tee.right"),
    )
    assert after == edited(
        ("build: 1", "build: 2"),
        ("'tank-2'", "'it''s'"),
        ("mc.pushrod]", "mc.pushrod_2]"),
        ("washers: 1", "washers: 2"),
        ("mc.outlet #", "mc.rear #"),
        ("tee.top", "tee.right"),
    )


def test_drops_take_whole_lines() -> None:
    """An entry goes with its lines and the comments inside it; those above it and beside it stay."""
    after = changed(
        FILE, Drop(("components", "tank")), Drop(("joints", 0)), Drop(("lines", "feed")), Drop(("lines", "run", "to"))
    )
    assert after == edited(
        ("  tank:    {part: 'tank-2', on: chassis}\n", ""),
        ("  - [pedals.rod, mc.pushrod]\n", ""),
        ("  feed:\n    from: mc.outlet # front\n    to: tee.left\n    # measured twice\n", ""),
        (", to: caliper.inlet}", "}"),
    )


def test_last_entry_and_whole_section() -> None:
    """A section with nothing left is empty, its comments stay, and a dropped section is gone."""
    drops = [Drop(("components", "pedals")), Drop(("components", "tank")), Drop(("lines",))]
    after = changed(FILE, *drops, Drop(("joints", 0)), Drop(("joints", 1)))
    assert after == (
        "# an invented car\nbuild: 1\ncomponents: {}\n  # above the pedals\n  # spare: {part: tank-1}\n\n"
        "joints: []   # port to port\n# rigid tube\n"
    )
    assert changed("a: 1\n", Drop(("a",))) == "{}\n"
    swapped = changed("j:\n  - [a, b]  # old\nz: 1\n", Drop(("j", 0)), Append(("j",), ["c", "d"]))
    assert swapped == "j:\n  - [c, d]\nz: 1\n"


STYLES = {
    "flow sections": (
        "components: {a: {part: x}, b: {part: y}} # c\njoints: [[a, b], [c, d]]\n",
        [
            Drop(("components", "a")),
            Put(("components", "q"), {"part": "z"}),
            Drop(("joints", 1)),
            Append(("joints",), ["e", "f"]),
        ],
        "components: {b: {part: y}, q: {part: z}} # c\njoints: [[a, b], [e, f]]\n",
    ),
    "emptied flow sections": ("a: {b: c} # d\nj: [x]\n", [Drop(("a", "b")), Drop(("j", 0))], "a: {} # d\nj: []\n"),
    "one entry to a line": (
        "j: [\n  [a, b],  # one\n  [c, d]   # two\n]\n",
        [Drop(("j", 0)), Append(("j",), ["e", "f"])],
        "j: [\n  [c, d],   # two\n  [e, f]\n]\n",
    ),
    "several to a line": (
        "j: {\n  a: b, c: d, x: y,\n  e: f }\n",
        [Drop(("j", "c")), Drop(("j", "x")), Put(("j", "g"), "h")],
        "j: {\n  a: b,\n  e: f, g: h }\n",
    ),
    "all quoted": (
        '{\n  "components": {\n    "a": {"part": "x"}\n  },\n  "joints": []\n}\n',
        [Put(("components", "b"), {"part": "z"}), Append(("joints",), ["e"]), Put(("hoses", "h"), {"part": "y"})],
        '{\n  "components": {\n    "a": {"part": "x"},\n    "b": {"part": "z"}\n  },\n'
        '  "joints": [["e"]],\n  "hoses": {"h": {"part": "y"}}\n}\n',
    ),
    "empty sections": (
        "components:\njoints:  # none\nlines: {}  # none yet\nhoses: []\nat: {x: , y}\n",
        [
            Put(("components", "b"), {"part": "z"}),
            Append(("joints",), ["e", "f"]),
            Put(("lines", "h"), {"part": "y"}),
            Append(("hoses",), "x"),
            Put(("at", "x"), "1"),
            Put(("at", "y"), "2"),
        ],
        "components:\n  b: {part: z}\njoints:  # none\n  - [e, f]\nlines:  # none yet\n  h: {part: y}\nhoses: [x]\n"
        "at: {x: 1, y: 2}\n",
    ),
    "other line ends, no last one, mark": (
        "\ufeffcomponents:\r\n  a: {part: x}\r\njoints:\r\n- [a, b]",
        [Put(("components", "b"), {"part": "z"}), Append(("joints",), ["e", "f"]), Put(("lines", "h"), {"to": "y"})],
        "\ufeffcomponents:\r\n  a: {part: x}\r\n  b: {part: z}\r\njoints:\r\n- [a, b]\r\n- [e, f]\r\n"
        "lines:\r\n  h: {to: y}",
    ),
    "old line ends": ("a:\r  b: {c: d}\r", [Put(("a", "e"), {"f": "g"})], "a:\r  b: {c: d}\r  e: {f: g}\r"),
    "blank lines between sections": (
        "a:\n  x: {k: v}\n\nb:\n  y: {k: v}\n\n# the end\n",
        [Put(("c", "z"), {"k": "v"})],
        "a:\n  x: {k: v}\n\nb:\n  y: {k: v}\n\nc:\n  z: {k: v}\n\n# the end\n",
    ),
    "wide brackets, deep indent": (
        "a: { b: c }\nl: [ x ]\nc:\n    d: 1\n",
        [Put(("n", "k"), {"b": ["c"]}), Put(("c", "f"), ["a"])],
        "a: { b: c }\nl: [ x ]\nc:\n    d: 1\n    f: [ a ]\nn:\n    k: { b: [ c ] }\n",
    ),
    "an indented file": (
        "  a:\n   b: {c: d}\n  e:\n",
        [Put(("e", "f"), {"g": "h"}), Append(("i",), ["j"])],
        "  a:\n   b: {c: d}\n  e:\n   f: {g: h}\n  i:\n   - [j]\n",
    ),
    "quoted keys": (
        "'a b':\n  \"c: d\": {x: y}\n  'e': {x: y}\n",
        [Put(("a b", "c: d", "z"), "q"), Drop(("a b", "e")), Put(("a b", "n: n"), "r")],
        '\'a b\':\n  "c: d": {x: y, z: q}\n  "n: n": r\n',
    ),
    "keys behind a dash": (
        "j:\n  - a: 1\n    b: 2\n  - a: 3  # x\n    b: 4\n  -   c: 5\n",
        [Drop(("j", 0, "a")), Put(("j", 1, "k"), "v"), Append(("j",), "w"), Put(("j", 2), "z")],
        "j:\n  - b: 2\n  - a: 3  # x\n    b: 4\n    k: v\n  -   z\n  - w\n",
    ),
    "block texts": (
        "a: |\n  x\n\nb: >-\n  y\nc:\n  d: |+\n    z\n\ne: |\n  last",
        [Put(("b",), "short"), Put(("c", "f"), "1"), Put(("g",), "2")],
        "a: |\n  x\n\nb: short\nc:\n  d: |+\n    z\n\n  f: 1\ne: |-\n  last\ng: 2",
    ),
    "block text that becomes the last": ("a: |\n  x\nb: 2", [Drop(("b",))], "a: |\n  x\n"),
    "a value of another kind": (
        "a:  # c\n  k: v\n  # in\nb: x  # d\ne: {f: [g]}\n",
        [Put(("a",), "s"), Put(("b",), {"m": {"n": "o"}}), Put(("e", "f"), "h")],
        "a: s  # c\nb:  # d\n  m: {n: o}\ne: {f: h}\n",
    ),
    "pairs in brackets": ("b: [k: v, w]\n", [Put(("b", 0, "k"), "n")], "b: [{k: n}, w]\n"),
    "a document with its marks": (
        "---\n# c\na:\n- b\n\n...\n",
        [Append(("a",), "d"), Put(("e",), "f")],
        "---\n# c\na:\n- b\n- d\ne: f\n\n...\n",
    ),
    "nothing but marks": ("---\n...\n", [Put(("c", "d"), {"x": "y"})], "---\nc:\n  d: {x: y}\n...\n"),
    "a shorter list": (
        "r:\n  - a # 1\n  - b # 2\n  - c # 3\n",
        [Put(("r",), ["a", "c"])],
        "r:\n  - a # 1\n  - c # 3\n",
    ),
    "a longer list": ("r: [a, 'b']\n", [Put(("r",), ["a", "c", "d"])], "r: [a, 'c', d]\n"),
    "a place too odd for the tidy way": (
        "# top\na: {b # here\n  , d: 'e'}  # end\nf: {g: , h: {k # c\n  }}\n",
        [Put(("a", "b"), "x"), Put(("f", "h", "k"), "y")],
        "# top\na: {b: x, d: e}  # end\nf: {g: , h: {k: y}}\n",
    ),
    "values that need quotes": (
        "a: {b: c}\n",
        [Put(("a", "null"), "null"), Put(("a", "x y"), ""), Put(("a", "z"), ["a, b", "#", "- q", "two\nlines", "é"])],
        'a: {b: c, null: "null", x y: "", z: ["a, b", "#", "- q", "two\\nlines", é]}\n',
    ),
}


@pytest.mark.parametrize("style", STYLES)
def test_styles(style: str) -> None:
    """Each way of writing is kept: the whole changed text is as a careful hand would leave it."""
    text, changes, expected = STYLES[style]
    assert changed(text, *changes) == expected


def test_a_changed_tree_shares_what_is_untouched() -> None:
    """Only the paths are copied; old values keep their places, and new ones stand at the nearest parent."""
    document = parse(FILE, "f")
    root = document.root
    assert isinstance(root, dict)
    changes = [
        Put(("components", "tank", "part"), "new"),
        Put(("components", "tee"), {"part": "tee-3"}),
        Drop(("joints", 0)),
        Append(("joints",), ["a", "b"]),
        Put(("hoses", "h", "part"), "x"),
    ]
    after = changed_tree(document, changes)
    assert isinstance(after.root, dict)
    assert after.text is document.text
    assert after.root["lines"] is root["lines"]
    assert after.root["components"]["pedals"] is root["components"]["pedals"]
    assert after.root["joints"][0] is root["joints"][1]
    assert root == parse(FILE, "f").root
    assert after.mark(("components", "tank", "part")) == document.mark(("components", "tank", "part"))
    assert after.span(("components", "tank", "part")) == document.span(("components", "tank", "part"))
    assert after.mark(("components", "tee", "part")) == document.mark(("components",), key=True)
    assert after.mark(("joints", 0, "port")) == document.mark(("joints", 1, "port"))
    assert after.mark(("joints", 1, 1)) == document.mark(("joints",), key=True)
    assert after.mark(("hoses", "h", "part")) == Mark(2, 1, 18)


def test_a_tree_changed_before_is_written_too() -> None:
    """Changes to a document whose tree was changed in memory are written together with those made before."""
    document = parse("a: {b: c}  # d\nj: [x, y]\n", "f")
    before = changed_tree(document, [Put(("a", "b"), "e"), Drop(("j", 0))])
    assert changed_document(before, [Append(("j",), "z")]).text == "a: {b: e}  # d\nj: [y, z]\n"


def test_merging_keeps_each_change_once() -> None:
    """Equal changes count once, different items are all added, and a drop inside another is no change."""
    one, two, whole = Append(("j",), ["a"]), Append(("j",), ["b"]), Drop(("c",))
    put = Put(("d", 1), {"x": "y"})
    assert merged([one, put, Drop(("c", "x")), two, one, whole, Put(("d", 1), {"x": "y"})]) == (one, put, two, whole)
    assert merged([]) == ()


CONFLICTS = [
    (Put(("a", "b"), "x"), Put(("a", "b"), "y"), "a.b is set to 'x', but a.b is set to 'y'; take one of the two"),
    (Drop(("a",)), Put(("a",), "y"), "a is taken out, but a is set to 'y'; take one of the two"),
    (Drop(("a",)), Put(("a", 0), ["p", "q"]), "a is taken out, but a.0 is set to ['p', 'q']; take one of the two"),
    (Put(("a",), "x"), Append(("a",), "y"), "a is set to 'x', but 'y' is added to a; take one of the two"),
    (Put(("a",), "x"), Drop(("a", "b")), "a is set to 'x', but a.b is taken out; take one of the two"),
    (Append(("a",), "x"), Put(("a", "b"), "y"), "'x' is added to a, but a.b is set to 'y'; take one of the two"),
]


@pytest.mark.parametrize(("first", "second", "text"), CONFLICTS)
def test_conflicts(first: Change, second: Change, text: str) -> None:
    """Changes that want two things of one place are refused, whichever comes first, and the two are told."""
    with pytest.raises(ConflictError) as caught:
        merged([first, second])
    assert str(caught.value) == text
    assert (caught.value.first, caught.value.second) == (first, second)
    with pytest.raises(ConflictError):
        changed_tree(parse("a: 1\n", "f"), [second, first])


REFUSED: list[tuple[Change, str]] = [
    (Drop(("a", "x")), "f:1:1: there is no a.x to take out"),
    (Put(("a", 0), "x"), "f:1:4: expected a list with an item 0, got a mapping"),
    (Append(("a",), "x"), "f:1:4: expected a list, got a mapping"),
    (Put(("a", "b", "c"), "x"), "f:1:8: expected a mapping, got text 'c'"),
    (Append(("a", "b"), "x"), "f:1:8: expected a list, got text 'c'"),
    (Put(("j", 2), "x"), "f:2:4: there is no j.2: the list j has the items 0 to 1"),
    (Put(("j", "x"), "y"), "f:2:4: there is no j.x: the list j has the items 0 to 1"),
    (Drop(("e", 0)), "f:3:4: there is no e.0: the list is empty"),
    (Drop(()), "f:1:1: the whole file cannot be one change"),
    (Put(("n", 0), "x"), "f:4:3: expected a list with an item 0, got a mapping"),
]


@pytest.mark.parametrize(("change", "text"), REFUSED)
def test_changes_that_lead_nowhere(change: Change, text: str) -> None:
    """A path that the file does not have is refused at its place, in the tree and in the text."""
    document = parse("a: {b: c}\nj: [x, y]\ne: []\nn:\n", "f")
    for change_it in (changed_tree, changed_document):
        with pytest.raises(InputError) as caught:
            change_it(document, [change])
        assert str(caught.value) == text


def test_a_text_that_no_file_may_hold() -> None:
    """A control character cannot be written: the section is named, and no other change is blamed."""
    document = parse("a: {b: c}\nd: {e: f}\n", "f")
    with pytest.raises(InputError) as caught:
        changed_document(document, [Put(("a", "b"), "x"), Put(("d", "e"), "y\x7f")])
    assert str(caught.value) == "f:2:4: the change cannot be written here without changing more of the file"
