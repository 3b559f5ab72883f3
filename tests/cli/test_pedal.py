"""`fitcheck pedal`: forms, exit codes, requests that cannot be answered, and what `swap` shows of it."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from fitcheck.cli.main import main
from tests.hydraulics import plumbed

VARIANT = """\
variants:
  soft: {set: {brakes.brake.gap: 0.2 mm}}
  short: {set: {pedal.travel: 20 mm}}
"""
DISC_BIG = plumbed.CATALOG[plumbed.CATALOG.index("  disc:") : plumbed.CATALOG.index("  slave:")]
MORE = DISC_BIG.replace("disc:", "disc-big:").replace("[40 mm, 40 mm]", "[50 mm, 50 mm]")


@pytest.fixture
def build(tmp_path: Path) -> Path:
    """The trailer with two variants."""
    (tmp_path / "parts.yaml").write_text(plumbed.CATALOG + MORE, encoding="utf-8")
    (tmp_path / "build.yaml").write_text(plumbed.TRAILER + VARIANT, encoding="utf-8")
    return tmp_path / "build.yaml"


def answered(capsys: pytest.CaptureFixture[str], *words: str | Path) -> tuple[int, str, str]:
    """Return code, output and standard error of a command."""
    code = main(["pedal", *map(str, words)])
    told = capsys.readouterr()
    return code, told.out, told.err


def test_text_and_code(capsys: pytest.CaptureFixture[str], build: Path) -> None:
    """Text by default; 0 where nothing is wrong, 1 where the pedal reaches its floor."""
    code, out, err = answered(capsys, build)
    assert (code, err) == (0, "")
    assert out.startswith("Redshank: pedal to caliper, 400 N on the brake pedal\n")
    code, out, _ = answered(capsys, build, "--variant", "short")
    assert code == 1
    assert "  error: the pedal needs 30.2 mm, its way to the floor is 20 mm\n" in out


def test_another_push(capsys: pytest.CaptureFixture[str], build: Path) -> None:
    """`--force` is the push that all is computed at, in its own unit."""
    found = json.loads(answered(capsys, build, "--force", "100 lbf", "--format", "json")[1])
    assert found["pushes"][0]["foot_n"] == 444.8222
    assert answered(capsys, build, "--force", "100 lbf")[1].startswith(
        "Redshank: pedal to caliper, 100 lbf on the brake pedal\n"
    )


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("--force", "450"), "--force: a bare number where a force is needed: write '350 N' or '80 lbf'"),
        (("--force", "5 mm"), "--force: '5 mm' is a length where a force is needed"),
        (("--force", "0 N"), "--force: expected more than zero, got '0 N'"),
        (("--against", "soft", "--format", "svg"), "--against goes with --format text or json"),
    ],
)
def test_asked_wrongly(capsys: pytest.CaptureFixture[str], build: Path, words: tuple[str, ...], message: str) -> None:
    """What cannot be asked is refused with 2 and the reason."""
    code, out, err = answered(capsys, build, *words)
    assert (code, out, err) == (2, "", f"fitcheck: {message}\n")


def test_unknown_variant_beside(capsys: pytest.CaptureFixture[str], build: Path) -> None:
    """A variant that the build does not have is refused."""
    code, out, err = answered(capsys, build, "--against", "sof")
    assert (code, out) == (2, "")
    assert "soft" in err


def test_side_by_side(capsys: pytest.CaptureFixture[str], build: Path) -> None:
    """`--against` shows both; the code is that of the variant."""
    code, out, _ = answered(capsys, build, "--against", "soft")
    assert code == 0
    assert "side by side: as it is, soft; * differs\n" in out
    assert "  pedal travel, brake          30.2 mm   34.2 mm   *\n" in out
    assert answered(capsys, build, "--against", "short")[0] == 1
    found = json.loads(answered(capsys, build, "--variant", "soft", "--against", "short", "--format", "json")[1])
    assert found["names"] == ["soft", "short"]


def test_written_to_a_file(capsys: pytest.CaptureFixture[str], build: Path) -> None:
    """`--output` writes the picture and says so; it never writes over what the build is read from."""
    pytest.importorskip("matplotlib")
    picture = build.parent / "pedal.svg"
    code, out, err = answered(capsys, build, "--format", "svg", "--output", picture)
    assert (code, out) == (0, "")
    assert err == f"not computed, see --format text: 5 fields are missing\n{picture} written\n"
    assert picture.read_text(encoding="utf-8").startswith('<?xml version="1.0"')
    code, _, err = answered(capsys, build, "--output", build)
    assert (code, err) == (2, f"fitcheck: --output: {build} is a file that the build is read from\n")


def test_nothing_to_draw(capsys: pytest.CaptureFixture[str], build: Path) -> None:
    """A picture of nothing is refused with what is missing."""
    text = plumbed.TRAILER[: plumbed.TRAILER.index("pedal:")]
    build.write_text(text, encoding="utf-8")
    code, out, err = answered(capsys, build, "--format", "svg")
    assert (code, out) == (2, "")
    assert "nothing to draw: what is missing is pedal.ratio, pedal.force" in err


def test_swap_shows_what_changes_at_the_pedal(capsys: pytest.CaptureFixture[str], build: Path) -> None:
    """An exchange of calipers tells stroke and travel before and after, as text and JSON, and no more."""
    main(["swap", str(build), "brake=disc-big"])
    out = capsys.readouterr().out
    section = out[out.index("\nPEDAL\n") : out.index("\nAfter it:")]
    assert [line.split("  ")[1] for line in section.splitlines()[5:]] == [
        "stroke used, mc.out",
        "stroke left, mc.out",
        "pedal travel, brake",
        "pedal travel left, brake",
    ]
    main(["swap", str(build), "brake=disc-big", "--format", "json"])
    rows = json.loads(capsys.readouterr().out)["pedal"]
    assert [row["what"] for row in rows] == ["stroke used", "stroke left", "pedal travel", "pedal travel left"]
    assert all(row["after"] > row["before"] for row in rows if not row["what"].endswith("left"))


def test_swap_is_quiet_without_a_pedal(capsys: pytest.CaptureFixture[str], build: Path) -> None:
    """A build that says nothing of a pedal has no such section, and no such key."""
    build.write_text(plumbed.TRAILER[: plumbed.TRAILER.index("pedal:")], encoding="utf-8")
    main(["swap", str(build), "brake=disc-big"])
    assert "PEDAL" not in capsys.readouterr().out
    main(["swap", str(build), "brake=disc-big", "--format", "json"])
    assert "pedal" not in json.loads(capsys.readouterr().out)


@pytest.mark.parametrize("words", [("pedal",), ("swap", "brake=disc-big")])
def test_what_draws_is_imported_for_pictures_only(build: Path, words: tuple[str, ...]) -> None:
    """Neither text of the verb nor an exchange loads the library that draws, or numpy."""
    verb, *rest = words
    told = f"""
import sys
from fitcheck.cli.main import main
main([{verb!r}, {str(build)!r}, *{rest!r}])
assert not {{"matplotlib", "numpy"}} & set(sys.modules), "too much is imported"
"""
    done = subprocess.run([sys.executable, "-c", told], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_whoever_measures_in_inches_and_pounds_is_answered_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What is wrong is told in the units of the file, by `check` as by `pedal`."""
    demo = Path(__file__).parents[2] / "demo_vehicle"
    text = (demo / "build.yaml").read_text(encoding="utf-8")
    for name in ("house_parts.yaml", "offers.yaml", "barnstock.csv", "stock.yaml"):
        (tmp_path / name).write_bytes((demo / name).read_bytes())
    text = text.replace("coordinates: mm", "coordinates: in").replace("  force: 400 N", "  force: 90 lbf")
    text = text.replace("  travel: 135 mm", "  travel: 2 in")
    (tmp_path / "build.yaml").write_text(text, encoding="utf-8")
    for verb in ("check", "pedal"):
        main([verb, str(tmp_path)])
        said = " ".join(capsys.readouterr().out.split())
        assert "its way to the floor is 2.00 in" in said
        assert "the pedal needs 2." in said or "the pedal needs 3." in said
