"""Lines: what differs, and the ends that they have."""

from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.service.page.lines import Row, as_written, compared, lines_of

TEXTS = st.lists(
    st.tuples(st.text(st.sampled_from("ab: #é"), max_size=4), st.sampled_from(["\n", "\r\n", "\r"])), max_size=8
)


@settings(derandomize=True)
@given(TEXTS)
def test_untouched_text_is_untouched(lines: list[tuple[str, str]]) -> None:
    """A text that a browser sends back as it got it is the file's, byte for byte, whatever its line ends."""
    there = "".join(words + end for words, end in lines)
    sent = there.replace("\r\n", "\n").replace("\r", "\n").replace("\n", "\r\n")
    assert as_written(sent, there) == there


@settings(derandomize=True)
@given(TEXTS)
def test_lines_are_the_text(lines: list[tuple[str, str]]) -> None:
    """The lines of a text put together are the text."""
    text = "".join(words + end for words, end in lines)
    assert "".join(lines_of(text)) == text


def test_ends_of_new_lines() -> None:
    """A new line gets the end that most lines of the file have."""
    assert as_written("a\nb\nnew\nc\n", "a\r\nb\r\nc\n") == "a\r\nb\r\nnew\r\nc\n"
    assert as_written("a\nnew", "") == "a\nnew"


def test_comparison() -> None:
    """A comparison has what goes, what comes, their numbers, and a few lines around."""
    old = "".join(f"{number}\n" for number in range(1, 20))
    rows = compared(old, old.replace("10\n", "ten\n"))
    assert [row.words for row in rows if row.kind == "same"] == ["7", "8", "9", "11", "12", "13"]
    assert [row for row in rows if row.kind != "same"] == [Row("out", 10, None, "10"), Row("in", None, 10, "ten")]
    assert compared(old, old) == []


def test_long_texts_are_not_compared() -> None:
    """Texts that would take seconds are said to be too long."""
    rows = compared("a\n" * 5000, "b\n" * 5000)
    assert rows == [Row("gap", None, None, "too long to be compared line by line: 5000 lines, now 5000")]
