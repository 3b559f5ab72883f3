"""Changes made in the text of a file: it reads as wanted, and nothing else in it differs."""

from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.changes import Append, Change, changed_document, changed_tree
from fitcheck.sources import parse
from fitcheck.trees import Path
from tests.properties.written_files import Line, Writer, some_changes


def touched(line: Line, change: Change) -> bool:
    """Return whether a change may touch a line: one of what it changes, or of an entry around it."""
    path: Path = (*change.path, "+") if isinstance(change, Append) else change.path
    inside = line.owner[: len(path)] == path
    return inside or (not line.between and path[: len(line.owner)] == line.owner)


def same(line: str, found: str) -> bool:
    """Return whether a line is there: as it was, or behind the dash of its item if the key behind that is gone."""
    return found == line or found.lstrip().removeprefix("- ") == line.lstrip()


@given(st.integers(0, 2**32))
@settings(settings.get_profile("brief"), max_examples=600)
def test_changes_in_the_text(seed: int) -> None:
    """Whatever the style of a file, it reads as the changed tree, and every line of other entries is still there."""
    random = Random(seed)
    writer = Writer(random, nulls=True)
    tree = writer.file()
    end, start = random.choice(["\n", "\n", "\r\n"]), random.choice(["", "", "\ufeff"])
    text = start + end.join(line.text for line in writer.lines)
    text += end if ": |" in text else random.choice([end, end, ""])  # a block text without a line end is another text
    end = end if end in text else "\n"
    document = parse(text, "f")
    assert document.root == tree
    changes = some_changes(random, tree)
    changed = changed_document(document, changes)
    assert changed.root == changed_tree(document, changes).root
    assert document.root == tree
    assert changed.text.startswith(start)
    assert changed.text.count("\n") == changed.text.count(end)
    left = iter(changed.text.removeprefix(start).split(end))
    for line in writer.lines:
        if not any(touched(line, change) for change in changes):
            assert any(same(line.text, found) for found in left), (line, changes, changed.text)
