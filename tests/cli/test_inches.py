"""The demo written in inches, pounds and dollars: every verb answers in those, and says the same as of the demo."""

import json
import re
from collections.abc import Iterator
from html import unescape
from pathlib import Path
from typing import Any

import pytest

from fitcheck.cli.main import main
from fitcheck.quantities import parse
from tests.inches import METRIC, differing, folder_in_inches

DEMO = Path(__file__).parents[2] / "demo_vehicle"
ON = ("--on", "2026-12-01")
TOLD = re.compile(
    r"\d[\d.]* mm(?: x [\d.]+ mm)? (?:tube|hose|eye|bore|push-on|wall|over|hole|thick|feed)|eye \d+ mm|differs: .*"
    r"|(?:for|Hose|hose,?) [\d.]+ mm|[\d.]+ mm or 5/16 in|\d+-inverted.*|4.75 mm(?= tube|\))|\b[\d.]+mm\b"
)
"""Sizes by which parts are named and sold, which stay as their catalog has them."""
HOLES = re.compile(r"[\d.]+ mm \([\d.]+ in\)|drill [\d.]+ mm")
"""Holes and drills come by the size that drills are sold by, with inches beside it."""
CITED = re.compile(r"\(?from memory[^;)]*|trade\s+article[^;]*|common practice, no source\)?")
"""What a source says is left in its own units."""
CUTS = re.compile(r"^ *(\w+) ((?:\d+ )?\d+(?:/\d+)? in) \(run", re.MULTILINE)
RUNS = [
    ("check", "--remedies", "--unchecked"),
    ("check", "--format", "junit"),
    ("check", "--variant", "as_corrected"),
    ("bom",),
    ("bom", "--format", "csv"),
    ("bom", "--with-remedies"),
    ("order", *ON),
    ("order", *ON, "--format", "csv"),
    ("order", *ON, "--format", "mail"),
    ("cut", "--kerf", "0.04 in"),
    ("make",),
    ("make", "--holes", "--format", "html"),
    ("make", "--format", "svg"),
    ("draw",),
    ("draw", "--view", "plan"),
    ("bleed", *ON),
    ("bleed", *ON, "--format", "html"),
    ("pedal",),
    ("pedal", "--against", "as_corrected"),
    ("swap", "tee_axle=tee-axle-bubble", "axle_right=tube-3-16-cuni"),
    ("swap", "mc_front"),
    ("cure",),
]


@pytest.fixture(scope="module")
def inches(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the demo's folder in inches."""
    return folder_in_inches(DEMO, tmp_path_factory.mktemp("inches") / "demo_vehicle")


def said(capsys: pytest.CaptureFixture[str], folder: Path, verb: str, *options: str) -> str:
    """Return what a verb prints of a build: its words, without the marks of HTML and SVG."""
    main([verb, str(folder), *options])
    text = capsys.readouterr().out
    text = re.sub(r"<style.*?</style>|<script.*?</script>", " ", text, flags=re.DOTALL)
    return unescape(re.sub(r"<[^<>]*>", " ", text)) if text.startswith("<") else text


def metric_figures(text: str) -> list[str]:
    """Return the figures in mm, N, N m, MPa and bar that neither a catalog nor a source has brought in."""
    flat = " ".join(text.split())
    for kept in (TOLD, HOLES, CITED):
        flat = kept.sub(" ", flat)
    return [flat[max(0, found.start() - 40) : found.end() + 20] for found in METRIC.finditer(flat)]


@pytest.mark.parametrize("run", RUNS, ids=" ".join)
def test_every_verb_answers_in_the_authors_units(
    run: tuple[str, ...], inches: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Of a build in inches nothing is told in mm, N, MPa or bar but names of parts, drills and what sources say."""
    text = said(capsys, inches, *run)
    assert len(text) > 500
    assert metric_figures(text) == []


def test_what_is_left_out_above_is_narrow(capsys: pytest.CaptureFixture[str]) -> None:
    """The same look at the demo in mm finds its lengths, forces and pressures."""
    for verb, figure in (("bom", "1103.3 +"), ("cut", "left "), ("bleed", " bar"), ("pedal", " N"), ("make", " mm")):
        text = said(capsys, DEMO, verb)
        assert figure in text
        assert metric_figures(text)


@pytest.mark.parametrize("verb", ["check", "bom", "cut", "make"])
def test_json_keeps_its_units(verb: str, inches: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Numbers of a JSON report are those of the same build in mm; its sentences have the same figures."""
    first, second = (json.loads(said(capsys, folder, verb, "--format", "json")) for folder in (DEMO, inches))
    pairs = list(zip(leaves(first), leaves(second), strict=True))
    assert len(pairs) > 50
    for (path, value), (there, other) in pairs:
        assert path == there
        own = "on_tape" in path[-1] or path[-1] == "needed_mm" or "drills" in path  # rounded as the author measures
        if isinstance(value, float) and not own:
            assert other == pytest.approx(value, rel=1e-4, abs=0.013), path
        elif isinstance(value, str) and path[-1] == "message":
            assert differing(value, other) == []


def leaves(value: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], Any]]:
    """Yield every value of a JSON document with its place; a whole number as a float, prices left out."""
    if isinstance(value, dict):
        for key, item in value.items():
            yield from leaves(item, (*path, key))
    elif isinstance(value, list):
        for item in value:
            yield from leaves(item, path)
    elif isinstance(value, int) and not isinstance(value, bool):
        yield path, float(value)
    elif "price" not in path:
        yield path, value


def test_lengths_to_cut_are_those_of_the_json(inches: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Each length to cut is told to 1/32 in; read as users' text is, it is the exact one to half of that."""
    rows = json.loads(said(capsys, inches, "bom", "--format", "json"))["lines"]
    exact = {piece["for"]: piece["length_mm"] for row in rows for piece in row.get("pieces", ())}
    told = dict(CUTS.findall(said(capsys, inches, "bom")))
    assert len(told) == 9
    for tag, length in told.items():
        assert abs(parse(length, "length") - exact[tag]) <= 25.4 / 64.0 + 1e-6


def test_leak_tests_agree(inches: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The bleed sheet's pressures, pushes and torques are those of the same build in bar and newtons."""
    first, second = (said(capsys, folder, "bleed", *ON) for folder in (DEMO, inches))
    assert differing(first.replace("(556 N, ", "("), second) == []


def test_a_written_cure_is_in_inches(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What `cure --write` writes into a build in inches states no length in mm, and can be read again."""
    folder = folder_in_inches(DEMO, tmp_path / "car")
    before = (folder / "build.yaml").read_text(encoding="utf-8")
    said(capsys, folder, "cure", "--write")
    after = (folder / "build.yaml").read_text(encoding="utf-8")
    assert after != before
    assert re.findall(r"\d mm\b", after) == []
    assert said(capsys, folder, "check").startswith("Dunlin: ")


@pytest.mark.slow
def test_the_pack_is_in_inches(inches: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The printed pack of a build in inches has no figure in other units but those of parts, drills and sources."""
    assert main(["pack", str(inches), *ON, "--out", str(tmp_path / "out"), "--only", "html"]) == 1
    capsys.readouterr()
    text = (tmp_path / "out" / "pack.html").read_text(encoding="utf-8")
    text = unescape(re.sub(r"<[^<>]*>", " ", re.sub(r"<style.*?</style>", " ", text, flags=re.DOTALL)))
    assert metric_figures(text) == []
