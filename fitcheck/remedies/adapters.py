"""Chains of adapters from the catalog that join two ends which do not join as they are.

The search runs over *interfaces* (thread, gender, seat, size), not over parts, so parts that share an
interface cost nothing extra. Each step is judged by the same code that judges the build's own joints.
"""

from collections.abc import Iterator
from typing import Any, Final, NamedTuple

from fitcheck.build.fixings import Fixings, fixings
from fitcheck.build.graph import End, Fitted, Joint, PortGraph
from fitcheck.catalog.part import Part, Port
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Report
from fitcheck.checks.joint_facts import judge

RULES: Final = frozenset({"thread-mismatch", "gender-clash", "seat-mismatch", "tube-size-mismatch"})
"""Rules whose findings an adapter may put right."""
MOST_ADAPTERS: Final = 2
"""Longest chain that is looked for. Every adapter is one more joint that can leak."""
MOST_SHOWN: Final = 3
_KINDS: Final = ("union", "adapter")

Interface = tuple[Any, ...]


class AdapterChain(NamedTuple):
    """A remedy: these adapters, in this order from the first end named in the finding to the second.

    `added_joints` counts the leak paths it adds.
    """

    parts: tuple[str, ...]

    @property
    def added_joints(self) -> int:
        """How many more joints there are than before."""
        return len(self.parts)


def with_adapters(context: Context, report: Report) -> Report:
    """Return the report with adapter chains as remedies where the catalog has some that join."""
    bridges = Bridges(context.graph)
    by_refs = {frozenset(joint.refs): joint for joint in context.graph.joints}

    def remedied(finding: Finding) -> Finding:
        joint = by_refs.get(frozenset(finding.at)) if finding.rule in RULES else None
        if joint is None or len(joint.ends) != 2 or joint.kind not in ("pair", "tube"):
            return finding
        first, second = joint.ends if joint.kind == "pair" else joint.ends[::-1]
        return finding._replace(remedies=tuple(bridges.between(first, second)))

    return report._replace(findings=tuple(remedied(finding) for finding in report.findings))


class Bridges:
    """Finds adapter chains for one build; remembers which interfaces join."""

    def __init__(self, graph: PortGraph) -> None:
        self.graph = graph
        self._joins: dict[tuple[Interface, Interface], bool] = {}
        self._steps: dict[Interface, list[tuple[Part, Port]]] = {}
        self._adapters = [
            (part, ports)
            for kind in _KINDS
            for part in graph.build.shelf.of_kind(kind)
            if len(ports := part.fluid_ports()) == 2 and len(part.passages) == 1
        ]

    def between(self, first: End, second: End) -> list[AdapterChain]:
        """Return the shortest chains that join the two ends, at most three, none if there are none.

        Of equally short ones those come first that bring in no form which neither end has: a metric bubble line
        stays one.
        """
        if first.port is None and not first.tube_end:
            return []
        chains: list[tuple[tuple[str, ...], End]] = [((), first)]
        seen: set[Interface] = {_interface(first)}
        for _ in range(MOST_ADAPTERS):
            longer: list[tuple[tuple[str, ...], End]] = []
            done: list[AdapterChain] = []
            for parts, end in chains:
                for part, far in self._onward(end):
                    chain, here = (*parts, part.id), _loose_end(part, far)
                    if self.join(here, second):
                        done.append(AdapterChain(chain))
                    elif _interface(here) not in seen:
                        longer.append((chain, here))
            if done:
                own = {_form(end.port) for end in (first, second) if end.port is not None}
                return sorted(set(done), key=lambda chain: (self._foreign(chain, own), chain.parts))[:MOST_SHOWN]
            seen |= {_interface(end) for _, end in longer}
            chains = _one_each(longer)
        return []

    def _foreign(self, chain: AdapterChain, own: set[Interface]) -> int:
        """Return how many forms of thread and seat a chain brings in that neither end has."""
        parts = [part for name in chain.parts if (part := self.graph.build.shelf.get(name)) is not None]
        return len({_form(port) for part in parts for port in part.fluid_ports()} - own)

    def join(self, a: End, b: End) -> bool:
        """Return whether two ends seal as they are: the judgement of the joint rules, nothing less."""
        key = (_interface(a), _interface(b))
        if key not in self._joins:
            tube = a.tube_end or b.tube_end
            ends = (b, a) if a.tube_end else (a, b)
            joint = Joint(ends, "tube" if tube else "pair", ())
            needs = fixings(self.graph, joint) if tube else Fixings()
            facts = judge(joint, needs)
            self._joins[key] = facts.rule is None and not facts.unchecked
        return self._joins[key]

    def _onward(self, end: End) -> Iterator[tuple[Part, Port]]:
        """Yield each adapter that joins `end`, with its far port."""
        key = _interface(end)
        if key not in self._steps:
            self._steps[key] = [
                (part, far)
                for part, (a, b) in self._adapters
                for near, far in ((a, b), (b, a))
                if self.join(end, _loose_end(part, near))
            ]
        yield from self._steps[key]


def _form(port: Port) -> Interface:
    return (port.thread.key if port.thread else None, port.seat)


def _loose_end(part: Part, port: Port) -> End:
    return End(f"{part.id}.{port.name}", Fitted(part.id, "components", part.id, part, ()), port)


def _one_each(chains: list[tuple[tuple[str, ...], End]]) -> list[tuple[tuple[str, ...], End]]:
    """Keep the first chain to each interface."""
    kept: dict[Interface, tuple[tuple[str, ...], End]] = {}
    for chain, end in chains:
        kept.setdefault(_interface(end), (chain, end))
    return list(kept.values())


def _interface(end: End) -> Interface:
    """Return what decides whether an end joins another: for a tube its size, for a port its form."""
    if end.tube_end:
        part, stated = end.fitted.part, end.stated
        return ("tube", part.od if part else None, part.wall if part else None, stated)
    port = end.port
    if port is None:
        return ("unknown",)
    return (port.thread.key if port.thread else None, port.gender, port.seat, port.tube, port.hose, port.eye)
