"""Connections that send at once.

An answer goes out in two writes, head and body. Without TCP_NODELAY the second waits until the first is acknowledged,
which the other side puts off for 40 ms. asyncio sets it, but not for sockets that were made without naming TCP, as
those are that server processes share.
"""

import asyncio
import socket
from contextlib import suppress

from uvicorn.protocols.http.h11_impl import H11Protocol


class PromptProtocol(H11Protocol):
    """HTTP/1.1 on connections that send at once."""

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Begin a connection."""
        with suppress(OSError):
            transport.get_extra_info("socket").setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        super().connection_made(transport)
