"""`fitcheck parts take-in`: the whole report, exit codes, whole error texts."""

import json
from pathlib import Path

import pytest

from fitcheck.cli.main import main
from fitcheck.reports.caution import CAUTION
from tests.catalog.take_in.lists import HEADER, NUT, TEE, files, write

ROWS = [
    HEADER,
    ["A1", TEE, "12.50", "GBP"],
    ["A2", NUT.replace(",", "."), "0.85", "GBP"],
    ["A3", "a mystery", "1.00", "GBP"],
    ["A1", TEE, "12.50", "GBP"],
]


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    """Return exit code, standard output and standard error of one command line."""
    code = main(("parts", "take-in", *words))
    out = capsys.readouterr()
    return code, out.out, out.err


def test_the_report(capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The report says how the list was read, what became of every row, and which files were written."""
    monkeypatch.chdir(tmp_path)
    write(tmp_path / "list.csv", ROWS, ";")
    code, out, err = run(capsys, "list.csv", "--supplier", "Invented Ltd")
    assert (code, err) == (0, "")
    assert out.startswith(
        "list.csv: utf-8, semicolons, decimal point, prices in GBP\n"
        "  columns: number from 'Code', description from 'Description', price from\n"
        "      'Price', currency from 'Currency'\n"
        "\n"
        "4 rows: 2 taken + 1 rejected + 1 repeated = 4\n"
        "  2 taken: wording understood\n"
        "  1 rejected: the wording is not understood\n"
        "  1 repeated: row 5 says what row 2 says\n"
        "\n"
        "2 parts and 2 offers of invented-ltd\n"
        "  new        invented-ltd-parts.yaml\n"
        "  new        invented-ltd-offers.yaml\n"
        "  new        list-rejects.csv\n"
        "\n"
        "Brakes hurt people"
    )


def test_running_prices_are_told(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The report says how many prices are taken as cut to length off a reel, and which key says otherwise."""
    monkeypatch.chdir(tmp_path)
    tube = "Copper nickel brake line 3/16 in x 0.028 in"
    write(tmp_path / "list.csv", [("Code", "Description", "Price GBP", "Unit"), ("T1", tube, "1.45", "ft")])
    code, out, err = run(capsys, "list.csv", "--supplier", "one")
    assert (code, err) == (0, "")
    assert (
        "1 part and 1 offer of one\n"
        "  1 priced by the metre or foot: taken as cut to length off a reel; if it is in\n"
        "      pieces, say to_length: no in --columns\n"
        "  new        one-parts.yaml\n"
    ) in out
    assert run(capsys, "list.csv", "--supplier", "one", "--format", "json")[1].count('"to_length": 1') == 1


def test_the_report_as_json(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """JSON has the same counts, reasons with their meaning, and the files."""
    path = write(tmp_path / "list.csv", ROWS)
    code, out, err = run(capsys, str(path), "--format", "json", "--out", str(tmp_path / "new"))
    found = json.loads(out)
    assert (code, err, found["caution"]) == (0, "", CAUTION)
    assert [found[key] for key in ("rows", "taken", "rejected", "repeated", "parts", "offers")] == [4, 2, 1, 1, 2, 2]
    assert found["reasons"] == {"not-understood": {"count": 1, "meaning": "the wording is not understood"}}
    assert found["repeats"] == [{"row": 5, "first": 2}]
    assert sorted(files(tmp_path / "new")) == ["list-offers.yaml", "list-parts.yaml", "list-rejects.csv"]
    assert [one["state"] for one in found["files"]] == ["new"] * 3


def test_what_was_taken_in_is_found(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """A build that names the files can look its new parts up."""
    write(tmp_path / "list.csv", ROWS)
    assert run(capsys, str(tmp_path / "list.csv"))[0] == 0
    build = tmp_path / "build.yaml"
    build.write_text("build: 1\nname: N\ncatalogs: [list-parts.yaml]\noffers: [list-offers.yaml]\n", encoding="utf-8")
    assert main(("parts", "show", "list-a1", "--build", str(build))) == 0
    assert capsys.readouterr().out.startswith("list-a1: tee, from list-parts.yaml\n")


def test_nothing_taken_ends_with_1(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """A list of which no row is understood is no success, and its rejects are written."""
    path = write(tmp_path / "list.csv", [HEADER, ["A1", "?", "1", "GBP"]])
    code, out, _ = run(capsys, str(path))
    assert code == 1
    assert "1 row: 0 taken + 1 rejected + 0 repeated = 1\n" in out
    assert (tmp_path / "list-rejects.csv").is_file()


REFUSALS = [
    (["--currency", "eur"], "fitcheck: --currency: expected a currency as three capital letters (ISO 4217), such as "
     "GBP, got 'eur'\n"),
    (["--supplier", "***"], "{file}:1:1: the supplier needs a name with letters or digits; give --supplier\n"),
    (["--columns", "none.yaml"], "none.yaml:1:1: there is no such file\n"),
]  # fmt: skip


@pytest.mark.parametrize(("words", "message"), REFUSALS, ids=[words[0] for words, _ in REFUSALS])
def test_wrong_options_end_with_2(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, words: list[str], message: str
) -> None:
    """A wrong option is told in one line, and nothing is written."""
    path = write(tmp_path / "list.csv", ROWS)
    code, out, err = run(capsys, str(path), *words)
    assert (code, out) == (2, "")
    assert err.startswith(message.format(file=path.as_posix()))
    assert list(tmp_path.iterdir()) == [path]


def test_options_stand_anywhere(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Options before and after the file mean the same, and the flags are taken."""
    path = write(tmp_path / "list.csv", [HEADER, ["A1", "Plug G1/8", "1", "GBP"]])
    assert run(capsys, "--also-likely", str(path), "--supplier", "one")[0] == 0
    assert run(capsys, "--supplier", "one", str(path), "--also-likely", "--write-over")[0] == 0
    assert (tmp_path / "one-parts.yaml").is_file()
