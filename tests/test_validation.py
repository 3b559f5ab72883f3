"""Validation: each refusal of a model comes out as a sentence at its place in the file."""

import time
from typing import Annotated, Any, ClassVar, Literal, Self

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import BaseModel, BeforeValidator, ConfigDict, Discriminator, Field, Tag, model_validator
from pydantic_core import PydanticKnownError
from pydantic_core._pydantic_core import list_all_errors

from fitcheck.fields import Length
from fitcheck.refusals import sentence
from fitcheck.sources import InputError, Problem, parse
from fitcheck.validation import validate


class _Entry(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)


class _Leg(_Entry):
    what: ClassVar[str] = "a leg"
    leg: Length


class _Corner(_Entry):
    what: ClassVar[str] = "a corner"
    at: tuple[Length, Length, Length]
    bend: Length | None = None


def _form(value: Any) -> str:
    if isinstance(value, list):
        return "point"
    return "leg" if isinstance(value, dict) and "leg" in value else "corner"


def _tag(value: Any) -> Any:
    if value == "Bad":
        raise ValueError("'Bad' is no tag")
    return value


_Route = Annotated[
    Annotated[tuple[Length, Length, Length], Tag("point")]
    | Annotated[_Corner, Tag("corner")]
    | Annotated[_Leg, Tag("leg")],
    Discriminator(_form),
]
_Name = Annotated[str, Field(pattern=r"^[\w-]+$")]


class _Line(_Entry):
    what: ClassVar[str] = "a line"
    from_: str = Field(alias="from")
    to: str
    tube: Length | None = None
    route: list[_Route] | None = None
    unit: Literal["mm", "in"] = "mm"
    count: Annotated[int, Field(ge=1, le=9)] = 1
    share: float = 0.5
    pair: Annotated[list[str], Field(min_length=2, max_length=2)] | None = None
    why: Annotated[str, Field(min_length=1)] = "x"
    either: int | _Leg = 1

    @model_validator(mode="after")
    def _goes_somewhere(self) -> Self:
        if self.from_ == self.to:
            raise ValueError("a line must not end where it begins")
        return self


class _Build(_Entry):
    what: ClassVar[str] = "a build"
    lines: dict[Annotated[_Name, BeforeValidator(_tag)], _Line] = {}
    sub: dict[_Name, dict[_Name, _Leg]] = {}


CASES = {
    "lines:\n  a: {from: x, to: y, tub: 1}": "2:23: unknown key 'tub' in a line; nearest is 'tube'",
    "lines:\n  a: {from: x, to: y, from_: 1}": "2:23: unknown key 'from_' in a line; nearest is 'from'",
    "qqq: 1": "1:1: unknown key 'qqq' in a build; known: lines, sub",
    "lines:\n  a:\n    to: y": "2:3: a line needs 'from'",
    "lines:\n  - x": "1:1: expected a mapping, got a list",
    "lines: x": "1:8: expected a mapping, got text 'x'",
    "lines: {a: }": "1:12: expected a mapping, got nothing",
    "- x": "1:1: expected a mapping, got a list",
    "x": "1:1: expected a mapping, got text 'x'",
    "lines:\n  a: {from: [x], to: y}": "2:7: expected text, got a list",
    "lines:\n  a: {from: , to: y}": "2:13: expected text, got nothing",
    "lines:\n  a: {from: x, to: y, tube: 5}": ("2:29: a bare number where a length is needed: write '25 mm' or '1 in'"),
    "lines:\n  a: {from: x, to: y, unit: m}": "2:29: expected 'mm' or 'in', got text 'm'; nearest is 'mm'",
    "lines:\n  a: {from: x, to: y, count: two}": "2:30: expected a whole number, got text 'two'",
    "lines:\n  a: {from: x, to: y, count: 0}": "2:30: expected at least 1, got text '0'",
    "lines:\n  a: {from: x, to: y, share: [x]}": "2:23: expected a number, got a list",
    "lines:\n  a: {from: x, to: y, pair: [x]}": "2:23: expected at least 2 items, got 1",
    "lines:\n  a: {from: x, to: y, pair: [x, y, z]}": "2:23: expected at most 2 items, got 3",
    "lines:\n  a: {from: x, to: y, why: ''}": "2:28: expected text, got nothing",
    "lines:\n  a: {from: x, to: x}": "2:3: a line must not end where it begins",
    "lines:\n  a b: {from: x, to: y}": "2:3: 'a b' is no name: use letters, digits, _ and -",
    "lines:\n  Bad: {from: x, to: y}": "2:3: 'Bad' is no tag",
    "lines:\n  a: {from: x, to: y, route: [[1 mm, 2 mm]]}": "2:31: expected 3 items, got 2",
    "lines:\n  a: {from: x, to: y, route: [[1 mm, 2 mm, 3 bar]]}": (
        "2:44: '3 bar' is a pressure where a length is needed"
    ),
    "lines:\n  a: {from: x, to: y, route: [{leg: 1 mm, lag: 2}]}": "2:43: unknown key 'lag' in a leg; nearest is 'leg'",
    "lines:\n  a: {from: x, to: y, route: [{bend: 1 mm}]}": "2:31: a corner needs 'at'",
    "lines:\n  a: {from: x, to: y, route: [x]}": "2:31: expected a mapping, got text 'x'",
    "sub: {a: {b: {leg: 1 mm}, c: {leg: 1}}}": (
        "1:36: a bare number where a length is needed: write '25 mm' or '1 in'"
    ),
}


def _refusal(text: str) -> str:
    with pytest.raises(InputError) as caught:
        validate(_Build, parse(text, "f"))
    return str(caught.value)


@pytest.mark.parametrize("text", CASES, ids=repr)
def test_refusals(text: str) -> None:
    """Every kind of error that our models can raise is one sentence at the key or value at fault."""
    assert _refusal(text) == "f:" + CASES[text]


def test_union_members_leave_no_trace_in_the_place() -> None:
    """An error inside a plain union is reported once for each member, at the value, in our words."""
    assert _refusal("lines: {a: {from: x, to: y, either: z}}").splitlines() == [
        "f:1:37: expected a whole number, got text 'z'",
        "f:1:37: expected a mapping, got text 'z'",
    ]


def test_all_problems_in_the_order_of_the_file() -> None:
    """All that is wrong is reported together, first in the file first, and the same each time."""
    text = "zz: 1\nlines:\n  b: {from: x, tube: 3}\n  a: {to: y}\n"
    expected = [
        "f:1:1: unknown key 'zz' in a build; known: lines, sub",
        "f:3:3: a line needs 'to'",
        "f:3:22: a bare number where a length is needed: write '25 mm' or '1 in'",
        "f:4:3: a line needs 'from'",
    ]
    assert _refusal(text).splitlines() == expected
    assert _refusal(text).splitlines() == expected


def test_a_part_of_a_file() -> None:
    """A model can be read from inside a file, with places of the whole file."""
    document = parse("a:\n  b: {leg: 1 in}\n  c: {leg: 1}\n", "f")
    assert validate(_Leg, document, base=("a", "b")).leg == 25.4
    with pytest.raises(InputError) as caught:
        validate(_Leg, document, base=("a", "c"), node={"leg": "1"})
    message = "a bare number where a length is needed: write '25 mm' or '1 in'"
    assert caught.value.problems == (Problem("f", 3, 12, message),)


@pytest.mark.parametrize("error", list_all_errors(), ids=lambda error: error["type"])
def test_no_raw_message_of_pydantic(error: dict[str, Any]) -> None:
    """For every error type that pydantic knows there is a sentence, and it is never pydantic's own."""
    kind, context = error["type"], error["example_context"] or {}
    raw = PydanticKnownError(kind, context).message()
    for value in (None, "x", [], {}, 3, 2.5, True, object()):
        text = sentence(kind, value, context)
        assert text
        assert text != raw
        assert "should" not in text
        assert "object at" not in text


def test_very_many_problems_are_counted() -> None:
    """After a thousand problems the rest are counted, so that the answer stays bounded."""
    lines = _refusal("lines:\n" + "".join(f"  a{i}: {{from: x}}\n" for i in range(1200))).splitlines()
    assert len(lines) == 1001
    assert lines[-1] == "f:1002:3: 200 more problems from here on"


def test_time_is_linear() -> None:
    """Eight times the entries, all of them wrong, take nowhere near sixty-four times as long."""
    assert _seconds(4000) <= 25 * _seconds(500) + 0.25


def _seconds(entries: int) -> float:
    document = parse("lines:\n" + "".join(f"  a{i}: {{from: x, tub: 3 m{i}}}\n" for i in range(entries)), "f")
    start = time.process_time()
    with pytest.raises(InputError):
        validate(_Build, document)
    return time.process_time() - start


_KEYS = st.sampled_from(["lines", "sub", "from", "to", "route", "tube", "leg", "at", "either", "pair", "[key]", "Bad"])
_SHAPES = st.recursive(
    st.none() | st.sampled_from(["x", "1 mm", "3", "Bad", ""]),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(_KEYS, inner, max_size=4),
    max_leaves=30,
)


@given(st.dictionaries(_KEYS, _SHAPES) | st.fixed_dictionaries({"lines": st.dictionaries(_KEYS, _SHAPES)}))
def test_any_tree_is_answered(tree: Any) -> None:
    """Whatever a file holds, the answer is a model or problems at places inside the file."""
    document = parse(str(tree).replace("None", "null"), "f")
    try:
        validate(_Build, document)
    except InputError as error:
        problems = error.problems
    else:
        problems = ()
    assert all(1 <= problem.column <= len(document.text) + 1 for problem in problems)
    assert list(problems) == sorted(problems, key=lambda problem: (problem.line, problem.column))
