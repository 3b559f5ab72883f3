"""The search for adapter chains against every chain tried, against shortest paths, and against the trade's own."""

from typing import NamedTuple

import networkx as nx
from hypothesis import event, given, settings
from hypothesis import strategies as st

from fitcheck.build.graph import End, PortGraph
from fitcheck.remedies.bridge import FREE, Bridge, Chain, Duty
from fitcheck.remedies.bridge_refused import refusals
from fitcheck.remedies.interfaces import KINDS, Adapters, adapter_end
from tests.remedies.bridge_catalogs import FORMS, TUBE, Naive, end_of, graph_with, layer_of, price

ratings = st.sampled_from([None, None, 7.0, 10.0, 20.0])
prices_of_parts = st.sampled_from([None, "1.00 GBP", "1.00 GBP", "2.50 GBP", "0.35 GBP", "1.00 EUR"])
duties = st.sampled_from(
    [FREE, Duty(pressure=10.0), Duty(pressurised=True), Duty(family="mineral"), Duty(8.0, "glycol", True)]
)


class Case(NamedTuple):
    """A small catalog, what some of its parts cost, and the forms of two ends."""

    rows: dict[str, dict[str, object]]
    costs: dict[str, str]
    first: dict[str, object]
    second: dict[str, object]


@st.composite
def cases(draw: st.DrawFn) -> Case:
    """Draw up to twelve two-port parts over at most five interfaces, and two ends of the same forms."""
    pairs = draw(st.lists(st.integers(0, len(FORMS) // 2 - 1), min_size=2, max_size=3, unique=True))
    few = [form for pair in pairs for form in FORMS[2 * pair : 2 * pair + 2]][:5]
    rows: dict[str, dict[str, object]] = {}
    costs: dict[str, str] = {}
    for number in range(draw(st.sampled_from([0, 3, 6, 8, 10, 11, 12]))):
        part_id = f"part-{draw(st.permutations(range(3)))[0]}{number:02}"
        ports = {"a": draw(st.sampled_from(few)), "b": draw(st.sampled_from(few))}
        row: dict[str, object] = {"kind": draw(st.sampled_from(KINDS)), "ports": ports}
        if (rating := draw(ratings)) is not None:
            row["max_pressure"] = rating
        if draw(st.booleans()):
            row["fluid_families"] = draw(st.sampled_from([["glycol"], ["mineral"], ["glycol", "silicone"]]))
        if (cost := draw(prices_of_parts)) is not None:
            costs[part_id] = cost
        rows[part_id] = row
    ends = st.sampled_from([*few, *few, TUBE])
    return Case(rows, costs, draw(ends), draw(ends))


def made(case: Case) -> tuple[PortGraph, Adapters, tuple[End, End]]:
    """Return the graph of a build with the catalog of a case, its adapters, and the two ends."""
    graph = graph_with(layer_of(case.rows))
    prices = {part: price(text) for part, text in case.costs.items()}
    return graph, Adapters(graph, prices, "GBP"), (end_of(case.first, "first"), end_of(case.second, "second"))


def in_money(chain: Chain, adapters: Adapters) -> tuple[object, ...]:
    """Return the rank of a chain with its price as money instead of steps."""
    many, unpriced, steps, *others = chain.rank
    return many, unpriced, steps * adapters.step, *others


@settings(max_examples=200, deadline=None)
@given(cases(), duties, st.integers(1, 8))
def test_as_if_every_chain_had_been_tried(case: Case, duty: Duty, most: int) -> None:
    """Existence, the best chain and the best few are those of trying all chains of up to three adapters."""
    graph, adapters, ends = made(case)
    naive = Naive(graph, adapters.prices, "GBP", duty)
    every = naive.chains(*ends, longest=3)
    bridge = Bridge(adapters, *ends, duty, longest=3)
    assert [in_money(chain, adapters) for chain in bridge.best(most)] == every[:most]
    assert bridge.direct == naive.join(*ends)
    event("direct" if bridge.direct else f"{every[0][0] if every else 'no'} adapters")


@settings(max_examples=150, deadline=None)
@given(cases())
def test_as_short_as_a_shortest_path_over_parts(case: Case) -> None:
    """The best chain is as long as the shortest path in a graph of parts, two of them neighbours if they join."""
    graph, adapters, ends = made(case)
    naive = Naive(graph, {}, "GBP", FREE)
    paths: nx.DiGraph[object] = nx.DiGraph()
    ways = [(part, names) for part in naive.parts for names in (tuple(part.ports), tuple(part.ports)[::-1])]
    stops = [("first", None, ends[0]), ("second", ends[1], None)]
    stops += [((part.id, near), adapter_end(part, near), adapter_end(part, far)) for part, (near, far) in ways]
    paths.add_nodes_from(name for name, _, _ in stops)
    for a, _, out in stops:
        paths.add_edges_from((a, b) for b, into, _ in stops if out and into and naive.join(out, into))
    found = Bridge(adapters, *ends, longest=12).best(1)
    if naive.join(*ends) or not nx.has_path(paths, "first", "second"):
        assert found == ()
    else:
        assert len(found[0].steps) == nx.shortest_path_length(paths, "first", "second") - 1


@settings(max_examples=150, deadline=None)
@given(cases())
def test_what_is_refused_is_what_would_come_before(case: Case) -> None:
    """The chains shown and those refused under a duty are all chains there are without it, up to the last shown."""
    _, adapters, ends = made(case)
    bridge = Bridge(adapters, *ends, Duty(10.0, "glycol"), longest=3)
    shown = bridge.best(2)
    free = Bridge(adapters, *ends, FREE, longest=3).best(10**6)
    joining = {chain.rank for chain in free}
    told = [refused.chain for refused in refusals(bridge, shown, most=10**6).told if refused.chain.rank in joining]
    before = [chain.rank for chain in free if not shown or chain.rank <= shown[-1].rank]
    assert sorted(chain.rank for chain in (*shown, *told)) == before
    assert all(bridge.refusal(part) is None for chain in shown for part in chain.parts)
    assert all(any(bridge.refusal(part) for part in chain.parts) for chain in told)
