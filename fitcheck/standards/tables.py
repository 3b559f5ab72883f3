"""The standards' own tables: YAML data with source, edition and unit, read when first asked for.

People read and change the YAML. Beside it lies an index of all tables as they come out of it, which is much faster to
read; each table in it tells the checksum of the text that it was made from, so that a changed text is read itself.
`python -m fitcheck.standards` writes the index anew.
"""

from functools import cache
from pathlib import Path
from typing import Any, Final
from zlib import crc32

from fitcheck.errors import FitcheckError
from fitcheck.sources import Mapping, Sequence, read

DATA: Final = Path(__file__).with_name("data")
INDEX: Final = DATA / "index.json"
"""The generated index that ships."""


class TableError(FitcheckError, LookupError):
    """A table that does not exist, or does not say where its figures come from."""


@cache
def load(name: str) -> dict[str, Any]:
    """Return the table `fitcheck/standards/data/NAME.yaml` as plain dicts and lists, every scalar as text.

    Raises:
        TableError: there is no such table, or its top has no `source`.
        InputError: it is not plain YAML.
    """
    path = DATA / f"{name}.yaml"
    if not path.is_file():
        raise TableError(f"no table is called {name!r}")
    made_from, indexed = _index().get(name, (None, {}))
    return indexed if made_from == crc32(path.read_bytes()) else from_text(name)


def from_text(name: str) -> dict[str, Any]:
    """Do what `load` does, for a table whose file exists, by its text alone.

    Raises:
        TableError: its top has no `source`.
        InputError: it is not plain YAML.
    """
    root = _plain(read(DATA / f"{name}.yaml").root)
    if not (isinstance(root, dict) and root.get("source")):
        raise TableError(f"the table {name!r} does not state its source")
    return root


@cache
def _index() -> dict[str, tuple[int, dict[str, Any]]]:
    """Return each table by its name with the checksum of its text; empty where no index has been written."""
    import json

    found: dict[str, tuple[int, dict[str, Any]]] = json.loads(INDEX.read_bytes()) if INDEX.is_file() else {}
    return found


def _plain(node: Any) -> Any:
    if isinstance(node, Mapping):
        return {key: _plain(value) for key, value in node.items()}
    if isinstance(node, Sequence):
        return [_plain(item) for item in node]
    return node
