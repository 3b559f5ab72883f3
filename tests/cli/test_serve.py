"""`fitcheck serve`: a real server in a process of its own, and what it refuses to start as."""

import json
import shutil
import socket
import subprocess
import sys
from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any
from urllib.error import HTTPError
from urllib.request import Request, urlopen

import pytest

from fitcheck.cli.main import main
from tests.service.server import running

DEMO = Path(__file__).parents[2] / "demo_vehicle"
_TOKEN = "sixteen-of-these"


def ask(url: str, said: Any = None, headers: Mapping[str, str] | None = None) -> tuple[int, Any]:
    """Return status and answer of a request: by POST if something is said."""
    data = json.dumps(said).encode() if said is not None else None
    request = Request(url, data, {"Content-Type": "application/json", **(headers or {})})
    try:
        with urlopen(request, timeout=60) as answer:
            return answer.status, json.load(answer)
    except HTTPError as error:
        return error.code, json.load(error)


@pytest.mark.slow
def test_two_server_processes(tmp_path: Path) -> None:
    """Two server processes answer many requests at once, each by itself, with the same answer."""
    shutil.copytree(DEMO, tmp_path / "car")
    with running(str(tmp_path / "car"), "--port", "0", "--workers", "2") as url, ThreadPoolExecutor(8) as many:
        found = list(many.map(lambda _: ask(f"{url}/api/served/check", {}), range(24)))
    assert {status for status, _ in found} == {200}
    assert {json.dumps(value) for _, value in found} == {json.dumps(found[0][1])}
    assert found[0][1]["build"] == "Dunlin"


def test_token_from_the_environment(tmp_path: Path) -> None:
    """A token in FITCHECK_TOKEN is asked of every request; without a build here only what is posted is answered."""
    environment = {"FITCHECK_TOKEN": _TOKEN}
    with running("--port", "0", environment=environment, folder=tmp_path) as url:
        assert ask(f"{url}/api/rules/seat-mismatch")[0] == 401
        bearer = {"Authorization": f"Bearer {_TOKEN}"}
        assert ask(f"{url}/api/rules/seat-mismatch", headers=bearer)[0] == 200
        assert ask(f"{url}/api/served/check", {}, bearer)[0] == 404
        assert ask(f"{url}/api/check", {"build": "build: 1\n"}, bearer)[0] == 200


def test_says_who_can_reach_it(tmp_path: Path) -> None:
    """Beyond loopback it starts with a token only, and says at its start that others can reach it."""
    words = [sys.executable, "-m", "fitcheck", "serve", "--host", "0.0.0.0", "--port", "0", "--token", _TOKEN]
    process = subprocess.Popen(words, stderr=subprocess.PIPE, text=True, cwd=tmp_path)
    assert process.stderr is not None
    told = [process.stderr.readline() for _ in range(3)]
    process.terminate()
    process.communicate(timeout=60)
    assert told[0] == "fitcheck serves what is posted; no folder\n"
    assert told[1].startswith("at http://0.0.0.0:")
    assert told[2] == "other machines can reach it: every request has to bring the token\n"


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["--host", "0.0.0.0"], "0.0.0.0 can be reached from other machines: give --token or FITCHECK_TOKEN"),
        (["--token", "short"], "the token: expected at least 16 printable ASCII characters"),
        (["nowhere.yaml"], "there is no build file nowhere.yaml"),
        (
            ["--host", "127.0.0.1.example"],
            "127.0.0.1.example can be reached from other machines: give --token or FITCHECK_TOKEN",
        ),
    ],
)
def test_refused(
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
    words: list[str],
    message: str,
) -> None:
    """What would let strangers in, or is not there, is not served."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("FITCHECK_TOKEN", raising=False)
    assert main(["serve", *words]) == 2
    assert capsys.readouterr().err == f"fitcheck: {message}\n"


def test_port_in_use(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """A port that somebody listens at is told of."""
    monkeypatch.chdir(tmp_path)
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        assert main(["serve", "--port", str(port)]) == 2
    assert f"cannot listen at 127.0.0.1, port {port}: address already in use" in capsys.readouterr().err


@pytest.mark.parametrize("port", ["-1", "65536", "x", ""])
def test_no_port(capsys: pytest.CaptureFixture[str], port: str) -> None:
    """What is no port is refused."""
    assert main(["serve", f"--port={port}"]) == 2
    assert f"expected a port from 0 to 65535, got {port!r}" in capsys.readouterr().err
