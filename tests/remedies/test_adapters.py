"""Adapter chains: they join what they are said to join, the shortest come first, none is offered in vain."""

from itertools import pairwise
from pathlib import Path

import pytest

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load_document
from fitcheck.checks.context import Context
from fitcheck.checks.run import check, check_context
from fitcheck.remedies.adapters import AdapterChain, Bridges
from fitcheck.sources import parse


def remedies_of(text: str) -> list[AdapterChain]:
    """Return the chains that join the two ends of the only finding of a build text."""
    context = Context(assemble(load_document(parse(text, "car.yaml"), Path())))
    (finding,) = check_context(context).findings
    joint = next(joint for joint in context.graph.joints if set(joint.refs) == set(finding.at))
    first, second = joint.ends if joint.kind == "pair" else joint.ends[::-1]
    return Bridges(context.graph).between(first, second)


PAIR = """\
build: 1
components:
  joiner: {{part: {joiner}}}
  stop_a: {{part: {stop}}}
  stop_b: {{part: {other}}}
{more}
joints:
  - [stop_b.end, joiner.b]
{joints}
"""


def pair(joiner: str, stop: str, other: str, between: tuple[str, ...] = ()) -> str:
    """Return a build in which `stop` goes into `joiner` through the adapters in `between`, ports as they fit."""
    more = "".join(f"  adapter_{n}: {{part: {part}}}\n" for n, part in enumerate(between))
    shelf = load_document(parse("build: 1", "x"), Path()).shelf
    chain = [("stop_a", ["end"]), *((f"adapter_{n}", list(shelf.get(p).ports)) for n, p in enumerate(between))]  # type: ignore[union-attr]
    chain.append(("joiner", ["a"]))
    for flips in range(2 ** len(between)):
        ports = [names if not flips >> n & 1 else names[::-1] for n, (_, names) in enumerate(chain[1:-1])]
        entries = [chain[0], *((tag, names) for (tag, _), names in zip(chain[1:-1], ports, strict=True)), chain[-1]]
        joints = "".join(f"  - [{a}.{out[-1]}, {b}.{into[0]}]\n" for (a, out), (b, into) in pairwise(entries))
        text = PAIR.format(joiner=joiner, stop=stop, other=other, more=more, joints=joints)
        if not check(load_document(parse(text, "car.yaml"), Path())).failed:
            return text
    return text


CASES = [
    ("union-m10x1-bubble", "plug-3-8-24-inverted", "plug-m10x1-bubble"),
    ("union-m10x1-inverted", "plug-m10x1-bubble", "plug-m10x1-inverted"),
    ("union-3-16-inverted", "plug-m10x1-bubble", "plug-3-8-24-inverted"),
    ("union-an3", "plug-3-8-24-inverted", "cap-an3"),
]


@pytest.mark.parametrize(("joiner", "stop", "other"), CASES)
def test_each_chain_makes_the_joint_good(joiner: str, stop: str, other: str) -> None:
    """A build with the offered adapters fitted has no error where it had one."""
    chains = remedies_of(pair(joiner, stop, other))
    assert chains
    for chain in chains:
        repaired = check(load_document(parse(pair(joiner, stop, other, chain.parts), "car.yaml"), Path()))
        assert [found.message for found in repaired.findings] == []


def test_shortest_chains_only() -> None:
    """All chains offered for one finding are equally short, and count the joints they add."""
    chains = remedies_of(pair(*CASES[0]))
    assert {len(chain.parts) for chain in chains} == {1}
    assert all(chain.added_joints == len(chain.parts) for chain in chains)


def test_a_tube_end_is_bridged_too() -> None:
    """A tube of the wrong size for its port is offered a reducer, and the nut that goes with it exists."""
    text = """\
build: 1
components:
  near: {part: union-3-16-inverted}
  far: {part: union-1-4-inverted}
  stop_a: {part: plug-3-8-24-inverted}
  stop_b: {part: plug-7-16-24-inverted}
joints:
  - [stop_a.end, near.a]
  - [stop_b.end, far.b]
lines:
  run: {from: near.b, to: far.a, tube: tube-1-4-cuni}
"""
    chains = remedies_of(text)
    assert chains
    shelf = load_document(parse("build: 1", "x"), Path()).shelf
    for chain in chains:
        part = shelf.get(chain.parts[0])
        assert part is not None
        assert {round(port.tube or 0, 2) for port in part.ports.values()} >= {6.35}


def test_a_union_that_keeps_the_form_comes_first() -> None:
    """Between a tube and an external bubble thread the plain bubble union is offered before any other standard."""
    text = """\
build: 1
components:
  near: {part: union-m10x1-bubble}
  stop: {part: plug-m10x1-bubble}
  light: {part: pressure-switch-m10x1-bubble}
joints: [[stop.end, near.a]]
lines:
  run: {from: near.b, to: light.port, tube: tube-4-75mm-cuni}
"""
    assert remedies_of(text)[0].parts == ("union-m10x1-bubble",)


def test_nothing_is_offered_where_nothing_joins() -> None:
    """Two ends of which one is no port at all get no adapters."""
    context = Context(
        assemble(load_document(parse("build: 1\ncomponents: {a: {part: pedal-box-single}}", "x"), Path()))
    )
    bridges = Bridges(context.graph)
    rod = context.graph.ends["a.rod_1"]
    assert bridges.between(rod, rod) == []
