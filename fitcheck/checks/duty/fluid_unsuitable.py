"""`fluid-unsuitable`: rubber and fluid that do not go together, or two fluids that meet.

What it finds
-------------
Parts with rubber in them (cylinders, calipers, hoses, reservoirs, switches, valves) whose `fluid_families` do not
include the family of the fluid in their circuit: the build's `fluid`, or the circuit's own. One finding for each
fluid names them all. A reservoir or master cylinder in which fluids of different families meet is found too, and
speaks for all that it feeds. Parts that do not state their families are not checked.

Why it matters
--------------
Mineral oil swells the rubber of a glycol system within hours; the pistons stick and the brakes drag or fail.

Example
-------
Fails::

    build: 1
    fluid: mineral oil
    components:
      mc: {part: mc-m10x1-bubble}
      tank: {part: reservoir-1-outlet}
      slave: {part: slave-m10x1-bubble}
    lines:
      run: {from: mc.outlet, to: slave.inlet, tube: tube-3-16-cuni}
    hoses:
      feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed}

Passes::

    build: 1
    fluid: DOT 4
    components:
      mc: {part: mc-m10x1-bubble}
      tank: {part: reservoir-1-outlet}
      slave: {part: slave-m10x1-bubble}
    lines:
      run: {from: mc.outlet, to: slave.inlet, tube: tube-3-16-cuni}
    hoses:
      feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed}

Source
------
49 CFR 571.116 (scope: SBR, EPR, CR and NR for brake fluid, none of them for mineral oil), ISO 4925, ISO 7308.
"""

from collections.abc import Iterable, Iterator

from fitcheck.build.circuits import Network
from fitcheck.build.graph import Fitted
from fitcheck.build.refs import tag_of
from fitcheck.checks.circuit_words import few
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Looked, Said, Unchecked
from fitcheck.naming import in_order
from fitcheck.standards.fluids import fluid as fluid_named

RULE = "fluid-unsuitable"
_WITH_RUBBER = frozenset(
    {
        "reservoir",
        "master cylinder",
        "slave cylinder",
        "wheel cylinder",
        "caliper",
        "hose",
        "feed hose",
        "pressure switch",
        "proportioning valve",
        "residual valve",
        "shut-off valve",
    }
)


def find(context: Context) -> Iterator[Said]:
    """Yield every fluid that attacks rubber, with the parts concerned, and every part in which two fluids meet."""
    fluids = _Fluids(context)
    attacked: dict[str, list[Fitted]] = {}
    for tag, item in context.graph.fitted.items():
        if item.part is None or item.part.kind not in _WITH_RUBBER:
            continue
        names = fluids.of(tag)
        if not names:
            yield Unchecked(RULE, (tag,), "fluid")
        elif len(_families(names)) > 1:
            yield Looked()  # where they meet is told below
        elif item.part.fluid_families is None:
            yield Unchecked(RULE, (tag,), f"parts.{item.part_id}.fluid_families")
        else:
            yield Looked()
            for name in names:
                if fluid_named(name).family not in item.part.fluid_families:
                    attacked.setdefault(name, []).append(item)
    for met, tags in fluids.meetings():
        message = f"{' and '.join(met)} meet in {few(tags)}"
        path = context.graph.fitted[tags[0]].path
        yield context.finding(RULE, "error", message, tuple(tags), path, {"fluids": met})
    for name, items in attacked.items():
        yield _attack(context, name, items)


def _attack(context: Context, name: str, items: list[Fitted]) -> Finding:
    items = sorted(items, key=lambda item: in_order(item.tag))
    tags = [item.tag for item in items]
    family = fluid_named(name).family
    suited = {item.tag: list(item.part.fluid_families or ()) for item in items if item.part is not None}
    message = f"{name} ({family}) attacks the rubber of {few(tags)}"
    evidence = {"fluid": name, "family": family, "suited": suited}
    return context.finding(RULE, "error", message, tuple(tags), items[0].path, evidence)


class _Fluids:
    """The fluids of each network, by what the build and its circuits say.

    A circuit's fluid goes for what its outlet reaches and for what feeds that master cylinder; the build's for
    every network that no circuit speaks of. Where the outlets of one master cylinder hold different fluids, which
    feed holds which is not known: they meet in that cylinder, and its feeds are left alone.
    """

    def __init__(self, context: Context) -> None:
        self.context = context
        self.networks: dict[int, dict[str, None]] = {}
        self.cylinders: dict[str, dict[str, None]] = {}
        for stated in context.file.circuits.values():
            name = stated.fluid or context.file.fluid
            network = context.circuits.of(stated.from_)
            if name is not None and network is not None:
                self.networks.setdefault(id(network), {})[name] = None
                self.cylinders.setdefault(tag_of(stated.from_), {})[name] = None
        for tag, names in self.cylinders.items():
            if len(_families(names)) == 1:
                self._feed(tag, names)
        for network in context.circuits.networks:
            if id(network) not in self.networks and context.file.fluid is not None:
                self.networks[id(network)] = {context.file.fluid: None}
        self.by_tag: dict[str, dict[str, None]] = {}
        for network in context.circuits.networks:
            for ref in network.ends:
                self.by_tag.setdefault(tag_of(ref), {}).update(self.networks.get(id(network), {}))

    def _feed(self, tag: str, names: dict[str, None]) -> None:
        item = self.context.graph.fitted.get(tag)
        for feed in item.part.feeds if item is not None and item.part is not None else ():
            network = self.context.circuits.of(f"{tag}.{feed}")
            if network is not None:
                self.networks.setdefault(id(network), {}).update(names)

    def of(self, tag: str) -> tuple[str, ...]:
        """Return the names of the fluids that a part holds, in order of name."""
        return tuple(sorted(self.by_tag.get(tag, {})))

    def meetings(self) -> Iterator[tuple[list[str], list[str]]]:
        """Yield each set of fluids of different families that meet, with the parts that they meet in."""
        met: dict[tuple[str, ...], list[str]] = {}
        for tag, names in self.cylinders.items():
            if len(_families(names)) > 1:
                met.setdefault(tuple(sorted(names)), []).append(tag)
        for network in self.context.circuits.networks:
            names = self.networks.get(id(network), {})
            if len(_families(names)) > 1:
                met.setdefault(tuple(sorted(names)), []).extend(self._where(network))
        for found, tags in met.items():
            yield list(found), list(dict.fromkeys(tags))

    def _where(self, network: Network) -> list[str]:
        """Return the reservoir in which the fluids of a network meet, else the first thing on it."""
        return [tag_of(ref) for ref in network.reservoirs] or [tag_of(network.ends[0])]


def _families(names: Iterable[str]) -> set[str]:
    return {fluid_named(name).family for name in names}
