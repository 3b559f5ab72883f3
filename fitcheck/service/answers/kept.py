"""Answers that were given already: the same question of the same texts on the same day has the same answer."""

from collections import OrderedDict
from collections.abc import Callable, Mapping
from datetime import date
from hashlib import sha256
from typing import Any, Final, Generic, TypeVar

_SAME_ALL_DAY: Final = frozenset(
    ("check", "draw", "make", "pedal", "bridge", "parts/search", "parts/show", "thread", "identify", "rules")
)
"""Questions whose answers rest on what is asked and on the day: not those of orders, which go out at a moment."""
_MOST: Final = 16 * 1024 * 1024
"""Bytes of answers that are kept."""
_Reply = TypeVar("_Reply")


class Kept(Generic[_Reply]):
    """The latest answers of one process, by their questions. What is read from a folder is never kept."""

    def __init__(self, size: Callable[[_Reply], int], most: int = _MOST) -> None:
        self._size = size
        self._most = most
        self._kept: OrderedDict[bytes, _Reply] = OrderedDict()
        self._bytes = 0

    def reply(self, message: bytes, said: Mapping[str, Any], find: Callable[[], _Reply]) -> _Reply:
        """Return the answer to `said`, which is what `message` says, by looking or by asking `find`."""
        if said["ask"] not in _SAME_ALL_DAY or said.get("folder") is not None:
            return find()
        key = sha256(date.today().isoformat().encode() + message).digest()
        found = self._kept.pop(key, None)
        if found is None:
            found = find()
            self._bytes += self._size(found)
        self._kept[key] = found
        while self._bytes > self._most:
            self._bytes -= self._size(self._kept.popitem(last=False)[1])
        return found
