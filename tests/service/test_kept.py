"""Answers that are kept: only where nothing but the question and the day decides."""

from typing import Any

from fitcheck.service.answers.kept import Kept


class _Asked:
    """Keeps answers, and counts how often one was worked out."""

    def __init__(self, most: int = 100) -> None:
        self.kept = Kept[str](len, most)
        self.count = 0

    def ask(self, **said: Any) -> str:
        """Return the answer to a question."""

        def find() -> str:
            self.count += 1
            return str(said.get("body", "x"))

        return self.kept.reply(repr(sorted(said.items())).encode(), said, find)


def test_same_question() -> None:
    """The same question is worked out once, another one by itself."""
    asked = _Asked()
    assert [asked.ask(ask="check", body=body) for body in ("a", "a", "b", "a")] == ["a", "a", "b", "a"]
    assert asked.count == 2


def test_what_is_never_kept() -> None:
    """Orders go out at a moment, and files of a folder change: both are worked out each time."""
    asked = _Asked()
    for said in ({"ask": "order"}, {"ask": "check", "folder": "/car"}):
        asked.ask(**said)
        asked.ask(**said)
    assert asked.count == 4


def test_only_so_much_is_kept() -> None:
    """What was asked longest ago gives way; an answer larger than all that may be kept is not kept at all."""
    asked = _Asked(most=10)
    for body in ("aaaa", "bbbb", "aaaa", "cccc", "aaaa", "bbbb"):
        asked.ask(ask="check", body=body)
    assert asked.count == 4  # a, b, c, and b again
    asked.ask(ask="check", body="d" * 11)
    asked.ask(ask="check", body="d" * 11)
    assert asked.count == 6
