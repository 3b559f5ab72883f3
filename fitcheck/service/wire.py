"""Connections that send at once.

An answer goes out in two writes, head and body. Without TCP_NODELAY the second waits until the first is acknowledged,
which the other side puts off for 40 ms. asyncio sets it, but not for sockets that were made without naming TCP, as
those are that server processes share.

A head that does not come to its end is given up: uvicorn waits for ever, and each such connection holds a file open.
"""

import asyncio
import socket
from contextlib import suppress
from typing import Final

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol

HEAD_SECONDS: Final = 10.0
"""Within this a connection has to have sent the whole head of its request."""


class PromptProtocol(H11Protocol):
    """HTTP/1.1 on connections that send at once, and are closed if they do not say what they want."""

    _given_up: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Begin a connection."""
        with suppress(OSError):
            transport.get_extra_info("socket").setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        super().connection_made(transport)
        self._wait_for_head()

    def data_received(self, data: bytes) -> None:
        """Take a piece of a request."""
        super().data_received(data)
        self._wait_for_head()

    def connection_lost(self, exc: Exception | None) -> None:
        """End a connection."""
        self._wait_no_more()
        super().connection_lost(exc)

    def _wait_for_head(self) -> None:
        """Begin to count when a head is waited for, not anew with each byte of it; stop when it is there."""
        if self.conn.their_state is not h11.IDLE:
            self._wait_no_more()
        elif self._given_up is None:
            self._given_up = self.loop.call_later(HEAD_SECONDS, self.transport.close)

    def _wait_no_more(self) -> None:
        if self._given_up is not None:
            self._given_up.cancel()
            self._given_up = None
