"""What came before, kept on disk: a list of any length is looked through in the same memory."""

import sqlite3
from hashlib import blake2b
from types import TracebackType
from typing import NamedTuple, Self


class Before(NamedTuple):
    """An earlier row with the same key, and what it said."""

    row: int
    said: str


class Seen:
    """Keys with the row that brought them first. To be used in a `with`: its file is gone afterwards."""

    def __init__(self) -> None:
        self._base = sqlite3.connect("", isolation_level=None)  # no name: a file of its own, deleted when closed
        self._base.executescript(
            "PRAGMA journal_mode = OFF; PRAGMA synchronous = OFF; PRAGMA cache_size = -8000;"
            "CREATE TABLE seen (key BLOB PRIMARY KEY, row INTEGER, said TEXT) WITHOUT ROWID; BEGIN"
        )

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._base.close()

    def add(self, key: tuple[str, ...], row: int, said: str = "") -> Before | None:
        """Remember a key with its row; if an earlier row brought it, return that and remember nothing."""
        digest = blake2b(repr(key).encode("utf-8", "surrogatepass"), digest_size=16).digest()
        if self._base.execute("INSERT OR IGNORE INTO seen VALUES (?, ?, ?)", (digest, row, said)).rowcount:
            return None
        return Before(*self._base.execute("SELECT row, said FROM seen WHERE key = ?", (digest,)).fetchone())
