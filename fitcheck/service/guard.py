"""What stands before every request: whom it is from, where it means to go, how much it brings.

It also puts the headers of safety on every answer.

A web page elsewhere can make a browser send requests to this machine, and can make its own name mean this machine
(DNS rebinding). So a request must name this server as it is known, and must not come from another site.
"""

import asyncio
import hmac
import logging
from collections import Counter
from collections.abc import Iterable
from contextlib import suppress
from ipaddress import ip_address
from typing import Any, Final
from urllib.parse import urlencode, urlsplit

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from fitcheck.service.page.doors import ENTER, opens
from fitcheck.service.problems import MEDIA_TYPE, RefusedError
from fitcheck.service.settings import Settings

SAFE_HEADERS: Final = (
    (
        b"content-security-policy",
        b"default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; "
        b"form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
    ),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
    (b"x-frame-options", b"DENY"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"permissions-policy", b"camera=(), geolocation=(), microphone=()"),
    (b"cache-control", b"no-store"),
)
_LOG: Final = logging.getLogger(__name__)
_LOCAL: Final = frozenset(("localhost", "127.0.0.1", "::1"))
_ANY: Final = frozenset(("0.0.0.0", "::", ""))
_BODIES: Final = frozenset(("POST", "PUT", "PATCH"))


class Guard:
    """Answers what must not go further, and hands on the rest with its body read."""

    def __init__(self, app: ASGIApp, settings: Settings) -> None:
        self.app = app
        self.settings = settings
        self._under_way: Counter[str] = Counter()
        self._names = frozenset(name.lower() for name in (*_LOCAL, *settings.allowed, settings.host)) - _ANY

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request, or let the app do so."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
        elif scope["type"] == "http" and scope["method"] == "HEAD":
            await self._http({**scope, "method": "GET"}, receive, _without_body(_guarded(send)))
        elif scope["type"] == "http":
            await self._http(scope, receive, _guarded(send))
        else:
            await send({"type": "websocket.close", "code": 1008, "reason": "no web sockets here"})

    async def _http(self, scope: Scope, receive: Receive, send: Send) -> None:
        client = scope["client"][0] if scope.get("client") else ""
        self._under_way[client] += 1
        try:
            self._look(scope, client)
            body = await self._body(scope, receive)
        except RefusedError as refusal:
            if refusal.kind == "token" and scope["method"] == "GET" and scope["path"] == "/":
                await _show_the_way_in(scope, send)
            else:
                await _refuse(send, refusal)
        else:
            await self._handed_on(scope, _replay(body, receive), send)
        finally:
            self._under_way[client] -= 1
            if not self._under_way[client]:
                del self._under_way[client]

    async def _handed_on(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let the app answer; what goes wrong in it is logged, and told without a word of what it was."""
        begun = False

        async def noting(message: Message) -> None:
            nonlocal begun
            begun = True
            await send(message)

        try:
            await self.app(scope, receive, noting)
        except Exception:
            _LOG.exception("a request could not be answered")
            if begun:
                raise
            detail = "the request could not be answered; the server's log says more"
            await _refuse(send, RefusedError("fault", detail))

    def _look(self, scope: Scope, client: str) -> None:
        """Raise RefusedError for what may not be asked, or not by this client."""
        headers = _Headers(scope["headers"])
        host = headers.only("host")
        if host is None or not self._known(_host_of(host), scope):
            raise RefusedError("host", "the Host header names another server; start with --allow-host to be called so")
        _own_origin(headers, host, scope)
        if self.settings.token and not opens(self.settings.token, scope["path"], headers.only("cookie")):
            self._token(headers)
        if self._under_way[client] > self.settings.at_once:
            detail = f"{self.settings.at_once} requests of one client may be under way at once"
            raise RefusedError("too-many", detail, retry=1)

    def _known(self, name: str | None, scope: Scope) -> bool:
        if name is None:
            return False
        if name in self._names:
            return True
        own = scope["server"][0] if scope.get("server") else None
        return self.settings.host in _ANY and own is not None and _same_address(name, own)

    def _token(self, headers: "_Headers") -> None:
        said = headers.only("authorization") or ""
        scheme, _, token = said.partition(" ")
        right = hmac.compare_digest(token.strip().encode("latin-1", "replace"), self.settings.token.encode())
        if not right or scheme.lower() != "bearer":
            raise RefusedError("token", "expected the header Authorization: Bearer TOKEN")

    async def _body(self, scope: Scope, receive: Receive) -> bytes:
        """Return the whole body.

        Raises:
            RefusedError: it is too large, too slow or not JSON by its own account.
        """
        headers = _Headers(scope["headers"])
        length = headers.only("content-length") or "0"
        if not length.isdigit() or int(length[:20]) > self.settings.body:
            raise self._too_large()
        kind = (headers.only("content-type") or "").partition(";")[0].strip().lower()
        if scope["method"] in _BODIES and scope["path"].startswith("/api/") and kind != "application/json":
            raise RefusedError("media-type", "expected the header Content-Type: application/json")
        try:
            return await asyncio.wait_for(self._received(receive), self.settings.body_seconds)
        except TimeoutError:
            detail = f"the request was not complete after {self.settings.body_seconds:g} s"
            raise RefusedError("slow", detail) from None

    async def _received(self, receive: Receive) -> bytes:
        parts: list[bytes] = []
        size, more = 0, True
        while more:
            message = await receive()
            if message["type"] == "http.disconnect":
                raise RefusedError("slow", "the client has gone")
            part = message.get("body", b"")
            size += len(part)
            if size > self.settings.body:
                raise self._too_large()
            parts.append(part)
            more = message.get("more_body", False)
        return b"".join(parts)

    def _too_large(self) -> RefusedError:
        return RefusedError("too-large", f"a body may have {self.settings.body} bytes")


class _Headers:
    """The headers of a request. One that is sent twice and may not be is taken for not sent."""

    def __init__(self, raw: Iterable[tuple[bytes, bytes]]) -> None:
        self._raw = list(raw)

    def only(self, name: str) -> str | None:
        """Return the value of the one header of this name, or None."""
        found = [value for key, value in self._raw if key.lower() == name.encode()]
        return found[0].decode("latin-1") if len(found) == 1 else None

    def count(self, name: str) -> int:
        """Return how many headers have this name."""
        return sum(key.lower() == name.encode() for key, _ in self._raw)


def _host_of(netloc: str) -> str | None:
    """Return the name or address in a Host header, in small letters; None if it holds none."""
    if not netloc or any(char in netloc for char in "/@\\?# \t"):
        return None
    try:
        parts = urlsplit(f"//{netloc}")
        _ = parts.port  # raises if it is no port
    except ValueError:
        return None
    return parts.hostname


def _own_origin(headers: _Headers, host: str, scope: Scope) -> None:
    """Raise RefusedError for what another site's page sends."""
    if headers.count("origin"):
        origin = headers.only("origin") or ""
        if origin.lower() != f"{scope['scheme']}://{host}".lower():
            raise RefusedError("origin", "the Origin header names another site")
    site = headers.only("sec-fetch-site")
    walked = headers.only("sec-fetch-mode") == "navigate" and scope["method"] == "GET"
    if site in ("cross-site", "same-site") and (not walked or scope["path"].startswith("/api")):
        raise RefusedError("origin", "the request comes from a page of another site")


def _same_address(name: str, own: str) -> bool:
    with suppress(ValueError):
        return ip_address(name) == ip_address(own)
    return False


def _replay(body: bytes, receive: Receive) -> Receive:
    """Return a `receive` that yields the body which has been read, and then whatever comes."""
    told = False

    async def again() -> Message:
        nonlocal told
        if told:
            return await receive()
        told = True
        return {"type": "http.request", "body": body, "more_body": False}

    return again


def _guarded(send: Send) -> Send:
    """Return a `send` that puts the headers of safety on every answer that does not have its own."""

    async def with_headers(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = list(message.get("headers", ()))
            present = {key.lower() for key, _ in headers}
            headers += [each for each in SAFE_HEADERS if each[0] not in present]
            message = {**message, "headers": headers}
        await send(message)

    return with_headers


def _without_body(send: Send) -> Send:
    """Return a `send` for HEAD: the answer to GET, its headers as they are, without its body."""

    async def bare(message: Message) -> None:
        await send({**message, "body": b""} if message["type"] == "http.response.body" else message)

    return bare


async def _show_the_way_in(scope: Scope, send: Send) -> None:
    to = scope["query_string"].decode("latin-1")  # what was to be looked at is shown afterwards
    where = f"{ENTER}?{urlencode({'to': to})}" if to else ENTER
    headers = [(b"location", where.encode()), (b"content-length", b"0")]
    await send({"type": "http.response.start", "status": 303, "headers": headers})
    await send({"type": "http.response.body", "body": b""})


async def _refuse(send: Send, refusal: RefusedError) -> None:
    body = refusal.body()
    headers: list[tuple[bytes, bytes]] = [
        (b"content-type", MEDIA_TYPE.encode()),
        (b"content-length", str(len(body)).encode()),
        *((key.lower().encode(), value.encode()) for key, value in refusal.headers.items()),
    ]
    if refusal.kind in ("too-large", "slow"):
        headers.append((b"connection", b"close"))  # the rest of the body is not waited for
    start: dict[str, Any] = {"type": "http.response.start", "status": refusal.status, "headers": headers}
    await send(start)
    await send({"type": "http.response.body", "body": body})
