"""JSON Schemas of the files that users write, generated from the models (JSON Schema 2020-12)."""

import json
from typing import Any

from pydantic import BaseModel
from pydantic.json_schema import GenerateJsonSchema

from fitcheck.build.model import BuildFile
from fitcheck.catalog.entries import CatalogFile
from fitcheck.catalog.offer_file import OfferFile
from fitcheck.catalog.stock_file import StockFile

_FILES: dict[str, tuple[type[BaseModel], str]] = {
    "build": (BuildFile, "A build file of fitcheck: one vehicle's fluid system"),
    "catalog": (CatalogFile, "A catalog file of fitcheck: parts that can be bought"),
    "offers": (OfferFile, "An offers file of fitcheck: what suppliers ask"),
    "stock": (StockFile, "A stock file of fitcheck: what is on the shelf"),
}


def schema(kind: str) -> dict[str, Any]:
    """Return the JSON Schema of one kind of file: `build`, `catalog`, `offers` or `stock`."""
    model, title = _FILES[kind]
    made = model.model_json_schema(by_alias=True, mode="validation")
    head = {
        "$schema": GenerateJsonSchema.schema_dialect,
        "$id": f"urn:fitcheck:{kind}:1",
        "title": title,
    }
    return head | {key: value for key, value in made.items() if key != "title"}


def schema_texts() -> dict[str, str]:
    """Return the text of every schema file, by file name."""
    return {f"{kind}.schema.json": json.dumps(schema(kind), indent=2, ensure_ascii=False) + "\n" for kind in _FILES}
