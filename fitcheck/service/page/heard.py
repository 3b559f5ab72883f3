"""What was just done, told once: a cookie goes with the answer to a form, and the page that shows it takes it away.

In the address it would be told again by every loading of the page, and by the one who gets the address from somebody.
"""

import re
from typing import Final, NamedTuple

from fastapi import Request, Response

_COOKIE: Final = "fitcheck-said"
_SECONDS: Final = 60
_VALUE: Final = re.compile(r"(done|undone|redone)\.([0-9a-f-]{0,40})")


class Heard(NamedTuple):
    """What was just done: `done`, `undone` or `redone`, and the name of the step; none if nothing had to be changed."""

    what: str
    step: str


def say(answer: Response, what: str, step: str) -> Response:
    """Return an answer whose next page tells what was done."""
    answer.set_cookie(_COOKIE, f"{what}.{step}", _SECONDS, httponly=True, samesite="strict")
    return answer


def heard(request: Request) -> Heard | None:
    """Return what is to be told on the page that a request asks for."""
    found = _VALUE.fullmatch(request.cookies.get(_COOKIE, ""))
    return Heard(*found.groups()) if found is not None else None


def told(answer: Response) -> Response:
    """Return an answer that has told it: no other will."""
    answer.delete_cookie(_COOKIE, httponly=True, samesite="strict")
    return answer
