"""Writing by the page's forms: who may, what is written byte for byte, and what is never overwritten."""

import pytest

from tests.service.page.conftest import AT, Served

PROBLEM = "application/problem+json"


@pytest.mark.parametrize("path", ["/page/text", "/page/accept", "/page/undo", "/page/redo", "/page/look"])
@pytest.mark.parametrize(
    "headers",
    [{}, {"Origin": "http://evil.example"}, {"Origin": "null"}, {"Origin": AT, "Sec-Fetch-Site": "cross-site"}],
)
def test_other_sites_cannot_write(served: Served, path: str, headers: dict[str, str]) -> None:
    """A form of another site, or of who knows where, is refused before anything is read from it."""
    before = served.build.read_bytes()
    fields = served.fields(text="build: 1\n")
    answer = served.client.post(path, data=fields, headers=headers)
    assert (answer.status_code, answer.headers["content-type"]) == (403, PROBLEM)
    assert served.build.read_bytes() == before


def test_seal_is_needed(served: Served) -> None:
    """A form without this server's seal is refused, wherever it says that it comes from."""
    before = served.build.read_bytes()
    for seal in ("", "0" * 64):
        answer = served.post("/page/text", served.fields(text="build: 1\n", seal=seal))
        assert answer.status_code == 403
        assert answer.json()["detail"] == "the form is not one of this page, or an old one: load the page again"
    assert served.build.read_bytes() == before


def test_saved_exactly(served: Served) -> None:
    """A text is written as it was typed; the line ends of browsers become the file's."""
    before = served.build.read_bytes()
    typed = before.decode().replace("name: Dunlin", "name: Dünlin").replace("\n", "\r\n")
    answer = served.post("/page/text", served.fields(text=typed), follow_redirects=False)
    assert (answer.status_code, answer.headers["location"]) == (303, "/?file=build.yaml#notice")
    assert served.build.read_bytes() == before.replace(b"name: Dunlin", "name: Dünlin".encode())


def test_line_ends_stay(served: Served) -> None:
    """Each line that was not touched keeps its end, in a file that mixes them."""
    mixed = (
        served.build.read_bytes()
        .replace(b"build: 1\n", b"build: 1\r\n")
        .replace(b"fluid: DOT 4\n", b"fluid: DOT 4\r\n")
    )
    served.build.write_bytes(mixed)
    typed = mixed.decode().replace("\r\n", "\n").replace("name: Dunlin", "name: Dunnock").replace("\n", "\r\n")
    served.post("/page/text", served.fields(text=typed))
    assert served.build.read_bytes() == mixed.replace(b"name: Dunlin", b"name: Dunnock")


def test_never_overwritten(served: Served) -> None:
    """A file that is not what the page showed is left as it is; the answer has both versions."""
    fields = served.fields(text="build: 1\nname: mine\n")
    there = served.build.read_bytes() + b"# theirs\n"
    served.build.write_bytes(there)
    answer = served.post("/page/text", fields)
    assert answer.status_code == 409
    assert "<b>Nothing was written.</b>" in answer.text
    assert "+ # theirs" in answer.text
    assert "+ name: mine" in answer.text
    assert served.build.read_bytes() == there


def test_only_files_of_the_build(served: Served) -> None:
    """No other file is shown or written, whatever a form says."""
    (served.folder / "other.yaml").write_text("mine: 1\n")
    for file in ("other.yaml", "../other.yaml", "/etc/passwd", "build.yaml/../other.yaml"):
        answer = served.post("/page/text", served.fields(text="x: 1\n", file=file))
        assert answer.status_code == 404
        assert "mine: 1" not in served.client.get("/", params={"file": file}).text
    assert (served.folder / "other.yaml").read_text() == "mine: 1\n"


def test_undo_in_order(served: Served) -> None:
    """Accepted changes are undone latest first; a new change ends what could be done again."""
    texts = [served.build.read_text()]
    for name in ("one", "two"):
        texts.append(texts[-1] + f"# {name}\n")
        served.post("/page/text", served.fields(text=texts[-1]))
    for text in (texts[1], texts[0]):
        served.post("/page/undo", served.fields())
        assert served.build.read_text() == text
    served.post("/page/redo", served.fields())
    assert served.build.read_text() == texts[1]
    served.post("/page/text", served.fields(text=texts[1] + "# three\n"))
    served.post("/page/redo", served.fields())
    assert served.build.read_text() == texts[1] + "# three\n"


def test_change_that_cannot_be_made(served: Served) -> None:
    """A change of nowhere is told, and nothing is written."""
    before = served.build.read_bytes()
    was = served.fields()["was"]
    for change in (
        {"tag": "nobody", "part": "mc-19"},
        {"tag": "mc_front", "part": "nothing"},
        {"changes": "[1]"},
        {"changes": '[{"change": "put", "path": ["components", "mc_front", "part", "x"], "value": "y"}]'},
        {"changes": '[{"change": "put", "path": [], "value": "y"}]'},
        {"changes": '[{"change": "put", "path": ["name"], "value": 5}]'},
        {"changes": "[" * 5000},
    ):
        answer = served.post("/page/accept", {**served.fields(), "was": was, "file": "", **change})
        assert answer.status_code == 422
        assert 'class="box alert"' in answer.text
    assert served.build.read_bytes() == before


def test_look(served: Served) -> None:
    """What is being written is answered with its errors, or with its findings, each with line and column."""
    text = served.build.read_text()
    fine = served.post("/page/look", served.fields(text=text)).json()
    assert fine["problems"] == []
    assert {"line": 63, "column": 5, "level": "error", "message": "caliper_fl.inlet needs 2 washers, 1 stated"} in fine[
        "marks"
    ]
    wrong = served.post("/page/look", served.fields(text=text.replace("mass: 690 kg", "mass: 690"))).json()
    line = 1 + text[: text.index("mass: 690 kg")].count("\n")
    assert [(each["file"], each["line"], each["column"]) for each in wrong["problems"]] == [("build.yaml", line, 9)]
