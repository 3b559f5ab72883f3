"""Small catalogs of adapters for the search's tests, and the search done naively: every chain, then sorted."""

from collections.abc import Iterator, Mapping
from fractions import Fraction
from pathlib import Path

from fitcheck.bom.record import Price
from fitcheck.build.assemble import assemble
from fitcheck.build.fixings import fixings
from fitcheck.build.graph import End, Fitted, PortGraph
from fitcheck.build.load import load_document
from fitcheck.catalog.money import parse_money
from fitcheck.catalog.part import Part, part_from_row
from fitcheck.catalog.shelf import Layer, Shelf
from fitcheck.checks.joint_facts import judge
from fitcheck.remedies.bridge import Duty
from fitcheck.remedies.interfaces import adapter_end, joint_of
from fitcheck.sources import parse

KINDS_IN_ORDER = {"union": 0, "adapter": 0, "elbow": 1, "bulkhead union": 2}
FORMS: tuple[dict[str, object], ...] = (
    {"thread": "M10x1", "gender": "internal", "seat": "bubble", "tube": 4.75},
    {"thread": "M10x1", "gender": "external", "seat": "bubble", "tube": 4.7625},
    {"thread": "3/8-24 UNF", "gender": "internal", "seat": "inverted-flare", "tube": 4.7625},
    {"thread": "3/8-24 UNF", "gender": "external", "seat": "inverted-flare", "tube": 4.75},
    {"thread": "1/8-27 NPT", "gender": "internal", "seat": "taper"},
    {"thread": "1/8-27 NPT", "gender": "external", "seat": "taper"},
    {"thread": "7/16-24 UNS", "gender": "internal", "seat": "cone-45", "tube": 6.35},
    {"thread": "7/16-24 UNS", "gender": "external", "seat": "cone-45", "tube": 6.35},
    {"thread": "M10x1", "gender": "internal", "seat": "bubble", "tube": 6.0},
    {"thread": "M10x1", "gender": "external", "seat": "bubble", "tube": 6.0},
)
"""Forms of ports: five pairs, external and internal; the last differs from the first in the tube's size only."""
TUBE: dict[str, object] = {"od": 4.75, "wall": 0.7, "material": "copper-nickel"}
"""A tube whose end stands for an end too."""


def layer_of(rows: Mapping[str, Mapping[str, object]]) -> Layer:
    """Return a catalog of these rows."""
    kinds = {part_id: str(row["kind"]) for part_id, row in rows.items()}
    return Layer("small", kinds, lambda part_id: part_from_row(part_id, rows[part_id], "small"))


def graph_with(layer: Layer, text: str = "build: 1\n") -> PortGraph:
    """Return the graph of a build that has this catalog and none of the adapters that ship."""
    build = load_document(parse(text, "car.yaml"), Path())
    generic = Shelf.generic()
    others = {part_id: kind for part_id in generic.ids() if (kind := _kind(generic, part_id)) not in KINDS_IN_ORDER}
    rest = Layer("generic", others, lambda part_id: generic.layers[0].make(part_id))
    return assemble(build._replace(shelf=Shelf([layer, rest])))


def _kind(shelf: Shelf, part_id: str) -> str:
    return shelf.layers[0].kinds[part_id]


def end_of(row: Mapping[str, object], name: str) -> End:
    """Return an end with the form of a row: a port, or the end of a tube if it has an outside diameter."""
    if "od" in row:
        tube = part_from_row(name, {"kind": "tube", **row})
        return End(f"{name}.from", Fitted(name, "lines", name, tube, ()), None, tube_end=True)
    return adapter_end(part_from_row(name, {"kind": "caliper", "ports": {"port": dict(row)}}), "port")


def price(text: str) -> Price:
    """Return the price of one piece."""
    money = parse_money(text)
    return Price(Fraction(money.amount), money.currency, "shop", None, 1, money, None)


class Naive:
    """Every chain of up to `longest` adapters from one end to another, by trying all of them."""

    def __init__(self, graph: PortGraph, prices: Mapping[str, Price], currency: str, duty: Duty) -> None:
        self.graph = graph
        self.prices = prices
        self.currency = currency
        self.duty = duty
        shelf = graph.build.shelf
        self.parts = [part for kind in KINDS_IN_ORDER for part in shelf.of_kind(kind) if self.stands(part)]

    def stands(self, part: Part) -> bool:
        """Return whether nothing known of a part is against the duty."""
        weak = any(port.seat in ("cone-45", "push-on", "ferrule") for port in part.ports.values())
        low = self.duty.pressure is not None and (part.max_pressure or 1e9) < self.duty.pressure
        other = self.duty.family is not None and self.duty.family not in (part.fluid_families or (self.duty.family,))
        return not (low or other or (weak and self.duty.pressurised))

    def join(self, a: End, b: End) -> bool:
        """Return whether the joint rules say nothing about two ends."""
        joint = joint_of(a, b)
        facts = judge(joint, fixings(self.graph, joint))
        return facts.rule is None and not facts.unchecked

    def chains(self, first: End, second: End, longest: int) -> list[tuple[object, ...]]:
        """Return the rank of every chain from which nothing can be left out, best first, each list of parts once."""
        if self.join(first, second):
            return []
        best: dict[tuple[str, ...], tuple[object, ...]] = {}
        for ends in self._ways([first], longest, second):
            rank = self._rank(ends)
            ids = tuple(end.fitted.part_id for end in ends[1:-1:2])
            best[ids] = min(rank, best.get(ids, rank))
        return sorted(best.values())

    def _ways(self, ends: list[End], left: int, second: End) -> Iterator[list[End]]:
        if len(ends) > 1 and self.join(ends[-1], second):
            if not self._chord([*ends, second]):
                yield [*ends, second]
            return
        for part in self.parts if left else ():
            for near, far in (tuple(part.ports), tuple(part.ports)[::-1]):
                if self.join(ends[-1], adapter_end(part, near)):
                    longer = [*ends, adapter_end(part, near), adapter_end(part, far)]
                    yield from self._ways(longer, left - 1, second)

    def _chord(self, ends: list[End]) -> bool:
        """Return whether some adapter could be left out: an end joins one that comes later than the next."""
        outs, ins = ends[0::2], ends[1::2]
        return any(self.join(out, into) for at, out in enumerate(outs) for into in ins[at + 1 :])

    def _rank(self, ends: list[End]) -> tuple[object, ...]:
        parts = [end.fitted.part for end in ends[1:-1:2] if end.fitted.part is not None]
        costs = [self.prices.get(part.id) for part in parts]
        known = [cost.unit_price for cost in costs if cost is not None and cost.currency == self.currency]
        ratings = [part.max_pressure or 0.0 for part in parts]
        own = {_form(end) for end in (ends[0], ends[-1])}
        forms = {_form(end) for end in ends[1:-1]} - own
        ties = tuple((-(part.max_pressure or 0.0), KINDS_IN_ORDER[part.kind], part.id) for part in parts)
        return len(parts), len(parts) - len(known), sum(known, Fraction(0)), -min(ratings), len(forms), ties


def _form(end: End) -> tuple[object, object]:
    port = end.port
    return (port.thread.key if port and port.thread else None, port.seat if port else None)
