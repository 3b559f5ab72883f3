"""A real server in a process of its own, on a port that is free."""

import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from urllib.error import URLError
from urllib.request import urlopen

_PATIENCE = 60.0


@contextmanager
def running(*arguments: str, environment: Mapping[str, str] | None = None, folder: Path | None = None) -> Iterator[str]:
    """Start `fitcheck serve` with these arguments in a folder, yield where it answers, and stop it."""
    process = subprocess.Popen(
        [sys.executable, "-m", "fitcheck", "serve", *arguments],
        stderr=subprocess.PIPE,
        text=True,
        cwd=folder,
        env={**os.environ, **(environment or {})},
    )
    try:
        yield _ready(process)
    finally:
        process.send_signal(signal.SIGINT)
        try:
            process.communicate(timeout=20)
        except subprocess.TimeoutExpired:
            process.kill()
            process.communicate()


def _ready(process: "subprocess.Popen[str]") -> str:
    """Return where a server answers, once it does."""
    assert process.stderr is not None
    told = ""
    while (found := re.search(r"at (http://[^ ]+?)/api/", told)) is None:
        line = process.stderr.readline()
        assert line, told
        told += line
    end = time.monotonic() + _PATIENCE
    while True:
        try:
            urlopen(f"{found[1]}/api/nothing", timeout=_PATIENCE)  # it listens already, and answers once it is ready
        except (URLError, ConnectionError) as error:
            if hasattr(error, "code"):
                return found[1]
        assert time.monotonic() < end, told
        time.sleep(0.1)
