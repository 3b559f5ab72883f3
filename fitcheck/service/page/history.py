"""What was accepted, to be undone and done again; and the versions of files that this takes, by their hashes."""

from collections import OrderedDict
from threading import Lock
from typing import Final, NamedTuple

from fitcheck.service.folder import digest

_MOST_BYTES: Final = 32 * 1024 * 1024
_MOST_STEPS: Final = 200


class Step(NamedTuple):
    """A change that was accepted: of which file, from which version to which (SHA-256), and what it was in words."""

    file: str
    before: str
    after: str
    words: str

    @property
    def name(self) -> str:
        """What tells this step from others."""
        return f"{self.before[:16]}-{self.after[:16]}"


class History:
    """The changes that one server process has made, in memory: they are forgotten when it ends.

    What falls out because there is too much of it cannot be undone any more; nothing else depends on it.
    """

    def __init__(self) -> None:
        self.done: list[Step] = []
        self.undone: list[Step] = []
        self._versions: OrderedDict[str, str] = OrderedDict()
        self._bytes = 0
        self._lock = Lock()

    def keep(self, text: str) -> str:
        """Keep a version of a file and return its hash."""
        name = digest(text.encode())
        with self._lock:
            if name not in self._versions:
                self._versions[name] = text
                self._bytes += len(text)
            self._versions.move_to_end(name)
            while self._bytes > _MOST_BYTES and len(self._versions) > 1:
                self._bytes -= len(self._versions.popitem(last=False)[1])
        return name

    def version(self, name: str) -> str | None:
        """Return a version of a file by its hash; None if it is not kept any more."""
        return self._versions.get(name)

    def did(self, file: str, before: str, after: str, words: str) -> None:
        """Note that a change was accepted; what had been undone cannot be done again from here on."""
        if before == after:
            return
        step = Step(file, self.keep(before), self.keep(after), words)
        with self._lock:
            self.done = [*self.done, step][-_MOST_STEPS:]
            self.undone = []

    def last(self, back: bool) -> Step | None:
        """Return the step that would be undone (`back`) or done again; None if there is none."""
        steps = self.done if back else self.undone
        return steps[-1] if steps else None

    def moved(self, step: Step, back: bool) -> None:
        """Note that a step was undone (`back`) or done again."""
        with self._lock:
            out, into = (self.done, self.undone) if back else (self.undone, self.done)
            if out and out[-1] == step:
                into.append(out.pop())
