"""Whom the server answers: names, origins, tokens, clients; and the headers on every answer."""

import asyncio
import json
from typing import Any

import pytest
from starlette.testclient import TestClient
from starlette.types import Message, Receive, Scope, Send

from fitcheck.service.app import create_app
from fitcheck.service.guard import SAFE_HEADERS, Guard
from fitcheck.service.settings import Settings
from tests.service.conftest import AT

TOKEN = "a token of many words"
_TOKEN = TOKEN.replace(" ", "-")


def _status(client: TestClient, headers: dict[str, str], path: str = "/api/rules/seat-mismatch") -> tuple[int, str]:
    answer = client.get(path, headers=headers)
    return answer.status_code, "" if answer.status_code == 200 else answer.json()["type"].rpartition(":")[2]


@pytest.mark.parametrize(
    "host", ["localhost", "LOCALHOST:8750", "127.0.0.1", "127.0.0.1:8750", "[::1]:8750", "localhost:1"]
)
def test_own_names(client: TestClient, host: str) -> None:
    """The server answers to the names of this machine, at any port."""
    assert _status(client, {"host": host}) == (200, "")


@pytest.mark.parametrize(
    "host",
    ["evil.example", "localhost.evil.example", "127.0.0.1.evil.example", "evil.example:8750", "127.0.0.2", "0.0.0.0",
     "localhost@evil.example", "evil.example/localhost", "", "localhost:port", "[::1", "localhost.", "169.254.169.254"],
)  # fmt: skip
def test_other_names(client: TestClient, host: str) -> None:
    """Any other name is refused, so that no name of others can be made to mean this machine."""
    assert _status(client, {"host": host}) == (403, "host")


def test_stated_names() -> None:
    """A name that is stated is answered to."""
    with TestClient(create_app(Settings(allowed=("Workshop",), benches=1)), base_url=AT) as client:
        assert _status(client, {"host": "workshop:8750"}) == (200, "")
        assert _status(client, {"host": "elsewhere"}) == (403, "host")


@pytest.mark.parametrize(
    ("headers", "expected"),
    [
        ({"origin": AT}, (200, "")),
        ({"origin": "http://evil.example"}, (403, "origin")),
        ({"origin": "null"}, (403, "origin")),
        ({"origin": "https://127.0.0.1:8750"}, (403, "origin")),
        ({"origin": "http://127.0.0.1:9999"}, (403, "origin")),
        ({"origin": "http://localhost:8750"}, (403, "origin")),
        ({"sec-fetch-site": "same-origin"}, (200, "")),
        ({"sec-fetch-site": "none"}, (200, "")),
        ({"sec-fetch-site": "cross-site"}, (403, "origin")),
        ({"sec-fetch-site": "same-site", "sec-fetch-mode": "navigate"}, (403, "origin")),
    ],
)
def test_origins(client: TestClient, headers: dict[str, str], expected: tuple[int, str]) -> None:
    """Pages of other sites, other ports of this machine among them, are refused."""
    assert _status(client, headers) == expected


def test_no_cross_origin_headers(client: TestClient) -> None:
    """No answer lets another site read it, and a question beforehand is refused."""
    ask = {"origin": AT, "access-control-request-method": "POST"}
    for answer in (
        client.get("/api/rules/seat-mismatch", headers={"origin": AT}),
        client.options("/api/check", headers=ask),
    ):
        assert not [name for name in answer.headers if name.startswith("access-control")]


@pytest.mark.parametrize("path", ["/api/rules/seat-mismatch", "/api/nothing", "/", "/api/openapi.json"])
def test_headers_of_safety(client: TestClient, path: str) -> None:
    """Every answer, of whatever status, has the headers of safety."""
    found = client.get(path).headers
    assert {name: found.get(name) for name in ("server", "x-powered-by")} == {"server": None, "x-powered-by": None}
    own = {b"referrer-policy": b"same-origin"} if path == "/" else {}  # else browsers would not name its forms' origin
    for name, value in SAFE_HEADERS:
        assert found[name.decode()] == own.get(name, value).decode()
    assert "frame-ancestors 'none'" in found["content-security-policy"]
    refused = client.get(path, headers={"host": "evil.example"})
    assert refused.headers["x-content-type-options"] == "nosniff"


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        (f"Bearer {_TOKEN}", 200),
        (f"bearer  {_TOKEN}", 200),
        (None, 401),
        ("", 401),
        ("Bearer", 401),
        (f"Bearer {_TOKEN}x", 401),
        (f"Bearer {_TOKEN[:-1]}", 401),
        (f"Basic {_TOKEN}", 401),
        ("Bearer \xe9\xff", 401),
    ],
)
def test_token(said: str | None, expected: int) -> None:
    """With a token, nothing is answered without it: neither what there is nor what there is not."""
    app = create_app(Settings(host="10.1.2.3", token=_TOKEN, benches=1))
    with TestClient(app, base_url="http://10.1.2.3:8750") as client:
        headers = {"authorization": said.encode("latin-1")} if said is not None else {}
        found = [client.get(path, headers=headers) for path in ("/api/rules/seat-mismatch", "/api/nothing")]
    assert found[0].status_code == expected
    assert found[1].status_code == (404 if expected == 200 else 401)
    if expected == 401:
        assert found[0].headers["www-authenticate"] == "Bearer"


class _Stage:
    """A guard before an app that waits, and what the guard sends."""

    def __init__(self, settings: Settings) -> None:
        self.go_on = asyncio.Event()
        self.guard = Guard(self._app, settings)

    async def _app(self, scope: Scope, receive: Receive, send: Send) -> None:
        await self.go_on.wait()
        await send({"type": "http.response.start", "status": 200, "headers": []})
        await send({"type": "http.response.body", "body": b""})

    async def ask(self, receive: Receive, **scope: Any) -> list[Message]:
        """Return what is sent in answer to a request."""
        sent: list[Message] = []

        async def send(message: Message) -> None:
            sent.append(message)

        headers = [(b"host", b"localhost"), (b"content-type", b"application/json")]
        usual = {"type": "http", "method": "POST", "path": "/api/check", "scheme": "http", "headers": headers}
        await self.guard({**usual, "client": ("127.0.0.1", 1), "server": ("127.0.0.1", 1), **scope}, receive, send)
        return sent


async def _whole() -> Message:
    return {"type": "http.request", "body": b"{}", "more_body": False}


def test_slow_bodies() -> None:
    """A body that does not come to its end is given up."""

    async def act() -> list[Message]:
        async def never() -> Message:
            await asyncio.Event().wait()
            raise AssertionError

        return await _Stage(Settings(body_seconds=0.05)).ask(never)

    start, body = asyncio.run(act())
    assert (start["status"], json.loads(body["body"])["detail"]) == (408, "the request was not complete after 0.05 s")


def test_many_requests_of_one_client() -> None:
    """One client may have so many requests under way; the next is told when to try again, another client is not."""

    async def act() -> tuple[list[Message], list[list[Message]]]:
        stage = _Stage(Settings(at_once=2))
        others = [asyncio.create_task(stage.ask(_whole)) for _ in range(2)]
        others.append(asyncio.create_task(stage.ask(_whole, client=("10.0.0.9", 1))))
        await asyncio.sleep(0)
        refused = await stage.ask(_whole)
        stage.go_on.set()
        return refused, [*await asyncio.gather(*others), await stage.ask(_whole)]

    refused, answered = asyncio.run(act())
    assert (refused[0]["status"], dict(refused[0]["headers"])[b"retry-after"]) == (429, b"1")
    assert [sent[0]["status"] for sent in answered] == [200] * 4


def test_no_web_sockets(client: TestClient) -> None:
    """A web socket is closed before it is opened."""
    from starlette.websockets import WebSocketDisconnect

    with pytest.raises(WebSocketDisconnect) as caught, client.websocket_connect("/api/check"):
        pass
    assert caught.value.code == 1008
