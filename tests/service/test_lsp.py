"""`fitcheck lsp` as an editor meets it: a real process, real messages, texts that are on no disk."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.service.editor_client import Client, applied, client, marked

BUILD = """\
build: 1
name: Wren
catalogs: [house.yaml]
offers: [offers.yaml]
components:
  joiner: {part: tee-3-16-inverted}   # from the drawer
  stop_a: {part: plug-3-8-24-inverted}
  stop_b: {part: plug-m10x1-bubble}
  stop_c: {part: house-plug}
joints:
  - [stop_a.end, joiner.left]
  - [stop_b.end, joiner.right]
  - [stop_c.end, joiner.top]
"""
HOUSE = """\
catalog: 1
parts:
  house-plug:
    kind: plug
    description: Plug with <b>tags</b> & a bell \\u0007
    ports: {end: {thread: 3/8-24 UNF, gender: external, seat: inverted-flare}}
    source: turned on the lathe
"""
OFFERS = """\
offers: 1
suppliers:
  hall: {name: The Hall, currency: GBP}
prices:
  - {part: house-plug, supplier: hall, price: 1.20 GBP, pack: 2}
"""
MISMATCH = "stop_b.end (M10x1) will not start in joiner.right (3/8-24 UNF)"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a catalog and offers; builds in it are only open, never saved."""
    folder = tmp_path_factory.mktemp("car with ä blank")
    (folder / "house.yaml").write_text(HOUSE, encoding="utf-8")
    (folder / "offers.yaml").write_text(OFFERS, encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def server(folder: Path) -> Iterator[Client]:
    """One server for all tests of this file; each opens a file of its own name."""
    with client(folder) as editor:
        yield editor


@pytest.fixture
def path(folder: Path, request: pytest.FixtureRequest) -> Path:
    """A build that is on no disk."""
    return folder / f"{request.node.name.replace('[', '_').rstrip(']')[:60]}.yaml"


def test_findings_of_a_text_that_is_not_saved(server: Client, path: Path) -> None:
    """A finding stands at its place with level, rule, evidence and the other end; what was not checked is told."""
    server.open(path, BUILD)
    told, finding = server.diagnostics(path, 1)
    assert finding["range"] == {"start": {"line": 11, "character": 4}, "end": {"line": 11, "character": 30}}
    assert finding["message"].splitlines()[0] == MISMATCH
    assert (finding["severity"], finding["code"], finding["source"]) == (1, "thread-mismatch", "fitcheck")
    assert [one["message"] for one in finding["relatedInformation"]] == ["joiner.right"]
    assert finding["relatedInformation"][0]["location"]["range"]["start"] == {"line": 5, "character": 2}
    assert told["severity"] == 3
    assert told["message"].endswith("not made: fitcheck check says which field each lacks")
    assert not path.exists()


def test_errors_as_you_type(server: Client, path: Path) -> None:
    """A text that cannot be read has its error at the place, all of them; findings come back with the text."""
    server.open(path, BUILD.replace("components:", "components: ["))
    (error,) = server.diagnostics(path, 1)
    assert error["message"] == "expected ',' or ']' in the list that begins on line 5"
    assert error["range"]["start"] == {"line": 6, "character": 2}
    server.change(path, 2, BUILD.replace("name:", "nme:").replace("part: house-plug", "prt: house-plug"))
    assert [(one["message"], one["range"]["start"]["line"]) for one in server.diagnostics(path, 2)] == [
        ("unknown key 'nme' in a build; nearest is 'name'", 1),
        ("a component needs 'part'", 8),
        ("unknown key 'prt' in a component; nearest is 'part'", 8),
    ]
    server.change(path, 3, BUILD)
    assert any(one["message"].startswith(MISMATCH) for one in server.diagnostics(path, 3))


def test_characters_are_counted_as_the_editor_does(server: Client, path: Path) -> None:
    """Behind a character of two UTF-16 units a place is where the editor sees it."""
    server.open(path, 'build: 1\nname: "\U0001f697"\nbodies: {"\U0001f697": {}, x: 1}\n')
    (error, *_) = (one for one in server.diagnostics(path, 1) if one["message"].startswith("expected a mapping"))
    line = 'bodies: {"\U0001f697": {}, x: 1}'
    assert error["range"]["start"] == {"line": 2, "character": line.index("1}") + 1}


def test_the_newest_text_wins(server: Client, path: Path) -> None:
    """Of many states in a row the last is what stays shown; no answer about an earlier one follows it."""
    server.open(path, BUILD)
    for version in range(2, 30):
        server.change(path, version, BUILD.replace("plug-m10x1-bubble", f"plug-{version}"))
    server.change(path, 30, BUILD.replace("plug-m10x1-bubble", "plug-3-8-24-inverted"))
    assert [one for one in server.diagnostics(path, 30) if one["severity"] == 1] == []
    server.at("hover", path, 0, 0)
    later = [one["params"] for one in server.notes if one.get("params", {}).get("uri") == path.as_uri()]
    assert [one for one in later if one["version"] != 30] == []


def test_an_open_catalog_is_read_as_it_is_typed(server: Client, path: Path, folder: Path) -> None:
    """A build is checked against the text of an open catalog, again whenever that changes, and told of errors in it."""
    house = folder / "house.yaml"
    server.open(path, BUILD.replace("plug-m10x1-bubble", "plug-3-8-24-inverted"))
    assert [one for one in server.diagnostics(path, 1) if one["severity"] == 1] == []
    server.open(house, HOUSE.replace("3/8-24 UNF", "M10x1"))
    assert any(one.get("code") == "thread-mismatch" for one in server.diagnostics(path))
    server.change(house, 2, HOUSE.replace("gender: external", "gender: both"))
    (error,) = server.diagnostics(house, 2)
    assert error["message"] == "'both' is no gender; write external or internal"
    server.send("textDocument/didClose", {"textDocument": {"uri": house.as_uri()}})


@pytest.mark.parametrize(
    ("line", "some", "none"),
    [
        ("  extra: {part: tee-m10|}", ["tee-m10x1-bubble"], ["nut-m10x1-bubble", "tee-3-16-inverted"]),
        ("  extra: {part: house|}", ["house-plug"], []),
        ("  extra: {p|}", ["part"], ["fluid"]),
        ("  extra:\n    |", ["part", "at", "on", "note"], ["tube"]),
        ("lines:\n  new: {from: joiner.|", ["joiner.left", "joiner.right", "joiner.top"], ["stop_a.end"]),
        ("lines:\n  new: {from: stop|", ["stop_a.end", "stop_c.end"], ["joiner.left"]),
        ("lines:\n  new: {from: joiner.left, tube: |", ["tube-3-16-cuni"], ["tee-3-16-inverted"]),
        ("lines:\n  new: {ends: {from: {flare: |", ["double-45", "bubble", "single-37"], ["inverted-flare"]),
        ("lines:\n  new: {ends: {from: {nut: nut m10|", ["nut-m10x1-bubble"], ["nut-3-8-24-inverted"]),
        ("fluid: |", ["DOT 4", "mineral oil"], []),
        ("coordinates: |", ["mm", "cm", "m", "in"], []),
        ("ci|", ["circuits"], ["name", "components"]),
        ("accept:\n  - {rule: seat|", ["seat-mismatch"], ["dead-end"]),
        ("accept:\n  - {rule: seat-mismatch, at: |", ["joiner", "stop_a"], []),
    ],
)
def test_completion(server: Client, path: Path, line: str, some: list[str], none: list[str]) -> None:
    """At each place that takes a name or a word those are offered that may stand there, although the file is broken."""
    head, _, tail = BUILD.partition("joints:")
    text, row, character = marked(f"{head}{line}\njoints:{tail}" if line[0] == " " else f"{BUILD}{line}\n")
    server.open(path, text)
    found = server.at("completion", path, row, character)
    labels = [item["label"] for item in found["items"]]
    assert [word for word in some if word not in labels] == []
    assert [word for word in none if word in labels] == []


def test_a_choice_replaces_the_whole_word(server: Client, path: Path) -> None:
    """Taking a choice in the middle of a word leaves nothing of the old one, and the answer says what it is."""
    text, row, character = marked(BUILD.replace("joiner.right", "joiner.ri|ght"))
    server.open(path, text)
    (item,) = server.at("completion", path, row, character)["items"]
    assert item["detail"] == "3/8-24 UNF internal, inverted-flare, 3/16 in tube; named already"
    assert applied(text, [item["textEdit"]]) == text


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            BUILD.replace("house-plug}", "house-|plug}"),
            "house-plug: plug, from house.yaml\n"
            "Plug with <b>tags</b> & a bell \\u0007\n"
            "end: 3/8-24 UNF external, inverted-flare\n"
            "ends: end\n"
            "source: turned on the lathe\n"
            "price: 1.20 GBP for 2, The Hall",
        ),
        (
            BUILD.replace("joiner.right", "joiner.ri|ght"),
            "joiner.right: 3/8-24 UNF internal, inverted-flare, 3/16 in tube\n"
            "joiner: tee-3-16-inverted, Tee, 3/8-24 inverted flare, for 3/16 in tube",
        ),
        (BUILD.replace("catalogs", "cata|logs"), "catalogs: Catalog files, searched first to last."),
    ],
)
def test_hover(server: Client, path: Path, text: str, said: str) -> None:
    """A part is told with ports, figures, source and price, a port and a key with what they are: plain text."""
    text, row, character = marked(text)
    server.open(path, text)
    found = server.at("hover", path, row, character)
    assert found["contents"] == {"kind": "plaintext", "value": said}


def test_hover_over_nothing(server: Client, path: Path) -> None:
    """A comment has no answer."""
    server.open(path, BUILD)
    assert server.at("hover", path, 5, 44) is None


@pytest.mark.parametrize("name", ["house.yaml", "nowhere.yaml"])
def test_files_that_are_not_open(server: Client, folder: Path, name: str) -> None:
    """A question about a file that the editor has not opened has no answer, and is no fault."""
    assert server.at("hover", folder / name, 0, 1) is None
    assert server.at("definition", folder / name, 0, 1) is None
    assert server.at("completion", folder / name, 0, 1) == {"isIncomplete": False, "items": []}


def test_definition(server: Client, path: Path, folder: Path) -> None:
    """A reference leads to its tag, a part to the catalog that has it, one of the generic catalog nowhere."""
    server.open(path, BUILD)
    found = server.at("definition", path, 11, 20)
    assert (found["uri"], found["range"]["start"]) == (path.as_uri(), {"line": 5, "character": 2})
    found = server.at("definition", path, 8, 20)
    assert (found["uri"], found["range"]["start"]) == ((folder / "house.yaml").as_uri(), {"line": 2, "character": 2})
    assert server.at("definition", path, 6, 20) is None


def test_remedies_are_edits_that_cure(server: Client, path: Path) -> None:
    """The remedies of a finding are exact edits, the best preferred; made, the finding is gone and comments stay."""
    server.open(path, BUILD)
    finding = next(one for one in server.diagnostics(path, 1) if one["severity"] == 1)
    context = {"diagnostics": [finding]}
    asked = {"textDocument": {"uri": path.as_uri()}, "range": finding["range"], "context": context}
    found = server.ask("textDocument/codeAction", asked)
    assert found[0]["title"] == "thread-mismatch: exchange stop_b for plug-3-8-24-inverted"
    assert [action["isPreferred"] for action in found] == [True] + [False] * (len(found) - 1)
    assert found[0]["diagnostics"] == [finding]
    (change,) = found[0]["edit"]["documentChanges"]
    assert change["textDocument"] == {"uri": path.as_uri(), "version": 1}
    cured = applied(BUILD, change["edits"])
    assert cured == BUILD.replace("plug-m10x1-bubble", "plug-3-8-24-inverted")
    server.change(path, 2, cured)
    assert [one for one in server.diagnostics(path, 2) if one["severity"] == 1] == []


def test_files_of_others_are_left_alone(server: Client, path: Path) -> None:
    """A YAML file that is none of ours has nothing shown in it, broken or not, and no choices."""
    server.open(path, "services: [web\n")
    assert server.diagnostics(path, 1) == []
    assert server.at("completion", path, 0, 3)["items"] == []


def test_a_closed_file_is_shown_nothing_in(server: Client, path: Path) -> None:
    """What was shown in a file is taken back when it is closed."""
    server.open(path, BUILD)
    assert server.diagnostics(path, 1) != []
    server.send("textDocument/didClose", {"textDocument": {"uri": path.as_uri()}})
    assert server.diagnostics(path) == []
