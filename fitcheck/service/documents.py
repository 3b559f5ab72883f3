"""The OpenAPI description: requests from their models, answers from schemas made of real answers."""

import json
from functools import cache
from pathlib import Path
from typing import Any, Final

from fastapi import FastAPI
from fastapi.openapi.utils import get_openapi

from fitcheck.service.answers.source import JSON
from fitcheck.service.problems import MEDIA_TYPE, schema
from fitcheck.service.questions import Question
from fitcheck.service.settings import Settings

ANSWERS: Final = Path(__file__).with_name("answers.json")
"""JSON Schemas of the answers, made from real answers by `python -m tests.service.answer_schemas`."""
_ABOUT: Final = """\
Checks the brake and clutch plumbing of a hand-built car, described in one text file.

The answers are those of the command line's `--format json`. The header `Fitcheck-Code` is its exit code: 0 well, 1 an
answer that is not the good one. Errors are problem details (RFC 9457). No request rests on an earlier one; an
answer to posted texts may be kept in memory for the day, for whoever posts the same texts again. HEAD is answered as
GET is, without the body.

Brakes hurt people when they fail. The answer rests on the data given; it replaces neither a pressure test nor a
licensed engineer nor your local code.
"""
_REFUSED: Final = {
    400: "The body is not JSON",
    401: "The token is missing or wrong",
    403: "Another server's name, or another site's page",
    404: "There is nothing here",
    405: "This cannot be asked by that method",
    408: "The request came too slowly",
    409: "The file has been changed meanwhile",
    413: "The body is too large",
    415: "The body has to be JSON",
    422: "A file cannot be used, with file, line and column; or this cannot be asked so",
    429: "Too many requests of one client at once: try again after Retry-After seconds",
    500: "A fault of this server",
    503: "Busy: try again after Retry-After seconds; or the answer took too long",
}


@cache
def answer_schemas() -> dict[str, Any]:
    """Return the JSON Schema of each answer, by the name of its question."""
    found: dict[str, Any] = json.loads(ANSWERS.read_text(encoding="utf-8"))
    return found


def refused() -> dict[int | str, dict[str, Any]]:
    """Return how problems are described."""
    content = {MEDIA_TYPE: {"schema": {"$ref": "#/components/schemas/Problem"}}}
    return {status: {"description": about, "content": content} for status, about in _REFUSED.items()}


def answered(question: Question) -> dict[int | str, dict[str, Any]]:
    """Return how the answer to a question and its problems are described."""
    drawn = {"type": "string", "description": "A drawing as SVG."}
    schema = {"$ref": f"#/components/schemas/{_component(question.name)}"} if question.media == JSON else drawn
    content = {question.media: {"schema": schema}}
    code = {"description": "The exit code of the command line.", "schema": {"type": "integer", "enum": [0, 1]}}
    good = {"description": "The answer", "headers": {"Fitcheck-Code": code}, "content": content}
    return {200: good, **refused()}


def _component(name: str) -> str:
    return f"{name.title().replace('_', '')}Answer"


def describe(app: FastAPI, settings: Settings) -> None:
    """Let the application describe itself so."""

    def openapi() -> dict[str, Any]:
        if app.openapi_schema is None:
            app.openapi_schema = _described(app, settings)
        return app.openapi_schema

    app.openapi = openapi  # type: ignore[method-assign]


def _described(app: FastAPI, settings: Settings) -> dict[str, Any]:
    from importlib.metadata import version

    made: dict[str, Any] = get_openapi(
        title="fitcheck", version=version("fitcheck"), description=_ABOUT, routes=app.routes
    )
    components = made.setdefault("components", {})
    schemas = components.setdefault("schemas", {})
    schemas.update({_component(name): found for name, found in answer_schemas().items()})
    schemas["Problem"] = schema()
    for unused in ("HTTPValidationError", "ValidationError"):
        schemas.pop(unused, None)
    if settings.token:
        components["securitySchemes"] = {"token": {"type": "http", "scheme": "bearer"}}
        made["security"] = [{"token": []}]
    return made
