"""`circuit-looped`, `one-way-reversed` and `no-bleeder`: rules that follow the fluid."""

from pathlib import Path

import pytest

from tests.checks.circuit.cars import (
    CAR,
    assert_walked,
    context_of,
    findings,
    looked,
    spoilt,
    told,
    touching,
    unchecked,
    without,
)

_RING = """\
build: 1
components:
  a: {part: tee-m10x1-bubble}
  b: {part: tee-m10x1-bubble}
  c: {part: tee-m10x1-bubble}
  d: {part: tee-m10x1-bubble}
lines:
  ab: {from: a.right, to: b.left, tube: tube-3-16-cuni}
  bc: {from: b.right, to: c.left, tube: tube-3-16-cuni}
  cd: {from: c.right, to: d.left, tube: tube-3-16-cuni}
  da: {from: d.right, to: a.left, tube: tube-3-16-cuni}
"""
_HOUSE = """\
catalog: 1
parts:
  %s-plain:
    kind: %s
    ports:
      inlet: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      bridge: {same as: inlet}
    bleeder: %s
  bleed-fitting:
    kind: union
    ports:
      a: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
    ends: [a]
    bleeder: M10x1
  bleed-bolt:
    kind: banjo bolt
    ports:
      thread: {thread: M10x1, gender: external, seat: washer-face}
    bleeder: M7x1
"""
_CLUTCH = """\
build: 1
components:
  tank: {part: reservoir-1-outlet}
  mc: {part: mc-m10x1-bubble}
  last: {part: %s}
  stop: {part: %s}
lines:
  run: {from: mc.outlet, to: last.inlet, tube: tube-3-16-cuni}
  onward: {from: last.bridge, to: stop.%s, tube: tube-3-16-cuni}
hoses:
  feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed}
"""


def _assert_circle(text: str, loop: tuple[str, ...]) -> None:
    neighbours = touching(context_of(text))
    assert len(set(loop)) == len(loop) > 2
    assert all(after in neighbours[before] for before, after in zip(loop, (*loop[1:], loop[0]), strict=True))


def test_ring_of_lines_is_one_warning() -> None:
    """Four lines in a ring are one circle, and its witness can be walked round."""
    (found,) = findings(context_of(_RING), "circuit-looped")
    assert (found.rule, found.level) == ("circuit-looped", "warning")
    assert sorted(found.at) == ["a", "ab", "b", "bc", "c", "cd", "d", "da"]
    assert found.message == "a, ab and 6 more form a circle"
    _assert_circle(_RING, found.evidence["loop"])


def test_each_independent_circle_is_told_once() -> None:
    """A line across the ring makes two circles out of one, not three."""
    text = _RING + "  across: {from: a.top, to: c.top, tube: tube-3-16-cuni}\n"
    found = findings(context_of(text), "circuit-looped")
    assert len(found) == 2
    for one in found:
        _assert_circle(text, one.evidence["loop"])


def test_tree_of_lines_has_no_circle() -> None:
    """The sound car is looked at in all its pressure circuits and has none."""
    context = context_of(CAR)
    assert told(context, "circuit-looped") == []
    assert looked(context, "circuit-looped") == 3


def test_circle_on_the_feed_side_is_allowed() -> None:
    """Two feed hoses between one chamber and two joined feeds hold no pressure and may form a circle."""
    text = """\
build: 1
components:
  tank: {part: reservoir-2-outlet-shared}
  tank_2: {part: reservoir-2-outlet-shared}
hoses:
  one: {part: feed-hose-8mm, from: tank.front, to: tank_2.front}
  two: {part: feed-hose-8mm, from: tank.rear, to: tank_2.rear}
"""
    assert told(context_of(text), "circuit-looped") == []


def test_ports_of_one_part_joined_to_each_other() -> None:
    """A joint between two ports that share a passage is a circle within one part."""
    text = "build: 1\ncomponents:\n  a: {part: tee-m10x1-bubble}\njoints:\n  - [a.left, a.right]\n"
    (found,) = findings(context_of(text), "circuit-looped")
    assert found.message == "ports of a are joined to each other"
    assert found.evidence == {"loop": ("a.left", "a.right")}


def test_circle_that_nothing_feeds_is_unchecked() -> None:
    """A line whose two ends were swapped with another's leaves a circle that is not fed: the gap speaks."""
    text = spoilt(
        ("from: mc_front.outlet, to", "from: @, to"), ("from: tee_front.right, to", "from: mc_front.outlet, to")
    )
    context = context_of(text.replace("@", "tee_front.right"))
    assert told(context) == [("circuit-not-fed", "error", "circuit front does not reach caliper_fr.inlet")]
    answers = [one for one in unchecked(context) if one[0] == "circuit-looped"]
    assert [missing for _, _, missing in answers] == ["a way from an outlet to caliper_fr.inlet"]


def test_valve_the_wrong_way_round() -> None:
    """A valve that pressure enters at its outlet is an error; the way from the outlet does not pass its inlet."""
    text = spoilt(("to: limiter.in", "to: limiter.@"), ("from: limiter.out", "from: limiter.in"))
    context = context_of(text.replace("limiter.@", "limiter.out"))
    (found,) = findings(context)
    assert (found.rule, found.level) == ("one-way-reversed", "error")
    assert found.message == "pressure from mc_rear.outlet enters limiter at its outlet"
    assert found.at == ("limiter.out", "limiter.in")
    assert_walked(context, found.evidence["path"], "mc_rear.outlet", "limiter.out")
    assert "limiter.in" not in found.evidence["path"]


def test_valve_that_nothing_feeds_is_unchecked() -> None:
    """Which way round a valve is cannot be told before pressure reaches it."""
    context = context_of(without("rear_feed"))
    assert told(context, "one-way-reversed") == []
    missing = "a way from an outlet to limiter.in"
    assert ("one-way-reversed", ("limiter",), missing) in unchecked(context)


def test_sound_valve_is_looked_at() -> None:
    """The sound car's valve counts as looked at."""
    assert looked(context_of(CAR), "one-way-reversed") == 1


@pytest.mark.parametrize(
    ("kind", "asked"), [("residual valve", True), ("proportioning valve", True), ("shut-off valve", False)]
)
def test_valve_of_unknown_direction_is_unchecked(kind: str, asked: bool, tmp_path: Path) -> None:
    """A residual or proportioning valve whose entry states no direction is listed; a shut-off valve has none."""
    house = f"""\
catalog: 1
parts:
  valve-plain:
    kind: {kind}
    ports: {{in: {{thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}}, out: {{same as: in}}}}
"""
    context = context_of(CAR.replace("proportioning-valve-m10x1-bubble", "valve-plain"), house, tmp_path)
    expected = [("one-way-reversed", ("limiter",), "parts.valve-plain.one_way")]
    assert unchecked(context, "one-way-reversed") == (expected if asked else [])


@pytest.mark.parametrize(
    ("kind", "level"), [("slave cylinder", "warning"), ("caliper", "error"), ("wheel cylinder", "error")]
)
def test_consumer_without_a_bleed_screw(kind: str, level: str, tmp_path: Path) -> None:
    """Without a bleed screw at or beyond it a brake is an error, a clutch a warning."""
    text = _CLUTCH % ("part-plain", "union-m10x1-bubble", "a")
    house = (_HOUSE % ("part", kind, "none")).replace("'", "")
    (found,) = findings(context_of(text, house, tmp_path), "no-bleeder")
    assert (found.rule, found.level) == ("no-bleeder", level)
    assert found.message == "last has no bleed screw, nor is there one beyond it"
    assert found.at == ("last",)
    assert found.evidence == {
        "part": "part-plain",
        "ports": ["last.inlet", "last.bridge"],
        "fed_at": "last.inlet",
    }


def test_bleed_screw_beyond_another_port_counts(tmp_path: Path) -> None:
    """A part with a bleed screw at the end of a line from the other port lets the air out."""
    text = _CLUTCH % ("part-plain", "bleed-fitting", "a")
    assert told(context_of(text, _HOUSE % ("part", "slave cylinder", "none"), tmp_path), "no-bleeder") == []


def test_bleed_screw_upstream_does_not_count(tmp_path: Path) -> None:
    """A bleed screw on the way to the consumer leaves the air in it."""
    text = (_CLUTCH % ("part-plain", "bleed-fitting", "a")).replace("from: last.bridge", "from: mc_tee.right")
    text = text.replace("to: last.inlet", "to: mc_tee.left").replace(
        "lines:\n",
        "  mc_tee: {part: tee-m10x1-bubble}\nlines:\n  top: {from: mc_tee.top, to: last.inlet, tube: tube-3-16-cuni}\n",
    )
    found = told(context_of(text, _HOUSE % ("part", "slave cylinder", "none"), tmp_path), "no-bleeder")
    assert found == [("no-bleeder", "warning", "last has no bleed screw, nor is there one beyond it")]


def test_banjo_bolt_with_a_bleed_screw_counts(tmp_path: Path) -> None:
    """A stated banjo bolt with a bleed screw of its own lets the air out."""
    house = (_HOUSE % ("part", "slave cylinder", "none")).replace(
        "      inlet: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}\n      bridge: {same as: inlet}",
        "      inlet: {thread: M10x1, gender: internal, seat: washer-face}",
    )
    text = """\
build: 1
components:
  mc: {part: mc-3-8-24-inverted}
  last: {part: part-plain}
joints:
  - {port: last.inlet, eyes: [run.to]%s}
hoses:
  run: {part: hose-braided-350-3-8-24-inverted-male-banjo-10mm, from: mc.outlet}
"""
    assert told(context_of(text % ", bolt: bleed-bolt", house, tmp_path), "no-bleeder") == []
    assert len(told(context_of(text % "", house, tmp_path), "no-bleeder")) == 1


def test_unknown_bleed_screw_is_unchecked(tmp_path: Path) -> None:
    """A catalog entry that says nothing of a bleed screw leaves the question open."""
    house = (_HOUSE % ("part", "caliper", "@")).replace("    bleeder: @\n", "")
    context = context_of(_CLUTCH % ("part-plain", "union-m10x1-bubble", "a"), house, tmp_path)
    assert unchecked(context, "no-bleeder") == [("no-bleeder", ("last",), "parts.part-plain.bleeder")]


def test_consumer_that_nothing_feeds_is_unchecked(tmp_path: Path) -> None:
    """Which of its ports fluid comes in at is not known before it is fed."""
    text = without("run", text=_CLUTCH % ("part-plain", "union-m10x1-bubble", "a"))
    context = context_of(text, _HOUSE % ("part", "caliper", "none"), tmp_path)
    assert unchecked(context, "no-bleeder") == [("no-bleeder", ("last",), "a way from an outlet to last.inlet")]
