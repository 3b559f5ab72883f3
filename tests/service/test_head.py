"""HEAD: what GET answers, without the body."""

import re
from typing import Any

import pytest
from starlette.testclient import TestClient

from fitcheck.service.app import create_app
from fitcheck.service.settings import Settings
from tests.service.conftest import AT

PATHS = (
    "/",
    "/page/state",
    "/api/openapi.json",
    "/api/rules",
    "/api/rules/seat-mismatch",
    "/api/rules/nothing",
    "/api/thread?thread=M10x1",
    "/api/thread",
    "/api/identify?od=9.4%20mm&pitch=24tpi",
    "/api/served",
    "/api/served/file?path=build.yaml",
    "/api/served/file?path=../secret.yaml",
    "/nothing",
)


def _head_of(answer: Any) -> dict[str, str]:
    return {name: value for name, value in answer.headers.items() if name != "date"}


@pytest.mark.parametrize("path", PATHS)
def test_as_get(client: TestClient, path: str) -> None:
    """HEAD has the status and the headers of GET, the length of its body too, and no body."""
    get, head = client.get(path), client.head(path)
    assert (head.status_code, head.content) == (get.status_code, b"")
    assert _head_of(head) == _head_of(get)
    assert head.headers["content-length"] == str(len(get.content))


def test_static_files(client: TestClient) -> None:
    """Files of the page are answered so, too."""
    page = client.get("/").text
    name = page.split('href="/page/static/')[1].split('"')[0]
    head = client.head(f"/page/static/{name}")
    assert (head.status_code, head.content, head.headers["content-type"]) == (200, b"", "text/css; charset=utf-8")


def test_scripts(client: TestClient) -> None:
    """What the page's script imports is loaded with the page, from one folder that no change leaves its name."""
    page = client.get("/").text
    entry = page.split('<script type="module" src="')[1].split('"')[0]
    loaded = {entry, *re.findall(r'<link rel="modulepreload" href="([^"]+)"', page)}
    folder = entry.rpartition("/")[0]
    assert re.fullmatch(r"/page/static/[0-9a-f]{12}", folder)
    needed, left = set(), [entry]
    while left:
        needed.add(address := left.pop())
        answer = client.get(address)
        assert (answer.status_code, answer.headers["content-type"]) == (200, "text/javascript; charset=utf-8")
        assert "immutable" in answer.headers["cache-control"]
        assert len(answer.text.splitlines()) < 250
        named = {f"{folder}/{name}" for name in re.findall(r'from "\./([^"]+)"', answer.text)}
        left += named - needed
    assert needed == loaded
    for name in ("page.js", "000000000000/page.js", f"{folder[-12:]}/../style.css", f"{folder[-12:]}%2f..%2fstyle.css"):
        assert client.get(f"/page/static/{name}").status_code == 404


@pytest.mark.parametrize("path", ["/api/check", "/api/served/check", "/page/undo", "/page/text"])
def test_what_is_only_posted(client: TestClient, path: str) -> None:
    """What GET does not answer is not answered by HEAD, and it says what is."""
    head = client.head(path)
    assert (head.status_code, head.content, head.headers["allow"]) == (405, b"", "POST")


def test_what_is_allowed(client: TestClient) -> None:
    """Where GET is answered, HEAD is named beside it."""
    assert client.post("/api/rules", json={}).headers["allow"] == "GET, HEAD"
    assert client.delete("/api/served/file").headers["allow"] == "GET, HEAD"


def test_guarded_as_get() -> None:
    """HEAD needs the token as GET does, and other sites may not ask by it."""
    token = "sixteen-of-these"
    with TestClient(create_app(Settings(token=token, benches=1)), base_url=AT) as client:
        assert client.head("/api/rules").status_code == 401
        assert client.head("/api/rules", headers={"Authorization": f"Bearer {token}"}).status_code == 200
        assert client.head("/enter").status_code == 200
        assert client.head("/enter", headers={"Sec-Fetch-Site": "cross-site"}).status_code == 403


def test_described(client: TestClient) -> None:
    """The description says so."""
    about = client.get("/api/openapi.json").json()["info"]["description"]
    assert "HEAD is answered as\nGET is, without the body." in about
