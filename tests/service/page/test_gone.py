"""A served build that is not there, or cannot be read: the page says so, and is the build's again once it is back."""

import pytest

from fitcheck.service.folder import Folder
from fitcheck.service.page.history import History
from fitcheck.trees import InputError, Problem
from tests.service.page.conftest import Served

STATE = "/page/state"


def test_deleted(served: Served) -> None:
    """A build that was deleted or renamed is told on a page, and shown once it is back."""
    aside = served.build.rename(served.folder / "aside.yaml")
    answer = served.client.get("/?at=tee_axle")
    assert (answer.status_code, answer.headers["content-type"]) == (404, "text/html; charset=utf-8")
    assert (
        "<b>The build is not there:</b> there is no file build.yaml in the served folder. It may have been"
        in answer.text
    )
    assert '<noscript><meta http-equiv="refresh" content="5"></noscript>' in answer.text
    assert served.client.get(STATE).json() == {"key": "", "gone": "there is no file build.yaml in the served folder"}
    aside.rename(served.build)
    assert "<h1>Dunlin</h1>" in served.client.get("/").text
    assert set(served.client.get(STATE).json()) == {"key"}


def test_not_utf_8(served: Served) -> None:
    """A build that is not UTF-8 any more is told with the line and the column of the first byte that is not."""
    before = served.build.read_bytes()
    served.build.write_bytes(before.replace(b"name: Dunlin", b"name: D\xfcnlin"))
    line = before[: before.index(b"name: Dunlin")].count(b"\n") + 1
    told = f"build.yaml, line {line}, column 8: byte 0xFC is not UTF-8; save the file as UTF-8"
    answer = served.client.get("/")
    assert (answer.status_code, told in answer.text) == (422, True)
    assert "<b>The build cannot be read:</b>" in answer.text
    said = served.client.get("/api/served/file", params={"path": "build.yaml"})
    assert (said.status_code, said.json()["problems"]) == (
        422,
        [
            {
                "file": "build.yaml",
                "line": line,
                "column": 8,
                "message": "byte 0xFC is not UTF-8; save the file as UTF-8",
            }
        ],
    )
    served.build.write_bytes(before)
    assert served.client.get("/").status_code == 200


@pytest.mark.parametrize("path", ["/page/text", "/page/accept", "/page/undo", "/page/redo"])
def test_forms(served: Served, path: str) -> None:
    """A form that comes when the build is gone writes nothing; what was typed is given back to be copied."""
    fields = served.fields(text='build: 1\nname: "<mine>"\n')
    served.build.unlink()
    answer = served.post(path, fields)
    assert answer.status_code == 404
    assert not served.build.exists()
    assert "<b>Nothing was written.</b> This is your text; copy it before you leave this page:" in answer.text
    assert "\nbuild: 1\nname: &#34;&lt;mine&gt;&#34;\n</textarea>" in answer.text
    assert "refresh" not in answer.text


def test_parts_for_the_script(served: Served) -> None:
    """The script, which keeps the page that is open, is told as data."""
    served.build.unlink()
    answer = served.client.get("/", headers={"Fitcheck-Parts": "panel"})
    assert (answer.status_code, answer.json()["detail"]) == (404, "there is no file build.yaml in the served folder")


def test_cannot_be_written(served: Served, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file that cannot be written is told on the page, with what was typed in the text."""

    def refuse(self: Folder, path: str, text: str) -> None:
        raise InputError((Problem(path, 1, 1, "cannot be written: the disk is full"),))

    monkeypatch.setattr(Folder, "put", refuse)
    answer = served.post("/page/text", served.fields(text="build: 1\nname: mine\n"))
    assert answer.status_code == 422
    assert "<b>Nothing was written.</b> build.yaml:1:1: cannot be written: the disk is full." in answer.text
    assert "\nbuild: 1\nname: mine\n</textarea>" in answer.text


def test_version_not_kept(served: Served, monkeypatch: pytest.MonkeyPatch) -> None:
    """What has fallen out of what is kept cannot be undone, and the page says so."""
    served.post("/page/text", served.fields(text=served.build.read_text() + "# more\n"))
    assert served.client.get("/").text.count("Undo<small>: edit build.yaml") == 1
    monkeypatch.setattr(History, "version", lambda self, name: None)
    there = served.build.read_bytes()
    answer = served.post("/page/undo", served.fields())
    assert answer.status_code == 422
    assert "<b>Nothing was written.</b> What build.yaml was then is not kept any more." in answer.text
    assert served.build.read_bytes() == there
