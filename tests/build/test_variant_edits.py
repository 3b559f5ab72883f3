"""Changes of a variant, written into the variant's own block."""

import pytest

from fitcheck.build.variant_edits import OutsideError, changed_variant
from fitcheck.build.variants import chosen_variant
from fitcheck.changes import Append, Change, Drop, Put, changed_tree
from fitcheck.sources import parse
from fitcheck.trees import InputError

TEXT = """\
build: 1
name: Teal    # invented
components:
  mc: {part: mc-16}
  tee: {part: tee-a}
  old: {part: plug-b}
lines:
  feed: {tube: tube-a, from: mc.outlet, to: tee.top}
joints:
  - [mc.outlet, tee.top]
  - {ports: [tee.left, tee.right], washers: 1}
  - [mc.second, old.nose]
variants:
  other: {swap: {mc: mc-22}}
  mine:    # what could be
    swap: {tee: tee-b}
    set:
      joints.1.washers: 2
      lines.feed.tube: tube-b
    add:
      components:
        plug: {part: plug-a}
      joints:
        - [tee.left, plug.nose]
"""


def _changed(*changes: Change) -> str:
    """Return what the changes make of the lines of the variant, which is all that they may touch."""
    document = parse(TEXT, "b.yaml")
    found = changed_variant(document, "mine", changes)
    wanted = changed_tree(chosen_variant(document, "mine"), changes).root
    got = chosen_variant(found, "mine").root
    assert {key: got[key] for key in got if key != "variants"} == {
        key: wanted[key] for key in wanted if key != "variants"
    }
    start = TEXT.index("    swap: {tee")
    assert found.text.startswith(TEXT[:start])
    return found.text[start:]


BLOCK = TEXT[TEXT.index("    swap: {tee") :]


@pytest.mark.parametrize(
    ("change", "old", "new"),
    [
        (Put(("components", "mc", "part"), "mc-19"), "swap: {tee: tee-b}", "swap: {tee: tee-b, mc: mc-19}"),
        (Put(("components", "tee", "part"), "tee-c"), "swap: {tee: tee-b}", "swap: {tee: tee-c}"),
        (Put(("lines", "feed", "tube"), "tube-c"), "lines.feed.tube: tube-b", "lines.feed.tube: tube-c"),
        (Put(("joints", 1, "washers"), "3"), "joints.1.washers: 2", "joints.1.washers: 3"),
        (Put(("name",), "Wren"), "tube: tube-b\n", "tube: tube-b\n      name: Wren\n"),
        (Put(("components", "plug", "part"), "plug-b"), "plug: {part: plug-a}", "plug: {part: plug-b}"),
        (
            Put(("components", "cap"), {"part": "cap-a"}),
            "plug: {part: plug-a}\n",
            "plug: {part: plug-a}\n        cap: {part: cap-a}\n",
        ),
        (Append(("joints",), ["a.b", "c.d"]), "plug.nose]\n", "plug.nose]\n        - [a.b, c.d]\n"),
        (Put(("lines", "feed", "to"), "tee.left"), "tube: tube-b\n", "tube: tube-b\n      lines.feed.to: tee.left\n"),
    ],
)
def test_said_by_the_block(change: Change, old: str, new: str) -> None:
    """Each change is one value of the block, where the variant speaks of it already or where it belongs."""
    assert BLOCK.count(old) == 1
    assert _changed(change) == BLOCK.replace(old, new)


def test_dropped_with_its_joints() -> None:
    """A part that is taken out goes with the joints that name it, as in every variant."""
    assert _changed(Drop(("components", "old")), Drop(("joints", 2))) == BLOCK + "    drop: [components.old]\n"


@pytest.mark.parametrize(
    "change",
    [
        Drop(("joints", 0)),
        Drop(("components", "old")),  # without its joints: a variant takes them out too
        Put(("joints", 3), ["a.b", "c.d"]),
        Put(("catalogs",), ["other.yaml"]),
    ],
)
def test_not_said_by_the_block(change: Change) -> None:
    """What a variant has no words for is refused; nothing near it is written in its place."""
    with pytest.raises(OutsideError) as told:
        changed_variant(parse(TEXT, "b.yaml"), "mine", [change])
    words = "the variant mine has no way to say this: change the build itself, or the file as text"
    assert str(told.value) == words


def test_no_such_variant() -> None:
    """A variant that is not there is told."""
    with pytest.raises(InputError, match="no variant is called 'yours'"):
        changed_variant(parse(TEXT, "b.yaml"), "yours", [Put(("name",), "Wren")])


def test_block_without_anything() -> None:
    """A variant that says nothing yet says the change."""
    document = parse("build: 1\ncomponents:\n  mc: {part: mc-16}\nvariants:\n  mine: {}\n", "b.yaml")
    text = changed_variant(document, "mine", [Put(("components", "mc", "part"), "mc-19")]).text
    assert parse(text, "b.yaml").root["variants"] == {"mine": {"swap": {"mc": "mc-19"}}}
