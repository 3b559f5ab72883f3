"""A server that cannot answer just now is not a build that cannot be read."""

from itertools import count
from typing import Any

import pytest
from starlette.testclient import TestClient

from fitcheck.service.bench import Told
from fitcheck.service.problems import MEDIA_TYPE, RefusedError, problem_json
from tests.service.page.conftest import Served

LONG = "the answer takes longer than 30 s, the most that one request may take"
BUSY = "64 requests are waiting already; try again in a moment"
NEW = count()
MEMORY = "the answer needs more memory than one request may take"


def _refusing(served: Served, monkeypatch: pytest.MonkeyPatch, refusal: RefusedError | Told | OSError) -> None:
    """Let no question be answered from here on; the files are new, so that no answer is kept."""

    async def ask(said: Any, gone: Any = None, *, few: bool = False) -> Told:
        if isinstance(refusal, Told):
            return refusal
        raise refusal

    assert isinstance(served.client, TestClient)
    monkeypatch.setattr(served.client.app.state.bench, "ask", ask)  # type: ignore[attr-defined]
    served.build.write_text(served.build.read_text() + f"# new {next(NEW)}\n")


@pytest.mark.parametrize(
    ("refusal", "why"),
    [
        (RefusedError("busy", BUSY, retry=1), "64 requests are waiting already; try again in a moment."),
        (RefusedError("too-long", LONG), "The answer takes longer than 30 s, the most that one request may take."),
        (
            Told(503, None, MEDIA_TYPE, problem_json("too-long", MEMORY)),
            "The answer needs more memory than one request may take.",
        ),
        (
            Told(500, None, MEDIA_TYPE, problem_json("fault", "the server's log says more")),
            "The server&#39;s log says more.",
        ),
        (OSError("no memory"), "No process could be started to answer; the server&#39;s log says more."),
    ],
)
def test_said(served: Served, monkeypatch: pytest.MonkeyPatch, refusal: Any, why: str) -> None:
    """The page says why there is no answer and how to ask again, and blames no file; asked again it is all there."""
    with monkeypatch.context() as patch:
        _refusing(served, patch, refusal)
        answer = served.client.get("/?at=tee_axle")
        assert answer.status_code == 200
        assert '<a class="count error" href="#findings">not checked: the server did not answer</a>' in answer.text
        told = f"<b>The server did not answer this.</b> {why} "
        again = '<a class="button" href="/?at=tee_axle" data-again="1">Ask again</a>'
        assert answer.text.count(f"{told}{again}") >= 6  # findings, drawing, bill, sheets, pedal, panel
        assert "cannot be read" not in answer.text
        assert served.build.read_text().splitlines()[-1] in answer.text
    assert "Dunlin: 10 errors" in served.client.get("/?at=tee_axle").text


def test_change_not_accepted(served: Served, monkeypatch: pytest.MonkeyPatch) -> None:
    """A change that the server could not work out is not written, and the page says why."""
    _refusing(served, monkeypatch, RefusedError("busy", BUSY, retry=1))
    before = served.build.read_bytes()
    fields = {**served.fields(), "file": "", "tag": "tee_axle", "part": "tee-axle-bubble"}
    answer = served.post("/page/accept", fields)
    assert answer.status_code == 503
    assert "<b>Nothing was written.</b> 64 requests are waiting already; try again in a moment." in answer.text
    assert served.build.read_bytes() == before


def test_fault_of_a_file_stays_one(served: Served) -> None:
    """A build that cannot be read is still told as such, at its line."""
    served.build.write_text(served.build.read_text().replace("mass: 690 kg", "mass: 690"))
    answer = served.client.get("/")
    assert '<a class="count error" href="#editor">the build cannot be read</a>' in answer.text
    assert "The server did not answer" not in answer.text
