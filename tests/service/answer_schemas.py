"""JSON Schemas of the API's answers, made from real answers: `python -m tests.service.answer_schemas` writes them.

What is seen in the answers to many builds (the demo, its variants, the examples of every rule) is put together: a key
that every answer has is required, a value may have each of the types that it was seen with. What is not known is null,
so that any text or number may be, but for those that are always said. Nothing else is forbidden.
"""

import json
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any, Final, NamedTuple

from fitcheck.checks.register import pages
from fitcheck.files import SUFFIXES
from fitcheck.service.answers.source import Shelves
from fitcheck.service.documents import ANSWERS
from fitcheck.service.questions import QUESTIONS
from fitcheck.service.worker import reply_to

DEMO: Final = Path(__file__).parents[2] / "demo_vehicle"
_OPEN: Final = frozenset(("evidence", "kinds", "unknown", "checked", "figure_sources", "differs", "sections"))
"""Keys whose values are mappings from anything to anything: their own keys say nothing of the next answer."""
_SURE: Final = frozenset(("build", "caution", "column", "file", "kind", "level", "line", "message", "rule", "unit"))
"""Keys whose values are never null where they were never seen to be."""
_ON: Final = "2026-12-01"


class Sample(NamedTuple):
    """A question, as the process that answers is handed it."""

    question: str
    place: dict[str, Any]
    options: dict[str, Any]


@cache
def places() -> tuple[dict[str, Any], ...]:
    """Return builds to ask about: the demo and its variants, and the examples of every rule."""
    demo = {path.name: path.read_text(encoding="utf-8") for path in sorted(DEMO.iterdir()) if path.suffix in SUFFIXES}
    found: list[dict[str, Any]] = [{"texts": demo, "path": "build.yaml", "variant": None}]
    found += [{"texts": demo, "path": "build.yaml", "variant": name} for name in ("as_corrected",)]
    for page in pages():
        for text in (page.fails, page.passes):
            texts = {"build.yaml": text, **({"house.yaml": page.catalog} if page.catalog else {})}
            found.append({"texts": texts, "path": "build.yaml", "variant": None})
    return tuple(found)


def samples() -> Iterator[Sample]:
    """Yield the questions whose answers the schemas are made from."""
    yield from _of_builds()
    yield from _of_ends_and_parts()
    yield from _of_threads()


def _of_builds() -> Iterator[Sample]:
    for place in places():
        for name in ("check", "bom", "make", "pedal", "bleed"):
            yield Sample(name, place, _options(name) | ({"on": _ON} if name == "bleed" else {}))
    demo, corrected = places()[:2]
    for place in (demo, corrected):
        yield Sample("cure", place, _options("cure"))
        for aim in ("cheapest", "soonest", "trade-off"):
            yield Sample("order", place, _options("order", aim=aim, on=_ON))
        for tag in ("caliper_fl", "mc_front", "tee_front", "front_feed", "hose_fr"):
            yield Sample("replacements", place, _options("replacements", tag=tag))
    yield Sample("cure", demo, _options("cure", text=True))
    yield Sample("make", demo, _options("make", holes=True))
    yield Sample("pedal", demo, _options("pedal", against="as_corrected"))
    for tag, part in (("caliper_fl", "caliper-m10x1-washer"), ("tee_front", "tee-m10x1-bubble")):
        yield Sample("swap", demo, _options("swap", swaps={tag: part}, on=_ON, text=True))


def _of_ends_and_parts() -> Iterator[Sample]:
    demo = places()[0]
    ends = (("M10x1 internal bubble 4.75 mm", "1/8 NPT female"), ("3/16 in tube", "M10x1 internal bubble 4.75 mm"))
    for first, second in (*ends, ("hose 8 mm", "1/8 NPT female")):
        yield Sample("bridge", {}, _options("bridge", first=first, second=second, explain=True))
    for first, second in ends:
        yield Sample("bridge", demo, _options("bridge", first=first, second=second, pressure="10 MPa"))
    for words in (["tee"], ["no", "such", "thing"], ["m10"]):
        yield Sample("parts/search", {}, _options("parts/search", words=words))
    for part in ("tee-3-16-inverted", "tube-3-16-cuni", "mc-3-8-24-inverted", "banjo-bolt-m10x1"):
        yield Sample("parts/show", {}, _options("parts/show", part=part))


def _of_threads() -> Iterator[Sample]:
    for thread in ("M10x1", "3/8-24 UNF", "1/8 NPT", "G 1/8"):
        yield Sample("thread", {}, _options("thread", thread=thread))
        for into in ("M10x1", "3/8-24 UNF", "1/8 NPT"):
            yield Sample("thread", {}, _options("thread", thread=thread, into=into, reverse=True, explain=True))
    for options in ({"od": "9.4 mm", "pitch": "24tpi"}, {"bore": "8.6 mm", "pitch": "1mm", "tube": "3/16 in"}):
        yield Sample("identify", {}, _options("identify", **options))
    yield Sample("identify", {}, _options("identify", od="44 mm", pitch="0.3mm"))
    yield Sample("rules", {}, {"name": None})


def _options(question: str, **said: Any) -> dict[str, Any]:
    return QUESTIONS[question].options.model_validate(said or {}).model_dump()


@cache
def answers() -> tuple[tuple[str, Any], ...]:
    """Return the name of each question and its answer."""
    shelves = Shelves()
    found = []
    for sample in samples():
        reply = reply_to({"ask": sample.question, **sample.place, "options": sample.options}, shelves)
        assert not reply.kind, (sample, reply.body)
        found.append((sample.question.replace("/", "_"), json.loads(reply.body)))
    return tuple(found)


def schemas() -> dict[str, Any]:
    """Return the JSON Schema of each answer, by the name of its question."""
    seen: dict[str, list[Any]] = {}
    for name, value in answers():
        seen.setdefault(name, []).append(value)
    return {name: _schema(values) for name, values in sorted(seen.items())}


def text() -> str:
    """Return what is to stand in the file of schemas."""
    lines = (f"{json.dumps(name)}: {json.dumps(schema)}" for name, schema in schemas().items())
    return "{\n" + ",\n".join(lines) + "\n}\n"


def _schema(values: list[Any], key: str = "") -> dict[str, Any]:
    """Return the schema of values that stand at one place of many answers."""
    kinds = sorted({_kind(value) for value in values})
    if "number" in kinds and "integer" in kinds:
        kinds.remove("integer")
    if kinds == ["null"] or not kinds:
        return {}  # never seen filled: nothing can be said of it
    if key and key not in _SURE and kinds[0] in ("integer", "number", "string") and "null" not in kinds:
        kinds = ["null", *kinds]
    schema: dict[str, Any] = {"type": kinds[0] if len(kinds) == 1 else kinds}
    if "object" in kinds:
        schema |= _object([value for value in values if isinstance(value, dict)], key)
    if "array" in kinds:
        items = _schema([item for value in values if isinstance(value, list) for item in value])
        schema |= {"items": items} if items else {}
    return schema


def _object(values: list[dict[str, Any]], key: str) -> dict[str, Any]:
    if key in _OPEN:
        return {}
    names = list(dict.fromkeys(name for value in values for name in value))
    required = [name for name in names if all(name in value for value in values)]
    if not required:
        return {}
    properties = {name: _schema([value[name] for value in values if name in value], name) for name in names}
    return {"required": required, "properties": properties}


def _kind(value: Any) -> str:
    if value is None:
        return "null"
    kinds = {bool: "boolean", int: "integer", float: "number", str: "string", list: "array", dict: "object"}
    return kinds[type(value)]


if __name__ == "__main__":
    ANSWERS.write_text(text(), encoding="utf-8")
    print(f"{ANSWERS} written")
