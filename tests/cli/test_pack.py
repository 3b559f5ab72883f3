"""`fitcheck pack` from the command line: which files, which date, what is refused, which exit code."""

import re
import sys
from datetime import datetime
from importlib import util
from pathlib import Path

import pytest

from fitcheck import progress
from fitcheck.cli.main import main
from fitcheck.reports.pack import sheets

SMALL = "build: 1\nname: Small\ncomponents:\n  tank: {part: reservoir-2-outlet}\n"


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """A build of one part."""
    file = tmp_path / "build.yaml"
    file.write_text(SMALL, encoding="utf-8")
    return file


def pack(*words: object) -> int:
    """Run the verb, made for one day."""
    return main(["pack", *map(str, words), "--on", "2026-12-01"])


def test_both_files_are_written(small: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The folder is made with all above it; both files are told on standard error; nothing else is left there."""
    out = small.parent / "a" / "b"
    code = pack(small, "--out", out)
    assert sorted(path.name for path in out.iterdir()) == ["pack.html", "pack.pdf"]
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err == f"{out}/pack.html written\n{out}/pack.pdf written\n"
    assert code == main(["check", str(small)])


def test_errors_do_not_stop_it(small: Path) -> None:
    """A build with errors is packed all the same, with exit code 1 and the line that nobody may pass over."""
    small.write_text(SMALL + "  mc: {part: mc-m10x1-bubble}\n", encoding="utf-8")
    assert pack(small, "--out", small.parent / "out", "--only", "html") == 1
    assert "DO NOT ORDER OR DRIVE: 2 errors in this build" in (small.parent / "out" / "pack.html").read_text("utf-8")


@pytest.mark.parametrize("force", [(), ("--force",)])
def test_a_folder_in_the_way(small: Path, force: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    """A folder of a file's name is refused before anything is written, by --force too."""
    out = small.parent / "out"
    (out / "pack.pdf").mkdir(parents=True)
    assert pack(small, "--out", out, *force) == 2
    assert capsys.readouterr().err == f"fitcheck: {out}/pack.pdf is a folder: take another --out\n"
    assert [path.name for path in out.iterdir()] == ["pack.pdf"]


@pytest.mark.parametrize("form", ["html", "pdf"])
def test_only_one_file(small: Path, form: str) -> None:
    """`--only` writes that file alone."""
    pack(small, "--out", small.parent / "out", "--only", form)
    assert [path.name for path in (small.parent / "out").iterdir()] == [f"pack.{form}"]


def test_a_pack_is_replaced_by_a_pack_only(small: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Files that are packs are written over; others are not, unless that is forced; neither file is touched then."""
    out = small.parent / "out"
    pack(small, "--out", out)
    pack(small, "--out", out)
    (out / "pack.pdf").write_bytes(b"%PDF-1.4 somebody's own")
    before = (out / "pack.html").read_bytes()
    small.write_text(SMALL.replace("Small", "Other"), encoding="utf-8")
    capsys.readouterr()
    assert pack(small, "--out", out) == 2
    assert capsys.readouterr().err == (
        f"fitcheck: {out}/pack.pdf is there already and is no pack: take another --out, or --force\n"
    )
    assert (out / "pack.html").read_bytes() == before
    pack(small, "--out", out, "--force")
    assert (out / "pack.pdf").read_bytes().startswith(b"%PDF")
    assert (out / "pack.html").read_bytes() != before


def test_a_file_is_no_folder(small: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`--out` that names a file, or a folder below one, is refused."""
    assert pack(small, "--out", small) == 2
    assert capsys.readouterr().err == f"fitcheck: --out: {small} is no folder\n"
    assert pack(small, "--out", small / "x", "--only", "html") == 2
    assert capsys.readouterr().err == f"fitcheck: --out: {small}/x cannot be made: not a directory\n"


def date_of(out: Path) -> str:
    """Return the date that stands on the cover."""
    found = re.search(r"<dt>Date</dt><dd>(.*?)</dd>", (out / "pack.html").read_text("utf-8"))
    assert found is not None
    return found[1]


def test_where_the_date_comes_from(
    small: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """`--on` comes first, then SOURCE_DATE_EPOCH, which is UTC, then today; one that is no number is refused."""
    out = small.parent / "out"
    words = ["pack", str(small), "--out", str(out), "--only", "html"]
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1000000000")
    main([*words, "--on", "2026-12-31"])
    assert date_of(out) == "2026-12-31"
    main(words)
    assert date_of(out) == "2001-09-09"
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "soon")
    capsys.readouterr()
    assert main(words) == 2
    assert capsys.readouterr().err == "fitcheck: SOURCE_DATE_EPOCH: expected seconds since 1970, got 'soon'\n"
    monkeypatch.delenv("SOURCE_DATE_EPOCH")
    days = {datetime.now().date().isoformat()}
    main(words)
    days.add(datetime.now().date().isoformat())  # midnight may have passed
    assert date_of(out) in days


def test_a_wrong_date_is_refused(small: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A date that is none is refused before anything is read."""
    assert main(["pack", str(small), "--out", str(small.parent / "out"), "--on", "soon"]) == 2
    assert capsys.readouterr().err == "fitcheck: --on: expected a date such as 2026-12-31, got 'soon'\n"
    assert not (small.parent / "out").exists()


def test_every_file_that_the_build_names_is_in_the_revision(small: Path) -> None:
    """The cover lists build, catalogs and stock with their hashes; a change in any of them is another revision."""
    folder, out = small.parent, small.parent / "out"
    (folder / "parts.yaml").write_text("catalog: 1\nparts: {}\n", encoding="utf-8")
    (folder / "shelf.yaml").write_text("stock: 1\n", encoding="utf-8")
    small.write_text(SMALL + "catalogs: [parts.yaml]\nstock: shelf.yaml\n", encoding="utf-8")
    revisions = []
    for words in ("stock: 1\n", "stock: 1\nnote: counted\n"):
        (folder / "shelf.yaml").write_text(words, encoding="utf-8")
        pack(small, "--out", out, "--only", "html")
        text = (out / "pack.html").read_text("utf-8")
        assert re.findall(r"<tr><td>(\w+\.yaml)</td><td>[0-9a-f]{12}</td></tr>", text) == [
            "build.yaml",
            "parts.yaml",
            "shelf.yaml",
        ]
        revisions.append(re.findall(r"revision ([0-9a-f]{12}), 2026-12-01", text)[-1])
    assert revisions[0] != revisions[1]


def test_a_file_changed_meanwhile_is_noticed(
    small: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """If the build is saved while its pack is made nothing is written: the hash would be that of another file."""
    drawn = sheets.drawings_told

    def saved(context: object, report: object) -> object:
        small.write_text(SMALL + "note: saved meanwhile\n", encoding="utf-8")
        return drawn(context, report)  # type: ignore[arg-type]

    monkeypatch.setattr(sheets, "drawings_told", saved)
    assert pack(small, "--out", small.parent / "out", "--only", "html") == 2
    assert capsys.readouterr().err == (
        "fitcheck: a file of the build was changed while the pack was made: make it again\n"
    )
    assert not (small.parent / "out").exists()


def test_without_the_extra_it_is_named(
    small: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Without what makes PDFs the extra is named and nothing is written; the page alone needs none of it."""
    found = util.find_spec
    monkeypatch.setattr(util, "find_spec", lambda name, *more: None if name == "reportlab" else found(name, *more))
    assert pack(small, "--out", small.parent / "out") == 2
    assert capsys.readouterr().err == 'fitcheck: PDF needs svglib and reportlab: pip install "fitcheck[print]"\n'
    assert not (small.parent / "out").exists()
    for name in ("reportlab", "svglib", "matplotlib"):
        monkeypatch.setitem(sys.modules, name, None)
    assert pack(small, "--out", small.parent / "out", "--only", "html") == main(["check", str(small)])


def test_without_plots_it_says_so(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Without the library that draws plots the pedal's figures stand there, and words in place of the plots."""
    monkeypatch.setitem(sys.modules, "matplotlib", None)
    root = Path(__file__).parents[2]
    pack(root / "demo_vehicle", "--out", tmp_path, "--only", "html")
    text = (tmp_path / "pack.html").read_text("utf-8")
    assert "<p>No plots: they need matplotlib, pip install &quot;fitcheck[plot]&quot;.</p>" in text
    assert "<h4>PRESSURE</h4>" in text


def test_progress_is_told(small: Path) -> None:
    """Whoever looks is told of each section, in growing shares."""
    seen: list[progress.Step | None] = []
    with progress.shown_by(seen.append):
        pack(small, "--out", small.parent / "out", "--only", "html")
    steps = [each for each in seen if each is not None and each.task == "making the pack"]
    assert [each.note for each in steps if each.note][:2] == ["Drawings", "Findings"]
    shares = [each.share for each in steps if each.share is not None]
    assert shares == sorted(shares)
    assert len(shares) == 8


def test_a_variant_is_packed(tmp_path: Path) -> None:
    """The variant is applied, stands on the cover and in the revision."""
    root = Path(__file__).parents[2]
    pack(root / "demo_vehicle", "--out", tmp_path, "--only", "html", "--variant", "as_corrected", "--paper", "letter")
    text = (tmp_path / "pack.html").read_text("utf-8")
    assert "<dt>Variant</dt><dd>as_corrected</dd>" in text
    assert re.search(r"revision [0-9a-f]{12}, variant as_corrected, 2026-12-01", text)


ONE_CIRCUIT = """\
build: 1
name: One circuit
fluid: DOT 4
catalogs: [parts.yaml]
components: {pedals: {part: pb}, mc: {part: mc}, cal: {part: cal}}
joints: [[pedals.rod, mc.pushrod]]
lines: {one: {from: mc.outlet, to: cal.inlet, tube: tube-3-16-cuni, length: 300 mm}}
pedal: {force: 400 N, ratio: 6, travel: 125 mm, free_play: 3 mm, efficiency: 1}
brakes: {cal: {axle: front, friction: 0.4, radius: 100 mm, tyre: 300 mm}}
car: {mass: 700 kg, wheelbase: 2300 mm, cg_height: 450 mm, cg_behind_front: 1150 mm, tyre_friction: 0.85}
"""
PARTS = """\
catalog: 1
parts:
  pb: {kind: pedal box, ports: {rod: {thread: 5/16-24 UNF, gender: external, reach: 40 mm}}}
  mc:
    kind: master cylinder
    ports:
      outlet: {thread: M10x1, gender: internal, seat: bubble, tube: 3/16 in}
      pushrod: {thread: 5/16-24 UNF, gender: internal, reach: 40 mm}
    outlets: [outlet]
    feeds: []
    bore: 19 mm
    stroke: 28 mm
  cal:
    kind: caliper
    ports: {inlet: {thread: M10x1, gender: internal, seat: bubble, tube: 3/16 in}}
    pistons: [35 mm, 35 mm]
    style: fixed
    give: 1 mm3/bar
"""


def test_a_circuit_whose_loss_leaves_nothing(tmp_path: Path) -> None:
    """A car whose only circuit can be lost is packed: the bar of the brakes that are left is a bar of nothing."""
    (tmp_path / "parts.yaml").write_text(PARTS, encoding="utf-8")
    build = tmp_path / "build.yaml"
    build.write_text(ONE_CIRCUIT, encoding="utf-8")
    assert pack(build, "--out", tmp_path / "out") == 0
    text = (tmp_path / "out" / "pack.html").read_text("utf-8")
    assert "deceleration left: mc.outlet lost 0.00 g" in text
    assert "3 components, 1 line, 0 hoses, no circuit named" in text
    assert (tmp_path / "out" / "pack.pdf").read_bytes().startswith(b"%PDF")
