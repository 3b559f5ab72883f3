"""The model of the catalog file: what users may write, and what each slip is told."""

from typing import Any

import pytest
from pydantic import ValidationError

from fitcheck.catalog.entries import CatalogFile, PartEntry
from fitcheck.catalog.part import KINDS, Port, part_from_row
from fitcheck.standards.threads import parse

TEE: dict[str, Any] = {
    "kind": "tee",
    "description": "Tee, three ports for 3/16 in tube",
    "ports": {
        "left": {
            "thread": "3/8-24 UNF",
            "gender": "female",
            "seat": "inverted-flare",
            "tube": "3/16 in",
            "depth": "11 mm",
        },
        "right": {"same as": "left"},
        "top": {"same as": "left", "thread": "1/8-27 NPT", "seat": "taper"},
    },
    "passages": [["left", "right", "top"]],
    "material": "brass",
    "max_pressure": "20 MPa",
    "source": "supplier data sheet 2024-03",
}


def _said(entry: dict[str, Any]) -> list[str]:
    """Return the sentences of the refusal, without their places."""
    with pytest.raises(ValidationError) as caught:
        PartEntry.model_validate(entry)
    return [error["msg"].removeprefix("Value error, ") for error in caught.value.errors()]


def test_the_designs_tee_is_read() -> None:
    """A part comes out in working units: same-as copies ports, own keys win, female is internal."""
    part = PartEntry.model_validate(TEE).to_part("tee", "house.yaml")
    left, right, top = part.ports["left"], part.ports["right"], part.ports["top"]
    assert left == Port("left", parse("3/8-24 UNF"), "internal", "inverted-flare", tube=4.7625, depth=11.0)
    assert right == Port("right", parse("3/8-24 UNF"), "internal", "inverted-flare", tube=4.7625, depth=11.0)
    assert (top.thread, top.seat, top.gender) == (parse("1/8-27 NPT"), "taper", "internal")
    assert part.max_pressure == pytest.approx(20)
    assert part.passages == (("left", "right", "top"),)
    assert (part.catalog, part.material, part.source) == (
        "house.yaml",
        "brass",
        "supplier data sheet 2024-03",
    )


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"kind": "teee"}, f"'teee' is no kind of part; nearest is 'tee'; known: {', '.join(KINDS)}"),
        ({"ends": ["lft"]}, "ends names 'lft', which is no port of this part; nearest is 'left'"),
        ({"passages": [["left", "zzz"]]}, "passages names 'zzz', which is no port of this part"),
        ({"kind": "hose", "passages": None}, "a hose has exactly two ports, named from and to"),
        ({"kind": "tube"}, "a tube needs od and wall"),
        ({"kind": "tube", "od": "4 mm", "wall": "2 mm"}, "a wall of 2 mm leaves no bore in 4 mm"),
        ({"bore": "0 mm"}, "expected more than zero, got '0 mm'"),
        ({"volume": "-1 mL"}, "expected more than zero, got '-1 mL'"),
        ({"max_pressure": "0 psi"}, "expected more than zero, got '0 psi'"),
        ({"panel": {"hole": "-14 mm"}}, "expected more than zero, got '-14 mm'"),
        ({"kind": "caliper", "ports": {}, "passages": None}, "a caliper needs at least one port"),
        *(
            (
                {"kind": kind, "ports": {}, "passages": None},
                f"a {kind} needs a port: what it goes into, by thread, gender, seat and tube",
            )
            for kind in ("nut", "sleeve", "banjo bolt", "plug", "cap")
        ),
        ({"for_hose": "0 mm"}, "expected more than zero, got '0 mm'"),
        ({"eyes": "1.5"}, "expected a whole number from 0 to 999, got '1.5'"),
        (
            {"fluid_families": ["glycl"]},
            "'glycl' is no fluid family; nearest is 'glycol'; known: glycol, silicone, mineral",
        ),
    ],
)
def test_slips_in_a_part_have_their_own_sentence(change: dict[str, Any], said: str) -> None:
    """Each inconsistency of a part is refused with its whole sentence and the nearest known word."""
    assert _said(TEE | change) == [said]


@pytest.mark.parametrize(
    ("port", "said"),
    [
        (
            {"seat": "buble"},
            "'buble' is no seat; nearest is 'bubble'; known: inverted-flare, bubble, cone-37, cone-45, "
            "washer-face, o-ring, taper, push-on, ferrule",
        ),
        ({"gender": "inside"}, "'inside' is no gender; write external or internal"),
        ({"tube": "0 mm"}, "expected more than zero, got '0 mm'"),
        ({"same as": "rigth"}, "port x is the same as rigth, which this part lacks"),
        ({"same as": "x"}, "port x is the same as itself, by way of x"),
    ],
)
def test_slips_in_a_port_have_their_own_sentence(port: dict[str, str], said: str) -> None:
    """Each bad value of a port is refused with its whole sentence."""
    assert _said({"kind": "plug", "ports": {"x": port}}) == [said]


@pytest.mark.parametrize("kind", ["nut", "sleeve", "banjo bolt", "plug", "cap"])
def test_a_port_that_says_little_is_no_refusal(kind: str) -> None:
    """One port is enough: what it leaves out is for the checks to ask, not a reason to refuse the catalog."""
    part = PartEntry.model_validate({"kind": kind, "ports": {"end": {}}}).to_part("x", "c")
    assert part.ports == {"end": Port("end")}


def test_ports_that_copy_in_a_circle_are_refused() -> None:
    """Two ports that are each the same as the other are found out, not followed for ever."""
    entry = {"kind": "union", "ports": {"a": {"same as": "b"}, "b": {"same as": "a"}}}
    assert _said(entry) == ["port b is the same as itself, by way of a"]


def test_a_bare_number_is_no_length() -> None:
    """A length without a unit is refused, as is an unknown thread."""
    assert len(_said({"kind": "washer", "inside": "10"})) == 1
    (said,) = _said({"kind": "plug", "ports": {"x": {"thread": "3/8-25"}}})
    assert "is not a thread designation" in said


def test_unknown_keys_are_refused() -> None:
    """A key that the model does not know is an error of that key."""
    with pytest.raises(ValidationError) as caught:
        PartEntry.model_validate({"kind": "plug", "matrial": "steel"})
    assert [error["loc"] for error in caught.value.errors()] == [("matrial",)]


def test_master_cylinders_feeds_are_what_is_left() -> None:
    """A master cylinder's fluid ports are outlets or feeds, share no passage, and its pushrod is neither."""
    ports = {
        "outlet": {"thread": "M10x1", "gender": "internal", "seat": "bubble", "tube": 4.75},
        "feed": {"seat": "push-on", "hose": 8.0},
        "pushrod": {"thread": "5/16-24 UNF", "pattern": "pushrod"},
    }
    part = part_from_row("mc", {"kind": "master cylinder", "ports": ports, "outlets": ["outlet"]})
    assert (part.outlets, part.feeds, part.passages) == (("outlet",), ("feed",), ())
    assert [port.name for port in part.fluid_ports()] == ["outlet", "feed"]


@pytest.mark.parametrize(
    "kind", ["caliper", "wheel cylinder", "slave cylinder", "pressure switch", "gauge", "plug", "cap"]
)
def test_some_kinds_end_the_road(kind: str) -> None:
    """The fluid ports of parts that only take pressure are ends unless the catalog says otherwise."""
    ports = {"inlet": {"seat": "taper"}}
    assert part_from_row("x", {"kind": kind, "ports": ports}).ends == {"inlet"}
    assert part_from_row("x", {"kind": kind, "ports": ports, "ends": []}).ends == set()


def test_every_field_of_an_entry_reaches_the_part() -> None:
    """No key that users may write is lost on the way to the record that the rules see."""
    entry = {
        "kind": "bulkhead union",
        "description": "d",
        "ports": {
            "in": {"offset": ["1 mm", "2 mm", "3 mm"], "reach": "4 mm"},
            "out": {"eye": "10 mm", "length": "5 mm"},
        },
        "outlets": ["out"],
        "feeds": ["in"],
        "ends": ["out"],
        "bleeder": "M10x1",
        "one_way": ["in", "out"],
        "volume": "10 mL",
        "reservoir_volume": "20 mL",
        "displacement": "30 mL",
        "bore": "1 mm",
        "stroke": "2 mm",
        "mass": "0.5 kg",
        "panel": {"hole": "14 mm", "grip": "6 mm"},
        "fluid_families": ["glycol"],
        "equivalent_to": ["other"],
        "material": "steel",
        "max_pressure": "10 MPa",
        "setting": "0.07 MPa",
        "od": "3 mm",
        "wall": "1 mm",
        "length": "4 mm",
        "bend_radius": "5 mm",
        "inside": "6 mm",
        "outside": "7 mm",
        "thickness": "8 mm",
        "eyes": "2",
        "for_hose": "9 mm",
        "source": "s",
        "passages": [["in", "out"]],
        "chambers": ["15 mm"],
        "cut_off": "1.2 mm",
        "pistons": ["36 mm", "38 mm"],
        "style": "fixed",
        "give": "9 mm3/bar",
        "expansion": [{"at": "7 MPa", "swelling": "1.5 cm3/m"}],
        "expansion_limit": "low",
        "rubber": ["EPDM", "PTFE"],
        "slope": "0.4",
        "burst": "50 MPa",
        "bleed_screws": "2",
        "bleeder_at": ["0 mm", "10 mm", "40 mm"],
        "side": "left",
    }
    assert set(entry) | {"note"} == set(PartEntry.model_fields)  # a note is for the reader of the file
    part = PartEntry.model_validate(entry).to_part("x", "c")
    assert part.ports["in"].offset == (1.0, 2.0, 3.0)
    assert part.ends == {"out"}
    assert (part.outlets, part.feeds, part.one_way) == (("out",), ("in",), ("in", "out"))
    assert (part.volume, part.reservoir_volume, part.displacement) == pytest.approx((1e4, 2e4, 3e4))
    assert (part.bore, part.stroke, part.mass, part.panel) == (1.0, 2.0, 0.5, (14.0, 6.0))
    assert (part.od, part.wall, part.length, part.bend_radius) == (3.0, 1.0, 4.0, 5.0)
    assert (part.inside, part.outside, part.thickness, part.eyes) == (6.0, 7.0, 8.0, 2)
    assert part.for_hose == 9.0
    assert (part.bleeder, part.fluid_families, part.equivalent_to) == ("M10x1", ("glycol",), ("other",))
    assert (part.material, part.max_pressure, part.source, part.description) == ("steel", 10.0, "s", "d")
    assert part.setting == pytest.approx(0.07)
    assert part.passages == (("in", "out"),)
    assert (part.chambers, part.cut_off, part.pistons, part.style) == ((15.0,), 1.2, (36.0, 38.0), "fixed")
    assert (part.give, part.expansion, part.expansion_limit) == (90.0, ((7.0, 1.5),), "low")
    assert (part.rubber, part.slope, part.burst) == (("EPDM", "PTFE"), 0.4, 50.0)


def test_each_outlet_of_a_tandem_master_cylinder_has_its_chamber() -> None:
    """Chambers that are not as many as the outlets are refused: nobody could tell whose travel is missing."""
    entry = {"kind": "master cylinder", "ports": {"a": {}, "b": {}}, "outlets": ["a", "b"], "chambers": ["15 mm"]}
    with pytest.raises(ValidationError, match="expected in chambers one travel for each outlet, got 1"):
        PartEntry.model_validate(entry)


def test_a_catalog_file_has_a_version() -> None:
    """Only format version 1 is read; a file without parts is refused."""
    assert CatalogFile.model_validate({"catalog": "1", "parts": {"t": TEE}}).parts["t"].kind == "tee"
    with pytest.raises(ValidationError):
        CatalogFile.model_validate({"catalog": "2", "parts": {}})
    with pytest.raises(ValidationError):
        CatalogFile.model_validate({"catalog": "1"})
