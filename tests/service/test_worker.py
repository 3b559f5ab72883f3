"""The process that checks: what takes too long is ended and the next question answered; its faults are told."""

from pathlib import Path

import pytest

from fitcheck.service.editor.worker import Question, TooLongError, Worker, WorkerError

PATH = Path("/none/build.yaml")
TEXTS = {PATH: "build: 1\nfluid: DOT 9\n"}


def test_too_long_is_given_up_and_the_next_is_answered() -> None:
    """A question that is not answered in time raises, and the one after it is answered by a new process."""
    worker = Worker(seconds=0.0)
    try:
        with pytest.raises(TooLongError) as caught:
            worker.ask(Question(TEXTS, PATH))
        assert str(caught.value) == "the check took longer than 0 s and was given up; fitcheck check has no limit"
        worker.seconds = 60.0
        (said,) = worker.ask(Question(TEXTS, PATH)).said[PATH]
        assert said.message.startswith("'DOT 9' is no brake fluid; nearest is 'DOT 3'")
    finally:
        worker.close()


def test_a_fault_of_ours_is_told(capfd: pytest.CaptureFixture[str]) -> None:
    """What goes wrong in the process is an error here, and the next question is answered."""
    worker = Worker()
    try:
        with pytest.raises(WorkerError) as caught:
            worker.ask(Question({}, PATH))
        assert str(caught.value) == f"KeyError: {PATH!r}"
        assert worker.ask(Question(TEXTS, PATH)).kind == "build"
    finally:
        worker.close()


def test_a_process_that_was_ended_is_started_again() -> None:
    """A process that somebody ends from outside does not leave the editor without answers."""
    worker = Worker()
    try:
        assert worker.ask(Question(TEXTS, PATH)).kind == "build"
        assert worker._process is not None
        worker._process.kill()
        worker._process.wait()
        assert worker.ask(Question(TEXTS, PATH)).kind == "build"
    finally:
        worker.close()
