"""`fitcheck identify` as a user meets it."""

import json
from xml.etree import ElementTree

import pytest

from tests.cli.test_main import run


def test_a_measured_nut_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    """A diameter and a leaf of the pitch gauge give the thread, first and with exit code 0."""
    code, out, err = run(capsys, "identify", "--od", "9.4mm", "--pitch", "24tpi", "--tube", "3/16in")
    assert (code, err) == (0, "")
    assert "\n  83 %  3/8-24 UNF " in out


@pytest.mark.parametrize("od", ["0.374 in", '0.374"'])
def test_who_measures_in_inches_is_told_inches(od: str, capsys: pytest.CaptureFixture[str]) -> None:
    """No length but the name of a tube is told in mm; limits are those of ASME B1.1: 0.3667 to 0.3739 in."""
    code, out, _ = run(capsys, "identify", "--od", od, "--pitch", "24tpi", "--tube", "3/16in")
    flat = " ".join(out.split())
    assert code == 0
    assert flat.startswith("An external thread, 0.374 in over the crests, pitch 0.0417 in (24 threads per inch)")
    assert "3/8-24 UNF crests 0.367 to 0.374 in; on a nut for that tube" in flat
    assert "taper: over 5/16 in of length R1/8 grows by 0.02 in across, the other not at all" in flat
    assert "worn by up to 0.004 in below the least crest" in flat
    assert " mm" not in flat.replace("4.75 mm tube", "")


def test_a_bore_is_an_internal_thread(capsys: pytest.CaptureFixture[str]) -> None:
    """`--bore` is enough to say that the thread is internal; `--internal` may be added."""
    once = run(capsys, "identify", "--bore", "9mm", "--pitch", "1mm", "--format", "json")
    again = run(capsys, "identify", "--internal", "--bore", "9mm", "--pitch", "1mm", "--format", "json")
    assert once == again
    found = json.loads(once[1])
    assert found["reading"]["internal"] is True
    assert found["candidates"][0]["designation"] == "M10x1"


def test_no_such_thread_is_exit_code_1(capsys: pytest.CaptureFixture[str]) -> None:
    """A reading that fits nothing is an answer, but not a good one."""
    code, out, err = run(capsys, "identify", "--od", "25mm", "--pitch", "0.5mm")
    assert (code, err) == (1, "")
    assert "NO THREAD OF THE TABLES IS LIKE THAT" in out


def test_drawing_is_xml(capsys: pytest.CaptureFixture[str]) -> None:
    """`--format svg` prints one well-formed drawing and nothing else."""
    code, out, _ = run(capsys, "identify", "--od", "9.4mm", "--pitch", "10 in 10.6mm", "--format", "svg")
    assert code == 0
    assert ElementTree.fromstring(out).tag.endswith("svg")


WRONG = [
    (["--pitch", "1mm"], "expected --od LENGTH of an external thread or --bore LENGTH of an internal one"),
    (
        ["--od", "9mm", "--bore", "8mm", "--pitch", "1mm"],
        "one thread at a time: --od for an external, --bore for an internal one",
    ),
    (
        ["--od", "9mm", "--internal", "--pitch", "1mm"],
        "an internal thread is measured across its crests: give --bore instead of --od",
    ),
    (
        ["--od", "9.4", "--pitch", "1mm"],
        "crest diameter '9.4': a bare number where a length is needed: write '25 mm' or '1 in'",
    ),
    (["--bore", "900mm", "--pitch", "1mm"], "bore, crest to crest, '900mm': expected 1 to 45 mm"),
    (
        ["--od", "9.4mm", "--pitch", "fine"],
        "pitch 'fine': expected '24tpi', '1mm' or turns over a length such as '10 in 10.6mm'",
    ),
]


@pytest.mark.parametrize(("words", "expected"), WRONG)
def test_nonsense_is_told_with_what_was_expected(
    capsys: pytest.CaptureFixture[str], words: list[str], expected: str
) -> None:
    """What cannot be is one line on standard error that says what was expected, and exit code 2."""
    assert run(capsys, "identify", *words) == (2, "", f"fitcheck: {expected}\n")
