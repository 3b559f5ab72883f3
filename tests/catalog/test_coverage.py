"""The generic catalog covers every end of flared tube, or says in one place what it leaves out and why."""

from collections.abc import Iterator
from functools import cache
from typing import Any

import pytest

from fitcheck.catalog import generic
from fitcheck.catalog.generic.ends import FAMILIES, End, group, table
from fitcheck.catalog.part import Part, Port, part_from_row
from fitcheck.sources import read
from fitcheck.standards.figures import measure
from fitcheck.standards.seats import seat as seat_of

FITTINGS = ("nut", "sleeve", "union", "bulkhead union", "tee", "elbow", "plug", "cap")
FORMS = ("inverted-flare", "bubble", "cone-37")
SIZES = {
    "inverted-flare": {"1/8 in", "3/16 in", "1/4 in", "5/16 in", "3/8 in", "7/16 in", "1/2 in", "6 mm", "8 mm"},
    "bubble": {"4.75 mm", "5 mm", "6 mm", "8 mm", "10 mm", "1/4 in"},
    "cone-37": {"1/8 in", "3/16 in", "1/4 in", "5/16 in", "3/8 in", "1/2 in"},
}
ENDS = [one for one in table().values() if one.tube is not None]


@cache
def parts() -> tuple[Part, ...]:
    """Return every generic part."""
    return tuple(part_from_row(part_id, data) for part_id, data in generic.rows().items())


@cache
def made() -> frozenset[tuple[str, str]]:
    """Return each end with what the catalog has for it: a kind of fitting, or `adapter to FORM`."""
    return frozenset((one.name, what) for one in ENDS for part in parts() for what in offered(one, part))


def offered(one: End, part: Part) -> Iterator[str]:
    """Yield what a part is for an end: its kind if all its ports are this end, else the form it leads to."""
    ports = part.fluid_ports()
    if part.kind in FITTINGS and ports and all(is_end(port, one) for port in ports):
        yield part.kind
    if part.kind == "adapter":
        for own, other in (ports, ports[::-1]):
            if is_end(own, one) and other.seat in FORMS:
                yield f"adapter to {other.seat}"


def is_end(port: Port, one: End) -> bool:
    """Return whether a port has the seat, thread and tube of an end; a sleeve has no thread."""
    same_thread = port.thread is None or str(port.thread) == one.thread
    return port.seat == one.seat and same_thread and port.tube == pytest.approx(measure(one.tube or ""), abs=1e-3)


def wanted(one: End) -> list[str]:
    """Return what an end should have: the fittings of its form, and a way to each form."""
    fittings = [kind for kind in FITTINGS if kind != "sleeve" or seat_of(one.seat).sleeve]
    return [*fittings, *(f"adapter to {form}" for form in FORMS)]


def left_out() -> list[tuple[str, str, str]]:
    """Return every end and thing that the list leaves out, with the reason."""
    data: Any = read(FAMILIES / "left_out.yaml").root
    return [
        (name, what, entry["why"])
        for entry in data["left_out"]
        for word in entry["ends"]
        for name in group(word) or (word,)
        for what in entry["what"]
    ]


def test_the_ends_are_those_of_the_trade() -> None:
    """Every size of the three forms has an end, so that nothing escapes the table below."""
    assert {form: {one.tube for one in ENDS if one.seat == form} for form in FORMS} == SIZES


@pytest.mark.parametrize("one", ENDS, ids=str)
def test_each_end_has_each_kind_or_a_reason(one: End) -> None:
    """For an end of flared tube every fitting and a way to every form exists, or the list says why not."""
    missing = {what for what in wanted(one) if (one.name, what) not in made()}
    assert missing == {what for name, what, _ in left_out() if name == one.name}


def test_the_list_of_what_is_left_out_is_sound() -> None:
    """It names known ends and things, none twice, each with a reason of its own."""
    listed = [(name, what) for name, what, _ in left_out()]
    assert len(listed) == len(set(listed))
    assert {name for name, _ in listed} <= {one.name for one in ENDS}
    assert {what for _, what in listed} <= {*FITTINGS, *(f"adapter to {form}" for form in FORMS)}
    assert all(len(why) > 20 for _, _, why in left_out())


def test_usual_ends_lack_no_fitting() -> None:
    """What the list leaves out of a size's usual thread is adapters, and for 7/16 in tube the cap."""
    usual = {one.name for one in ENDS if one.usual}
    lacking = {(name, what) for name, what, _ in left_out() if name in usual and not what.startswith("adapter")}
    assert lacking == {("11-16-18-inverted", "cap")}


def test_a_flared_cap_is_a_port_and_a_plug_its_mate() -> None:
    """A cap over an inverted or bubble nut has the port's internal thread, a plug the nut's external one."""
    sides = {
        (part.kind, port.gender)
        for part in parts()
        for port in part.ports.values()
        if part.kind in ("plug", "cap") and port.seat in ("inverted-flare", "bubble")
    }
    assert sides == {("cap", "internal"), ("plug", "external")}


def test_an_unmeasured_bulkhead_union_states_no_hole() -> None:
    """Where no hole is known none is given, and the part says so; all others have hole and grip."""
    for part in (part for part in parts() if part.kind == "bulkhead union"):
        if part.panel is None:
            assert part.description.endswith("measure its hole"), part.id
            assert (part.source or "").endswith("hole and grip: not known"), part.id
        else:
            assert all(part.panel), part.id
