"""The page for developers is true where a program can see it: rooms, dependencies, exit codes, files that it names."""

import re
import tomllib
from pathlib import Path

from fitcheck.cli.main import VERBS

ROOT = Path(__file__).parents[1]
PAGE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))


def first_cells(heading: str) -> list[str]:
    """Return the first column of the table under a heading, without the table's own head."""
    found = re.search(rf"^##+ {re.escape(heading)}\n(.*?)(?=^##|\Z)", PAGE, re.DOTALL | re.MULTILINE)
    assert found is not None, heading
    return [line.split("|")[1].strip() for line in found[1].splitlines() if line.startswith("|")][2:]


def test_rooms_are_the_layers_in_their_order() -> None:
    """The table of rooms names every layer of the import contract once, from the top down."""
    contract = PROJECT["tool"]["importlinter"]["contracts"][0]
    layers = [name for layer in contract["layers"] for name in layer.split(" | ")]
    assert [name for cell in first_cells("The house") for name in re.findall(r"`(\w+)`", cell)] == layers


def test_every_dependency_has_its_reason() -> None:
    """Each package that the project asks for, extras included, stands in the table once, and no other does."""
    extras = PROJECT["project"]["optional-dependencies"]
    asked = {*PROJECT["project"]["dependencies"], *(one for extra in extras.values() for one in extra)}
    names = {re.split(r"[<>=]", one)[0].lower() for one in asked}
    cells = [re.sub(r" \(extra `\w+`\)", "", cell) for cell in first_cells("Dependencies, and why")]
    assert sorted(name.lower() for cell in cells for name in cell.split(", ")) == sorted(names)


def test_every_verb_has_its_exit_code() -> None:
    """The table of exit codes says of each verb what 1 means."""
    named = [verb for cell in first_cells("Exit codes") for verb in re.findall(r"`(\w+)", cell)]
    assert sorted(named) == sorted(VERBS)


def test_files_that_it_names_are_there() -> None:
    """Each Python or data file that the page names is in the program or in the tests; FAMILY stands for any."""
    files = [
        f"/{path.relative_to(ROOT).as_posix()}" for room in ("fitcheck", "tests") for path in ROOT.glob(f"{room}/**/*")
    ]
    named = re.findall(r"`([a-z_/0-9]+\.(?:py|json|yaml))`", PAGE)
    assert named
    assert [name for name in named if not any(file.endswith(f"/{name}") for file in files)] == []
