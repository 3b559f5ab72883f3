"""What is around a line, as cures see it, against what the rules say of the same build."""

from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load_document
from fitcheck.checks.context import Context
from fitcheck.checks.run import check_context
from fitcheck.remedies.room import Room
from fitcheck.sources import parse

POINT = st.tuples(*[st.integers(-30, 30).map(lambda number: number * 10)] * 3).map(list)


@st.composite
def crossed(draw: st.DrawFn) -> str:
    """Draw a build of lines in a small room, on one body or two, with something hot in it."""
    count = draw(st.integers(2, 5))
    bodies = draw(st.lists(st.sampled_from(["chassis", "axle"]), min_size=count, max_size=count))
    text = "build: 1\nbodies: {axle: {poses: {bump: {shift: [0, 0, 60]}}}}\ncomponents:\n"
    lines = "lines:\n"
    for number, on in enumerate(bodies):
        start, corner, end = (draw(POINT) for _ in range(3))
        text += f"  a{number}: {{part: union-3-16-inverted, at: {start}, on: {on}}}\n"
        text += f"  b{number}: {{part: union-3-16-inverted, at: {end}, on: {on}}}\n"
        lines += f"  l{number}: {{from: a{number}.a, to: b{number}.a, tube: tube-3-16-cuni, route: [{corner}]}}\n"
    return f"{text}{lines}heat: {{pipe: {{path: [{draw(POINT)}, {draw(POINT)}], radius: 20 mm}}}}\n"


@given(crossed())
@settings(derandomize=True, database=None, deadline=None, max_examples=150)
def test_as_the_rules_see_it(text: str) -> None:
    """What a line is too near to where it runs now is what the two rules say of it, no more and no less."""
    context = Context(assemble(load_document(parse(text, "car.yaml"), Path())))
    report = check_context(context)
    room = Room(context)
    for tag in room.lines:
        told = {
            (finding.rule, other)
            for finding in report.findings
            if finding.rule in ("near-heat", "lines-touching") and tag in finding.at
            for other in finding.at
            if other != tag
        }
        assert room.near(tag, room.lines[tag].curve) == told
        for rule, other in told:
            assert not room.clear_of(tag, room.lines[tag].curve, rule, other)
