"""Connections: who does not say what it wants is not waited for."""

import asyncio
from collections.abc import Awaitable, Callable
from typing import Any

import pytest
from uvicorn import Config
from uvicorn.server import ServerState

from fitcheck.service import wire
from fitcheck.service.wire import PromptProtocol

Talk = Callable[[asyncio.StreamReader, asyncio.StreamWriter], Awaitable[bytes]]
PATIENCE = 30.0


async def slow_app(scope: Any, receive: Any, send: Any) -> None:
    """Answer after longer than a head may take."""
    await asyncio.sleep(0.3)
    await send({"type": "http.response.start", "status": 200, "headers": [(b"content-length", b"2")]})
    await send({"type": "http.response.body", "body": b"ok"})


def told(monkeypatch: pytest.MonkeyPatch, talk: Talk) -> bytes:
    """Return what a client hears from a server that waits a tenth of a second for a head."""
    monkeypatch.setattr(wire, "HEAD_SECONDS", 0.1)

    async def run() -> bytes:
        loop = asyncio.get_running_loop()
        config = Config(slow_app, http=PromptProtocol, ws="none", log_level="critical")
        config.load()
        state = ServerState()
        server = await loop.create_server(lambda: PromptProtocol(config, state, {}, loop), "127.0.0.1", 0)
        reader, writer = await asyncio.open_connection(*server.sockets[0].getsockname())
        heard = await asyncio.wait_for(talk(reader, writer), PATIENCE)
        writer.close()
        server.close()
        return heard

    return asyncio.run(run())


@pytest.mark.parametrize("begun", [b"", b"GET / HT", b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\nX: "])
def test_a_head_without_end(begun: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    """A connection that sends no whole head is closed, however much of it has come."""

    async def talk(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> bytes:
        writer.write(begun)
        return await reader.read()

    assert told(monkeypatch, talk) == b""


def test_a_head_byte_by_byte(monkeypatch: pytest.MonkeyPatch) -> None:
    """Sending a little now and then buys no more time."""

    async def talk(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> bytes:
        writer.write(b"GET / HTTP/1.1\r\nX: ")
        while not reader.at_eof() and not writer.is_closing():
            writer.write(b"y")
            await asyncio.sleep(0.02)
            if not reader.at_eof() and (heard := await _soon(reader)):
                return heard
        return b"closed"

    assert told(monkeypatch, talk) == b"closed"


async def _soon(reader: asyncio.StreamReader) -> bytes:
    try:
        return await asyncio.wait_for(reader.read(1), 0.01)
    except TimeoutError:
        return b""


def test_whole_heads_are_answered(monkeypatch: pytest.MonkeyPatch) -> None:
    """An answer may take longer than a head, and the connection serves for the next request."""

    async def talk(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> bytes:
        heard = b""
        for _ in range(2):
            writer.write(b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n")
            heard += (await reader.readuntil(b"ok"))[:15]
        return heard

    assert told(monkeypatch, talk) == b"HTTP/1.1 200 OK" * 2
