"""Processes that answer: limits of time, of memory, of how many wait."""

import asyncio
import subprocess
import sys
from collections.abc import Awaitable, Callable
from typing import Any, TypeVar

import pytest

from fitcheck.service import bench as bench_file
from fitcheck.service.bench import Bench, Told
from fitcheck.service.problems import RefusedError
from fitcheck.service.settings import Settings
from tests.benchmarks.cars import fleet

_T = TypeVar("_T")


def _asked(text: str) -> dict[str, Any]:
    return {"ask": "check", "texts": {"b": text}, "path": "b", "variant": None, "options": {"remedies": "none"}}


SMALL = _asked("build: 1\nname: small\n")
LARGE = _asked(fleet(6_000))


def _with(settings: Settings, act: Callable[[Bench], Awaitable[_T]]) -> _T:
    """Return what is done with a bench."""

    async def run() -> _T:
        bench = Bench(settings)
        await bench.start()
        try:
            return await act(bench)
        finally:
            await bench.stop()

    return asyncio.run(run())


def test_too_long() -> None:
    """What takes too long is ended and told so; the next question is answered by a new process."""

    async def act(bench: Bench) -> tuple[RefusedError, Told]:
        with pytest.raises(RefusedError) as caught:
            await bench.ask(LARGE)
        bench.settings = bench.settings._replace(seconds=30.0)
        return caught.value, await bench.ask(SMALL)

    error, told = _with(Settings(benches=1, seconds=0.2), act)
    assert (error.kind, error.status, error.headers) == ("too-long", 503, {})
    assert error.detail == "the answer takes longer than 0.2 s, the most that one request may take"
    assert (told.status, told.code) == (200, 0)


def test_too_many_wait() -> None:
    """So many may wait; the next is told when to try again, and those who wait are answered."""

    async def act(bench: Bench) -> list[Told | BaseException]:
        return await asyncio.gather(*(bench.ask(SMALL) for _ in range(4)), return_exceptions=True)

    *answered, last = _with(Settings(benches=1, queue=2), act)
    assert [told.status for told in answered if isinstance(told, Told)] == [200, 200, 200]
    assert isinstance(last, RefusedError)
    assert (last.kind, last.status, last.headers) == ("busy", 503, {"Retry-After": "1"})


def test_one_process_is_kept_free() -> None:
    """While a page's questions wait for each other, another question is answered at once."""

    async def act(bench: Bench) -> tuple[Told, bool, int]:
        slow = [asyncio.ensure_future(bench.ask(LARGE, few=True)) for _ in range(2)]
        await asyncio.sleep(0.05)
        told = await bench.ask(SMALL)
        waiting = all(not each.done() for each in slow)
        await asyncio.gather(*slow)
        return told, waiting, max(hand.answers for hand in bench._all)

    told, waiting, most = _with(Settings(benches=2, seconds=60.0), act)
    assert (told.status, waiting) == (200, True)
    assert most == 2  # the page's second question went to the process that had answered its first


def test_waited_too_long() -> None:
    """Who is not served in time is told when to try again."""

    async def act(bench: Bench) -> tuple[str, str]:
        first = asyncio.create_task(bench.ask(LARGE))
        await asyncio.sleep(0)
        bench.settings = bench.settings._replace(seconds=0.05)
        with pytest.raises(RefusedError) as caught:
            await bench.ask(SMALL)
        first.cancel()
        await asyncio.gather(first, return_exceptions=True)
        return caught.value.kind, caught.value.detail

    told = _with(Settings(benches=1), act)
    assert told == ("busy", "no process was free in time; try again in a moment")


def test_process_that_ends() -> None:
    """A process that is stopped from outside is told of, and the next question is answered by a new one."""

    async def act(bench: Bench) -> tuple[str, int]:
        bench._idle[0].process.kill()
        with pytest.raises(RefusedError) as caught:
            await bench.ask(SMALL)
        return caught.value.detail, (await bench.ask(SMALL)).status

    detail, status = _with(Settings(benches=1), act)
    assert (detail, status) == ("the process that answered has ended: it ran out of memory, or was stopped", 200)


def test_process_that_has_ended() -> None:
    """A process that died while nobody asked it anything costs nobody an answer."""

    async def act(bench: Bench) -> int:
        process = bench._idle[0].process
        process.kill()
        await process.wait()
        return (await bench.ask(SMALL)).status

    assert _with(Settings(benches=1), act) == 200


def test_asker_that_leaves_the_queue() -> None:
    """Who has gone when its turn comes takes no process's time; who is still there is answered."""

    async def act(bench: Bench) -> tuple[str, int, int]:
        async def yes() -> bool:
            return True

        async def no() -> bool:
            return False

        with pytest.raises(RefusedError) as caught:
            await bench.ask(LARGE, yes)
        answers = bench._idle[0].answers
        return caught.value.detail, answers, (await bench.ask(SMALL, no)).status

    assert _with(Settings(benches=1), act) == ("the client has gone", 0, 200)


def test_asker_that_leaves() -> None:
    """An answer that nobody waits for any more is not taken for that of the next question."""

    async def act(bench: Bench) -> bytes:
        first = asyncio.create_task(bench.ask(LARGE))
        await asyncio.sleep(0.05)
        first.cancel()
        await asyncio.gather(first, return_exceptions=True)
        return (await bench.ask(SMALL)).body

    assert b'"build":"small"' in _with(Settings(benches=1), act)


def test_processes_are_replaced(monkeypatch: pytest.MonkeyPatch) -> None:
    """After so many answers a process gives way to a new one."""
    monkeypatch.setattr(bench_file, "MOST_ANSWERS", 2)

    async def act(bench: Bench) -> list[int]:
        seen = []
        for _ in range(4):
            seen.append(next(iter(bench._all)).process.pid if bench._all else 0)
            assert (await bench.ask(SMALL)).status == 200
        return seen

    first, second, third, fourth = _with(Settings(benches=1), act)
    assert first == second != fourth
    assert third == 0  # the old one has gone, the new one comes with the next question


def test_memory() -> None:
    """A process cannot take more memory than it may."""
    code = """\
from fitcheck.service.worker import limit_memory
limit_memory(2**30)
try:
    bytearray(2**31)
except MemoryError:
    print("held")
"""
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "held\n"
