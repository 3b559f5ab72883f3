"""The generic catalog: its index is current, and every part in it is one that could be bought and joined."""

import json
import subprocess
import sys
from collections import Counter
from typing import Any

import pytest

from fitcheck.catalog import generic
from fitcheck.catalog.entries import PartEntry
from fitcheck.catalog.generic.__main__ import index_text
from fitcheck.catalog.generic.ends import end
from fitcheck.catalog.generic.expand import expand, row
from fitcheck.catalog.generic.from_tables import FamilyError, slug
from fitcheck.catalog.part import KINDS, Part, part_from_row
from fitcheck.catalog.shelf import Shelf
from fitcheck.standards.seats import seat as seat_of
from fitcheck.standards.sizes import same_tube

_LENGTHS = ("bore", "stroke", "od", "wall", "length", "bend_radius", "inside", "outside", "thickness", "for_hose")
_PORT_LENGTHS = ("tube", "hose", "eye", "depth", "length", "reach")
_DESIGN_IDS = (
    "pedal-box-twin",
    "reservoir-2-outlet",
    "tee-3-16-inverted",
    "pressure-switch-1-8-npt",
    "banjo-bolt-m10x1",
    "tube-3-16-cuni",
    "nut-3-8-24-inverted",
    "feed-hose-8mm",
)


@pytest.fixture(scope="module")
def parts() -> dict[str, Part]:
    """Every generic part by id."""
    return {part_id: part_from_row(part_id, data) for part_id, data in generic.rows().items()}


def _as_text(data: dict[str, Any]) -> dict[str, Any]:
    """Return a row as a user would write it: every quantity as text with its unit."""
    entry = {key: f"{value} mm" if key in _LENGTHS else value for key, value in data.items()}
    for key in {"max_pressure", "setting"} & set(entry):
        entry[key] = f"{entry[key]} MPa"
    if "panel" in entry:
        entry["panel"] = {key: f"{value} mm" for key, value in data["panel"].items()}
    entry["ports"] = {
        name: {key: f"{value} mm" if key in _PORT_LENGTHS else value for key, value in port.items()}
        for name, port in data.get("ports", {}).items()
    }
    if "eyes" in entry:
        entry["eyes"] = str(entry["eyes"])
    return entry


def test_the_index_is_current() -> None:
    """The index that ships is exactly what the families expand to."""
    assert generic.INDEX.read_text(encoding="utf-8") == index_text(), "run: python -m fitcheck.catalog.generic"


def test_the_index_is_sorted_one_part_on_each_line() -> None:
    """A change of one part changes one line, and no id stands twice."""
    lines = generic.INDEX.read_text(encoding="utf-8").splitlines()
    ids = [line.split(":", 1)[0].strip('"') for line in lines[1:-1]]
    assert ids == sorted(set(ids))
    assert list(json.loads(generic.INDEX.read_bytes())) == ids


def test_every_row_written_as_user_text_makes_the_same_part(parts: dict[str, Part]) -> None:
    """Every generic part passes the model of user catalogs, and comes out of it unchanged."""
    for part_id, data in generic.rows().items():
        assert PartEntry.model_validate(_as_text(data)).to_part(part_id, "") == parts[part_id]


def test_every_part_says_where_its_figures_come_from(parts: dict[str, Part]) -> None:
    """Every generic part has a description, and a source that names a standard or its own weakness."""
    for part in parts.values():
        assert part.description, part.id
        assert part.source, part.id
        known = (
            "SAE",
            "ISO",
            "ASME",
            "DIN",
            "JASO",
            "CFR",
            "from memory",
            "common practice, no source",
            "AN818",
            "trade",
            "manual",
            "data",
        )
        assert any(word in part.source for word in known), (part.id, part.source)
        assert "{" not in part.description + part.source, part.id


def test_ids_of_the_design_exist(parts: dict[str, Part]) -> None:
    """The generic ids that the documentation uses are there."""
    assert [part_id for part_id in _DESIGN_IDS if part_id not in parts] == []


def test_there_are_parts_of_every_kind_but_two(parts: dict[str, Part]) -> None:
    """Each kind of part has generic ones; shut-off valves are not used on brakes, spring guards have no known sizes."""
    assert set(KINDS) - {part.kind for part in parts.values()} == {"shut-off valve", "spring guard"}


def test_seats_and_sides_agree_with_the_standards(parts: dict[str, Part]) -> None:
    """A port that carries a seat has the side the standards give it; only what goes into it has the other."""
    movable = {
        "nut",
        "plug",
        "cap",
        "adapter",
        "hose",
        "pressure switch",
        "gauge",
        "banjo bolt",
        "elbow",
        "union",
    }
    for part in parts.values():
        for port in part.fluid_ports():
            if port.seat is None or port.thread is None or part.kind in movable or port.seat == "taper":
                continue
            assert port.gender in seat_of(port.seat).port_genders, (part.id, port.name)


def test_threaded_ports_have_a_side_and_sized_seats_a_tube(parts: dict[str, Part]) -> None:
    """No fluid port lacks what a joint is judged by: side, seat, and tube size where it has one."""
    for part in parts.values():
        for port in part.fluid_ports():
            assert port.seat is not None, (part.id, port.name)
            if port.thread is not None:
                assert port.gender in ("external", "internal"), (part.id, port.name)
            if seat_of(port.seat).needs_tube:
                assert port.tube is not None, (part.id, port.name)


def test_every_port_for_a_flared_tube_has_a_generic_nut(parts: dict[str, Part]) -> None:
    """Each inverted, bubble and 37 degree port can be joined to tube with the catalog's own nuts."""
    shelf = Shelf.generic()
    for part in parts.values():
        for port in part.fluid_ports():
            seat = seat_of(port.seat or "")
            if part.kind == "nut" or not seat.tube_end or port.thread is None or port.tube is None:
                continue
            if port.gender in seat.port_genders:
                nuts = shelf.nuts(port.thread, seat.nut_gender or "", seat.name, port.tube)
                assert nuts, (part.id, port.name)


def test_every_sleeved_nut_has_a_sleeve(parts: dict[str, Part]) -> None:
    """Each nut of a seat that takes a sleeve has a generic sleeve for its tube, and others have none."""
    shelf = Shelf.generic()
    for part in (part for part in parts.values() if part.kind == "nut"):
        port = part.ports["nut"]
        assert bool(shelf.sleeves(port.seat or "", port.tube or 0)) == seat_of(port.seat or "").sleeve


def test_every_eye_has_a_bolt_and_every_bolt_its_washers(parts: dict[str, Part]) -> None:
    """Each banjo eye fits a bolt of the catalog, single and double, and each bolt finds copper washers."""
    shelf = Shelf.generic()
    bolts = shelf.of_kind("banjo bolt")
    threads = {bolt.ports["bolt"].thread: bolt for bolt in bolts}
    for bolt in bolts:
        thread = bolt.ports["bolt"].thread
        assert thread is not None
        assert shelf.washers(thread.nominal_mm), bolt.id
        assert {one.eyes for one in shelf.bolts(thread, thread.nominal_mm)} == {1, 2}
    for eye in {port.eye for part in parts.values() for port in part.ports.values() if port.eye is not None}:
        assert any(thread and shelf.bolts(thread, eye) for thread in threads), eye


def test_adapters_join_unlike_ends_each_pair_once(parts: dict[str, Part]) -> None:
    """No two adapters of one kind have the same two ends, and none has two like ends."""
    pairs = Counter(
        frozenset((port.thread, port.gender, port.seat, port.tube, port.hose, port.eye) for port in part.ports.values())
        for part in parts.values()
        if part.kind == "adapter"
    )
    assert [pair for pair, count in pairs.items() if count > 1] == []
    assert [pair for pair in pairs if len(pair) != 2] == []


def test_usual_pairs_have_an_adapter(parts: dict[str, Part]) -> None:
    """The adapters that builds need most are there under the ids that the scheme promises."""
    wanted = [
        "adapter-3-8-24-inverted-male-an3-male",
        "adapter-3-8-24-inverted-female-an3-male",
        "adapter-3-8-24-inverted-female-m10x1-bubble-male",
        "adapter-3-8-24-inverted-male-m10x1-bubble-female",
        "adapter-3-8-24-inverted-female-m10x1-inverted-male",
        "adapter-3-8-24-inverted-female-1-2-20-inverted-for-3-16-male",
        "adapter-3-8-24-inverted-female-7-16-24-inverted-male",
        "adapter-an3-male-1-8-npt-male",
        "adapter-an3-male-g1-8-male",
        "adapter-an3-male-m10x1-washer-male",
        "adapter-an3-male-3-8-24-oring-male",
        "adapter-an3-male-m10x1-oring-male",
    ]
    assert [part_id for part_id in wanted if part_id not in parts] == []


def test_tube_walls_leave_a_bore(parts: dict[str, Part]) -> None:
    """Every tube has a bore, and tube of one size has one outside diameter whatever its metal."""
    for part in (part for part in parts.values() if part.kind == "tube"):
        assert part.od is not None
        assert part.wall is not None
        assert 0 < 2 * part.wall < part.od
    od = parts["tube-3-16-cuni"].od or 0
    assert same_tube(od, parts["tube-4-75mm-cuni"].od or 0)


def test_washers_are_rings(parts: dict[str, Part]) -> None:
    """Every washer is wider outside than inside and has a thickness."""
    for part in (part for part in parts.values() if part.kind == "washer"):
        assert part.inside is not None
        assert part.outside is not None
        assert part.inside < part.outside
        assert part.thickness


def test_duty_parts_begin_and_end_circuits(parts: dict[str, Part]) -> None:
    """Master cylinders have outlets and feeds without a passage; what they feed ends and bleeds."""
    for part in parts.values():
        if part.kind == "master cylinder":
            assert part.outlets, part.id
            assert len(part.feeds) == len(part.outlets), part.id
            assert part.passages == (), part.id
            assert part.ports["pushrod"].mechanical, part.id
        if part.kind in ("caliper", "wheel cylinder", "slave cylinder"):
            assert part.ends == {"inlet"}, part.id
            assert part.bleeder, part.id
    assert parts["reservoir-2-outlet"].passages == (("front",), ("rear",))
    assert parts["reservoir-2-outlet-shared"].passages == (("front", "rear"),)


def test_sizes_of_the_usual_nuts(parts: dict[str, Part]) -> None:
    """Threads of the nuts for 3/16 and 1/4 in tube are as SAE J512 and SAE J514 give them."""
    found = {
        part_id: (parts[part_id].ports["nut"].thread or "").__str__()
        for part_id in ("nut-3-8-24-inverted", "nut-7-16-24-inverted", "nut-an3", "nut-an4", "nut-an6")
    }
    assert found == {
        "nut-3-8-24-inverted": "3/8-24 UNF",
        "nut-7-16-24-inverted": "7/16-24 UNS",
        "nut-an3": "3/8-24 UNF",
        "nut-an4": "7/16-20 UNF",
        "nut-an6": "9/16-18 UNF",
    }


def test_the_index_is_read_without_pydantic_or_yaml() -> None:
    """Looking up a generic part imports neither models nor YAML: start-up stays short."""
    program = (
        "import sys; from fitcheck.catalog.shelf import Shelf; assert Shelf.generic().get('clip-3-16');"
        "print(sorted({'pydantic', 'yaml', 'pint', 'difflib'} & set(sys.modules)))"
    )
    result = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert result.stdout == "[]\n"


def test_slugs() -> None:
    """Sizes and threads stand in ids as the package's page says."""
    texts = ["3/16 in", "4.75 mm", "3/8-24 UNF", "M10x1.25", "1/8-27 NPT", "7/16-24 UNS", "DOT 5.1"]
    assert [slug(text) for text in texts] == [
        "3-16",
        "4-75mm",
        "3-8-24",
        "m10x1-25",
        "1-8-27-npt",
        "7-16-24",
        "dot-5-1",
    ]


def test_an_unknown_end_is_refused_with_the_nearest() -> None:
    """A family that misspells an end learns which one it may have meant."""
    with pytest.raises(FamilyError) as caught:
        end("m10x1-buble")
    assert str(caught.value) == "no end is called 'm10x1-buble'; nearest is 'm10x1-bubble'"


def test_an_end_without_a_side_makes_no_port() -> None:
    """A pipe thread must be said to be male or female before it can be a port."""
    with pytest.raises(FamilyError) as caught:
        end("1-8-npt").port(None)
    assert str(caught.value) == "end 1-8-npt needs a side: write 1-8-npt-male or 1-8-npt-female"


def test_a_template_that_asks_too_much_is_refused() -> None:
    """A template's field without a column is named, with the template."""
    with pytest.raises(FamilyError) as caught:
        list(expand({"kind": "plug", "id": "plug-{size}", "rows": [{"bore": "1 mm"}]}))
    assert str(caught.value) == "template 'plug-{size}' asks for 'size', which its rows lack"


def test_a_small_family_expands_by_rows_sizes_and_pairs() -> None:
    """Rows, `each`, `pairs` with `*`, mates and empty columns do what the families rely on."""
    family = {
        "kind": "adapter",
        "id": "x-{a}-{b}-{length.n}{tail}",
        "each": {"length": ["5 mm"]},
        "rows": [{"tail": "", "mass": None}],
        "pairs": [["an3*", "barb-8mm"]],
        "ports": {"a": {"end": "{a}"}, "b": {"end": "{b}"}},
        "mass": "{mass}",
        "description": "{a.label}, {length}",
    }
    made = dict(expand(family))
    assert list(made) == ["x-an3-male-barb-8mm-5", "x-an3-female-barb-8mm-5"]
    first = row(made["x-an3-male-barb-8mm-5"])
    assert first == {
        "kind": "adapter",
        "description": "37 degree -3 male, 5 mm",
        "ports": {
            "a": {"thread": "3/8-24 UNF", "gender": "external", "seat": "cone-37", "tube": 4.7625},
            "b": {"gender": "external", "seat": "push-on", "hose": 8.0},
        },
    }
