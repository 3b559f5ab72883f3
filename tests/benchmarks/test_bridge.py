"""How long a bridge takes in a big catalog. Run: `pytest tests/benchmarks/test_bridge.py --benchmark-only -s`.

The catalog is synthetic: 200,000 two-port parts over about 3,000 interfaces, six in ten of them priced, drawn evenly.
The promise is a bridge in under 10 ms once the adapters are filed and the joins of their interfaces are judged. It is
set beside Dijkstra over the graph of parts: a node for each way through a part, an edge where two join, found by
drawers as well. Times are of the process's own work, so that a busy machine does not count. Nothing here fails on
time; the figures are printed.
"""

import gc
import random
import time
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from statistics import median
from typing import NamedTuple

import networkx as nx
import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from fitcheck.bom.record import Price
from fitcheck.build.assemble import assemble
from fitcheck.build.graph import End
from fitcheck.build.load import load_document
from fitcheck.catalog.money import parse_money
from fitcheck.catalog.part import Part, Port
from fitcheck.catalog.shelf import Layer, Shelf
from fitcheck.remedies.bridge import Bridge, Duty
from fitcheck.remedies.interfaces import Adapters, adapter_end
from fitcheck.sources import parse
from fitcheck.standards.threads import known_threads
from fitcheck.standards.threads.every import has_member

PARTS = 200_000
FORMS = 3_000
ASKED = 200
DIJKSTRA = 5
TUBES = (3.175, 4.7625, 5.0, 6.0, 6.35, 8.0, 9.525, 10.0)
SIZED = ("bubble", "inverted-flare", "cone-37", "cone-45")


class Big(NamedTuple):
    """The filed catalog, the ends that are asked for, and the duty of each question."""

    adapters: Adapters
    asked: list[tuple[End, End, Duty]]


def forms() -> list[Port]:
    """Return every form of port over the trade's threads, seats and tube sizes, both genders, shuffled in pairs."""
    seats: list[tuple[object, str, float | None]] = []
    for thread in known_threads():
        if thread.family in ("NPT", "BSPT", "Rp"):
            seats.append((thread, "taper", None))
        else:
            seats += [(thread, seat, tube) for seat in SIZED for tube in TUBES]
            seats += [(thread, "o-ring", None), (thread, "washer-face", None)]
    random.Random(1).shuffle(seats)
    ports = [
        Port("", thread, gender, seat, tube)  # type: ignore[arg-type]
        for thread, seat, tube in seats
        for gender in ("external", "internal")
        if has_member(thread, gender == "internal")  # type: ignore[arg-type]
    ]
    return ports[:FORMS]


@pytest.fixture(scope="module")
def big() -> Iterator[Big]:
    """Make the catalog, file it, judge its joins, and print how long that takes."""
    rng, ports = random.Random(2), forms()
    parts, prices = {}, {}
    for number in range(PARTS):
        a, b = rng.choice(ports), rng.choice(ports)
        name = f"adapter-{number:06}"
        both = {"a": a._replace(name="a"), "b": b._replace(name="b")}
        rated = rng.choice((None, 10.0, 20.0))
        parts[name] = Part(name, "adapter", "", both, (("a", "b"),), max_pressure=rated)
        if rng.random() < 0.6:
            cents = rng.randint(100, 3000)
            prices[name] = Price(Fraction(cents, 100), "GBP", "shop", None, 1, parse_money("1.00 GBP"), None)
    layer = Layer("big", dict.fromkeys(parts, "adapter"), parts.__getitem__)
    build = load_document(parse("build: 1\n", "big"), Path())
    graph = assemble(build._replace(shelf=Shelf.generic().under([layer])))
    start = time.process_time()
    adapters = Adapters(graph, prices, "GBP")
    filed = time.process_time()
    adapters.warm()
    judged = time.process_time()
    links = sum(map(len, adapters.links)) // 2
    print(f"\n{PARTS} parts, {len(adapters.interfaces)} interfaces, {links} links")
    print(f"filed in {filed - start:.2f} s, joins judged in {judged - filed:.2f} s")
    asked = []
    for number in range(ASKED):
        ends = [adapter_end(Part(name, "hose", "", {"p": rng.choice(ports)}, ()), "p") for name in ("first", "second")]
        asked.append((ends[0], ends[1], Duty.between(ends[0], ends[1], 15.0 if number % 2 else None)))
    gc.collect()
    gc.freeze()  # what lies in memory here is not the search's to clear away
    yield Big(adapters, asked)
    gc.unfreeze()


def timed(big: Big, most: int) -> dict[int, list[float]]:
    """Return the times [s] of every question, by how many adapters the best chain has (0: none, or none needed)."""
    times: dict[int, list[float]] = {}
    for first, second, duty in big.asked:
        start = time.process_time()
        found = Bridge(big.adapters, first, second, duty).best(most)
        took = time.process_time() - start
        times.setdefault(len(found[0].steps) if found else 0, []).append(took)
    return times


@pytest.mark.parametrize("most", [1, 3])
def test_bridge_in_a_big_catalog(benchmark: BenchmarkFixture, big: Big, most: int) -> None:
    """Answers 200 questions, half of them with a pressure, and prints the times by the length of the answer."""
    first = timed(big, most)
    again = benchmark.pedantic(timed, (big, most), rounds=3)
    for name, times in (("first time", first), ("asked before", again)):
        every = [1e3 * took for found in times.values() for took in found]
        by_length = ", ".join(f"{many}: {1e3 * median(found):.2f}" for many, found in sorted(times.items()))
        within = sum(took < 10.0 for took in every)
        print(
            f"best {most}, {name}: median {median(every):.2f} ms, most {max(every):.1f} ms, {within} of {ASKED} under"
        )
        print(f"    10 ms; median by adapters in the best chain: {by_length}")
    assert sum(map(len, again.values())) == ASKED
    assert {len(found) for found in again.values()} == {len(found) for found in first.values()}


def test_beside_dijkstra_over_parts(benchmark: BenchmarkFixture, big: Big) -> None:
    """Prints the ratio to Dijkstra over the graph of parts, and that both find chains of the same length."""
    adapters = big.adapters
    questions = [(a, b) for a, b, duty in big.asked if duty.pressure is None][: 8 * DIJKSTRA]
    questions = [pair for pair in questions if Bridge(adapters, *pair).best(1)][:DIJKSTRA]
    start = time.process_time()
    paths = graph_of_parts(adapters)
    print(f"\ngraph of parts: {len(paths)} nodes, {paths.number_of_edges()} edges, {time.process_time() - start:.1f} s")
    theirs, ours = [], []
    for first, second in questions:
        start = time.process_time()
        length = dijkstra(paths, adapters, first, second)
        middle = time.process_time()
        chain = Bridge(adapters, first, second).best(1)[0]
        ours.append(time.process_time() - middle)
        theirs.append(middle - start)
        assert len(chain.steps) == length
    print(f"Dijkstra over parts: median {1e3 * median(theirs):.0f} ms; over interfaces: {1e3 * median(ours):.2f} ms")
    print(f"ratio {median(theirs) / median(ours):.0f}")
    benchmark.extra_info.update(ratio=median(theirs) / median(ours))
    benchmark.pedantic(lambda: [Bridge(adapters, *pair).best(1) for pair in questions], rounds=3)


def graph_of_parts(adapters: Adapters) -> "nx.DiGraph[object]":
    """Return the graph of ways through parts, by drawers: from a way's far port to a node for its interface.

    An edge for each pair of parts that join would be millions; a node for each interface stands between them, so
    that the graph is as small as one of parts can be and Dijkstra's work is in its favour.
    """
    paths: nx.DiGraph[object] = nx.DiGraph()
    for near, links in enumerate(adapters.links):
        for far, link in links.items():
            for part in link.parts:
                way = (part.part, near, far)
                paths.add_edge(("into", near), way, weight=1)
                paths.add_edge(way, ("out of", far), weight=0)
        paths.add_edges_from((("out of", near), ("into", mate)) for mate in adapters.mates(near))
    nx.set_edge_attributes(paths, {edge: 0 for edge in paths.edges if edge[0][0] == "out of"}, "weight")
    return paths


def dijkstra(paths: "nx.DiGraph[object]", adapters: Adapters, first: End, second: End) -> int:
    """Return how many parts the shortest path has from one end to the other."""
    paths.add_edges_from((("first", ("into", near)) for near in adapters.joining(first)), weight=0)
    paths.add_edges_from(((("out of", far), "second") for far in adapters.joining(second)), weight=0)
    length = nx.dijkstra_path_length(paths, "first", "second")
    paths.remove_nodes_from(["first", "second"])
    return int(length)
