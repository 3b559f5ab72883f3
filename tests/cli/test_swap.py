"""`fitcheck swap`: what changes, and the file edited in place without touching another byte."""

import json
import shutil
from pathlib import Path

import pytest

from fitcheck.build.load import load
from fitcheck.cli.main import main

DEMO = Path(__file__).parents[2] / "demo_vehicle"
SWAP = "bracket_fr=bulkhead-union-3-16-inverted"


@pytest.fixture
def car(tmp_path: Path) -> Path:
    """A copy of the demo car that may be written to, without its offers and its shelf."""
    copy = Path(shutil.copytree(DEMO, tmp_path / "car"))
    for name in ("offers.yaml", "barnstock.csv", "stock.yaml"):
        (copy / name).unlink()
    text = (copy / "build.yaml").read_text(encoding="utf-8")
    for line in ("offers: [offers.yaml, barnstock.csv]\n", "stock: stock.yaml\n"):
        assert line in text
        text = text.replace(line, "")
    (copy / "build.yaml").write_text(text, encoding="utf-8")
    return copy


def test_swap_shows_only_what_changes(capsys: pytest.CaptureFixture[str], car: Path) -> None:
    """The finding that the swap cures is gone, none is new, and the bill of materials differs by these parts."""
    assert main(["swap", str(car), SWAP, "--format", "json"]) == 1
    found = json.loads(capsys.readouterr().out)
    assert [finding["rule"] for finding in found["gone"]] == ["thread-mismatch"]
    assert found["new"] == []


def test_write_changes_one_word_and_nothing_else(capsys: pytest.CaptureFixture[str], car: Path) -> None:
    """After `--write` the file is the old one with that one part id replaced, comments and all."""
    before = (car / "build.yaml").read_bytes()
    main(["swap", str(car), SWAP, "--write"])
    after = (car / "build.yaml").read_bytes()
    assert after == before.replace(b"part: bulkhead-union-m10x1-bubble", b"part: bulkhead-union-3-16-inverted")
    assert after != before
    assert sorted(path.name for path in car.iterdir()) == ["build.yaml", "house_parts.yaml"]
    assert main(["check", str(car), "--format", "json"]) == 1
    out = capsys.readouterr().out
    assert "thread-mismatch" not in out[out.rindex('{\n  "build"') : out.rindex('"checked"')]


@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_write_keeps_line_ends_and_marks(car: Path, end: str) -> None:
    """Line ends, a byte order mark, odd spacing and quotes elsewhere survive the edit."""
    text = (car / "build.yaml").read_text(encoding="utf-8").replace("\n", end)
    raw = b"\xef\xbb\xbf" + text.replace("name: Dunlin", 'name:   "Dunlin"   # hers').encode()
    (car / "build.yaml").write_bytes(raw)
    main(["swap", str(car), SWAP, "--write"])
    expected = raw.replace(b"part: bulkhead-union-m10x1-bubble", b"part: bulkhead-union-3-16-inverted")
    assert (car / "build.yaml").read_bytes() == expected


def test_a_line_is_swapped_by_its_tube(car: Path) -> None:
    """The tag of a line stands for its tube."""
    before = (car / "build.yaml").read_text(encoding="utf-8")
    main(["swap", str(car), "axle_right=tube-3-16-steel", "--write"])
    assert (car / "build.yaml").read_text(encoding="utf-8") == before.replace("tube-3-16-copper", "tube-3-16-steel")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["bracket_fr=bulkhead-union-3-16-inverte"], "no catalog has a part 'bulkhead-union-3-16-inverte'"),
        (["bracket=tee-an3"], "nothing here has the tag 'bracket'; nearest is 'bracket_fl'"),
        (["bracket_fr="], "expected TAG=PART, got 'bracket_fr='"),
        (["tank=reservoir-2-outlet", "tank=reservoir-1-outlet"], "tank is to be exchanged twice"),
        ([], "say what to exchange: TAG=PART"),
        (["other", SWAP], "expected TAG=PART, got 'other'"),
        ([SWAP, "--write", "--variant", "as_corrected"], "--write edits the build itself"),
    ],
)
def test_what_cannot_be_swapped_is_refused(
    capsys: pytest.CaptureFixture[str], car: Path, words: list[str], told: str
) -> None:
    """A wrong request ends with exit code 2, says why, and leaves the file alone."""
    before = (car / "build.yaml").read_bytes()
    assert main(["swap", str(car), *words]) == 2
    assert told in capsys.readouterr().err
    assert (car / "build.yaml").read_bytes() == before


def test_swap_and_swap_back_changes_nothing(car: Path) -> None:
    """Two swaps that undo each other leave the file byte for byte as it was."""
    before = (car / "build.yaml").read_bytes()
    main(["swap", str(car), SWAP, "--write"])
    main(["swap", str(car), "bracket_fr=bulkhead-union-m10x1-bubble", "--write"])
    assert (car / "build.yaml").read_bytes() == before


BRACKET = """\
Dunlin: what could replace bracket_fr (bulkhead union
  bulkhead-union-m10x1-bubble)

{tried} parts tried; the best 1 of them shown, best first
no cost: the build names no offers

  bulkhead-union-3-16-inverted: Bulkhead union with locknut, 3/8-24 inverted
    flare
    2 of 2 joints fit
    to fit: double-45 flare, nut-3-8-24-inverted at front_right.to, now bubble
      flare, nut-m10x1-bubble
    fitcheck swap {car} bracket_fr=bulkhead-union-3-16-inverted{options}
"""
CAUTION = """
Brakes hurt people when they fail. This answer rests on the data given; it
replaces neither a test nor a licensed engineer nor your local code. A joint
that passes on paper is still leak-tested under pressure before the car moves.
"""


def fittings() -> int:
    """Return how many other parts the demo has that do nothing but join two ends."""
    shelf = load(DEMO).shelf
    kinds = ("union", "bulkhead union", "adapter", "elbow")
    return sum(len(part.fluid_ports()) == 2 for kind in kinds for part in shelf.of_kind(kind)) - 1


def test_a_tag_alone_lists_what_could_replace_it(capsys: pytest.CaptureFixture[str], car: Path) -> None:
    """The best part stands first, with what has to be fitted with it and the line that tries it; exit code 0."""
    assert main(["swap", str(car), "bracket_fr", "--most", "1"]) == 0
    out = capsys.readouterr()
    assert out.out == BRACKET.format(tried=fittings(), car=car, options="") + CAUTION
    assert out.err == ""


def test_the_line_to_run_next_keeps_the_variant_and_runs(capsys: pytest.CaptureFixture[str], car: Path) -> None:
    """The line printed carries the variant along, and does what it says when it is run."""
    assert main(["swap", str(car), "bracket_fr", "--most", "1", "--variant", "bigger_front"]) == 0
    (line,) = [line for line in capsys.readouterr().out.splitlines() if line.startswith("    fitcheck swap ")]
    assert line == f"    fitcheck swap {car} bracket_fr=bulkhead-union-3-16-inverted --variant bigger_front"
    assert main(line.split()[1:]) == 1
    assert "FINDINGS GONE (1)\n\n  error thread-mismatch\n" in capsys.readouterr().out


PEDALS = """\
Dunlin: what could replace pedals (pedal box pedal-box-bar)

3 parts tried; the best 1 of them shown, best first
no cost: the build names no offers

  pedal-box-single: Pedal box, one rod, 5/16-24
    0 of 3 joints fit
    not judged: the joint of pedals.rod_1 and mc_front.pushrod, without
      parts.mc-16.ports.pushrod.pattern
    to change: it has no port for rod_rear and rod_clutch
    in the file: write pedals.rod_1 for pedals.rod_front
    fitcheck swap pedals=pedal-box-single
"""


def test_what_does_not_fit_is_said_in_words(
    capsys: pytest.CaptureFixture[str], car: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In the folder of the build the tag is enough; joints not judged, lost ports and other names are told."""
    monkeypatch.chdir(car)
    assert main(["swap", "pedals", "--most", "1"]) == 0
    assert capsys.readouterr().out == PEDALS + CAUTION


def test_the_listing_as_json(capsys: pytest.CaptureFixture[str], car: Path) -> None:
    """The JSON says the same under fixed keys, ten replacements at most unless told otherwise."""
    assert main(["swap", str(car), "tee_axle", "--format", "json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert list(found) == ["build", "tag", "part", "kind", "tried", "not_judged", "replacements", "caution"]
    assert (found["tag"], found["part"], found["kind"]) == ("tee_axle", "tee-axle-double", "tee")
    assert found["not_judged"] == []
    assert len(found["replacements"]) == 10 < found["tried"]
    best, _, third = found["replacements"][:3]
    assert (best["part"], best["fits"], best["joints"], best["misfits"]) == ("tee-axle-bubble", 3, 3, [])
    assert [refit["at"] for refit in best["refits"]] == [
        ["tee_axle.left", "axle_left.from"],
        ["tee_axle.right", "axle_right.from"],
    ]
    assert best["next"] == f"fitcheck swap {car} tee_axle=tee-axle-bubble"
    assert third["differs"] == [{"field": "max_pressure", "now": 20.0, "then": None}]
    (misfit,) = third["misfits"]
    assert (misfit["at"], misfit["rule"], misfit["as_now"]) == (["hose_axle.to", "tee_axle.top"], "seat-mismatch", True)


def test_costs_are_compared_where_offers_say(capsys: pytest.CaptureFixture[str], car: Path) -> None:
    """With offers each part's cost stands beside the change against the present part; without one that is said."""
    text = (car / "build.yaml").read_text(encoding="utf-8")
    (car / "build.yaml").write_text(text.replace("coordinates: mm", "coordinates: mm\noffers: [offers.yaml]"))
    (car / "offers.yaml").write_text(
        "offers: 1\nsuppliers: {shed: {name: Shed, currency: GBP}}\nprices:\n"
        "  - {part: mc-16, supplier: shed, price: 60.00 GBP}\n  - {part: mc-19, supplier: shed, price: 57.50 GBP}\n"
    )
    assert main(["swap", str(car), "mc_front", "--most", "2"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert [line.strip() for line in lines if line.startswith("    cost: ")] == [
        "cost: 57.50 GBP, 2.50 GBP less than now",
        "cost: no offer for it",
    ]
    assert main(["swap", str(car), "mc_front", "--most", "1", "--format", "json"]) == 0
    (best,) = json.loads(capsys.readouterr().out)["replacements"]
    assert (best["cost_now"], best["cost"], best["cost_change"]) == ("60.00 GBP", "57.50 GBP", "-2.50 GBP")


def test_a_word_that_is_both_means_the_build_only_if_there_is_one(
    capsys: pytest.CaptureFixture[str], car: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A folder that is called like a tag does not hide the tag, unless a build is in it."""
    monkeypatch.chdir(car)
    (car / "switch").mkdir()
    assert main(["swap", "switch"]) == 0
    assert capsys.readouterr().out.startswith("Dunlin: what could replace switch (pressure switch ")
    shutil.copy(car / "build.yaml", car / "switch")
    assert main(["swap", "switch"]) == 2
    told = "fitcheck: say what to exchange: TAG=PART, or TAG alone to see what could replace it\n"
    assert capsys.readouterr().err == told


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["bracket"], "fitcheck: nothing here has the tag 'bracket'; nearest is 'bracket_fl'\n"),
        (["bracket_fl", "bracket_fr"], "fitcheck: expected one TAG, or TAG=PART, got 'bracket_fr'\n"),
        (["bracket_fl", "--write"], "fitcheck: --write goes with TAG=PART: say which part is to be written\n"),
        ([SWAP, "--most", "3"], "fitcheck: --most goes with a TAG alone, which lists what could replace it\n"),
    ],
)
def test_what_cannot_be_listed_is_refused(
    capsys: pytest.CaptureFixture[str], car: Path, words: list[str], told: str
) -> None:
    """A wrong request for a list ends with exit code 2 and says what was expected."""
    assert main(["swap", str(car), *words]) == 2
    out = capsys.readouterr()
    assert (out.out, out.err) == ("", told)


def test_most_is_a_whole_number(capsys: pytest.CaptureFixture[str], car: Path) -> None:
    """A count that is none is refused with what was given."""
    assert main(["swap", str(car), "switch", "--most", "0"]) == 2
    assert capsys.readouterr().err.endswith("argument --most: expected a whole number of at least 1, got '0'\n")


def test_help_shows_both_uses(capsys: pytest.CaptureFixture[str]) -> None:
    """The usage names the exchange and the list, each with the options that go with it."""
    assert main(["swap", "--help"]) == 0
    assert capsys.readouterr().out.startswith(
        "usage: fitcheck swap [BUILD] TAG=PART [TAG=PART ...] [--write] [--on DATE] [--format text|json] "
        "[--variant NAME]\n"
        "       fitcheck swap [BUILD] TAG [--most N] [--format text|json] [--variant NAME]\n"
    )
