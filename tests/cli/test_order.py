"""`fitcheck order` on the demo car: what it prints, what it writes, what it refuses."""

import csv
import io
import json
import shutil
import zipfile
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


def ordered(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    """Return the exit code of `fitcheck order`, and what it printed and told."""
    capsys.readouterr()
    code = main(["order", *words])
    said = capsys.readouterr()
    return code, said.out, said.err


def test_the_corrected_car_is_planned_to_the_proven_least(capsys: pytest.CaptureFixture[str]) -> None:
    """Everything can be had, the sums add up, and the plan is proven; nothing is bought that lies on the shelf."""
    code, out, _ = ordered(capsys, str(DEMO), *FIXED, "--format", "json")
    plan = json.loads(out)
    assert code == 0
    assert plan["missing"] == []
    assert plan["proof"]["optimal"] is True
    homes = [float(order["home_total"].split()[0]) for order in plan["orders"]]
    assert sum(homes) == pytest.approx(float(plan["cost"].split()[0]), abs=1e-9)
    bought = {line["part"] for order in plan["orders"] for line in order["lines"]}
    assert "pedal-box-bar" not in bought
    assert "fluid-dot-4" in bought


def test_a_build_with_errors_says_so_first(capsys: pytest.CaptureFixture[str]) -> None:
    """Text tells it before the plan, other forms on standard error; the exit code is 1 in every form."""
    code, out, _ = ordered(capsys, str(DEMO), *ON)
    assert code == 1
    assert "do not order" in " ".join(out.split())[:400]
    code, out, err = ordered(capsys, str(DEMO), *ON, "--format", "csv")
    assert code == 1
    assert err == "fitcheck check finds 10 errors in this build: do not order before that is put right\n"
    assert "do not order" not in out


def test_remedies_can_be_ordered_with_the_rest(capsys: pytest.CaptureFixture[str]) -> None:
    """With remedies the plug that closes the gauge's port is wanted, without them nobody asks for it."""
    _, out, _ = ordered(capsys, str(DEMO), *ON, "--format", "csv")
    assert "plug-1-8-npt" not in out
    code, out, _ = ordered(capsys, str(DEMO), *ON, "--format", "csv", "--with-remedies")
    assert "plug-1-8-npt" in out
    assert code in (0, 1)


@pytest.mark.slow
def test_days_and_the_table_agree(capsys: pytest.CaptureFixture[str]) -> None:
    """The first row of the table is what `--soonest` plans, the last what no option plans; `--by` finds the others."""
    _, out, _ = ordered(capsys, str(DEMO), *FIXED, "--trade-off", "--format", "json")
    rows = json.loads(out)["trade_offs"]
    assert len(rows) >= 2
    assert [row["finish"] for row in rows] == sorted(row["finish"] for row in rows)
    for options, row in (((), rows[-1]), (("--soonest",), rows[0]), (("--by", rows[0]["finish"]), rows[0])):
        plan = json.loads(ordered(capsys, str(DEMO), *FIXED, *options, "--format", "json")[1])
        assert (plan["cost"], plan["finish"]) == (row["cost"], row["finish"])


def test_what_cannot_be_here_in_time_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    """By tomorrow hardly anything can be here: exit code 1, and each part says from whom it would come when."""
    code, out, _ = ordered(capsys, str(DEMO), *FIXED, "--by", "2026-12-01", "--format", "json")
    missing = {item["part"]: item["reasons"] for item in json.loads(out)["missing"]}
    assert code == 1
    assert missing["hose-clutch-300"] == [
        "lindenhof L-300: here on 2026-12-09 at the earliest",
        "barnstock B-52: here on 2026-12-03 at the earliest",
    ]


def test_placed_orders_come_and_then_lie_on_the_shelf(capsys: pytest.CaptureFixture[str], car: Path) -> None:
    """Placed, everything is on its way and nothing is bought again; arrived, the car can be made today."""
    before = (car / "stock.yaml").read_text(encoding="utf-8")
    code, _, err = ordered(capsys, str(car), *FIXED, "--placed")
    assert code == 0
    assert "more entries are coming" in err
    assert (car / "stock.yaml").read_text(encoding="utf-8").startswith(before.split("coming:")[0])
    plan = json.loads(ordered(capsys, str(car), *FIXED, "--format", "json")[1])
    assert plan["orders"] == []
    code, out, _ = ordered(capsys, str(car), "--have", *ON)
    assert code == 0
    assert "on the shelf: 2 x drum-cylinder-20 from barnstock" in out
    plan = json.loads(ordered(capsys, str(car), *FIXED, "--format", "json")[1])
    assert (plan["orders"], plan["finish"]) == ([], "2026-11-30")
    assert {circuit["day"] for circuit in plan["ready"]} == {"2026-11-30"}


def test_a_part_of_the_orders_is_placed(capsys: pytest.CaptureFixture[str], car: Path) -> None:
    """With a supplier named only that order is noted; a name the plan does not buy from is refused."""
    plan = json.loads(ordered(capsys, str(car), *FIXED, "--format", "json")[1])
    first, *others = [order["supplier"] for order in plan["orders"]]
    tag = first["tag"] if isinstance(first, dict) else first
    ordered(capsys, str(car), *FIXED, "--placed", tag)
    again = json.loads(ordered(capsys, str(car), *FIXED, "--format", "json")[1])
    left = [order["supplier"] for order in again["orders"]]
    assert first not in left
    assert len(left) <= len(others)
    code, _, err = ordered(capsys, str(car), *FIXED, "--placed", "nobody")
    assert code == 2
    assert err.startswith("fitcheck: nothing is ordered from 'nobody'; the plan buys from ")


def test_files_are_written_whole(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """A workbook and a table go where they are told to; a workbook has to be told."""
    book, table = tmp_path / "buy.xlsx", tmp_path / "buy.csv"
    code, out, err = ordered(capsys, str(DEMO), *FIXED, "--format", "xlsx", "--output", str(book))
    assert (code, out, err) == (0, "", f"{book} written\n")
    with zipfile.ZipFile(book) as parts:
        assert parts.testzip() is None
    ordered(capsys, str(DEMO), *FIXED, "--format", "csv", "--output", str(table))
    rows = list(csv.DictReader(io.StringIO(table.read_text(encoding="utf-8"))))
    assert {"HB-N38", "B-31", "L-T10-F"} <= {row["number"] for row in rows}
    code, _, err = ordered(capsys, str(DEMO), *FIXED, "--format", "xlsx")
    assert (code, err) == (2, "fitcheck: --format xlsx needs --output FILE\n")


def test_a_mail_to_one_supplier(capsys: pytest.CaptureFixture[str]) -> None:
    """Each order is a mail of its own; one can be asked for alone."""
    _, every, _ = ordered(capsys, str(DEMO), *FIXED, "--format", "mail")
    _, one, _ = ordered(capsys, str(DEMO), *FIXED, "--format", "mail", "--supplier", "lindenhof")
    assert every.count("Subject: ") == 3
    assert one.count("Subject: ") == 1
    assert "L-T10-F" in one
    assert "HB-" not in one


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--by", "2026-11-01"], "--by: 2026-11-01 is past on 2026-11-30"),
        (["--by", "tomorrow"], "--by: expected a date such as 2026-12-31, got 'tomorrow'"),
        (["--on", "2026-11-30T25:00"], "--on: expected 2026-12-31 or 2026-12-31T15:30, got '2026-11-30T25:00'"),
        (
            ["--currency", "pounds"],
            "--currency: expected a currency as three capital letters (ISO 4217), such as GBP, got 'pounds'",
        ),
        (["--supplier", "hillside"], "--supplier goes with --format mail"),
        (["--trade-off", "--format", "csv"], "--trade-off is told as text or json"),
        (["--kerf", "-1 mm"], "--kerf: expected a length of 0 mm or more, got -1 mm"),
    ],
)
def test_what_makes_no_sense_is_refused(capsys: pytest.CaptureFixture[str], words: list[str], told: str) -> None:
    """One sentence on standard error, exit code 2, no answer."""
    words = words if "--on" in words else [*words, *ON]
    assert ordered(capsys, str(DEMO), "--variant", "as_corrected", *words) == (2, "", f"fitcheck: {told}\n")


def test_without_offers_or_shelf_it_says_what_to_write(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """A build that names no offers, or no stock file where one is to be edited, says which line it lacks."""
    (tmp_path / "build.yaml").write_text("build: 1\ncomponents: {a: {part: tee-an3}}\n")
    code, _, err = ordered(capsys, str(tmp_path))
    assert (code, err) == (
        2,
        "fitcheck: the build names no offers: add `offers: [offers.yaml]` (catalog_schema/README.md says how)\n",
    )
    code, _, err = ordered(capsys, str(tmp_path), "--have")
    assert (code, err) == (
        2,
        "fitcheck: the build names no stock file: add `stock: stock.yaml`, and such a file, with the line `stock: 1`\n",
    )


def test_another_currency_is_summed_by_the_stated_rate(capsys: pytest.CaptureFixture[str]) -> None:
    """The same plan in euros, by the rate read the other way round; a currency without a rate leaves nothing to buy."""
    pounds = json.loads(ordered(capsys, str(DEMO), *FIXED, "--format", "json")[1])
    euros = json.loads(ordered(capsys, str(DEMO), *FIXED, "--currency", "EUR", "--format", "json")[1])
    assert euros["cost"].endswith(" EUR")
    assert float(euros["cost"].split()[0]) == pytest.approx(float(pounds["cost"].split()[0]) / 0.86, abs=0.05)
    yen = json.loads(ordered(capsys, str(DEMO), *FIXED, "--currency", "JPY", "--format", "json")[1])
    assert yen["orders"] == []
    assert any("no rate to JPY is given" in reason for item in yen["missing"] for reason in item["reasons"])


@pytest.mark.slow
def test_swap_says_what_it_changes_in_money_and_days(capsys: pytest.CaptureFixture[str]) -> None:
    """A front hose that only another supplier has moves the cost; the same part again changes nothing."""
    words = ["swap", str(DEMO), "bracket_fr=bulkhead-union-3-16-inverted", *ON, "--format", "json"]
    assert main(words) == 1
    purchase = json.loads(capsys.readouterr().out)["purchase"]
    assert purchase["cost_before"] != purchase["cost_after"]
    assert purchase["optimal"] is True
    assert main(["swap", str(DEMO), "tee_axle=tee-axle-double", *ON]) == 1
    assert "WHAT TO BUY" in capsys.readouterr().out
