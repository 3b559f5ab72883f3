"""How far long work is, on a real terminal: which commands show it, where, and that nothing of it stays."""

import os
import sys
from pathlib import Path
from typing import NamedTuple

import pytest

from fitcheck.reports.plain import columns

pytestmark = pytest.mark.skipif(not hasattr(os, "forkpty"), reason="no terminals of that kind here")
DEMO = str(Path(__file__).parents[2] / "demo_vehicle")
AT_ONCE = "from fitcheck.cli import bar, main; bar.AFTER_S = bar.EVERY_S = 0.0; main.run()"
"""The program, with a bar that does not wait until work is long."""
SLOWLY = f"""
import time
from fitcheck import progress
told = progress.step
def slowly(*what): told(*what); time.sleep(60)
progress.step = slowly
{AT_ONCE}
"""
"""The same, with a first step that does not end: somebody has the time to interrupt it."""
VERBS: dict[str, tuple[str, ...]] = {
    "planning cuts [": ("cut", DEMO),
    "planning purchases": ("order", DEMO),
    "making bench sheets [": ("make", DEMO),
    "curing [": ("cure", DEMO),
    "proving remedies [": ("order", DEMO, "--with-remedies"),
    "making the pack [": ("pack", DEMO, "--only", "html", "--on", "2026-12-01", "--out"),
    "taking in list.csv [": ("parts", "take-in"),
}
"""Words of the bar, and a command that shows them."""


class Run(NamedTuple):
    """What came of a command: its answer, all that it wrote to its terminal, its exit code."""

    answer: bytes
    written: str
    code: int


def run(program: str, words: tuple[str, ...], wide: int = 80, interrupt_at: str = "", **environment: str) -> Run:
    """Run a command with a terminal of its own for all but its answer; press Ctrl-C once some words are there."""
    answer_from, answer_to = os.pipe()
    child, terminal = os.forkpty()
    if child == 0:  # pragma: no cover
        os.dup2(answer_to, 1)
        os.environ.pop("TERM", None)
        os.environ.update(environment)
        _resize(2, wide)
        os.execv(sys.executable, [sys.executable, "-c", program, *words])
    os.close(answer_to)
    written, pressed = b"", not interrupt_at
    while chunk := _read(terminal):
        written += chunk
        if not pressed and interrupt_at.encode() in written:
            os.write(terminal, b"\x03")
            pressed = True
    with os.fdopen(answer_from, "rb") as pipe:
        answer = pipe.read()
    os.close(terminal)
    return Run(answer, written.decode(), os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]))


def _resize(stream: int, wide: int) -> None:
    import fcntl
    import struct
    import termios

    fcntl.ioctl(stream, termios.TIOCSWINSZ, struct.pack("HHHH", 24, wide, 0, 0))


def _read(terminal: int) -> bytes:
    try:
        return os.read(terminal, 65536)
    except OSError:  # the other side is closed
        return b""


def screen(written: str, wide: int) -> list[str]:
    """Return the lines that a terminal shows in the end, blank ones left out."""
    lines, at = [""], 0
    for char in written:
        if char == "\n":
            lines.append("")
        if char in "\r\n":
            at = 0 if char == "\r" else at
            continue
        if at >= wide:
            lines.append("")
            at = 0
        lines[-1] = f"{lines[-1]:<{at}}"[:at] + char + lines[-1][at + 1 :]
        at += columns(char)
    return [line.rstrip() for line in lines if line.strip()]


def command(shown: str, folder: Path) -> tuple[str, ...]:
    """Return the command that shows some words, with what it reads and where it writes."""
    words = VERBS[shown]
    if words[0] == "pack":
        return (*words, str(folder / "out"))
    if words[0] == "parts":
        rows = "".join(f"N-{number},Tube nut M10x1 bubble flare 3/16 tube,{number}.00\n" for number in range(1, 1200))
        (folder / "list.csv").write_text("number,description,price EUR\n" + rows, encoding="utf-8")
        return (*words, str(folder / "list.csv"), "--out", str(folder / "out"))
    return words


@pytest.mark.parametrize("shown", VERBS)
def test_who_shows_it(tmp_path: Path, shown: str) -> None:
    """Long work tells how far it is on the terminal, never in the answer, and nothing of it stays there."""
    words = command(shown, tmp_path)
    seen = run(AT_ONCE, words, wide=200)
    assert f"\r{shown}" in seen.written
    assert seen.code in (0, 1)
    assert b"[#" not in seen.answer
    assert b"\r" not in seen.answer
    left = screen(seen.written, 200)
    assert not any(shown.rstrip(" [") in line for line in left)
    assert all(line.endswith("written") or line.startswith(("fitcheck ", "no remedy")) for line in left), left


@pytest.mark.parametrize("wide", [1, 7, 20, 80])
def test_narrow_terminals(wide: int) -> None:
    """On a narrow terminal the line is cut, so that it never wraps; wide enough, none is."""
    seen = run(AT_ONCE, ("cut", DEMO), wide)
    lines = [line for line in seen.written.split("\r") if line.strip()]
    assert lines
    assert max(map(len, lines)) <= max(wide - 3, 1)
    assert screen(seen.written, max(wide, 4)) == []


@pytest.mark.parametrize("wide", [20, 80])
def test_ctrl_c_leaves_nothing(wide: int) -> None:
    """Interrupted with the line on the screen, the program ends with 130 and an empty line, answer and messages too."""
    seen = run(SLOWLY, ("cut", DEMO), wide, interrupt_at="planning cuts")
    assert (seen.code, seen.answer) == (130, b"")
    assert "^C" in seen.written
    assert screen(seen.written, wide) == []


def test_a_dumb_terminal_has_none() -> None:
    """A terminal that says it can do nothing is written nothing."""
    assert run(AT_ONCE, ("cut", DEMO), TERM="dumb").written == ""


def test_colours() -> None:
    """The answer has colours on a terminal alone, and none where NO_COLOR is set or the terminal is dumb."""
    plain_out = "import os; os.dup2(2, 1); from fitcheck.cli import main; main.run()"
    shown = {
        name: "\x1b[" in run(plain_out, ("check", DEMO), **said).written
        for name, said in {"usual": {}, "no color": {"NO_COLOR": "1"}, "dumb": {"TERM": "dumb"}}.items()
    }
    assert shown == {"usual": True, "no color": False, "dumb": False}


def test_quick_work_shows_nothing() -> None:
    """What is done at once shows nothing at all, on any terminal."""
    patient = "from fitcheck.cli import bar, main; bar.AFTER_S = 60.0; main.run()"
    seen = run(patient, ("cut", DEMO))
    assert (seen.written, seen.code) == ("", 0)
    assert seen.answer.startswith(b"Dunlin")
