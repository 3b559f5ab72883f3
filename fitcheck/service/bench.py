"""The processes that answer: kept ready, one question each at a time, ended when one takes too long.

A thread cannot be stopped in the middle of a rule; a process can, and takes its memory with it.
"""

import asyncio
import json
import sys
from asyncio.subprocess import PIPE, Process
from collections.abc import Awaitable, Callable
from contextlib import suppress
from typing import Any, Final, NamedTuple

from fitcheck.service.problems import RefusedError
from fitcheck.service.settings import Settings
from fitcheck.service.worker import HEAD, READY

MOST_ANSWERS: Final = 20_000
"""Answers after which a process is replaced: what it has remembered of so many builds is of no more use."""
_START: Final = 60.0
"""Seconds in which a process has to be ready."""
_AGAIN: Final = 1
"""Seconds after which a client may try again."""


class Told(NamedTuple):
    """What a process answered: status, the exit code of the command line (None of a problem), media type, body."""

    status: int
    code: int | None
    media: str
    body: bytes


class Bench:
    """A few processes that answer for one server process. Start it within the event loop that asks it."""

    def __init__(self, settings: Settings) -> None:
        self.settings = settings
        self._places = asyncio.Semaphore(settings.benches)
        self._few = asyncio.Semaphore(max(1, settings.benches - 1))
        self._idle: list[_Hand] = []
        self._all: set[_Hand] = set()
        self._asked = 0

    async def start(self) -> None:
        """Start the processes and wait until each is ready."""
        self._idle = list(await asyncio.gather(*(self._new() for _ in range(self.settings.benches))))

    async def stop(self) -> None:
        """End the processes."""
        for hand in tuple(self._all):
            await self._end(hand)
        self._idle.clear()

    async def ask(
        self, said: dict[str, Any], gone: Callable[[], Awaitable[bool]] | None = None, *, few: bool = False
    ) -> Told:
        """Return what a process answers. `gone` says whether nobody waits for the answer any more.

        Of questions that go `few` at a time one process of several is kept free, and mostly the same ones answer
        them: a page asks several things of one build, and a process that has not seen it would check it once more.

        Raises:
            RefusedError: too many wait already, the answer takes too long, or nobody waits for it when its turn comes.
        """
        if self._asked >= self.settings.benches + self.settings.queue:
            detail = f"{self.settings.queue} requests are waiting already; try again in a moment"
            raise RefusedError("busy", detail, retry=_AGAIN)
        self._asked += 1
        try:
            message = json.dumps(said).encode()
            until = asyncio.get_running_loop().time() + self.settings.seconds
            if not few:
                return await self._in_turn(message, gone, until)
            await self._place(self._few, until)
            try:
                return await self._in_turn(message, gone, until)
            finally:
                self._few.release()
        finally:
            self._asked -= 1

    async def _place(self, places: asyncio.Semaphore, until: float) -> None:
        try:
            await asyncio.wait_for(places.acquire(), until - asyncio.get_running_loop().time())
        except TimeoutError:
            raise RefusedError("busy", "no process was free in time; try again in a moment", retry=_AGAIN) from None

    async def _in_turn(self, message: bytes, gone: Callable[[], Awaitable[bool]] | None, until: float) -> Told:
        await self._place(self._places, until)
        try:
            if gone is not None and await gone():
                raise RefusedError("slow", "the client has gone")
            return await self._answered(message)
        finally:
            self._places.release()

    async def _answered(self, message: bytes) -> Told:
        hand = self._taken() or await self._new()
        try:
            told = await asyncio.wait_for(hand.ask(message), self.settings.seconds)
        except TimeoutError:
            await self._end(hand)
            detail = f"the answer takes longer than {self.settings.seconds:g} s, the most that one request may take"
            raise RefusedError("too-long", detail) from None
        except (asyncio.IncompleteReadError, OSError):
            await self._end(hand)
            detail = "the process that answered has ended: it ran out of memory, or was stopped"
            raise RefusedError("too-long", detail) from None
        except BaseException:
            await self._end(hand)  # whoever asked has gone, and the answer would be taken for the next one's
            raise
        if hand.answers < MOST_ANSWERS:
            self._idle.append(hand)
        else:
            await self._end(hand)
        return told

    def _taken(self) -> "_Hand | None":
        """Return a process that stands ready, if there is one; those that have died meanwhile are let go."""
        while self._idle:
            hand = self._idle.pop()
            if hand.process.returncode is None:
                return hand
            self._all.discard(hand)
        return None

    async def _new(self) -> "_Hand":
        process = await asyncio.create_subprocess_exec(
            sys.executable, "-m", "fitcheck.service.worker", str(self.settings.memory), stdin=PIPE, stdout=PIPE
        )
        hand = _Hand(process)
        self._all.add(hand)
        try:
            await asyncio.wait_for(hand.ready(), _START)
        except BaseException:
            await self._end(hand)
            raise
        return hand

    async def _end(self, hand: "_Hand") -> None:
        self._all.discard(hand)
        with suppress(ProcessLookupError):
            hand.process.kill()
        await hand.process.wait()


class _Hand:
    """One process that answers."""

    def __init__(self, process: Process) -> None:
        assert process.stdin is not None
        assert process.stdout is not None
        self.process = process
        self.answers = 0
        self._to, self._from = process.stdin, process.stdout

    async def ready(self) -> None:
        """Wait until it is ready."""
        await self._from.readexactly(len(READY))

    async def ask(self, message: bytes) -> Told:
        """Return its answer to a question."""
        self.answers += 1
        self._to.write(HEAD.pack(len(message)) + message)
        await self._to.drain()
        status, code, media = json.loads(await self._part())
        return Told(status, code, media, await self._part())

    async def _part(self) -> bytes:
        size = HEAD.unpack(await self._from.readexactly(HEAD.size))[0]
        return await self._from.readexactly(size)
