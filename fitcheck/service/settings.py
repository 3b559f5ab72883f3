"""What a server is told at its start: where it listens, whom it answers, what it serves, how much it takes on."""

import json
import os
from collections.abc import Mapping
from ipaddress import ip_address
from pathlib import Path
from typing import Final, NamedTuple

from fitcheck.errors import FitcheckError

VARIABLE: Final = "FITCHECK_SERVICE"
"""The environment variable by which server processes are handed their settings."""
LEAST_TOKEN: Final = 16
"""Characters of a token: what is shorter can be found by trying."""
MOST_BODY: Final = 2 * 1024 * 1024
DEFAULT_BUILD: Final = "build.yaml"


class SettingsError(FitcheckError, ValueError):
    """A server cannot be started so."""


class Settings(NamedTuple):
    """What a server is told at its start.

    `folder` is served, with `build` in it as the build that is meant if none is named; None serves nothing but what is
    posted. `allowed` are further names that this machine goes by. A body has at most `body` bytes and is sent within
    `body_seconds`. `benches` processes answer, `seconds` each; `queue` more requests may wait, `at_once` of one client.
    An answering process may take `memory` bytes of addresses. `workers` server processes share the work, and the folder
    `journal`, in which they note what was accepted so that it can be undone; without one each process has its own.
    """

    host: str = "127.0.0.1"
    port: int = 8750
    token: str = ""
    folder: str | None = None
    build: str = DEFAULT_BUILD
    allowed: tuple[str, ...] = ()
    body: int = MOST_BODY
    body_seconds: float = 10.0
    seconds: float = 30.0
    benches: int = 2
    queue: int = 64
    at_once: int = 64
    memory: int = 4 * 1024**3
    workers: int = 1
    journal: str = ""

    @property
    def loopback(self) -> bool:
        """Whether nobody but this machine can reach the server."""
        return is_loopback(self.host)

    def checked(self) -> "Settings":
        """Return these settings.

        Raises:
            SettingsError: they would let strangers in, or hold what cannot be.
        """
        if not self.loopback and not self.token:
            raise SettingsError(f"{self.host} can be reached from other machines: give --token or FITCHECK_TOKEN")
        if self.token and not (len(self.token) >= LEAST_TOKEN and self.token.isascii() and self.token.isprintable()):
            raise SettingsError(f"the token: expected at least {LEAST_TOKEN} printable ASCII characters")
        if self.token and " " in self.token:
            raise SettingsError("the token: expected no blanks")
        if self.folder is not None and not Path(self.folder).is_dir():
            raise SettingsError(f"{self.folder} is no folder")
        return self

    def to_environment(self) -> dict[str, str]:
        """Return the environment variable that hands these settings to another process."""
        return {VARIABLE: json.dumps(self._asdict())}

    @staticmethod
    def from_environment(environment: Mapping[str, str] = os.environ) -> "Settings":
        """Return the settings that this process was handed, or the usual ones.

        Raises:
            SettingsError: they would let strangers in, or hold what cannot be.
        """
        said = json.loads(environment.get(VARIABLE, "{}"))
        return Settings(**said | {"allowed": tuple(said.get("allowed", ()))}).checked()


def is_loopback(host: str) -> bool:
    """Return whether a host names this machine alone.

    >>> is_loopback("localhost"), is_loopback("::1"), is_loopback("0.0.0.0")
    (True, True, False)
    """
    if host == "localhost":
        return True
    try:
        return ip_address(host).is_loopback
    except ValueError:
        return False
