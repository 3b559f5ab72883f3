"""A process that checks, apart from the one that talks to the editor: what takes too long is ended with it.

Questions and answers are pickled, over the pipes of a child that this program starts itself; nothing else is read so.
"""

import gc
import os
import pickle
import signal
import subprocess
import sys
from contextlib import suppress
from pathlib import Path
from queue import Empty, Queue
from threading import Lock, Thread
from typing import IO, Any, Final, NamedTuple

from fitcheck.errors import FitcheckError

SECONDS: Final = 60.0
"""Longest that one question may take: a check of 20,000 components takes 8 s of processor time."""
_CODE: Final = "import sys; sys.path[:] = {path!r}; from fitcheck.service.editor.worker import main; main()"


class TooLongError(FitcheckError, TimeoutError):
    """A question took longer than `seconds` and was given up."""

    def __init__(self, seconds: float) -> None:
        self.seconds = seconds
        super().__init__(f"the check took longer than {seconds:g} s and was given up; fitcheck check has no limit")


class WorkerError(FitcheckError, RuntimeError):
    """The process that checks has failed; what it said of it."""


class Question(NamedTuple):
    """What is asked of the texts of all open files: a diagnosis of one, or the remedies of what is on `lines` of it."""

    texts: dict[Path, str]
    path: Path
    lines: tuple[int, int] | None = None


class Worker:
    """The process that checks, started when it is first needed, and again after it had to be ended."""

    def __init__(self, seconds: float = SECONDS) -> None:
        self.seconds = seconds
        self._lock = Lock()
        self._process: subprocess.Popen[bytes] | None = None
        self._answers: Queue[tuple[bool, Any]] = Queue()

    def ask(self, question: Question) -> Any:
        """Return the answer. Questions from several threads are asked one after the other.

        Raises:
            TooLongError: it takes too long.
            WorkerError: the process failed.
        """
        with self._lock:
            process = self._running()
            assert process.stdin is not None
            try:
                pickle.dump(question, process.stdin)
                process.stdin.flush()
                well, answer = self._answers.get(timeout=self.seconds)
            except Empty:
                self._end()
                raise TooLongError(self.seconds) from None
            except OSError as error:
                self._end()
                raise WorkerError(f"the process that checks has ended: {error.strerror}") from None
            if not well:
                self._end()
                raise WorkerError(str(answer))
            return answer

    def close(self) -> None:
        """End the process."""
        self._end()

    def _running(self) -> subprocess.Popen[bytes]:
        if self._process is not None and self._process.poll() is not None:
            self._end()
        if self._process is None:
            command = [sys.executable, "-c", _CODE.format(path=sys.path)]
            self._process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE)
            self._answers = Queue()
            assert self._process.stdout is not None
            Thread(target=_listen, args=(self._process.stdout, self._answers), daemon=True).start()
        return self._process

    def _end(self) -> None:
        process, self._process = self._process, None
        if process is not None:
            process.kill()
            process.wait()
            for pipe in (process.stdin, process.stdout):
                with suppress(OSError):
                    pipe.close()  # type: ignore[union-attr]  # both are pipes


def _listen(pipe: IO[bytes], answers: "Queue[tuple[bool, Any]]") -> None:
    while True:
        try:
            answers.put(pickle.load(pipe))
        except (EOFError, OSError, ValueError, pickle.UnpicklingError):
            answers.put((False, "the process that checks has ended"))
            return


def main() -> None:
    """Answer questions until there are no more: what the process does."""
    from fitcheck.service.editor.texts import Shelves

    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the one that talks to the editor says when to end
    answers = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # whatever prints must not print into the answers
    shelves = Shelves()
    gc.disable()  # what a check builds is gone with its answer: looking for more meanwhile costs a fifth of the time
    while True:
        try:
            question = pickle.load(sys.stdin.buffer)
        except EOFError:
            return
        pickle.dump(_answer(question, shelves), answers)
        answers.flush()
        gc.collect()


def _answer(question: Question, shelves: Any) -> tuple[bool, Any]:
    from fitcheck.service.editor.actions import actions
    from fitcheck.service.editor.diagnose import diagnose
    from fitcheck.service.editor.texts import Open

    files = Open(question.texts)
    try:
        if question.lines is not None:
            return True, actions(files, question.path, question.lines, shelves)
        return True, diagnose(files, question.path, shelves)
    except Exception as error:  # a fault of ours must be told, not leave the editor without answers
        import traceback

        traceback.print_exc()
        return False, f"{type(error).__name__}: {error}"
