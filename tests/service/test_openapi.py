"""The description of the API: a valid OpenAPI 3.1 document, and what the server does is what it says."""

from pathlib import Path
from typing import Any

import jsonschema
import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis.errors import Unsatisfiable
from schemathesis import GenerationMode
from schemathesis.checks import CHECKS, load_all_checks
from starlette.testclient import TestClient

from fitcheck.service.answers.source import JSON
from fitcheck.service.app import create_app
from fitcheck.service.questions import QUESTIONS
from fitcheck.service.settings import Settings
from tests.service.server import running

_EXAMPLES = 20
"""Requests for each question, right ones and wrong ones each."""
load_all_checks()
_WHAT = CHECKS.get_by_names(
    [
        "not_a_server_error",
        "status_code_conformance",
        "content_type_conformance",
        "response_headers_conformance",
        "response_schema_conformance",
        "negative_data_rejection",
        "unsupported_method",
    ]
)


@pytest.fixture(scope="module")
def described(client: TestClient) -> dict[str, Any]:
    """Return the description."""
    found: dict[str, Any] = client.get("/api/openapi.json").json()
    return found


def test_what_is_described(described: dict[str, Any]) -> None:
    """Every question stands in the description, of posted texts and of the served folder, with its answer."""
    assert described["openapi"].startswith("3.1.")
    for question in QUESTIONS.values():
        method = "get" if question.build == "none" else "post"
        found = described["paths"][f"/api/{question.path}"][method]
        schema = found["responses"]["200"]["content"][question.media]["schema"]
        answer = described["components"]["schemas"][schema["$ref"].rpartition("/")[2]] if "$ref" in schema else schema
        assert answer["type"] == ("object" if question.media == JSON else "string")
        assert set(found["responses"]) > {"200", "400", "403", "413", "415", "422", "429", "500", "503"}
        assert question.build == "none" or f"/api/served/{question.path}" in described["paths"]


def test_schemas_are_schemas(described: dict[str, Any]) -> None:
    """Every schema is one of JSON Schema 2020-12, and every reference leads to one."""
    schemas = described["components"]["schemas"]
    for schema in schemas.values():
        jsonschema.Draft202012Validator.check_schema(schema)
    text = str(described)
    named = {part.partition("'")[0] for part in text.split("'$ref': '#/components/schemas/")[1:]}
    assert named <= set(schemas)
    assert not {"HTTPValidationError", "ValidationError"} & set(schemas)


def test_token_is_described() -> None:
    """A server with a token says so in its description."""
    found = create_app(Settings(token="sixteen-of-these")).openapi()
    assert found["security"] == [{"token": []}]
    assert found["components"]["securitySchemes"] == {"token": {"type": "http", "scheme": "bearer"}}


@pytest.mark.slow
def test_made_up_requests(folder: Path) -> None:
    """Requests made from the description, right and wrong ones, are answered as it says: no fault of the server."""
    with running(str(folder), "--port", "0") as url:
        schema = schemathesis.openapi.from_url(f"{url}/api/openapi.json")
        ways = [(path, method) for path, methods in schema.raw_schema["paths"].items() for method in methods]
        assert len(ways) >= 2 * len(QUESTIONS)
        for path, method in ways:
            for mode in GenerationMode:
                _in_many_ways(schema[path][method], mode)


def _in_many_ways(operation: Any, mode: GenerationMode) -> None:
    """Ask one question in many ways."""

    @given(operation.as_strategy(generation_mode=mode))
    @settings(
        max_examples=_EXAMPLES,
        deadline=None,
        derandomize=True,
        database=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    def ask(case: Any) -> None:
        case.call_and_validate(checks=_WHAT)

    try:
        ask()
    except Unsatisfiable:
        assert mode is GenerationMode.NEGATIVE  # there is no wrong way to ask for what takes nothing
