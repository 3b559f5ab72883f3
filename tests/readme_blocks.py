"""README's console blocks: a mark over each says with which code its command ends, and which lines are shown.

`<!-- run -->` shows the whole answer of a command that ends with code 0. Otherwise the mark says so:
`<!-- run, exit 1, first 12, at "TO CUT" 5, last 4 -->`. A line `...` stands where lines are left out: where the
mark leaves them out, and nowhere else. What is shown is compared line by line, and the code always.
"""

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).parents[1]
BLOCK = re.compile(
    r"(?P<mark><!-- run[^\n]*-->\n)?```console\n\$ fitcheck (?P<arguments>[^\n]+)\n(?P<shown>.*?)```", re.DOTALL
)
MARK = re.compile(
    r"<!-- run(?:, exit (?P<code>\d))?"
    r"(?:, first (?P<first>\d+)(?P<at>(?:, at \"[^\"]+\" \d+)*)(?:, last (?P<last>\d+))?)? -->"
)
AT = re.compile(r"at \"([^\"]+)\" (\d+)")
LEFT_OUT = "..."


class MarkError(ValueError):
    """A mark that says nothing, or that the answer does not go with."""


class Mark(NamedTuple):
    """What a mark says: the exit code, and how many lines are shown from the top, from some words on, and at the end.

    All are shown if `first` is None.
    """

    code: int
    first: int | None
    at: tuple[tuple[str, int], ...]
    last: int


class Block(NamedTuple):
    """A command, its mark as written, and the text under the command."""

    arguments: str
    mark: str
    shown: str


class Answer(NamedTuple):
    """What a command prints, standard error after standard output, and its exit code."""

    text: str
    code: int


def blocks(readme: str) -> list[Block]:
    """Return the console blocks of a page."""
    return [Block(found["arguments"], found["mark"] or "", found["shown"]) for found in BLOCK.finditer(readme)]


def read_mark(text: str) -> Mark:
    """Return what a mark says.

    >>> read_mark('<!-- run, exit 1, first 3, at "TO CUT" 2 -->')
    Mark(code=1, first=3, at=(('TO CUT', 2),), last=0)

    Raises:
        MarkError: It is none, or it leaves out the first line, which tells the outcome.
    """
    found = MARK.fullmatch(text.strip())
    if found is None or found["first"] == "0":
        raise MarkError(f"no mark of a console block: {text.strip() or 'nothing'}")
    at = tuple((words, int(lines)) for words, lines in AT.findall(found["at"] or ""))
    return Mark(int(found["code"] or 0), int(found["first"]) if found["first"] else None, at, int(found["last"] or 0))


def cut(text: str, mark: Mark) -> str:
    """Return the lines of an answer that a mark shows, with `...` for each gap.

    Raises:
        MarkError: A text of `at` begins no line.
    """
    lines = text.splitlines()
    if mark.first is None:
        return text
    kept = set(range(mark.first)) | set(range(len(lines) - mark.last, len(lines)))
    for words, count in mark.at:
        start = next((place for place, line in enumerate(lines) if line.lstrip().startswith(words)), None)
        if start is None:
            raise MarkError(f"no line of the answer begins with {words!r}")
        kept |= set(range(start, start + count))
    shown = [line if place in kept else LEFT_OUT for place, line in enumerate(lines)]
    return "".join(
        f"{line}\n" for place, line in enumerate(shown) if place in kept or place == 0 or (place - 1) in kept
    )


def answer(arguments: str) -> Answer:
    """Return what a command answers from the top of the checkout, in a terminal of 80 columns."""
    command = [sys.executable, "-m", "fitcheck", *shlex.split(arguments)]
    env = {**os.environ, "COLUMNS": "80"}
    done = subprocess.run(command, cwd=ROOT, env=env, capture_output=True, text=True, encoding="utf-8", check=False)
    return Answer(done.stdout + done.stderr, done.returncode)


def faults(block: Block, given: Answer) -> list[str]:
    """Return what is wrong with a block whose command gives this answer; the lines shown are not looked at."""
    mark = read_mark(block.mark)
    told = [f"{block.arguments}: ends with {given.code}, its mark says {mark.code}"] * (given.code != mark.code)
    return told + [
        f"{block.arguments}: prints {words!r}" for words in ("Traceback (most recent", "usage: ") if words in given.text
    ]


def fresh(readme: str) -> str:
    """Return the page with the present answers in it, cut as the marks say.

    Raises:
        MarkError: A command ends otherwise than its mark says, is asked wrongly, or a mark does not suit.
    """

    def again(found: re.Match[str]) -> str:
        block = Block(found["arguments"], found["mark"] or "", "")
        given = answer(block.arguments)
        if wrong := faults(block, given):
            raise MarkError("; ".join(wrong))
        return f"{block.mark}```console\n$ fitcheck {block.arguments}\n{cut(given.text, read_mark(block.mark))}```"

    return BLOCK.sub(again, readme)
