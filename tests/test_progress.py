"""How far long work is: told to who looks, to nobody else, and the same answer either way."""

import os
import subprocess
import sys
from io import StringIO
from pathlib import Path

import pytest

from fitcheck.bom.solver import Model
from fitcheck.catalog.shelf import Shelf
from fitcheck.catalog.take_in.run import Request, take_in
from fitcheck.cli.bar import AFTER_S, EVERY_S, Bar
from fitcheck.progress import Step, shown_by, step, stepping, task, watched

Seen = list[Step | None]


def price_list(folder: Path, rows: int) -> Path:
    """Return a price list of so many rows, all of them parts that are understood."""
    path = folder / "list.csv"
    lines = [f"N-{number},Tube nut M10x1 bubble flare 3/16 tube,{number}.00\n" for number in range(1, rows + 1)]
    path.write_text("number,description,price EUR\n" + "".join(lines), encoding="utf-8")
    return path


def test_nobody_looks() -> None:
    """Steps that nobody looks at go nowhere, and what costs something need not be found out."""
    with task("working"):
        step(1, 2)
        assert not watched()


def test_steps_carry_their_task() -> None:
    """Each step is shown with the task around it, the end of a task is told, and outside of one nothing is."""
    seen: Seen = []
    with shown_by(seen.append):
        step(1, 2)
        with task("working"):
            step(1, 4, "so far")
    step(2, 2)
    assert seen == [Step("working"), Step("working", 1, 4, "so far"), None]


@pytest.mark.parametrize(("done", "total", "share"), [(1, 4, 0.25), (5, 4, 1.0), (0, 0, 1.0), (3, None, None)])
def test_share(done: float, total: float | None, share: float | None) -> None:
    """The share lies between 0 and 1, and is unknown where the end is."""
    assert Step("x", done, total).share == share


def test_bar_waits_and_leaves_no_trace() -> None:
    """Short work shows nothing; longer work a line that is overwritten, no oftener than it may, and taken away."""
    stream, clock = StringIO(), [0.0]
    bar = Bar(stream, 60, lambda: clock[0])
    for clock[0] in (0.0, AFTER_S / 2):
        bar.show(Step("reading", 1, 4))
    assert stream.getvalue() == ""
    for clock[0] in (AFTER_S, AFTER_S + EVERY_S / 2, AFTER_S + EVERY_S):
        bar.show(Step("reading", 1 + clock[0], 4, "lines"))
    bar.show(None)
    first, second = "reading [#########---------------]  37 % lines", "reading [#########---------------]  40 % lines"
    assert stream.getvalue() == f"\r{first}\r{second}\r{' ' * len(second + '^C')}\r"


def test_bar_keeps_to_its_line() -> None:
    """A long or hostile name neither wraps, with room for the ^C of an interruption, nor drives the terminal."""
    stream, clock = StringIO(), [0.0]
    bar = Bar(stream, 20, lambda: clock[0])
    for clock[0] in (0.0, 9.0):
        bar.show(Step("a\x1b[2J\n" + "b" * 99))
    assert stream.getvalue() == "\ra\\x1b[2J\\nbbbbbbb"


def test_take_in_tells_bytes_and_lines(tmp_path: Path) -> None:
    """Both looks through a list tell ever more of its bytes, and what is written is the same as without."""
    path = price_list(tmp_path, 1600)
    request = Request(path, out=tmp_path / "seen")
    seen: Seen = []
    with shown_by(seen.append):
        take_in(request, Shelf.generic())
    told = [one for one in seen if one is not None and one.done]
    size = path.stat().st_size
    for words in ("looking through list.csv", "taking in list.csv"):
        own = [one for one in told if one.task == words]
        assert [one.note for one in own] == ["500 lines", "1,000 lines", "1,500 lines"]
        assert all(one.total == size and 0 < one.done <= size for one in own)
        assert [one.done for one in own] == sorted(one.done for one in own)
    take_in(request._replace(out=tmp_path / "unseen"), Shelf.generic())
    files = sorted(file.name for file in (tmp_path / "seen").iterdir())
    assert files
    assert [(tmp_path / "seen" / name).read_bytes() for name in files] == [
        (tmp_path / "unseen" / name).read_bytes() for name in files
    ]


def test_solver_tells_how_near_it_is() -> None:
    """The solver tells its time and how far its best solution can be from the least; the solution is the same."""

    def solved() -> object:
        model = Model()
        numbers = [model.variable(3) for _ in range(30)]
        for row in range(8):
            model.row({number: (number * 7 + row * 13) % 31 + 5 for number in numbers}, least=700)
        return model.solve({number: (number * 11) % 47 + 20 for number in numbers}, 20.0)

    seen: Seen = []
    with shown_by(seen.append), task("planning"):
        shown = solved()
    told = [one for one in seen if one is not None and one.note]
    assert told
    assert all(one.note.startswith("of the time there is; ") and one.total == 20.0 for one in told)
    assert any("above the least" in one.note for one in told)
    assert solved() == shown


@pytest.mark.skipif(not hasattr(os, "openpty"), reason="no terminals of that kind here")
def test_shown_on_a_terminal_only(tmp_path: Path) -> None:
    """With a terminal for messages the line is there and goes; with a pipe nothing is; the answer has none of it."""
    path = price_list(tmp_path, 1600)
    at_once = "from fitcheck.cli import bar, main; bar.AFTER_S = bar.EVERY_S = 0.0; main.run()"
    command = [sys.executable, "-c", at_once, "parts", "take-in", str(path), "--out", str(tmp_path / "out")]
    subprocess.run(command, capture_output=True, check=False)  # what is written then is there already for both below
    piped = subprocess.run(command, capture_output=True, check=False)
    assert piped.stderr == b""
    main, other = os.openpty()
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=other) as process:
        os.close(other)
        written = b""
        assert process.stdout is not None
        while True:
            try:
                chunk = os.read(main, 65536)
            except OSError:  # the other side is closed
                break
            if not chunk:
                break
            written += chunk
        answer = process.stdout.read()
    os.close(main)
    assert answer == piped.stdout
    assert b"\rtaking in list.csv [" in written
    assert written.endswith(b" \r")


def test_wide_characters_are_counted_as_the_terminal_does() -> None:
    """A name of wide characters takes two columns for each: half as many are shown."""
    stream, clock = StringIO(), [0.0]
    bar = Bar(stream, 20, lambda: clock[0])
    for clock[0] in (0.0, 9.0):
        bar.show(Step("漢" * 30))
    assert stream.getvalue() == f"\r{'漢' * 8}"


def test_a_task_within_another() -> None:
    """The inner task's words stand for the outer's meanwhile; only the outer's end takes the line away."""
    seen: Seen = []
    with shown_by(seen.append), task("packing"):
        with task("planning"):
            step(1, 2)
        step(3, 4)
    assert seen == [Step("packing"), Step("planning"), Step("planning", 1, 2), Step("packing", 3, 4), None]


def test_stepping() -> None:
    """Items come as they are, each told before it is worked on."""
    seen: Seen = []
    with shown_by(seen.append), task("making"):
        assert list(stepping([3, 5], str)) == [3, 5]
    assert seen == [Step("making"), Step("making", 0, 2, "3"), Step("making", 1, 2, "5"), None]
