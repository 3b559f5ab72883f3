"""`fitcheck parts`: exit codes, options in any order, whole error texts."""

import json
from pathlib import Path

import pytest

from fitcheck.catalog.part import KINDS
from fitcheck.catalog.search import Index
from fitcheck.catalog.shelf import Shelf
from fitcheck.cli.main import main
from fitcheck.standards.seats import SEAT_NAMES

DEMO = str(Path(__file__).parents[2] / "demo_vehicle")
ALL = len(Index(Shelf.generic()).entries)


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    """Return exit code, standard output and standard error of one command line."""
    code = main(("parts", *words))
    out = capsys.readouterr()
    return code, out.out, out.err


def ids(capsys: pytest.CaptureFixture[str], *words: str) -> list[str]:
    """Return the ids that a search in JSON shows."""
    code, out, _ = run(capsys, "search", *words, "--format", "json")
    assert code == 0
    return [part["id"] for part in json.loads(out)["parts"]]


def test_search_and_show_end_with_0(capsys: pytest.CaptureFixture[str]) -> None:
    """What is found is printed, and is no error."""
    code, out, err = run(capsys, "search", "m10x1", "bubble", "nut", "--kind", "nut")
    assert (code, err) == (0, "")
    assert out == (
        f"2 of {ALL} parts\n\n"
        "nut-m10x1-bubble        Tube nut, M10x1 bubble flare, male, plain lead, for 4.75\n"
        "                        mm tube\n"
        "nut-m10x1-bubble-for-5  Tube nut, M10x1 bubble flare, male, plain lead, for 5 mm\n"
        "                        tube\n\n"
        "fitcheck parts show ID: ports, what joins them, the line to paste into a build.\n"
    )
    code, out, err = run(capsys, "show", "nut-m10x1-bubble")
    assert (code, err) == (0, "")
    assert out.startswith("nut-m10x1-bubble: nut, from the generic catalog\n")


def test_options_stand_anywhere(capsys: pytest.CaptureFixture[str]) -> None:
    """Options before, among and after the words mean the same."""
    expected = ids(capsys, "bubble", "m10x1", "--kind", "nut")
    assert ids(capsys, "--kind", "nut", "bubble", "m10x1") == expected
    assert ids(capsys, "bubble", "--kind", "nut", "m10x1") == expected
    assert ids(capsys, "bubble m10x1", "--kind=nut") == expected


def test_options_narrow(capsys: pytest.CaptureFixture[str]) -> None:
    """Thread by any spelling, seat, tube by size, and how many to show."""
    options = ("--thread", "3/8-24", "--seat", "cone-37", "--tube", "3/16in")
    assert "nut-an3" in ids(capsys, "nut", *options)
    assert ids(capsys, "nut", *options) == ids(capsys, "nut", "--thread", "AN3", "--seat", "cone-37")
    assert len(ids(capsys, "adapter", "--most", "7")) == 7
    assert len(ids(capsys, "adapter")) == 20


def test_a_build_brings_its_own_parts(capsys: pytest.CaptureFixture[str]) -> None:
    """With `--build` the catalogs of that build are searched and shown; without it only the one that ships."""
    assert "caliper-2x44" in ids(capsys, "caliper", "--build", DEMO)
    assert "caliper-2x44" not in ids(capsys, "caliper")
    assert run(capsys, "show", "caliper-2x44")[0] == 1
    code, out, _ = run(capsys, "show", "caliper-2x44", "--build", DEMO)
    assert code == 0
    assert out.startswith("caliper-2x44: caliper, from house_parts.yaml\n")


def test_nothing_found_ends_with_1(capsys: pytest.CaptureFixture[str]) -> None:
    """The answer says which word is in no part and names the nearest id; JSON says the same."""
    code, out, err = run(capsys, "search", "teee", "3/16")
    assert (code, err) == (1, "")
    assert out == (
        f"nothing found for 'teee 3/16' among {ALL} parts\n"
        "  no part has the word 'teee'; nearest is 'tee'\n"
        "  nearest id is tee-3-16-inverted\n"
    )
    code, out, _ = run(capsys, "search", "teee", "3/16", "--format", "json")
    assert code == 1
    assert json.loads(out) == {
        "words": ["teee", "3/16"],
        "looked_at": ALL,
        "found": 0,
        "kinds": {},
        "parts": [],
        "miss": {"unknown": {"teee": "tee"}, "without_options": None, "nearest": "tee-3-16-inverted"},
    }


def test_unknown_part_ends_with_1(capsys: pytest.CaptureFixture[str]) -> None:
    """An id that no catalog has is answered with the nearest one, found by its words before its letters."""
    assert run(capsys, "show", "tee-3-16") == (
        1,
        "no catalog has a part 'tee-3-16'; nearest is 'tee-3-16-inverted'\n",
        "",
    )
    assert run(capsys, "show", "zzz") == (1, "no catalog has a part 'zzz'\n", "")
    assert run(capsys, "show", "") == (1, "no catalog has a part ''\n", "")
    assert run(capsys, "show", "1" * 9999) == (1, f"no catalog has a part '{'1' * 39}…'\n", "")
    code, out, _ = run(capsys, "show", "tee-3-16", "--format", "json")
    assert code == 1
    assert json.loads(out) == {"problem": "no catalog has a part 'tee-3-16'", "nearest": "tee-3-16-inverted"}


NOTHING_ASKED = "a word or two such as tee 3/16, or --kind, --thread, --seat, --tube"
REFUSALS = [
    ([], f"say what to look for: {NOTHING_ASKED}"),
    (["?", "!"], f"'? !' holds no word: {NOTHING_ASKED}"),
    (["--kind", "nutt"], f"--kind: 'nutt' is no kind of part; nearest is 'nut'; known: {', '.join(KINDS)}"),
    (["--seat", "bubbel"], f"--seat: 'bubbel' is no seat; nearest is 'bubble'; known: {', '.join(SEAT_NAMES)}"),
    (
        ["--thread", "M10x2"],
        "--thread: 'M10x2' is not a thread designation: 2 mm is no pitch of M10; nearest is M10x1.5",
    ),
    (["--tube", "3/16"], "--tube: a bare number where a length is needed: write '25 mm' or '1 in'"),
]


@pytest.mark.parametrize(("words", "message"), REFUSALS, ids=lambda value: " ".join(value) if value else "nothing")
def test_wrong_options_end_with_2(capsys: pytest.CaptureFixture[str], words: list[str], message: str) -> None:
    """A wrong option is one line that names it, what was expected and what is near."""
    assert run(capsys, "search", *words) == (2, "", f"fitcheck: {message}\n")


@pytest.mark.parametrize("count", ["0", "-1", "x", "1.5", "9999999999"])
def test_most_is_a_whole_number(capsys: pytest.CaptureFixture[str], count: str) -> None:
    """`--most` that is no whole number from 1 is refused with what was got."""
    code, out, err = run(capsys, "search", "tee", f"--most={count}")
    assert (code, out) == (2, "")
    assert err.endswith(f"error: argument --most: expected a whole number of at least 1, got {count!r}\n")


@pytest.mark.parametrize(
    "words", [[], ["find", "tee"], ["show"], ["search", "tee", "--kin", "tee"], ["show", "a", "b"]]
)
def test_wrong_use_ends_with_2(capsys: pytest.CaptureFixture[str], words: list[str]) -> None:
    """A missing or unknown sub-verb, a missing id, an unknown option and a word too many are refused with the usage."""
    code, out, err = run(capsys, *words)
    assert (code, out) == (2, "")
    assert err.startswith("usage: fitcheck parts ")


def test_a_build_that_cannot_be_read_is_named(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """`--build` of a file that is not there is its file and place."""
    path = tmp_path / "none.yaml"
    code, out, err = run(capsys, "search", "tee", "--build", str(path))
    assert (code, out) == (2, "")
    assert err.startswith(f"{path}:1:1: there is no such file\n")
