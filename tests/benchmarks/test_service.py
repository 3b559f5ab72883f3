"""How many checks the API answers. By hand: `pytest tests/benchmarks/test_service.py --benchmark-only -s`.

Each request posts a build of 60 components, either another one each time (one length in it is new, so that no answer
can be kept) or always the same. The server, its processes and the client share the machine's cores. `wrk` (a Debian
package) sends where it is installed, else a small client of our own. No test here fails on a time.
"""

import asyncio
import json
import re
import shutil
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from tests.benchmarks.cars import fleet
from tests.service.server import running

COMPONENTS = 60
SECONDS = 10
AT_ONCE = (1, 2, 4)
PROMISED = "150 a second at p99 under 60 ms"
_MARK = "length: 400 mm"
_SCRIPT = """\
local head, tail = %s, %s
local number = 0
wrk.method = "POST"
wrk.headers["Content-Type"] = "application/json"
request = function()
  number = number + 1
  return wrk.format(nil, "/api/check", nil, head .. "length: " .. (400 + number %% %d) .. " mm" .. tail)
end
done = function(summary, latency, requests)
  local bad = summary.errors.status + summary.errors.connect + summary.errors.read + summary.errors.timeout
  io.write(string.format("%%d %%d %%d %%d\\n", summary.requests, bad, latency:percentile(50), latency:percentile(99)))
end
"""


def _halves() -> tuple[str, str]:
    """Return what stands before and after the length that changes, as JSON."""
    head, _, tail = json.dumps({"build": fleet(COMPONENTS)}).partition(_MARK)
    return head, tail


@contextmanager
def _server() -> Iterator[str]:
    with running("--port", "0") as url:
        yield url


def _by_wrk(url: str, at_once: int, builds: int, folder: Path) -> tuple[float, float, float]:
    """Return requests a second, and the median and 99th percentile of their times [ms]."""
    script = folder / "check.lua"
    script.write_text(_SCRIPT % (*(f"[==[{half}]==]" for half in _halves()), builds))
    asked = ["wrk", "-t1", f"-c{at_once}", f"-d{SECONDS}s", "-s", str(script), url]
    told = subprocess.run(asked, capture_output=True, text=True, check=True, timeout=SECONDS + 30).stdout
    found = re.search(r"^(\d+) (\d+) (\d+) (\d+)$", told, re.MULTILINE)
    assert found is not None, told
    count, bad, median, slow = map(int, found.groups())
    assert not bad, told
    return count / SECONDS, median / 1000, slow / 1000


async def _one_after_other(url: str, first: int, step: int, builds: int, times: list[float]) -> None:
    host, port = url.removeprefix("http://").split(":")
    head, tail = _halves()
    reader, writer = await asyncio.open_connection(host, int(port))
    number, end = first, time.monotonic() + SECONDS
    while time.monotonic() < end:
        body = f"{head}length: {400 + number % builds} mm{tail}".encode()
        began = time.perf_counter()
        writer.write(
            b"POST /api/check HTTP/1.1\r\nHost: %s:%s\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n"
            % (host.encode(), port.encode(), len(body))
            + body
        )
        answer = await reader.readuntil(b"\r\n\r\n")
        assert answer.startswith(b"HTTP/1.1 200"), answer
        size = re.search(rb"content-length: (\d+)", answer, re.IGNORECASE)
        assert size is not None
        await reader.readexactly(int(size[1]))
        times.append(time.perf_counter() - began)
        number += step
    writer.close()


def _by_ourselves(url: str, at_once: int, builds: int) -> tuple[float, float, float]:
    """Return the same by a client of our own."""
    times: list[float] = []

    async def all_of_them() -> None:
        await asyncio.gather(*(_one_after_other(url, number, at_once, builds, times) for number in range(at_once)))

    asyncio.run(all_of_them())
    ordered = sorted(times)
    return len(times) / SECONDS, ordered[len(times) // 2] * 1000, ordered[int(len(times) * 0.99)] * 1000


@pytest.mark.parametrize("builds", [5000, 1], ids=["another build each time", "the same build"])
@pytest.mark.parametrize("at_once", AT_ONCE)
def test_checks_a_second(benchmark: BenchmarkFixture, tmp_path: Path, at_once: int, builds: int) -> None:
    """Prints how many checks of a 60-component build are answered in a second, and how long they take."""
    with _server() as url:
        if shutil.which("wrk"):
            rate, median, slow = _by_wrk(url, at_once, builds, tmp_path)
        else:
            rate, median, slow = _by_ourselves(url, at_once, builds)
    by = "wrk" if shutil.which("wrk") else "our own client"
    what = "the same build" if builds == 1 else "another build each time"
    print(
        f"{by}, {what}, {at_once} at once: {rate:.0f} a second, median {median:.1f} ms, p99 {slow:.1f} ms ({PROMISED})"
    )
    benchmark.extra_info.update(rate=rate, median_ms=median, p99_ms=slow)
    benchmark.pedantic(lambda: None, rounds=1)
    assert rate > 0
