"""Errors as RFC 9457 problem details: what is wrong, as data that a program can read.

The `type` of each is a URN of ours, `urn:fitcheck:problem:NAME`; `KINDS` lists them.
Source: RFC 9457 (2023), sections 3 and 4.
"""

import json
from collections.abc import Iterable, Mapping
from typing import Any, Final, NamedTuple

from fitcheck.trees import Problem

MEDIA_TYPE: Final = "application/problem+json"
_URN: Final = "urn:fitcheck:problem:"


class Kind(NamedTuple):
    """One kind of problem: the status it comes with, and its title."""

    status: int
    title: str


KINDS: Final[Mapping[str, Kind]] = {
    "body": Kind(400, "The body of the request cannot be read"),
    "token": Kind(401, "The token is missing or wrong"),
    "host": Kind(403, "This server does not go by that name"),
    "origin": Kind(403, "Requests from other sites are refused"),
    "not-found": Kind(404, "There is nothing here"),
    "method": Kind(405, "This cannot be asked by that method"),
    "slow": Kind(408, "The request came too slowly"),
    "changed": Kind(409, "The file has been changed meanwhile"),
    "too-large": Kind(413, "The body of the request is too large"),
    "media-type": Kind(415, "The body of the request is not of the kind that is asked for"),
    "request": Kind(422, "This cannot be asked so"),
    "input": Kind(422, "A file cannot be used"),
    "too-many": Kind(429, "Too many requests of one client at once"),
    "fault": Kind(500, "A fault of this server"),
    "busy": Kind(503, "The server is busy"),
    "too-long": Kind(503, "The answer took too long"),
    "other": Kind(400, "The request cannot be answered"),
}


class RefusedError(Exception):
    """A request that is not answered, as the problem it is told by."""

    def __init__(self, kind: str, detail: str, *, retry: int | None = None, **more: Any) -> None:
        super().__init__(detail)
        self.kind = kind
        self.detail = detail
        self.retry = retry
        self.more = more

    @property
    def status(self) -> int:
        """The HTTP status."""
        return KINDS[self.kind].status

    @property
    def headers(self) -> dict[str, str]:
        """The headers that go with it."""
        found = {"Retry-After": str(self.retry)} if self.retry is not None else {}
        return found | ({"WWW-Authenticate": "Bearer"} if self.kind == "token" else {})

    def body(self) -> bytes:
        """Return the problem as JSON."""
        return problem_json(self.kind, self.detail, **self.more)


def problem_json(kind: str, detail: str, *, status: int | None = None, **more: Any) -> bytes:
    """Return a problem as JSON; `more` are further members."""
    known = KINDS[kind]
    value = {"type": _URN + kind, "title": known.title, "status": status or known.status, "detail": detail, **more}
    return json.dumps(value, allow_nan=False).encode("ascii")


def places(problems: Iterable[Problem]) -> list[dict[str, Any]]:
    """Return what is wrong with files as plain values, each with its place, as `--format json` tells it."""
    return [problem._asdict() for problem in problems]


def schema() -> dict[str, Any]:
    """Return the JSON Schema of a problem."""
    text, whole = {"type": "string"}, {"type": "integer", "minimum": 1}
    place = {"file": text, "line": whole, "column": whole, "message": text}
    asked = {"at": {"type": "array", "items": {"type": ["string", "integer"]}}, "message": text}
    return {
        "type": "object",
        "description": "RFC 9457 problem details.",
        "required": ["type", "title", "status", "detail"],
        "properties": {
            "type": {"type": "string", "enum": [_URN + kind for kind in KINDS]},
            "title": text,
            "status": {"type": "integer"},
            "detail": text,
            "problems": {
                "type": "array",
                "description": "Of a file: file, line, column and message of all that is wrong. Of a request: which "
                "field, and what is wrong with it.",
                "items": {
                    "anyOf": [
                        {"type": "object", "required": list(place), "properties": place},
                        {"type": "object", "required": list(asked), "properties": asked},
                    ]
                },
            },
        },
    }
