"""What README leaves out of an answer hides nothing that is wrong: the code and every shown line are compared."""

import pytest

from tests.readme_blocks import Answer, Block, Mark, MarkError, blocks, cut, faults, fresh, read_mark

TEXT = "Wren: 1 error\n\none\ntwo\n\n  TO CUT\n  a\n  b\nthree\nend\n"


def test_a_mark_alone_shows_all() -> None:
    """Without numbers nothing is left out, and the command is taken to end well."""
    assert read_mark("<!-- run -->") == Mark(0, None, (), 0)
    assert cut(TEXT, read_mark("<!-- run -->")) == TEXT
    assert cut(TEXT, read_mark("<!-- run, exit 1 -->")) == TEXT


@pytest.mark.parametrize(
    ("mark", "shown"),
    [
        ("first 1", "Wren: 1 error\n...\n"),
        ("first 3, last 1", "Wren: 1 error\n\none\n...\nend\n"),
        ("first 1, last 2", "Wren: 1 error\n...\nthree\nend\n"),
        ('first 1, at "TO CUT" 2', "Wren: 1 error\n...\n  TO CUT\n  a\n...\n"),
        ('first 1, at "TO CUT" 3, last 2', "Wren: 1 error\n...\n  TO CUT\n  a\n  b\nthree\nend\n"),
        ('first 1, at "one" 1, at "three" 1', "Wren: 1 error\n...\none\n...\nthree\n...\n"),
        ("first 40, last 4", TEXT),
        ('first 9, at "end" 5', TEXT),
    ],
)
def test_lines_are_left_out_where_the_mark_says(mark: str, shown: str) -> None:
    """Each gap is one `...`; there is none where nothing is left out."""
    assert cut(TEXT, read_mark(f"<!-- run, {mark} -->")) == shown


@pytest.mark.parametrize(
    "mark",
    ["", "<!-- run, first 0 -->", "<!-- run, last 4 -->", '<!-- run, at "end" 1 -->', "<!-- run, first -->", "run"],
)
def test_a_mark_that_hides_the_outcome_is_refused(mark: str) -> None:
    """The first line of an answer tells the outcome: no mark leaves it out, and a block without a mark is none."""
    with pytest.raises(MarkError, match="no mark of a console block"):
        read_mark(mark)


def test_a_part_that_is_gone_is_no_gap() -> None:
    """If what is shown by its words is no longer in the answer, that is told instead of left out."""
    with pytest.raises(MarkError, match="no line of the answer begins with 'TO SELL'"):
        cut(TEXT, read_mark('<!-- run, first 1, at "TO SELL" 2 -->'))


@pytest.mark.parametrize("changed", ["Wren: 1 error", "  a", "end"])
def test_a_shown_line_that_changes_is_seen(changed: str) -> None:
    """Any line that is shown, at the top, in the middle or at the end, differs when the answer does."""
    mark = read_mark('<!-- run, exit 1, first 2, at "TO CUT" 2, last 1 -->')
    assert changed in cut(TEXT, mark)
    assert cut(TEXT.replace(changed, "other"), mark) != cut(TEXT, mark)


def test_dots_typed_by_hand_hide_nothing() -> None:
    """A `...` in a block whose mark leaves out nothing is not what the command prints."""
    block = blocks("<!-- run -->\n```console\n$ fitcheck check\nWren: 1 error\n...\nend\n```\n")[0]
    assert block == Block("check", "<!-- run -->\n", "Wren: 1 error\n...\nend\n")
    assert cut(TEXT, read_mark(block.mark)) != block.shown


def test_an_exit_code_that_changes_is_seen() -> None:
    """The code is compared even where all of the answer but its first line is left out."""
    block = Block("check", "<!-- run, exit 1, first 1 -->\n", "Wren: 1 error\n...\n")
    assert faults(block, Answer(TEXT, 1)) == []
    assert faults(block, Answer(TEXT, 0)) == ["check: ends with 0, its mark says 1"]


def test_a_crash_in_what_is_left_out_is_seen() -> None:
    """A traceback or a usage line is told wherever in the answer it stands."""
    block = Block("check", "<!-- run, exit 1, first 1 -->\n", "Wren: 1 error\n...\n")
    crash = "Wren: 1 error\nTraceback (most recent call last):\nusage: fitcheck\n"
    assert faults(block, Answer(crash, 1)) == ["check: prints 'Traceback (most recent'", "check: prints 'usage: '"]


def test_answers_are_put_in_anew() -> None:
    """The page is regenerated with its marks and gaps as they are; what stood there before is gone."""
    page = 'before\n<!-- run, first 1, at "2 of" 1 -->\n```console\n$ fitcheck rules\nold\n```\nafter\n'
    with pytest.raises(MarkError, match="no line of the answer begins with '2 of'"):
        fresh(page)
    again = fresh(page.replace(', at "2 of" 1', ', at "joint" 1'))
    assert "old" not in again
    assert again.startswith('before\n<!-- run, first 1, at "joint" 1 -->\n```console\n$ fitcheck rules\n')
    assert again.endswith("fitcheck rules NAME shows one page\n...\njoint\n...\n```\nafter\n")


def test_no_page_is_made_of_a_command_that_ends_otherwise() -> None:
    """Regenerating stops at a command whose code is not that of its mark."""
    with pytest.raises(MarkError, match="rules no-such-rule: ends with 2, its mark says 0"):
        fresh("<!-- run -->\n```console\n$ fitcheck rules no-such-rule\n```\n")
