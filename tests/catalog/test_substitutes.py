"""Which part can be bought for another: every field that matters, both ways."""

from pathlib import Path

import pytest

from fitcheck.catalog.part import part_from_row
from fitcheck.catalog.shelf import Shelf, read_catalog
from fitcheck.catalog.substitutes import StandIns, refusal
from tests.catalog.substitute_parts import FLARE, ROWS, TAPER, part


@pytest.mark.parametrize("name", ROWS)
def test_equal_data_is_proof(name: str) -> None:
    """A part of which all is known can be had under another id if all of it is the same."""
    assert refusal(part(name), part(name, "other")) is None


NOT_EQUAL = [
    ("tee", {"left__thread": "M10x1"}, "port left: thread M10x1, not 3/8-24 UNF"),
    ("tee", {"left__gender": "external"}, "port left: gender external, not internal"),
    ("tee", {"left__seat": "bubble"}, "port left: seat bubble, not inverted-flare"),
    ("tee", {"left__tube": 6.35}, "port left: tube 6.35 mm, not 4.7625 mm"),
    ("tee", {"left__depth": 9.0}, "port left: depth 9 mm, not 11 mm"),
    ("tee", {"passages": [["left", "right"], ["top"]]}, "passages left-right and top, not left-right-top"),
    ("tee", {"ends": ["top"]}, "ends top, not none"),
    ("pump", {"feed__hose": 10.0}, "port feed: hose 10 mm, not 8 mm"),
    ("pump", {"pushrod__reach": 45.0}, "port pushrod: reach 45 mm, not 40 mm"),
    ("pump", {"flange__pattern": "two 8 mm at 50 mm"}, "port flange: pattern two 8 mm at 50 mm, not two 8 mm at 57 mm"),
    (
        "pump",
        {"flange__offset": [0.0, 12.0, -5.0]},
        "port flange: offset 0 mm by 12 mm by -5 mm, not 0 mm by 10 mm by -5 mm",
    ),
    ("pump", {"outlets": ["out", "feed"], "feeds": ["feed"]}, "outlets feed, out, not out"),
    ("pump", {"feeds": []}, "passages feed, not none"),
    ("pump", {"feeds": ["feed", "out"]}, "feeds feed, out, not feed"),
    ("pump", {"bore": 19.0}, "bore 19 mm, not 16 mm"),
    ("pump", {"stroke": 35.0}, "stroke 35 mm, not 30 mm"),
    ("brake", {"inlet__eye": 12.2}, "port inlet: eye 12.2 mm, not 10.2 mm"),
    ("brake", {"displacement": 12_000.0}, "displacement 12000 mm3, not 18000 mm3"),
    ("valve", {"setting": 0.014}, "setting 0.014 MPa, not 0.07 MPa"),
    ("valve", {"one_way": ["out", "in"]}, "one_way out, in, not in, out"),
    ("through", {"panel": {"hole": 16.0, "grip": 6.0}}, "panel 16 mm by 6 mm, not 14 mm by 6 mm"),
    ("whip", {"from__length": 10.0}, "port from: length 10 mm, not 8 mm"),
    ("whip", {"length": 400.0}, "length 400 mm, not 350 mm"),
    ("whip", {"inside": 4.0}, "inside 4 mm, not 3.2 mm"),
    ("bolt", {"eyes": 2}, "eyes 2, not 1"),
    ("ring", {"inside": 12.2}, "inside 12.2 mm, not 10.2 mm"),
    ("ring", {"outside": 16.0}, "outside 16 mm, not 15 mm"),
    ("ring", {"thickness": 1.0}, "thickness 1 mm, not 1.5 mm"),
    ("ring", {"material": "aluminium"}, "material aluminium, not copper"),
    ("pipe", {"od": 6.35}, "od 6.35 mm, not 4.7625 mm"),
    ("pipe", {"wall": 0.889}, "wall 0.889 mm, not 0.7112 mm"),
    ("pipe", {"material": "steel"}, "material steel, not copper-nickel"),
    ("clip", {"for_hose": 10.0}, "for_hose 10 mm, not 8 mm"),
]


@pytest.mark.parametrize(("name", "change", "reason"), NOT_EQUAL)
def test_what_has_to_be_equal(name: str, change: dict[str, object], reason: str) -> None:
    """A field that does the work or makes the joint refuses when it differs, in either of the two parts."""
    assert refusal(part(name), part(name, "other", **change)) == reason
    assert refusal(part(name, **change), part(name, "other")) is not None


@pytest.mark.parametrize(
    ("name", "field"),
    [
        ("tee", "left__thread"),
        ("tee", "left__gender"),
        ("tee", "left__seat"),
        ("tee", "left__tube"),
        ("tee", "left__depth"),
        ("pump", "feed__hose"),
        ("pump", "pushrod__reach"),
        ("pump", "bore"),
        ("pump", "stroke"),
        ("brake", "displacement"),
        ("brake", "inlet__eye"),
        ("valve", "setting"),
        ("through", "panel"),
        ("whip", "from__length"),
        ("whip", "length"),
        ("whip", "inside"),
        ("bolt", "eyes"),
        ("ring", "inside"),
        ("ring", "outside"),
        ("ring", "thickness"),
        ("ring", "material"),
        ("pipe", "od"),
        ("pipe", "wall"),
        ("pipe", "material"),
        ("clip", "for_hose"),
        ("rubber", "panel"),
        ("cover", "inside"),
    ],
)
def test_what_is_known_of_one_only_proves_nothing(name: str, field: str) -> None:
    """A size that one of the catalogs leaves out is named, with the part that lacks it, whichever it is."""
    port, _, last = field.rpartition("__")
    path = f"ports.{port}.{last}" if port else field
    assert refusal(part(name), part(name, "other", **{field: None})) == f"parts.other.{path} is not given"
    assert refusal(part(name, **{field: None}), part(name, "other")) == f"parts.wanted.{path} is not given"


@pytest.mark.parametrize(
    ("name", "field", "reason"),
    [
        ("tee", "left__seat", "parts.wanted.ports.left.seat is not given"),
        ("tee", "left__gender", "parts.wanted.ports.left.gender is not given"),
        ("tee", "left__tube", "parts.wanted.ports.left.tube is not given"),
        ("nut", "nut__tube", "parts.wanted.ports.nut.tube is not given"),
        ("brake", "inlet__eye", "parts.wanted.ports.inlet.thread is not given"),
        ("brake", "bore", "parts.wanted.bore is not given"),
        ("pump", "stroke", "parts.wanted.stroke is not given"),
        ("pump", "reservoir_volume", None),
        ("valve", "setting", "parts.wanted.setting is not given"),
        ("through", "panel", "parts.wanted.panel is not given"),
        ("whip", "length", "parts.wanted.length is not given"),
        ("whip", "bend_radius", None),
        ("ring", "material", "parts.wanted.material is not given"),
        ("clip", "for_hose", "no field says how a clip along a line is held"),
        ("tee", "left__depth", None),
        ("tee", "max_pressure", None),
    ],
)
def test_what_is_known_of_neither(name: str, field: str, reason: str | None) -> None:
    """Two parts of which the same thing is not known are alike only where nobody needs it to say so."""
    assert refusal(part(name, **{field: None}), part(name, "other", **{field: None})) == reason


def test_a_port_without_data_proves_nothing() -> None:
    """Ports that are named and nothing else are no interface, nor is a part without any port."""
    bare = [part_from_row(name, {"kind": "union", "ports": {"a": {}, "b": {}}}) for name in ("wanted", "other")]
    assert refusal(*bare) == "parts.wanted.ports.a.seat is not given"
    none = [part_from_row(name, {"kind": "gauge"}) for name in ("wanted", "other")]
    assert refusal(*none) == "parts.wanted.ports is not given"
    rods = [part_from_row(name, {"kind": "union", "ports": {"rod": {"reach": 9.0}}}) for name in ("wanted", "other")]
    assert refusal(*rods) == "parts.wanted.ports.rod.pattern is not given"


def test_ports_go_by_name() -> None:
    """The build names ports: one that is missing, or one too many, is refused."""
    fewer = part_from_row("fewer", {"kind": "tee", "ports": {"left": FLARE, "right": FLARE}})
    assert refusal(part("tee"), fewer) == "no port top"
    more = part_from_row("more", {**ROWS["tee"], "ports": {**ROWS["tee"]["ports"], "down": TAPER}})
    assert refusal(part("tee"), more) == "port down: wanted has none"


def test_another_kind() -> None:
    """A cap is no plug, whatever its port."""
    assert refusal(part("tee"), part("tee", "other", kind="union")) == "kind union, not tee"


@pytest.mark.parametrize(
    ("kind", "reason"),
    [
        ("pedal box", "no field says the leverage of a pedal box"),
        ("fluid", "no field says the grade of a fluid"),
        ("sealant", "no field says the use of a sealant"),
    ],
)
def test_kinds_whose_work_no_field_says(kind: str, reason: str) -> None:
    """DOT 3 is not DOT 4 though both are glycol: such kinds are stated alike, or are not."""
    row = {"kind": kind, "fluid_families": ["glycol"]}
    assert refusal(part_from_row("wanted", row), part_from_row("other", row)) == reason
    assert refusal(part_from_row("wanted", {**row, "equivalent_to": ["other"]}), part_from_row("other", row)) is None


def test_how_it_bolts_on_has_to_be_known() -> None:
    """A caliper with the same inlet and pistons need not fit the upright."""
    ports = {"inlet": ROWS["brake"]["ports"]["inlet"]}
    wanted, other = part("brake", ports=ports), part("brake", "other", ports=ports)
    assert refusal(wanted, other) == "no port of wanted says how it is mounted"


@pytest.mark.parametrize(
    ("name", "better", "worse", "reason"),
    [
        ("tee", {"max_pressure": 25.0}, {"max_pressure": 14.0}, "max_pressure 14 MPa, not 20 MPa"),
        (
            "tee",
            {"fluid_families": ["glycol", "silicone"]},
            {"fluid_families": ["mineral"]},
            "fluid_families mineral, not glycol",
        ),
        ("pump", {"reservoir_volume": 1e5}, {"reservoir_volume": 5e4}, "reservoir_volume 50000 mm3, not 90000 mm3"),
        ("pump", {"volume": 6_000.0}, {"volume": 4_000.0}, "volume 4000 mm3, not 5000 mm3"),
        ("whip", {"bend_radius": 40.0}, {"bend_radius": 60.0}, "bend_radius 60 mm, not 50 mm"),
        ("brake", {"bleeder": "M10x1"}, {"bleeder": "none"}, "bleeder none, not M8x1.25"),
    ],
)
def test_limits_may_be_better(name: str, better: dict[str, object], worse: dict[str, object], reason: str) -> None:
    """A limit may be better, never worse and never unknown where one is known; where none is known any will do."""
    (field,) = worse
    assert refusal(part(name), part(name, "other", **better)) is None
    assert refusal(part(name), part(name, "other", **worse)) == reason
    assert refusal(part(name), part(name, "other", **{field: None})) == f"parts.other.{field} is not given"
    assert refusal(part(name, **{field: None}), part(name, "other", **better)) is None


def test_a_bleed_screw_that_may_be_lost() -> None:
    """Where the catalog does not say whether there is a bleed screw, a part without one is no proof."""
    wanted = part("brake", bleeder=None)
    assert refusal(wanted, part("brake", "other", bleeder="none")) == "parts.wanted.bleeder is not given"
    assert refusal(part("brake", bleeder="none"), part("brake", "other", bleeder=None)) is None


def test_the_side_that_a_caliper_is_made_for() -> None:
    """A caliper for the other side is none in its place; where one of both does not say, nothing is proven."""
    left, right, either = (
        part("brake", name, side=side) for name, side in zip("lre", ("left", "right", None), strict=True)
    )
    assert refusal(left, right) == "side right, not left"
    assert refusal(left, either) == "parts.e.side is not given"
    assert refusal(either, left) == "parts.e.side is not given"
    assert refusal(left, part("brake", "same", side="left")) is None


def test_the_fluid_of_the_build() -> None:
    """Rubber that is known not to stand the build's fluid is refused, even where nothing is known of the other part."""
    other, silicone = part("tee", "other"), frozenset({"silicone"})
    assert refusal(part("tee", fluid_families=None), other, silicone) == "fluid_families glycol, not silicone"
    assert refusal(part("tee"), other, silicone) == "fluid_families glycol, not silicone"
    assert refusal(part("tee", fluid_families=None), other, frozenset({"glycol"})) is None


def test_figures_rounded_differently_are_equal() -> None:
    """Sizes and limits within a thousandth, tubes within their own limit, and threads by any name, are the same."""
    assert refusal(part("whip"), part("whip", "other", length=349.8, bend_radius=50.04)) is None
    assert refusal(part("whip"), part("whip", "other", length=349.5)) == "length 349.5 mm, not 350 mm"
    assert refusal(part("tee"), part("tee", "other", max_pressure=19.99, left__tube=4.75)) is None
    assert refusal(part("pipe"), part("pipe", "other", od=4.75, wall=0.7109, material="Cu-Ni", length=None)) is None


def test_a_tube_without_a_radius_is_laid_with_the_usual_one() -> None:
    """A tube that must not be bent as tightly as routes are laid that name no radius is refused."""
    assert refusal(part("pipe"), part("pipe", "other", bend_radius=14.0)) is None
    assert refusal(part("pipe"), part("pipe", "other", bend_radius=20.0)) == "bend_radius 20 mm, not 14.2875 mm"


def test_material_of_fittings_is_free() -> None:
    """A steel tee does for one of brass if what is known of its limits is as good."""
    assert refusal(part("tee"), part("tee", "other", material="steel")) is None


def test_stated_parts_need_no_proof() -> None:
    """What `equivalent_to` names does, in that direction only; what nobody knows of it is no reason against it."""
    wanted = part("tee", equivalent_to=["other"])
    other = part("tee", "other", left__seat=None, left__depth=9.0, max_pressure=None, fluid_families=None)
    assert refusal(wanted, other) is None
    assert refusal(other, wanted) == "parts.other.ports.left.seat is not given"
    steel = part("pipe", "other", material="steel", wall=0.9)
    assert refusal(part("pipe", equivalent_to=["other"]), steel) is None


@pytest.mark.parametrize(
    ("name", "change", "reason"),
    [
        ("tee", {"left__thread": "M10x1"}, "port left: thread M10x1, not 3/8-24 UNF"),
        ("tee", {"left__gender": "external"}, "port left: gender external, not internal"),
        ("tee", {"left__seat": "bubble"}, "port left: seat bubble, not inverted-flare"),
        ("tee", {"left__tube": 6.35}, "port left: tube 6.35 mm, not 4.7625 mm"),
        ("pump", {"feed__hose": 10.0}, "port feed: hose 10 mm, not 8 mm"),
        ("brake", {"inlet__eye": 12.2}, "port inlet: eye 12.2 mm, not 10.2 mm"),
        ("brake", {"bore": 41.0}, "bore 41 mm, not 38 mm"),
        ("brake", {"displacement": 12_000.0}, "displacement 12000 mm3, not 18000 mm3"),
        ("pump", {"bore": 19.0}, "bore 19 mm, not 16 mm"),
        ("pump", {"stroke": 35.0}, "stroke 35 mm, not 30 mm"),
        ("pipe", {"od": 6.35}, "od 6.35 mm, not 4.7625 mm"),
    ],
)
def test_a_statement_buys_no_other_joint(name: str, change: dict[str, object], reason: str) -> None:
    """A known thread, side, seat, size of tube, hose or eye, bore or stroke that differs outweighs the statement."""
    assert refusal(part(name, equivalent_to=["other"]), part(name, "other", **change)) == reason


@pytest.mark.parametrize(
    ("name", "change", "reason"),
    [
        ("tee", {"kind": "union"}, "kind union, not tee"),
        ("tee", {"max_pressure": 14.0}, "max_pressure 14 MPa, not 20 MPa"),
        ("tee", {"fluid_families": ["mineral"]}, "fluid_families mineral, not glycol"),
        ("tee", {"ports": {"left": FLARE, "right": FLARE}}, "no port top"),
        ("tee", {"ports": {**ROWS["tee"]["ports"], "down": TAPER}}, "port down: wanted has none to join it to"),
        ("brake", {"bleeder": "none"}, "bleeder none, not M8x1.25"),
        ("pump", {"reservoir_volume": 5e4}, "reservoir_volume 50000 mm3, not 90000 mm3"),
        ("pipe", {"material": "copper"}, "material copper, refused under brake pressure"),
    ],
)
def test_stated_parts_that_are_known_to_be_worse(name: str, change: dict[str, object], reason: str) -> None:
    """A statement does not outweigh a known fact: another kind, a port that is not there, a limit that is lower."""
    assert refusal(part(name, equivalent_to=["other"]), part(name, "other", **change)) == reason


HOUSE = """\
catalog: 1
parts:
  z-nut: {kind: nut, ports: {nut: {thread: 3/8-24 UNF, gender: external, seat: inverted-flare, tube: 4.75 mm}}}
  a-nut: {kind: nut, ports: {nut: {thread: 3/8-24 UNF, gender: external, seat: inverted-flare, tube: 3/16 in}}}
  other-nut: {kind: nut, ports: {nut: {thread: M10x1, gender: external, seat: bubble, tube: 4.75 mm}}}
  my-nut: {kind: nut, equivalent_to: [other-nut, unheard-of, z-nut], ports: {nut: {gender: external}}}
  odd-nut: {kind: nut, equivalent_to: [other-nut, z-nut], ports: {nut: {thread: M12x1, gender: external}}}
"""


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    """Lay a few nuts over the generic catalog."""
    path = tmp_path / "house.yaml"
    path.write_text(HOUSE, encoding="utf-8")
    return Shelf.generic().under([read_catalog(path)])


def test_substitutes_in_the_order_of_the_shelf(shelf: Shelf) -> None:
    """The builder's own parts come first, then by id; only candidates are named, and never the part itself."""
    offered = ["nut-3-8-24-inverted", "z-nut", "other-nut", "a-nut", "a-nut", "nobody-has-it"]
    ready = StandIns(shelf, offered)
    assert ready.of("nut-3-8-24-inverted") == ("a-nut", "z-nut")
    assert ready.of("a-nut") == ("z-nut", "nut-3-8-24-inverted")
    assert StandIns(shelf, ["other-nut"]).of("a-nut") == ()
    assert ready.of("my-nut") == ("other-nut", "z-nut")
    assert ready.of("odd-nut") == ()
    assert ready.of("nobody-has-it") == ()


def test_the_index_leaves_nothing_out(shelf: Shelf) -> None:
    """Asking part by part gives the same as the index, for every seventh part of the shelf."""
    ready = StandIns(shelf, shelf.ids())
    parts = [found for found in map(shelf.get, shelf.ids()) if found is not None]
    for wanted in parts[::7]:
        one_by_one = tuple(each.id for each in parts if each.id != wanted.id and refusal(wanted, each) is None)
        assert ready.of(wanted.id) == one_by_one


def test_no_two_generic_parts_are_alike() -> None:
    """The generic catalog has each thing once, so nothing in it is proven to stand in for another."""
    generic = Shelf.generic()
    ready = StandIns(generic, generic.ids())
    assert [part_id for part_id in generic.ids() if ready.of(part_id)] == []
