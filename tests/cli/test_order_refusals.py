"""`fitcheck order`: options that do not go together, inputs that are not written over, days that are slips."""

import shutil
from pathlib import Path

import pytest

from fitcheck.cli.main import main

DEMO = Path(__file__).parents[2] / "demo_vehicle"
ON = ["--on", "2026-11-30T10:00"]
FIXED = ["--variant", "as_corrected", *ON]


@pytest.fixture
def car(tmp_path: Path) -> Path:
    """A copy of the demo car that may be written to."""
    return Path(shutil.copytree(DEMO, tmp_path / "car"))


def refused(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    """Return why `fitcheck order` refuses these words: exit code 2, no answer."""
    capsys.readouterr()
    code = main(["order", *words])
    said = capsys.readouterr()
    assert (code, said.out) == (2, "")
    return said.err


def bytes_of(folder: Path) -> dict[str, bytes]:
    """Return every file of a folder."""
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--have", "--by", "2026-12-10"], "--have only moves what has come: it does not go with --by"),
        (["--have", "--soonest"], "--have only moves what has come: it does not go with --soonest"),
        (["--have", "--trade-off"], "--have only moves what has come: it does not go with --trade-off"),
        (["--have", "--with-remedies"], "--have only moves what has come: it does not go with --with-remedies"),
        (["--have", "--format", "csv"], "--have only moves what has come: it does not go with --format"),
        (
            ["--have", "--soonest", "--output", "plan.txt"],
            "--have only moves what has come: it does not go with --soonest, --output",
        ),
        (["--placed", "--trade-off"], "--placed does not go with --trade-off"),
        (
            ["--placed", "--with-remedies"],
            "--placed does not go with --with-remedies: let `fitcheck cure --write` put them in first",
        ),
    ],
)
def test_options_that_do_not_go_together(
    capsys: pytest.CaptureFixture[str], car: Path, words: list[str], told: str
) -> None:
    """An option that would be passed over in silence is refused by name, and no file of the car is touched."""
    before = bytes_of(car)
    assert refused(capsys, str(car), *FIXED, *words) == f"fitcheck: {told}\n"
    assert bytes_of(car) == before


@pytest.mark.parametrize("words", [["--by", "2026-12-10", "--soonest"], ["--placed", "--have"]])
def test_one_aim_and_one_deed_at_a_time(capsys: pytest.CaptureFixture[str], car: Path, words: list[str]) -> None:
    """A day and the soonest, or placed and come, exclude each other; no file of the car is touched."""
    before = bytes_of(car)
    told = refused(capsys, str(car), *FIXED, *words).splitlines()[-1]
    assert told == f"fitcheck order: error: argument {words[-1]}: not allowed with argument {words[0]}"
    assert bytes_of(car) == before


@pytest.mark.parametrize("name", ["build.yaml", "offers.yaml", "barnstock.csv", "stock.yaml", "house_parts.yaml"])
@pytest.mark.parametrize("form", ["text", "csv", "xlsx", "mail"])
def test_no_input_is_written_over(capsys: pytest.CaptureFixture[str], car: Path, name: str, form: str) -> None:
    """The build, its catalogs, offers and stock are never the output, by whatever way the path leads there."""
    before = bytes_of(car)
    for output in (car / name, car / ".." / car.name / name):
        said = refused(capsys, str(car), *FIXED, "--format", form, "--output", str(output))
        assert said == f"fitcheck: --output: {output} is a file that the build is read from\n"
    assert bytes_of(car) == before


@pytest.mark.parametrize("option", ["--on", "--by"])
@pytest.mark.parametrize("text", ["9999-12-31", "2200-01-01"])
def test_a_day_of_another_age_is_refused(capsys: pytest.CaptureFixture[str], option: str, text: str) -> None:
    """A day hundreds of years away is a slip of the pen, and one that no calendar goes beyond ends in no traceback."""
    said = refused(capsys, str(DEMO), "--variant", "as_corrected", option, text)
    assert said == f"fitcheck: {option}: expected a date such as 2026-12-31, got {text!r}\n"


def test_a_moment_of_another_age_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    """The same holds for a day with a time."""
    said = refused(capsys, str(DEMO), "--on", "9999-12-31T10:00")
    assert said == "fitcheck: --on: expected 2026-12-31 or 2026-12-31T15:30, got '9999-12-31T10:00'\n"


STOCK = """\
stock: 1
coming:
  - {part: nut-3-8-24-inverted, quantity: 2, supplier: hillside}
  - {part: tube-3-16-cuni, lengths: [3 m], supplier: hillside}
  - {part: tube-3-16-cuni, lengths: [3 m, 2 m]}
  - {part: fluid-dot-4, contents: 500 mL}
"""


def test_what_has_come_is_told_in_its_own_measure(capsys: pytest.CaptureFixture[str], car: Path) -> None:
    """Pieces are counted, lengths are lengths, fluid is millilitres; without anything coming it says so."""
    (car / "stock.yaml").write_text(STOCK, encoding="utf-8")
    assert main(["order", str(car), *ON, "--have"]) == 0
    assert capsys.readouterr().out == (
        "on the shelf: 2 x nut-3-8-24-inverted from hillside\n"
        "on the shelf: 1 length of tube-3-16-cuni from hillside\n"
        "on the shelf: 2 lengths of tube-3-16-cuni\n"
        "on the shelf: 500 ml of fluid-dot-4\n"
        f"{car / 'stock.yaml'} now says so; `fitcheck order` tells what that makes possible\n"
    )
    assert main(["order", str(car), *ON, "--have"]) == 0
    assert capsys.readouterr().out == "nothing is on its way\n"
