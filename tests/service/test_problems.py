"""What is refused, and in which words: problem details of RFC 9457."""

import json
from typing import Any

import jsonschema
import pytest
from starlette.testclient import TestClient

from fitcheck.service import worker
from fitcheck.service.answers.source import Answer, Options, Shelves, Source
from fitcheck.service.app import create_app
from fitcheck.service.problems import KINDS, MEDIA_TYPE, schema
from fitcheck.service.settings import Settings
from tests.service.conftest import AT

_JSON = {"content-type": "application/json"}
NOWHERE = "nothing is answered at this path; /api/openapi.json lists what can be asked"


def problem(answer: Any) -> tuple[int, str, str]:
    """Return status, kind and detail of a problem, once it is seen to be one."""
    assert answer.headers["content-type"] == MEDIA_TYPE
    value = answer.json()
    jsonschema.validate(value, schema())
    assert value["status"] == answer.status_code
    return value["status"], value["type"].removeprefix("urn:fitcheck:problem:"), value["detail"]


ASKED: tuple[tuple[str, str, dict[str, Any], tuple[int, str, str]], ...] = (
    ("GET", "/api/nothing", {}, (404, "not-found", NOWHERE)),
    ("GET", "/nothing", {}, (404, "not-found", NOWHERE)),
    ("GET", "/api/check", {}, (405, "method", "expected POST, got GET")),
    ("DELETE", "/api/thread", {}, (405, "method", "expected GET, HEAD, got DELETE")),
    ("OPTIONS", "/api/check", {}, (405, "method", "expected POST, got OPTIONS")),
    ("GET", "/api/rules/no-such", {}, (404, "not-found", "no rule is called 'no-such'")),
    ("POST", "/api/parts/show", {"json": {"part": "zzz"}}, (404, "not-found", "no catalog has a part 'zzz'")),
    ("POST", "/api/check", {"content": "{", "headers": _JSON}, (400, "body", "the body of the request is not JSON")),
    ("POST", "/api/check", {"content": "[" * 100_000, "headers": _JSON},
     (400, "body", "There was an error parsing the body")),
    ("POST", "/api/check", {"content": "build: 1", "headers": {"content-type": "text/plain"}},
     (415, "media-type", "expected the header Content-Type: application/json")),
    ("POST", "/api/check", {"json": {}}, (422, "request", "body.build: this is needed")),
    ("POST", "/api/check", {"json": {"build": 1}}, (422, "request", "body.build: expected text, got the number 1")),
    ("POST", "/api/check", {"json": {"build": "build: 1", "colour": 1}},
     (422, "request", "body.colour: nothing of this name is known here")),
    ("POST", "/api/check", {"content": '{"build": "\\ud800"}', "headers": _JSON},
     (422, "request", "body.build: expected text, got text '\\ud800'")),
    ("POST", "/api/check", {"json": {"build": "build: 1", "files": {"../a.yaml": ""}}},
     (422, "request", "body.files.../a.yaml.[key]: expected the path of a file below the build's folder")),
    ("POST", "/api/order", {"content": '{"build": "build: 1", "seconds": NaN}', "headers": _JSON},
     (422, "request", "body.seconds: expected a finite number, got the number nan")),
    ("POST", "/api/order", {"json": {"build": "build: 1"}},
     (422, "request", "the build names no offers: add `offers: [offers.yaml]`, and such a file")),
    ("POST", "/api/swap", {"json": {"build": "build: 1", "swaps": {"x": "y"}}},
     (422, "input", "build.yaml:1:1: nothing here has the tag 'x'")),
    ("GET", "/api/thread", {"params": {"thread": "M10x1", "into": "M10x1", "engagement": "1 km"}},
     (422, "request", "engagement: 'km' is no unit of length; nearest is 'm'; use mm, cm, m, in or ft")),
    ("GET", "/api/identify", {"params": {"pitch": "1mm"}},
     (422, "request", "expected od of an external thread or bore of an internal one")),
    ("POST", "/api/check", {"json": {"build": "build: 1\nname: [a"}},
     (422, "input", "build.yaml:2:9: expected ',' or ']' in the list that begins on line 2")),
)  # fmt: skip


@pytest.mark.parametrize(("method", "path", "said", "expected"), ASKED)
def test_refused(
    client: TestClient, method: str, path: str, said: dict[str, Any], expected: tuple[int, str, str]
) -> None:
    """What cannot be asked or read is told as a problem, in one sentence."""
    assert problem(client.request(method, path, **said)) == expected


def test_places_in_files(client: TestClient) -> None:
    """Everything wrong with the files is told with file, line and column."""
    files = {"house.yaml": "catalog: 1\nparts:\n  a: {kind: teapot}\n"}
    said = {"build": "build: 1\ncatalogs: [house.yaml, none.yaml]\n", "files": files}
    answer = client.post("/api/check", json=said)
    assert answer.json()["problems"] == [
        {"file": "build.yaml", "line": 2, "column": 24, "message": "there is no file none.yaml"}
    ]
    said["build"] = "build: 1\ncatalogs: [house.yaml]\n"
    first = client.post("/api/check", json=said).json()["problems"][0]
    assert (first["file"], first["line"], first["column"]) == ("house.yaml", 3, 13)


def test_allow_header(client: TestClient) -> None:
    """A wrong method is answered with the right ones."""
    assert client.get("/api/check").headers["allow"] == "POST"


def test_too_large(client: TestClient) -> None:
    """A body over the limit is refused, whether it says its length or comes in pieces."""
    expected = (413, "too-large", "a body may have 2097152 bytes")
    text = "x" * (2 * 1024 * 1024)
    assert problem(client.post("/api/check", json={"build": text})) == expected
    pieces = (b"x" * 65536 for _ in range(40))
    assert problem(client.post("/api/check", content=pieces, headers=_JSON)) == expected


@pytest.mark.parametrize(
    ("error", "kind"), [(ValueError("secret"), "fault"), (MemoryError(), "too-long"), (RecursionError(), "request")]
)
def test_faults_of_our_own(monkeypatch: pytest.MonkeyPatch, error: Exception, kind: str) -> None:
    """A fault in an answer is told as one, without a word of what it was."""

    def broken(source: Source, options: Options) -> Answer:
        raise error

    monkeypatch.setattr(worker, "answer_of", lambda path: broken)
    reply = worker.reply_to({"ask": "check", "options": {}}, Shelves())
    assert (reply.status, reply.kind) == (KINDS[kind].status, kind)
    assert b"secret" not in reply.body


def test_fault_of_the_server() -> None:
    """A fault outside of the answering process is status 500, told as a problem, with the headers of safety."""
    with TestClient(create_app(Settings(benches=1)), base_url=AT, raise_server_exceptions=False) as client:
        bench = client.app.state.bench  # type: ignore[attr-defined]
        client.app.state.bench = None  # type: ignore[attr-defined]
        answer = client.post("/api/check", json={"build": "build: 1"})
        client.app.state.bench = bench  # type: ignore[attr-defined]
    assert problem(answer) == (500, "fault", "the request could not be answered; the server's log says more")
    assert answer.headers["x-content-type-options"] == "nosniff"


def test_problem_kinds_stand_in_the_description(client: TestClient) -> None:
    """Every kind of problem is one that the description names."""
    described = client.get("/api/openapi.json").json()["components"]["schemas"]["Problem"]
    assert json.dumps(described["properties"]["type"]["enum"]).count("urn:fitcheck:problem:") == len(KINDS)
