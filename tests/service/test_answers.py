"""The API answers as the command line does."""

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from starlette.testclient import TestClient

from fitcheck.cli.main import main
from fitcheck.files import SUFFIXES
from fitcheck.service.documents import ANSWERS, answer_schemas
from fitcheck.service.routes import CODE
from tests.service.answer_schemas import answers, text

_ON = "2026-12-01"
_BUBBLE, _TAPER = "M10x1 internal bubble 4.75 mm", "1/8 NPT female"


def told(capsys: pytest.CaptureFixture[str], words: Sequence[str]) -> tuple[int, Any]:
    """Return the exit code of a command line, and its answer as JSON."""
    code = main([*words, "--format", "json"])
    return code, json.loads(capsys.readouterr().out)


def posted(folder: Path) -> dict[str, Any]:
    """Return the served build as the texts of a request."""
    texts = {path.name: path.read_text() for path in folder.iterdir() if path.suffix in SUFFIXES and path.is_file()}
    return {"build": texts.pop("build.yaml"), "files": texts}


OF_BUILDS: tuple[Any, ...] = (
    ("check", [], {}),
    ("check", ["--remedies"], {"remedies": "all"}),
    ("check", ["--variant", "as_corrected"], {"variant": "as_corrected"}),
    ("bom", [], {}),
    ("bom", ["--with-remedies"], {"with_remedies": True}),
    ("cure", [], {}),
    ("cure", ["--only", "hose_fr"], {"only": ["hose_fr"]}),
    ("cure", ["--only", "footwell_hole"], {"only": ["footwell_hole"]}),
    ("order", ["--on", _ON], {"on": _ON}),
    ("order", ["--on", _ON, "--soonest", "--exact-parts", "--kerf", "1mm"],
     {"on": _ON, "aim": "soonest", "exact_parts": True, "kerf": "1mm"}),
    pytest.param("order", ["--on", _ON, "--trade-off"], {"on": _ON, "aim": "trade-off"}, marks=pytest.mark.slow),
    ("make", [], {}),
    ("make", ["--holes"], {"holes": True}),
    ("make", ["front_feed"], {"lines": ["front_feed"]}),
    ("pedal", ["--force", "400 N"], {"force": "400 N"}),
    ("pedal", ["--against", "as_corrected"], {"against": "as_corrected"}),
    ("bleed", ["--on", _ON], {"on": _ON}),
)  # fmt: skip


@pytest.mark.parametrize(("verb", "words", "options"), OF_BUILDS)
def test_as_the_command_line(
    client: TestClient,
    folder: Path,
    capsys: pytest.CaptureFixture[str],
    verb: str,
    words: list[str],
    options: dict[str, Any],
) -> None:
    """Posted as texts or served from a folder, a build gets the command line's answer and its exit code."""
    code, value = told(capsys, [verb, str(folder), *words])
    served = client.post(f"/api/served/{verb}", json=options)
    texts = client.post(f"/api/{verb}", json={**posted(folder), **options})
    for answer in (served, texts):
        assert (answer.status_code, answer.headers[CODE]) == (200, str(code))
        assert _plain(answer.json()) == _plain(value, folder)


def _plain(value: Any, folder: Path | None = None) -> Any:
    """Return an answer without what may differ: the folder in the names of files."""
    said = json.dumps(value)
    return json.loads(said.replace(f"{folder.as_posix()}/", "") if folder is not None else said)


OF_NO_BUILD: tuple[tuple[list[str], str, str, dict[str, Any]], ...] = (
    (["thread", "M10x1"], "GET", "thread", {"thread": "M10x1"}),
    (["thread", "3/8-24 UNF", "M10x1", "--explain", "--reverse", "--engagement", "6mm"], "GET", "thread",
     {"thread": "3/8-24 UNF", "into": "M10x1", "explain": True, "reverse": True, "engagement": "6mm"}),
    (["identify", "--od", "9.4mm", "--pitch", "24tpi"], "GET", "identify", {"od": "9.4mm", "pitch": "24tpi"}),
    (["identify", "--bore", "8.6mm", "--pitch", "1mm"], "GET", "identify", {"bore": "8.6mm", "pitch": "1mm"}),
    (["parts", "search", "tee", "--tube", "3/16 in"], "POST", "parts/search", {"words": ["tee"], "tube": "3/16 in"}),
    (["parts", "show", "tee-3-16-inverted"], "POST", "parts/show", {"part": "tee-3-16-inverted"}),
    (["bridge", _BUBBLE, _TAPER, "--explain"], "POST", "bridge",
     {"first": _BUBBLE, "second": _TAPER, "explain": True}),
    (["rules"], "GET", "rules", {}),
    (["rules", "seat-mismatch"], "GET", "rules/seat-mismatch", {}),
)  # fmt: skip


@pytest.mark.parametrize(("words", "method", "path", "options"), OF_NO_BUILD)
def test_without_a_build(
    client: TestClient,
    capsys: pytest.CaptureFixture[str],
    words: list[str],
    method: str,
    path: str,
    options: dict[str, Any],
) -> None:
    """Questions of no build are answered as on the command line."""
    code, value = told(capsys, words)
    said = {"params": options} if method == "GET" else {"json": options}
    answer = client.request(method, f"/api/{path}", **said)
    assert (answer.status_code, answer.headers[CODE], answer.json()) == (200, str(code), value)


def test_swap_and_its_text(client: TestClient, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A swap is told as on the command line; on request with the changed text, every other byte as it was."""
    part = "caliper-m10x1-washer"
    code, value = told(capsys, ["swap", str(folder), f"caliper_fl={part}", "--on", _ON])
    answer = client.post("/api/served/swap", json={"swaps": {"caliper_fl": part}, "on": _ON, "text": True})
    found = answer.json()
    text = found.pop("text")
    assert (answer.headers[CODE], found) == (str(code), _plain(value, folder))
    lines = zip((folder / "build.yaml").read_text().splitlines(), text.splitlines(), strict=True)
    changed = [(old, new) for old, new in lines if old != new]
    assert len(changed) == 1
    assert part in changed[0][1]


def test_cured_text_checks_clean(client: TestClient, folder: Path) -> None:
    """The text that a cure answers with is the cured build: posted again, it has no errors."""
    found = client.post("/api/cure", json={**posted(folder), "text": True}).json()
    again = client.post("/api/check", json={**posted(folder), "build": found["text"]}).json()
    assert again["summary"]["error"] == found["errors_after"] == 0


def test_replacements(client: TestClient, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What could replace a part is listed as on the command line, but for the words to type next."""
    _, value = told(capsys, ["swap", str(folder), "caliper_fl"])
    found = client.post("/api/served/replacements", json={"tag": "caliper_fl"}).json()
    for each in (*value["replacements"], *found["replacements"]):
        del each["next"]
    assert found == value


@pytest.mark.parametrize("view", ["circuit", "all"])
def test_drawings(client: TestClient, folder: Path, capfdbinary: pytest.CaptureFixture[bytes], view: str) -> None:
    """A drawing is the command line's SVG; its findings can be left out."""
    code = main(["draw", str(folder), "--view", view])
    drawn = client.post("/api/served/draw", json={"view": view})
    assert (drawn.headers["content-type"], drawn.headers[CODE]) == ("image/svg+xml", str(code))
    assert drawn.content == capfdbinary.readouterr().out
    main(["draw", str(folder), "--view", view, "--no-findings"])
    plain = client.post("/api/draw", json={**posted(folder), "view": view, "findings": False})
    assert (plain.headers[CODE], plain.content) == ("0", capfdbinary.readouterr().out)


def test_remedies_can_be_left_out(client: TestClient) -> None:
    """A check without remedies names the same findings and proposes nothing."""
    with_them = client.post("/api/served/check", json={}).json()
    without = client.post("/api/served/check", json={"remedies": "none"}).json()
    assert [each["message"] for each in without["findings"]] == [each["message"] for each in with_them["findings"]]
    assert not any(each["remedies"] for each in without["findings"])


@pytest.mark.slow
def test_answers_as_described() -> None:
    """Every answer to the samples is what its schema says."""
    checks = {name: jsonschema.Draft202012Validator(schema) for name, schema in answer_schemas().items()}
    for name, value in answers():
        checks[name].validate(value)


def test_described_as_answered() -> None:
    """The schemas that ship are those of the answers: `python -m tests.service.answer_schemas` writes them anew."""
    assert ANSWERS.read_text(encoding="utf-8") == text()
