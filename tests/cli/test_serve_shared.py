"""Several server processes of one `fitcheck serve`: one socket, one undo, nothing left behind."""

import http.client
import os
import re
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import urlencode, urlsplit
from urllib.request import urlopen

import pytest

from tests.service.answer_schemas import DEMO
from tests.service.server import running

CHANGES = 12


@contextmanager
def _started(folder: Path, spare: Path, *words: str) -> Iterator[tuple["subprocess.Popen[str]", str]]:
    """Start a server whose temporary folders are in `spare`; yield it and its address as soon as that is told."""
    environment = {**os.environ, "TMPDIR": str(spare)}
    command = [sys.executable, "-m", "fitcheck", "serve", str(folder), "--port", "0", *words]
    process = subprocess.Popen(command, stderr=subprocess.PIPE, text=True, env=environment)
    assert process.stderr is not None
    try:
        told = process.stderr.readline() + process.stderr.readline() + process.stderr.readline()
        found = re.search(r"at (http://[^ ]+?)/api/", told)
        assert found is not None, told
        yield process, found[1]
    finally:
        if process.poll() is None:
            process.send_signal(signal.SIGINT)
        process.communicate(timeout=60)


def _kept(spare: Path) -> list[Path]:
    return list(spare.glob("fitcheck-undo-*"))


def _page(url: str) -> str:
    with urlopen(url, timeout=60) as answer:
        return str(answer.read().decode())


def _sent(url: str, path: str, **said: str) -> int:
    """Send a form of the page over a connection of its own, and return the status."""
    page = _page(url)
    form = re.search(r'id="text-form">(.*?)<div', page, re.DOTALL)
    assert form is not None
    fields = {**dict(re.findall(r'name="(\w+)" value="([^"]*)"', form[1])), **said}
    where = urlsplit(url)
    connection = http.client.HTTPConnection(where.netloc, timeout=60)
    headers = {"Origin": url, "Content-Type": "application/x-www-form-urlencoded", "Connection": "close"}
    connection.request("POST", path, urlencode(fields), headers)
    status = connection.getresponse().status
    connection.close()
    return status


@pytest.mark.parametrize("workers", [pytest.param("1", marks=pytest.mark.slow), "2"])
def test_listens_when_it_says_so(tmp_path: Path, workers: str) -> None:
    """A connection that is made as soon as the address is told is never refused: the socket is bound once."""
    (tmp_path / "build.yaml").write_text("build: 1\nname: Wren\n")
    with _started(tmp_path, tmp_path, "--workers", workers) as (_, url):
        assert '"build":"build.yaml"' in _page(f"{url}/api/served")


@pytest.mark.slow
@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGTERM])
@pytest.mark.parametrize("workers", ["1", "2"])
def test_nothing_left_behind(tmp_path: Path, workers: str, how: signal.Signals) -> None:
    """What is kept for undo is in a folder of the user's own, one for all processes, and goes with the server."""
    (tmp_path / "car").mkdir()
    (tmp_path / "car" / "build.yaml").write_text("build: 1\nname: Wren\n")
    with _started(tmp_path / "car", tmp_path, "--workers", workers) as (process, url):
        assert "Wren" in _page(url)
        found = _kept(tmp_path)
        assert [each.stat().st_mode & 0o777 for each in found] == [0o700]
        assert len(list(found[0].iterdir())) == 1
        process.send_signal(how)
        assert process.wait(60) in (0, 130, 128 + signal.SIGTERM)
    assert _kept(tmp_path) == []


@pytest.mark.slow
def test_undo_over_processes(tmp_path: Path) -> None:
    """Whichever process takes a form, changes are undone in their order, back to the file's first bytes, and again."""
    shutil.copytree(DEMO, tmp_path / "car")
    build = tmp_path / "car" / "build.yaml"
    texts = [build.read_text()]
    with running(str(tmp_path / "car"), "--port", "0", "--workers", "2") as url:
        for number in range(CHANGES):
            texts.append(f"{texts[-1]}# change {number}\n")
            assert _sent(url, "/page/text", do="save", text=texts[-1]) == 303
            assert build.read_text() == texts[-1]
        for text in reversed(texts[:-1]):
            assert _sent(url, "/page/undo") == 303
            assert build.read_text() == text
        for text in texts[1:]:
            assert _sent(url, "/page/redo") == 303
            assert build.read_text() == text
        build.write_text(texts[-1] + "# elsewhere\n")
        assert _sent(url, "/page/undo") == 409
        assert build.read_text() == texts[-1] + "# elsewhere\n"
