"""`fitcheck cure`: whole text, what is written, what is left, requests that cannot be answered."""

import json
from pathlib import Path

import pytest

from fitcheck.cli.main import main
from tests.reports.samples import CAUTION_LINES

BUILD = """\
# an invented stub of a car
build: 1
name: Wren
components:
  joiner: {part: tee-3-16-inverted}   # from the drawer
  stop_a: {part: plug-3-8-24-inverted}
  stop_b: {part: plug-m10x1-bubble}   # looked the same

joints:
  - [stop_a.end, joiner.left]
  - [stop_b.end, joiner.right]
"""
TEXT = """\
Wren: 2 findings put right, 0 findings left; checked again: no error

PUT RIGHT (2)

  thread-mismatch: stop_b.end (M10x1) will not start in joiner.right (3/8-24
    UNF)
    exchange stop_b for plug-3-8-24-inverted
  dead-end: joiner.top is open
    close it with plug-3-8-24-inverted (1 more joint)

BUY

  2 plug-3-8-24-inverted

TAKE OFF THE ORDER

  1 plug-m10x1-bubble

EDIT

--- {path}
+++ {path}
@@ -6,3 +6,4 @@
   stop_a: {{part: plug-3-8-24-inverted}}
-  stop_b: {{part: plug-m10x1-bubble}}   # looked the same
+  stop_b: {{part: plug-3-8-24-inverted}}   # looked the same
+  plug_joiner_top: {{part: plug-3-8-24-inverted}}
{space}
@@ -11 +12,2 @@
   - [stop_b.end, joiner.right]
+  - [plug_joiner_top.end, joiner.top]
"""
CURED = BUILD.replace("plug-m10x1-bubble}   #", "plug-3-8-24-inverted}   #").replace(
    "# looked the same\n", "# looked the same\n  plug_joiner_top: {part: plug-3-8-24-inverted}\n"
)
CURED += "  - [plug_joiner_top.end, joiner.top]\n"


def write(folder: Path, text: str = BUILD) -> Path:
    """Return a build file with this text."""
    path = folder / "build.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def test_whole_text_and_nothing_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The acts, the order, the difference of the file; the file is as it was."""
    path = write(tmp_path)
    assert main(["cure", str(path)]) == 0
    assert capsys.readouterr().out == TEXT.format(path=path, space=" ") + CAUTION_LINES + "\n"
    assert path.read_text(encoding="utf-8") == BUILD


def test_write_edits_in_place_and_a_second_cure_finds_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What is written is what was shown, comments and all; the cured file is clean and is not changed again."""
    path = write(tmp_path)
    assert main(["cure", str(path), "--write"]) == 0
    assert path.read_text(encoding="utf-8") == CURED
    assert capsys.readouterr().err == f"{path} now says so\n"
    assert main(["check", str(path)]) == 0
    capsys.readouterr()
    assert main(["cure", str(path), "--write"]) == 0
    out, err = capsys.readouterr()
    assert out.startswith("Wren: nothing to cure\n")
    assert err == f"nothing written: {path} stays as it is\n"
    assert path.read_text(encoding="utf-8") == CURED


def test_only_one_tag(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With --only the rest is left as it is, and the exit code tells that errors stand."""
    path = write(tmp_path)
    assert main(["cure", str(path), "--only", "stop_b", "--write"]) == 1
    assert path.read_text(encoding="utf-8") == BUILD.replace("plug-m10x1-bubble", "plug-3-8-24-inverted")
    told = "Wren: 1 finding put right here, 0 findings left here; checked again: no error\nhere, 1 error elsewhere\n\n"
    assert capsys.readouterr().out.startswith(told)


def test_json_says_the_same(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The JSON has the findings with their remedies, the order and the difference as a list of lines."""
    path = write(tmp_path)
    assert main(["cure", str(path), "--format", "json"]) == 0
    value = json.loads(capsys.readouterr().out)
    costs = ["cost", "unpriced_bought", "unpriced_dropped", "unpriced_changed"]
    assert list(value) == [
        "build", "put_right", "buy", "take_off", *costs, "edit", "left", "errors_after", "caution",
    ]  # fmt: skip
    assert [each["finding"]["rule"] for each in value["put_right"]] == ["thread-mismatch", "dead-end"]
    assert value["put_right"][0]["remedy"]["changes"] == [
        {"change": "put", "path": ["components", "stop_b", "part"], "value": "plug-3-8-24-inverted"}
    ]
    assert (value["buy"], value["take_off"]) == (["2 plug-3-8-24-inverted"], ["1 plug-m10x1-bubble"])
    assert ([value[key] for key in costs], value["left"], value["errors_after"]) == ([None] * 4, [], 0)
    assert value["edit"][0] == f"--- {path}"


def test_bill_with_remedies(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The bill of the cured build has three plugs; that of the build as it is has the wrong one."""
    path = write(tmp_path)
    assert main(["bom", str(path), "--with-remedies", "--format", "json"]) == 0
    rows = {row["part"]: row["quantity"] for row in json.loads(capsys.readouterr().out)["lines"]}
    assert rows == {"tee-3-16-inverted": 1, "plug-3-8-24-inverted": 3}
    assert path.read_text(encoding="utf-8") == BUILD


PRICED = BUILD.replace("name: Wren\n", "name: Wren\noffers: [offers.yaml]\n")
OFFERS = "offers: 1\nsuppliers: {shed: {name: Shed, currency: GBP}}\nprices:\n"
OLD_PLUG = "  - {part: plug-m10x1-bubble, supplier: shed, price: 2.00 GBP}\n"
NEW_PLUG = "  - {part: plug-3-8-24-inverted, supplier: shed, price: 1.50 GBP}\n"
COSTS = [
    (OLD_PLUG, "not known: 1 line bought has no price; without it 2.00 GBP less than before", (1, 0)),
    (NEW_PLUG, "not known: 1 line dropped has no price; without it 1.50 GBP more than before", (0, 1)),
    (OLD_PLUG + NEW_PLUG, "0.50 GBP less than before", (0, 0)),
    (OLD_PLUG + NEW_PLUG.replace("1.50", "2.00"), "no change", (0, 0)),
]


@pytest.mark.parametrize(("prices", "cost", "counts"), COSTS)
def test_no_saving_in_a_missing_price(
    prices: str, cost: str, counts: tuple[int, int], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What something without a price does to the cost is not known, and that is said first, in text and in JSON."""
    path = write(tmp_path, PRICED)
    (tmp_path / "offers.yaml").write_text(OFFERS + prices, encoding="utf-8")
    assert main(["cure", str(path), "--only", "stop_b"]) == 1
    assert f"\n\nCOST {cost}\n\nEDIT\n" in capsys.readouterr().out.replace("\nbefore", " before")
    assert main(["cure", str(path), "--only", "stop_b", "--format", "json"]) == 1
    value = json.loads(capsys.readouterr().out)
    for told in (value, value["put_right"][0]["remedy"]):
        assert (told["cost"], told["unpriced_bought"], told["unpriced_dropped"]) == (cost, *counts)


PLACED = """\
build: 1
name: Wren
bodies: {axle: {poses: {bump: {shift: [0, 0, 40]}}}}
components:
  near: {part: union-3-16-inverted, at: [0, 0, 0]}
  far: {part: union-3-16-inverted, at: [400, 0, 0]}
joints: []
lines:
  run: {from: near.b, to: far.a, tube: tube-3-16-cuni, route: [[200, 60, 0]]}
heat:
  exhaust: {path: [[200, 60, -50], [200, 60, 50]], radius: 20 mm, clearance: 50 mm}
panels:
  firewall: {hole: 12.7 mm, thickness: 1.5 mm, material: mild steel, grommet: grommet-3-16}
"""
PLACES = [
    ("firewall", "Wren: 1 finding put right here, 0 findings left here; checked again: no error\nhere, 3 errors"),
    ("exhaust", "Wren: 0 findings put right here, 1 finding left here; checked again: 1 error\nhere, 2 errors"),
    ("axle", "Wren: nothing to cure here; 3 errors"),
    ("near.a", "Wren: 1 finding put right here, 0 findings left here; checked again: no error\nhere, 2 errors"),
]


@pytest.mark.parametrize(("name", "told"), PLACES)
def test_only_what_a_finding_can_stand_at(
    name: str, told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Panels, heat, bodies and ends can be asked for by name, as fitted parts can."""
    assert main(["cure", str(write(tmp_path, PLACED)), "--only", name]) == 1
    assert capsys.readouterr().out.startswith(f"{told} elsewhere\n\n")


def test_port_that_a_part_does_not_have(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A wrong name that a finding stands at can be asked for, and what no remedy is known for is told as left."""
    path = write(tmp_path, BUILD.replace("joiner.right]", "joiner.rigt]"))
    assert main(["cure", str(path), "--only", "joiner.rigt"]) == 1
    told = "Wren: 0 findings put right here, 1 finding left here; checked again: 1 error\nhere, 1 error elsewhere\n\n"
    assert capsys.readouterr().out.startswith(told)


def test_help_says_what_write_refuses(capsys: pytest.CaptureFixture[str]) -> None:
    """Whoever asks for help is told before they try."""
    assert main(["cure", "--help"]) == 0
    assert "edit the build file in place; not with --variant (exit 2)" in " ".join(capsys.readouterr().out.split())


ASKED_WRONGLY = [
    (["--only", "stop_c"], "fitcheck: nothing here has the tag 'stop_c'; nearest is 'stop_a'\n"),
    (["--write", "--variant", "any"], "fitcheck: --write edits the build itself, so it does not go with --variant\n"),
]


@pytest.mark.parametrize(("more", "told"), ASKED_WRONGLY)
def test_asked_wrongly(more: list[str], told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A tag that is not there and a variant that would be written are refused, and nothing is changed."""
    path = write(tmp_path)
    assert main(["cure", str(path), *more]) == 2
    assert capsys.readouterr().err == told
    assert path.read_text(encoding="utf-8") == BUILD
