"""The JSON Schemas: valid, complete, current, and in step with what the program reads."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from fitcheck.reports.schemas import schema, schema_texts

ROOT = Path(__file__).parents[1]
KINDS = ("build", "catalog", "offers", "stock")


class CoreLoader(yaml.SafeLoader):
    """Reads scalars as YAML 1.2 does: `on` and `no` are text; only `true` and `false` are truth values."""


CoreLoader.yaml_implicit_resolvers = {
    first: [(tag, pattern) for tag, pattern in resolvers if tag != "tag:yaml.org,2002:bool" or first in "tTfF"]
    for first, resolvers in yaml.SafeLoader.yaml_implicit_resolvers.items()
}


def properties(node: Any, path: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield every property of a schema with its path."""
    if isinstance(node, dict):
        for name, value in node.get("properties", {}).items():
            yield f"{path}.{name}", value
        for key, value in node.items():
            yield from properties(value, f"{path}/{key}")
    elif isinstance(node, list):
        for index, value in enumerate(node):
            yield from properties(value, f"{path}/{index}")


@pytest.mark.parametrize("kind", KINDS)
def test_schema_is_valid_2020_12(kind: str) -> None:
    """Each schema is itself valid under the JSON Schema 2020-12 meta-schema, and says so."""
    made = schema(kind)
    assert made["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    jsonschema.Draft202012Validator.check_schema(made)


@pytest.mark.parametrize("kind", KINDS)
def test_every_key_is_explained(kind: str) -> None:
    """An editor can explain every key: it has a description, or is a reference to something that has."""
    made = schema(kind)
    bare = [path for path, value in properties(made) if "description" not in value and "$ref" not in value]
    assert bare == []
    assert all("description" in definition for definition in made.get("$defs", {}).values())


def test_files_on_disk_are_current() -> None:
    """`catalog_schema/` holds exactly what the models say now."""
    for name, text in schema_texts().items():
        assert (ROOT / "catalog_schema" / name).read_text(encoding="utf-8") == text, name


@pytest.mark.parametrize(("kind", "file"), [("build", "build.yaml"), ("catalog", "house_parts.yaml")])
def test_demo_is_valid_for_an_editor(kind: str, file: str) -> None:
    """An editor that reads YAML its own way, with numbers as numbers, has nothing to say about the demo."""
    data = yaml.load((ROOT / "demo_vehicle" / file).read_text(encoding="utf-8"), CoreLoader)
    errors = list(jsonschema.Draft202012Validator(schema(kind)).iter_errors(data))
    assert [(list(error.path), error.message) for error in errors] == []


@pytest.mark.parametrize(
    ("kind", "data"),
    [
        ("build", {"build": 1, "componentss": {}}),
        ("build", {"build": 1, "lines": {"a": {"from": "b.c", "to": "d.e"}}}),
        ("build", {"build": 1, "lines": {"a": {"from": "bc", "to": "d.e", "tube": "t"}}}),
        ("build", {"build": 1, "panels": {"a": {"hole": "12"}}}),
        ("build", {"build": 2}),
        ("catalog", {"catalog": 1, "parts": {"a": {"kind": "contraption"}}}),
        ("catalog", {"catalog": 1, "parts": {"a": {"kind": "tee", "ports": {"x": {"seat": "bubbel"}}}}}),
        ("offers", {"offers": 1}),
        ("stock", {"stock": 1, "shelf": [{}]}),
    ],
)
def test_editor_underlines_what_the_program_refuses(kind: str, data: Any) -> None:
    """What the program would refuse, the schema refuses as well."""
    assert list(jsonschema.Draft202012Validator(schema(kind)).iter_errors(data)) != []
