"""The standards' own tables: YAML data with source, edition and unit, read when first asked for."""

from functools import cache
from pathlib import Path
from typing import Any

from fitcheck.errors import FitcheckError
from fitcheck.sources import Mapping, Sequence, read


class TableError(FitcheckError, LookupError):
    """A table that does not exist, or does not say where its figures come from."""


@cache
def load(name: str) -> dict[str, Any]:
    """Return the table `fitcheck/standards/data/NAME.yaml` as plain dicts and lists, every scalar as text.

    Raises:
        TableError: there is no such table, or its top has no `source`.
        InputError: it is not plain YAML.
    """
    path = Path(__file__).with_name("data") / f"{name}.yaml"
    if not path.is_file():
        raise TableError(f"no table is called {name!r}")
    root = _plain(read(path).root)
    if not (isinstance(root, dict) and root.get("source")):
        raise TableError(f"the table {name!r} does not state its source")
    return root


def _plain(node: Any) -> Any:
    if isinstance(node, Mapping):
        return {key: _plain(value) for key, value in node.items()}
    if isinstance(node, Sequence):
        return [_plain(item) for item in node]
    return node
