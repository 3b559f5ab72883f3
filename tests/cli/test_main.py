"""The command line as a user meets it: verbs, exit codes, whole error texts."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from fitcheck.cli.main import VERBS, main

DEMO = str(Path(__file__).parents[2] / "demo_vehicle")


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    """Return exit code, standard output and standard error of one command line."""
    code = main(words)
    out = capsys.readouterr()
    return code, out.out, out.err


def test_help_lists_every_verb_and_the_caution(capsys: pytest.CaptureFixture[str]) -> None:
    """`--help` names the verbs, the exit codes and the danger, and is no error."""
    code, out, err = run(capsys, "--help")
    assert code == 0
    assert err == ""
    width = max(map(len, VERBS))
    assert all(f"\n  {verb:<{width}}  {about}\n" in out for verb, about in VERBS.items())
    assert VERBS["check"] == "what is wrong, what was not checked"
    assert "Exit code: 0 well, 1 not (errors stand, nothing fits, nothing found), 2 could not be read" in out
    assert "Brakes hurt people when they fail." in out


def test_unknown_verb_names_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    """A slip in the verb is answered with the verb that was probably meant."""
    code, out, err = run(capsys, "chek", DEMO)
    assert (code, out) == (2, "")
    assert err == f"fitcheck: no verb is called 'chek'; nearest is 'check'\nknown: {', '.join(VERBS)}\n"


def test_version_is_the_installed_one(capsys: pytest.CaptureFixture[str]) -> None:
    """`--version` prints one line."""
    code, out, _ = run(capsys, "--version")
    assert code == 0
    assert out.startswith("fitcheck ")


@pytest.mark.parametrize("form", ["text", "json", "sarif"])
def test_demo_fails_and_its_corrected_variant_passes(capsys: pytest.CaptureFixture[str], form: str) -> None:
    """Exit code 1 with findings at level error, 0 without, whatever the form of the answer."""
    assert run(capsys, "check", DEMO, "--format", form)[0] == 1
    assert run(capsys, "check", DEMO, "--format", form, "--variant", "as_corrected")[0] == 0


def test_demo_has_the_mistakes_it_is_there_to_show(capsys: pytest.CaptureFixture[str]) -> None:
    """The demo car shows ten different rules at work, and says which file and line each is about."""
    _, out, _ = run(capsys, "check", DEMO, "--format", "json")
    found = json.loads(out)
    assert [finding["rule"] for finding in found["findings"]] == [
        "thread-mismatch",
        "seat-mismatch",
        "flare-mismatch",
        "fixing-missing",
        "reservoir-missing",
        "dead-end",
        "one-way-reversed",
        "tube-material-refused",
        "rigid-across-bodies",
        "fixing-trapped",
    ]
    assert found["summary"] == {"error": 10, "warning": 0, "note": 0}
    lines = (Path(DEMO) / "build.yaml").read_text(encoding="utf-8").splitlines()
    by_rule = {finding["rule"]: lines[finding["line"] - 1] for finding in found["findings"]}
    assert by_rule["thread-mismatch"].strip().startswith("hose_fr:")
    assert by_rule["one-way-reversed"].strip().startswith("residual:")


def test_unreadable_file_is_named(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """A file that is not there is one clear line and exit code 2."""
    path = tmp_path / "nothing.yaml"
    code, out, err = run(capsys, "check", str(path))
    assert (code, out) == (2, "")
    assert err == f"{path}:1:1: there is no such file\n1 problem; nothing was checked and no file was changed\n"


def test_problems_come_as_json_too(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """A program that asks for JSON gets the problems as JSON, with their places."""
    path = tmp_path / "build.yaml"
    path.write_text("build: 1\nfluid: DOT 9\nsizes: 3\n", encoding="utf-8")
    code, out, _ = run(capsys, "check", str(tmp_path), "--format", "json")
    assert code == 2
    assert [(problem["line"], problem["column"]) for problem in json.loads(out)["problems"]] == [(2, 8), (3, 1)]


def test_unknown_variant_names_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    """A variant that the file lacks is refused with those it has."""
    code, _, err = run(capsys, "check", DEMO, "--variant", "as_correct")
    assert code == 2
    assert "no variant is called 'as_correct'; nearest is 'as_corrected'; known: as_corrected, bigger_front\n" in err


def test_control_characters_never_reach_the_terminal(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """A file name with an escape sequence in it is shown, not obeyed."""
    code, out, err = run(capsys, "check", str(tmp_path / "a\x1b[31mb.yaml"))
    assert code == 2
    assert "\x1b" not in out + err
    assert "a\\x1b[31mb.yaml" in err


@pytest.mark.parametrize(("pair", "code"), [(["M10x1"], 0), (["M10x1", "M10x1"], 0), (["3/8-24", "M10x1"], 1)])
def test_thread_tells_mates_from_not(capsys: pytest.CaptureFixture[str], pair: list[str], code: int) -> None:
    """`thread` prints limits for one thread, and ends with 1 if two do not mate."""
    assert run(capsys, "thread", *pair)[0] == code


def test_thread_json_has_the_agreed_shape(capsys: pytest.CaptureFixture[str]) -> None:
    """JSON of `thread` has designation, both members with their limits in mm, source, and the fit of two."""
    _, out, _ = run(capsys, "thread", "3/8-24 UNF", "M10x1", "--format", "json")
    found = json.loads(out)
    assert found["designation"] == "3/8-24 UNF"
    assert found["external"]["major_mm"] == [pytest.approx(9.314, abs=0.001), pytest.approx(9.497, abs=0.001)]
    assert found["external"]["minor_mm"][0] is None
    assert found["fit"]["verdict"] == "runs-in-loose"


def test_a_closed_pipe_is_no_crash() -> None:
    """Reading only the first line of a long answer ends quietly."""
    command = f'"{sys.executable}" -m fitcheck check "{DEMO}" --format json | head -1'
    env = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])}
    done = subprocess.run(command, shell=True, capture_output=True, text=True, env=env, check=False)
    assert done.stdout == "{\n"
    assert "Traceback" not in done.stderr


def test_rules_json_is_the_page(capsys: pytest.CaptureFixture[str]) -> None:
    """The JSON of a rule holds the same headings as its page."""
    code, out, _ = run(capsys, "rules", "dead-end", "--format", "json")
    assert code == 0
    assert "What it finds" in out


def test_schema_check_tells_stale_from_current(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """`schema --check` writes nothing and ends with 1 until the schemas are written."""
    assert run(capsys, "schema", str(tmp_path), "--check")[0] == 1
    assert list(tmp_path.iterdir()) == []
    assert run(capsys, "schema", str(tmp_path))[0] == 0
    assert run(capsys, "schema", str(tmp_path), "--check")[0] == 0
