"""Nuts that no spanner gets on: beside each other, and beside a tube."""

from pathlib import Path

import pytest

from fitcheck.build.load import load
from fitcheck.checks.findings import Finding, Report
from fitcheck.checks.run import check

RULE = "panel-misfit"
END = "{thread: 3/8-24 UNF, gender: internal, seat: inverted-flare, tube: 3/16 in"
THROUGH = f"kind: bulkhead union, panel: {{hole: 14 mm, grip: 5 mm}}, ports: {{a: {END}}}, b: {END}}}}}"
FACE = "offset: [0 mm, 0 mm, 0 mm]"
HOUSE = f"""\
catalog: 1
parts:
  through: {{{THROUGH}}}
  through-17: {{{THROUGH}, outside: 19.6 mm}}
  joint: {{kind: union, ports: {{a: {END}, {FACE}}}, b: {END}}}}}}}
  joint-somewhere: {{kind: union, ports: {{a: {END}}}, b: {END}}}}}}}
  tee: {{kind: tee, ports: {{l: {END}, {FACE}}}, r: {END}, offset: [0 mm, 12 mm, 0 mm]}}}}}}
"""
BIG = f"  big-nut: {{kind: nut, outside: 16 mm, ports: {{nut: {END.replace('internal', 'external')}}}}}}}\n"
PLUGS = "  p{0}: {{part: plug-3-8-24-inverted}}\n"


def lines(
    part: str = "joint",
    apart: float = 14.0,
    ahead: float = 0.0,
    on: str = "chassis",
    ends: str = "",
    far: float = 300.0,
) -> str:
    """Return a build with two straight-leaving lines `one` and `two` along x, their nuts so far apart."""
    text = "build: 1\ncatalogs: [house.yaml]\nbodies: {axle: {poses: {bump: {shift: [0, 0, 60]}}}}\ncomponents:\n"
    text += f"  a: {{part: {part}, at: [0, 0, 0]}}\n  b: {{part: {part}, at: [{ahead}, {apart}, 0], on: {on}}}\n"
    text += f"  c: {{part: {part}, at: [500, -{far}, 0]}}\n  d: {{part: {part}, at: [540, {far}, 0], on: {on}}}\n"
    text += "".join(PLUGS.format(number) for number in range(4))
    text += "joints: [[p0.end, a.b], [p1.end, b.b], [p2.end, c.b], [p3.end, d.b]]\nlines:\n"
    text += f"  one: {{from: a.a, to: c.a, tube: tube-3-16-cuni, route: [[500, 0, 0]]{ends}}}\n"
    text += f"  two: {{from: b.a, to: d.a, tube: tube-3-16-cuni, route: [[540, {apart}, 0]]}}\n"
    return text


def bulkheads(one: str, other: str, apart: str, on: str = "chassis") -> str:
    """Return a build with two bulkhead parts at their places."""
    text = "build: 1\ncatalogs: [house.yaml]\nbodies: {axle: {poses: {bump: {shift: [0, 0, 60]}}}}\ncomponents:\n"
    text += f"  a: {{part: {one}, at: [0, 0, 0]}}\n  b: {{part: {other}, at: {apart}, on: {on}}}\n"
    text += "".join(PLUGS.format(number) for number in range(4))
    return text + "joints: [[p0.end, a.a], [p1.end, a.b], [p2.end, b.a], [p3.end, b.b]]\n"


def report_of(text: str, folder: Path) -> Report:
    """Return the report of a build with its catalog beside it."""
    (folder / "house.yaml").write_text(HOUSE + BIG * ("big-nut" in text), encoding="utf-8")
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    return check(load(folder))


def found(text: str, folder: Path) -> list[Finding]:
    """Return what the rule finds."""
    return [finding for finding in report_of(text, folder).findings if finding.rule == RULE]


def missing(text: str, folder: Path) -> list[tuple[tuple[str, ...], str]]:
    """Return what the rule misses."""
    return [(each.at, each.missing) for each in report_of(text, folder).unchecked if each.rule == RULE]


def test_two_bulkhead_unions_too_close(tmp_path: Path) -> None:
    """The ring for 17 mm is 25.4 mm wide, half of it and of the other nut's 19.6 mm are 22.5."""
    (finding,) = found(bulkheads("through-17", "through-17", "[0, 22, 0]"), tmp_path)
    assert (finding.level, finding.at) == ("warning", ("a", "b"))
    assert finding.message == "no room for a spanner on the nut of a: b is 22 mm away, it needs 22.5 mm"
    assert finding.evidence["flats_mm"] == pytest.approx(16.97, abs=0.01)
    assert finding.evidence["room_mm"] == pytest.approx((finding.evidence["head_mm"] + 19.6) / 2.0)
    assert found(bulkheads("through-17", "through-17", "[0, 22.6, 0]"), tmp_path) == []
    assert missing(bulkheads("through-17", "through-17", "[0, 22.6, 0]"), tmp_path) == []


def test_a_nut_of_unknown_size_is_no_smaller_than_its_hole(tmp_path: Path) -> None:
    """A nut is no smaller than the hole it lies over: what is too close even for that is told, else it is missed."""
    (finding,) = found(bulkheads("through", "through-17", "[0, 20, 0]"), tmp_path)
    assert (
        finding.message
        == "no room for a spanner on the nut of b: a is 20 mm away, it needs 20.8 mm, by the least they can be"
    )
    near = bulkheads("through", "through-17", "[0, 30, 0]")
    assert found(near, tmp_path) == []
    assert missing(near, tmp_path) == [(("a",), "parts.through.outside")]
    assert missing(bulkheads("through", "through-17", "[0, 60, 0]"), tmp_path) == []


def test_what_moves_against_each_other_is_left_alone(tmp_path: Path) -> None:
    """Two parts on two bodies are not turned where they are drawn."""
    assert found(bulkheads("through-17", "through-17", "[0, 22, 0]", on="axle"), tmp_path) == []
    assert found(lines(on="axle"), tmp_path) == []


def test_two_tube_nuts_too_close(tmp_path: Path) -> None:
    """The ring for the smallest usual hexagon, 3/8 in, is 15.6 mm wide: half of it and of 11 mm are 13.3 mm."""
    (finding,) = found(lines(apart=12.0), tmp_path)
    assert finding.message == (
        "no room for a spanner on the nut of one.from: two.from is 12 mm away, it needs 13.3 mm, "
        "by the least they can be"
    )
    assert finding.at == ("one.from", "two.from")
    assert "the smallest usual: trade guide to brake nut threads" in finding.evidence["source"]
    assert found(lines(apart=13.5), tmp_path) == []


def test_the_nut_that_is_stated_counts(tmp_path: Path) -> None:
    """A nut that is 16 mm across its corners needs more room than the usual one."""
    text = lines(apart=16.0, ends=", ends: {from: {nut: big-nut}}")
    text = text.replace("[[540, 16.0, 0]]", "[[540, 16.0, 0]], ends: {from: {nut: nut-3-8-24-inverted}}")
    (finding,) = found(text, tmp_path)
    assert finding.message.startswith(
        "no room for a spanner on the nut of one.from: two.from is 16 mm away, it needs 16.2 mm"
    )


def test_a_tube_beside_a_nut(tmp_path: Path) -> None:
    """A nut that stands back has the other's tube beside it: 7.8 mm of head and 2.4 mm of tube are needed."""
    (finding,) = found(lines(apart=10.0, ahead=40.0), tmp_path)
    assert finding.message == (
        "no room for a spanner on the nut of two.from: one, 4.76 mm thick, is 10 mm from its axis, it needs 10.2 mm, "
        "by the least it can be"
    )
    assert finding.at == ("two.from", "one")
    assert found(lines(apart=10.5, ahead=40.0), tmp_path) == []


def test_a_face_that_is_not_known_is_missed_only_where_it_matters(tmp_path: Path) -> None:
    """Two parts near to each other want their ports' offsets; far apart nothing is missed."""
    assert missing(lines("joint-somewhere", apart=20.0), tmp_path) == [
        (("one.from",), "parts.joint-somewhere.ports.a.offset"),
        (("two.from",), "parts.joint-somewhere.ports.a.offset"),
    ]
    assert found(lines("joint-somewhere", apart=12.0), tmp_path) == []
    assert missing(lines("joint-somewhere", apart=80.0), tmp_path) == []


def test_ports_of_one_part_are_its_makers_matter(tmp_path: Path) -> None:
    """Two lines that leave one tee are not told: the tee was made so."""
    text = lines(apart=12.0)
    text = text.replace("  a: {part: joint, at: [0, 0, 0]}\n", "  a: {part: tee, at: [0, 0, 0]}\n")
    text = text.replace("  b: {part: joint, at: [0.0, 12.0, 0], on: chassis}\n", "")
    text = (
        text.replace("[p0.end, a.b], [p1.end, b.b], ", "")
        .replace("from: a.a", "from: a.l")
        .replace("from: b.a", "from: a.r")
    )
    assert "  b:" not in text
    assert found(text, tmp_path) == []


def test_a_heap_of_parts_in_one_place_ends(tmp_path: Path) -> None:
    """Many parts in one point are each looked at against a bounded number of others."""
    many = 300
    text = "build: 1\ncatalogs: [house.yaml]\ncomponents:\n"
    text += "".join(f"  a{number}: {{part: through-17, at: [0, 0, 0]}}\n" for number in range(many))
    assert 0 < len(found(text, tmp_path)) <= many * 40
