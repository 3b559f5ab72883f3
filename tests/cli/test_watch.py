"""`fitcheck watch`: answers after each save, quiet in between, whatever editors do to files; how it ends."""

import os
import re
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from fitcheck.cli.main import main
from fitcheck.cli.watch import Watch

BUILD = """\
build: 1
name: Wren
catalogs: [house.yaml]
offers: [offers.yaml]
stock: stock.yaml
components:
  joiner: {part: tee-3-16-inverted}
  stop_a: {part: plug-3-8-24-inverted}
  stop_b: {part: plug-3-8-24-inverted}
  stop_c: {part: house-plug}
joints:
  - [stop_a.end, joiner.left]
  - [stop_b.end, joiner.right]
  - [stop_c.end, joiner.top]
"""
HOUSE = """\
catalog: 1
parts:
  house-plug:
    kind: plug
    ports: {end: {thread: 3/8-24 UNF, gender: external, seat: inverted-flare}}
"""
OFFERS = """\
offers: 1
suppliers:
  hall: {name: The Hall, currency: GBP}
prices:
  - {part: plug-3-8-24-inverted, supplier: hall, price: 1.20 GBP}
"""
STOCK = "stock: 1\nshelf:\n  - {part: tee-3-16-inverted}\n"
TIME = re.compile(r"^\d\d:\d\d:\d\d ", re.MULTILINE)


class Desk:
    """A build in a folder, the watch on it, and what was shown. `during` is done one step at each wait."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.path = folder / "build.yaml"
        for name, text in (("build", BUILD), ("house", HOUSE), ("offers", OFFERS), ("stock", STOCK)):
            (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
        self.shown: list[str] = []
        self.watch = Watch(self.path, None, self.shown.append)
        self.watch.look()

    def save(self, old: str, new: str, name: str = "build.yaml") -> None:
        """Replace a word in a file, as an editor saves it: a neighbour is written and put in its place."""
        path = self.folder / name
        text = path.read_text(encoding="utf-8")
        assert old in text
        neighbour = self.folder / f"{name}~"
        neighbour.write_text(text.replace(old, new), encoding="utf-8")
        neighbour.replace(path)

    def again(self, during: Iterator[object] | None = None) -> str:
        """Return what is shown when files are looked at again, times left out; nothing if nothing is."""
        before = len(self.shown)
        self.watch.look_again(lambda: next(during, None) if during else None)
        return TIME.sub("", "\n".join(self.shown[before:]))


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Desk:
    """A build that is sound, looked at once, in a terminal of 80 columns."""
    monkeypatch.setenv("COLUMNS", "80")
    return Desk(tmp_path)


def test_first_answer_is_that_of_check(desk: Desk, capsys: pytest.CaptureFixture[str]) -> None:
    """What is shown first is what `check` prints, and the exit code is the same."""
    code = main(["check", str(desk.path)])
    assert desk.shown == [capsys.readouterr().out.removesuffix("\n")]
    assert desk.watch.code == code


def test_quiet_while_nothing_changes(desk: Desk) -> None:
    """Looking again, and a save of the same content, show nothing."""
    assert desk.again() == ""
    desk.save("Wren", "Wren")
    assert desk.again() == ""


def test_what_a_save_changes(desk: Desk) -> None:
    """The answer has the file, the whole check, and last the findings and the lines of the bill that come and go."""
    desk.save("stop_b: {part: plug-3-8-24-inverted}", "stop_b: {part: plug-m10x1-bubble}")
    shown = desk.again()
    assert shown.startswith(f"\nchanged: {desk.path}\n\nWren: 1 error")
    _, _, tail = shown.partition("what that changes\n")
    assert tail.startswith("\nFINDINGS NEW (1)\n\n  error thread-mismatch\n")
    assert tail.endswith(
        "\nBILL OF MATERIALS\n\n"
        "  new: 1 plug-m10x1-bubble, Plug, M10x1 bubble flare, male, for a port of 4.75\n"
        "    mm tube\n"
        "  changed: 2 -> 1 plug-3-8-24-inverted, Plug, 3/8-24 inverted flare, male, for a\n"
        "    port of 3/16 in tube\n"
        "  total: 2.40 GBP -> 1.20 GBP (without 2 -> 3 lines)\n"
        "\nNow: 1 error, 0 warnings, 0 notes; 0 findings as before."
    )
    assert desk.watch.code == 1
    desk.save("plug-m10x1-bubble", "plug-3-8-24-inverted")
    assert "FINDINGS GONE (1)" in desk.again()
    assert desk.watch.code == 0


def test_named_files_are_watched(desk: Desk) -> None:
    """A catalog that changes is checked against; an offer or stock file with an error in it is told at its place."""
    offers, stock = desk.folder / "offers.yaml", desk.folder / "stock.yaml"
    desk.save("supplier: hall", "supplier: hill", "offers.yaml")
    told = desk.again()
    assert f"changed: {offers}\n\nWren: nothing found" in told
    assert f"\n\n{offers}:5:44: no supplier is called 'hill'; nearest is 'hall'\n" in told
    desk.save("supplier: hill", "supplier: hall", "offers.yaml")
    desk.save("shelf", "shelv", "stock.yaml")
    told = desk.again()
    assert f"changed: {offers}, {stock}\n" in told
    assert f"\n{stock}:2:1: unknown key 'shelv' in a stock file; nearest is 'shelf'\n" in told
    desk.save("3/8-24 UNF", "M10x1", "house.yaml")
    assert "FINDINGS NEW (1)" in desk.again()


def test_error_in_the_file_is_shown_and_it_goes_on(desk: Desk) -> None:
    """An unreadable build is told with line and column; the next good one is compared with the last good one."""
    desk.save("components:", "components: [")
    told = desk.again()
    assert told == (
        f"\nchanged: {desk.path}\n\n"
        f"{desk.path}:8:3: expected ',' or ']' in the list that begins on line 6\n"
        "1 problem; nothing was checked"
    )
    assert desk.watch.code == 2
    desk.save("components: [", "components:")
    assert "no finding comes or goes" in desk.again()
    assert desk.watch.code == 0


def test_files_of_a_broken_build_stay_watched(desk: Desk) -> None:
    """While the build cannot be read, a change of a file that it named is still seen."""
    desk.save("components:", "components: [")
    desk.again()
    desk.save("house-plug", "home-plug", "house.yaml")
    assert desk.again().startswith(f"\nchanged: {desk.folder / 'house.yaml'}\n")


def test_half_written_file_is_waited_for(desk: Desk) -> None:
    """A file that is written in pieces is checked once, when it is whole."""

    def pieces() -> Iterator[None]:
        for length in (40, 80, len(BUILD)):
            desk.path.write_text(BUILD.replace("Wren", "Wron")[:length], encoding="utf-8")
            yield
        while True:
            yield

    desk.path.write_text("", encoding="utf-8")
    told = desk.again(pieces())
    assert told.count("changed: ") == 1
    assert "\nWron: nothing found" in told


def test_renamed_over_and_deleted(desk: Desk) -> None:
    """A file that is away for a moment is waited for; one that stays away is told, and found when it is back."""

    def back() -> Iterator[None]:
        yield
        desk.path.write_text(BUILD.replace("Wren", "Wran"), encoding="utf-8")
        while True:
            yield

    desk.path.unlink()
    assert "\nWran: nothing found" in desk.again(back())
    desk.path.unlink()
    assert desk.again().endswith(f"{desk.path}:1:1: there is no such file\n1 problem; nothing was checked")
    desk.path.write_text(BUILD, encoding="utf-8")
    assert "no finding comes or goes" in desk.again()


def test_back_as_it_was_is_no_change(desk: Desk) -> None:
    """A file that is as it was by the time it settles shows nothing."""

    def undone() -> Iterator[None]:
        desk.path.write_text(BUILD, encoding="utf-8")
        while True:
            yield

    desk.path.write_text("build: 1\n", encoding="utf-8")
    assert desk.again(undone()) == ""


def test_once_ends_after_the_first_answer(desk: Desk, capsys: pytest.CaptureFixture[str]) -> None:
    """`--once` shows the first answer and leaves with its code."""
    assert main(["watch", str(desk.path), "--once"]) == 0
    assert capsys.readouterr().out.startswith("Wren: nothing found")


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (["--interval", "1"], "fitcheck: --interval: a bare number where a time is needed: write '30 min' or '2 d'"),
        (["--interval", "0 s"], "fitcheck: --interval: expected 0.01 s to 1 h, got 0 s"),
    ],
)
def test_refused(desk: Desk, capsys: pytest.CaptureFixture[str], options: list[str], told: str) -> None:
    """An interval without a unit, or none at all, is refused."""
    assert main(["watch", str(desk.path), *options]) == 2
    assert capsys.readouterr().err.startswith(told)


def test_nothing_to_watch(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A file that is not there at the start is asked wrongly."""
    path = tmp_path / "none.yaml"
    assert main(["watch", str(path)]) == 2
    assert capsys.readouterr().err.startswith(f"{path}:1:1: there is no such file\n")


@pytest.mark.skipif(os.name == "nt", reason="signals of another kind")
@pytest.mark.parametrize(("word", "code"), [("plug-m10x1-bubble", 1), ("[", 2)])
def test_interrupt_leaves_with_the_last_code(desk: Desk, word: str, code: int) -> None:
    """A real process sees a real save; Ctrl-C ends it without a traceback, with the exit code of the last check."""
    command = [sys.executable, "-m", "fitcheck", "watch", str(desk.path), "--interval", "0.02 s"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        lines = iter(process.stdout.readline, "")
        assert any(line.startswith("that passes on paper") for line in lines)
        desk.save("plug-3-8-24-inverted", word)
        assert any(line.startswith(("Now:", "1 problem")) for line in lines)
        process.send_signal(signal.SIGINT)
        assert process.wait(timeout=30) == code
        assert process.stderr.read() == ""
