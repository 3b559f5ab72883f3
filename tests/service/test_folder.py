"""The served folder: its builds' files, and nothing else of the disk."""

import os
from concurrent.futures import ThreadPoolExecutor, wait
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from fitcheck.files import Fence
from fitcheck.service.app import create_app
from fitcheck.service.folder import Folder, digest
from fitcheck.service.problems import RefusedError
from fitcheck.service.settings import Settings
from tests.service.conftest import AT

OUTSIDE = (
    "../secret.yaml",
    "x/../../secret.yaml",
    "/etc/passwd",
    "link.yaml",
    "away/secret.yaml",
    "..%2fsecret.yaml",
    "%2e%2e/secret.yaml",
    "..\\secret.yaml",
    "notes.txt",
    ".hidden.yaml",
    ".",
    "build.yaml/../../secret.yaml",
    "file:///etc/passwd",
    "build.yaml\0",
)


@pytest.mark.parametrize("path", OUTSIDE)
def test_nothing_outside(client: TestClient, folder: Path, path: str) -> None:
    """No way of writing a path reads, checks or writes a file that is not the folder's to show."""
    text = "build: 1\n"
    asked = (
        client.get("/api/served/file", params={"path": path}),
        client.post("/api/served/check", json={"path": path}),
        client.put("/api/served/file", json={"path": path, "text": text, "was": digest(b"secret: yes\n")}),
    )
    for answer in asked:
        assert answer.status_code in (404, 422)
        assert "secret: yes" not in answer.text
    assert (folder.parent / "secret.yaml").read_text() == "secret: yes\n"


@pytest.mark.parametrize("path", ["../secret.yaml", "link.yaml", "away/secret.yaml", "/etc/passwd", "notes.txt"])
def test_builds_lead_nowhere_else(client: TestClient, folder: Path, path: str) -> None:
    """A build, served or posted, that names files elsewhere is told that they are not there."""
    (folder / "leads_away.yaml").write_text(f"build: 1\ncatalogs: ['{path}']\nstock: '{path}'\n")
    served = client.post("/api/served/check", json={"path": "leads_away.yaml"})
    posted = client.post("/api/check", json={"build": (folder / "leads_away.yaml").read_text()})
    for answer in (served, posted):
        assert answer.status_code == 422
        messages = {each["message"] for each in answer.json()["problems"]}
        assert messages == {f"there is no file {path}"}


def test_encoded_paths(client: TestClient) -> None:
    """A path in the address itself leads to no file, however it is written."""
    for path in ("/../secret.yaml", "/api/served/../../secret.yaml", "/%2e%2e/secret.yaml", "/..%2fsecret.yaml"):
        assert client.get(path).status_code == 404


def test_posted_builds_see_no_folder(client: TestClient) -> None:
    """A posted build is read with what is posted, even where the served folder has such a file."""
    answer = client.post("/api/check", json={"build": "build: 1\ncatalogs: [house_parts.yaml]\n"})
    assert answer.json()["problems"][0]["message"] == "there is no file house_parts.yaml"


def test_what_is_served(client: TestClient, folder: Path) -> None:
    """The folder's build and the files that it names are listed, and can be read with their hash."""
    listed = client.get("/api/served").json()
    assert listed == {
        "build": "build.yaml",
        "files": ["build.yaml", "house_parts.yaml", "offers.yaml", "barnstock.csv", "stock.yaml"],
    }
    found = client.get("/api/served/file", params={"path": "build.yaml"}).json()
    data = (folder / "build.yaml").read_bytes()
    assert found == {"path": "build.yaml", "text": data.decode(), "sha256": digest(data)}


def test_writing(client: TestClient, folder: Path) -> None:
    """A file is written if it is what it was; if not, nothing is written and both are told."""
    path = folder / "written.yaml"
    path.write_bytes(b"build: 1\r\n")
    said: dict[str, Any] = {"path": "written.yaml", "text": "build: 1\nname: new\n", "was": digest(b"build: 1\r\n")}
    first = client.put("/api/served/file", json=said)
    assert (first.status_code, path.read_bytes()) == (200, b"build: 1\nname: new\n")
    assert first.json()["sha256"] == digest(path.read_bytes())
    path.write_text("build: 1\nname: by another editor\n")
    second = client.put("/api/served/file", json=said | {"was": first.json()["sha256"]})
    assert second.status_code == 409
    assert second.json()["there"] == {
        "path": "written.yaml",
        "text": "build: 1\nname: by another editor\n",
        "sha256": digest(path.read_bytes()),
    }
    assert path.read_text() == "build: 1\nname: by another editor\n"


def test_two_server_processes(tmp_path: Path) -> None:
    """Whoever writes waits for the other server processes, and compares with what they have written."""
    fcntl = pytest.importorskip("fcntl")
    path = tmp_path / "build.yaml"
    path.write_bytes(b"build: 1\n")
    folder = Folder(Fence(tmp_path), "build.yaml")
    with ThreadPoolExecutor() as pool:
        other = os.open(tmp_path, os.O_RDONLY)
        fcntl.flock(other, fcntl.LOCK_EX)
        writing = pool.submit(folder.write, "build.yaml", "build: 1\nname: late\n", digest(b"build: 1\n"))
        wait([writing], timeout=0.3)  # without the lock it would be done by now
        path.write_bytes(b"build: 1\nname: first\n")
        os.close(other)
        with pytest.raises(RefusedError) as caught:
            writing.result()
    assert caught.value.detail == "build.yaml is not what it was when it was read; nothing was written"
    assert path.read_bytes() == b"build: 1\nname: first\n"


def test_no_new_files(client: TestClient, folder: Path) -> None:
    """Only files that are there can be written."""
    said = {"path": "new.yaml", "text": "", "was": digest(b"")}
    assert client.put("/api/served/file", json=said).status_code == 404
    assert not (folder / "new.yaml").exists()


def test_nothing_served() -> None:
    """Without a folder there are no questions about one."""
    with TestClient(create_app(Settings(benches=1)), base_url=AT) as client:
        assert client.post("/api/served/check", json={}).status_code == 404
        assert client.get("/api/served").status_code == 404
        assert not [path for path in client.get("/api/openapi.json").json()["paths"] if "served" in path]
