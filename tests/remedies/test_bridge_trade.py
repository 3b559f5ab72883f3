"""Chains that the trade knows, from the catalog that ships; ends as people name them; which threads mate."""

from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.bom.record import Price
from fitcheck.build.assemble import assemble
from fitcheck.build.load import load_document
from fitcheck.checks.joint_words import describe
from fitcheck.cli import bridge as verb
from fitcheck.remedies.adapters import Bridges
from fitcheck.remedies.bridge import FREE, LONGEST, Bridge, Duty, meetings_of
from fitcheck.remedies.bridge_ends import EndError, read_end
from fitcheck.remedies.interfaces import APART_MM, KINDS, Adapters, adapters_of, interface_of
from fitcheck.sources import parse
from fitcheck.standards.threads import fit, known_threads
from fitcheck.standards.threads.every import every_thread, has_member
from tests.remedies.bridge_catalogs import FORMS, end_of, graph_with, layer_of, price

EMPTY = assemble(load_document(parse("build: 1\n", "no build"), Path()))
ADAPTERS = adapters_of(EMPTY)


def bridged(first: str, second: str, duty: Duty = FREE, longest: int = LONGEST) -> list[tuple[str, ...]]:
    """Return the parts of the best five chains between two descriptions."""
    ends = read_end(first, EMPTY, built=False), read_end(second, EMPTY, built=False)
    bridge = Bridge(ADAPTERS, *ends, duty, longest, lenient=True)
    return [chain.parts for chain in bridge.best(5)]


WORKED = [
    ("3/16 in tube", "3/16 in tube", "union-3-16-inverted"),
    (
        "3/8-24 UNF internal inverted-flare 3/16 in",
        "M10x1 external bubble 4.75 mm",
        "adapter-3-8-24-inverted-male-m10x1-bubble-female",
    ),
    ("M10x1 internal bubble 4.75 mm", "1/4 in tube", "adapter-7-16-24-inverted-female-m10x1-bubble-male"),
    ("3/16 in tube", "1/4 in tube", "adapter-3-8-24-inverted-female-7-16-24-inverted-female"),
    ("1/8 NPT female", "-3 AN female", "adapter-an3-male-1-8-npt-male"),
    ("hose 8 mm", "hose 10 mm", "adapter-barb-8mm-barb-10mm"),
]


@pytest.mark.parametrize(("first", "second", "part"), WORKED)
def test_what_the_counter_would_hand_over(first: str, second: str, part: str) -> None:
    """The one adapter or union that everybody uses for this pair of ends comes first or among the first, alone."""
    chains = bridged(first, second)
    assert (part,) in chains
    assert len(chains[0]) == 1


def test_no_adapter_for_what_fits() -> None:
    """A nut's thread and flare that the port is made for need nothing in between."""
    ends = read_end("M10x1 internal bubble 4.75 mm", EMPTY, built=False), read_end("3/16 in tube", EMPTY, built=False)
    bridge = Bridge(ADAPTERS, *ends, lenient=True)
    assert bridge.direct
    assert bridge.best(3) == ()


def test_every_joint_of_every_chain_joins() -> None:
    """Each chain's joints are all found good by the joint rules, and lead from the first end to the second."""
    ends = tuple(end_of(FORMS[n], name) for n, name in ((3, "first"), (4, "second")))
    bridge = Bridge(ADAPTERS, *ends)
    chains = bridge.best(12)
    assert len(chains) == 12
    for chain in chains:
        meetings = meetings_of(bridge, chain)
        assert all(ADAPTERS.join(a, b) for a, b in meetings)
        assert (meetings[0][0], meetings[-1][1]) == ends
        for (_, near), (far, _) in pairwise(meetings):
            assert near.fitted == far.fitted
            assert near.port != far.port


def test_under_brake_pressure_no_cone_45() -> None:
    """Between two ends made for brake pressure a seat that is not is never used; between feed hoses it may be."""
    rows = {"weak": {"kind": "adapter", "ports": {"a": FORMS[1], "b": FORMS[7]}}}
    rows["back"] = {"kind": "adapter", "ports": {"a": FORMS[6], "b": FORMS[3]}}
    graph = graph_with(layer_of(rows))
    first, second = end_of(FORMS[0], "first"), end_of(FORMS[2], "second")
    adapters = Adapters(graph, {}, None)
    assert [chain.parts for chain in Bridge(adapters, first, second, FREE).best(3)] == [("weak", "back")]
    assert Bridges(graph).between(first, second) == []
    assert Duty.between(first, end_of({"seat": "push-on", "gender": "external", "hose": 8.0}, "hose")) == FREE


def test_money_of_another_country_is_not_compared() -> None:
    """A price in another currency than most offers' counts as not known, however small the number is."""
    rows = {name: {"kind": "adapter", "ports": {"a": FORMS[1], "b": FORMS[3]}} for name in ("here", "abroad", "none")}
    prices: dict[str, Price] = {"here": price("9.00 GBP"), "abroad": price("1.00 EUR")}
    bridge = Bridge(Adapters(graph_with(layer_of(rows)), prices, "GBP"), end_of(FORMS[0], "a"), end_of(FORMS[2], "b"))
    found = [(chain.parts, chain.price, chain.unpriced) for chain in bridge.best(3)]
    assert found == [(("here",), 9, 0), (("abroad",), None, 1), (("none",), None, 1)]


def test_a_higher_rating_comes_before_a_lower_and_before_none() -> None:
    """Of equal price the better rated comes first, the one without a rating last."""
    rows = {
        name: {"kind": "adapter", "ports": {"a": FORMS[1], "b": FORMS[3]}, **rated}
        for name, rated in (("a", {}), ("b", {"max_pressure": 7.0}), ("c", {"max_pressure": 20.0}))
    }
    bridge = Bridge(Adapters(graph_with(layer_of(rows)), {}, None), end_of(FORMS[0], "x"), end_of(FORMS[2], "y"))
    assert [(chain.parts, chain.rating) for chain in bridge.best(3)] == [(("c",), 20.0), (("b",), 7.0), (("a",), None)]


def test_a_part_that_fits_either_way_round_is_one_chain() -> None:
    """A union whose two ports differ in the name of the tube's size only is not offered a second time turned round."""
    rows = {"union": {"kind": "union", "ports": {"a": FORMS[0], "b": {**FORMS[0], "tube": 4.7625}}}}
    bridge = Bridge(Adapters(graph_with(layer_of(rows)), {}, None), end_of(FORMS[1], "x"), end_of(FORMS[1], "y"))
    assert [chain.parts for chain in bridge.best(3)] == [("union",)]


def test_steps_say_which_port_faces_which_end() -> None:
    """Each step names the port towards the first end and the one towards the second, whichever way round."""
    bridges, ends = Bridges(EMPTY), [end_of(FORMS[n], f"end_{n}") for n in (2, 1)]
    (there,), (back,) = (bridges.between(*pair, most=1) for pair in (ends, ends[::-1]))
    part = "adapter-3-8-24-inverted-male-m10x1-bubble-female"
    assert there.steps == ((part, "a", "b"),)
    assert back.steps == ((part, "b", "a"),)
    assert (there.parts, there.added_joints) == ((part,), 1)


def test_described_as_reports_describe_it() -> None:
    """Every port of an adapter that ships, described in the words of reports, is read back as that port."""
    shelf = EMPTY.build.shelf
    ports = [port for kind in KINDS for part in shelf.of_kind(kind) for port in part.fluid_ports()]
    assert len(ports) > 500
    for port in ports:
        read = read_end(describe(port), EMPTY, built=False).port
        assert read is not None
        wanted = interface_of(port)
        got = interface_of(read)
        assert got[:3] == wanted[:3]
        assert got[3:] == tuple(pytest.approx(size, abs=0.006) if size is not None else None for size in wanted[3:])


SPELT = [
    ("-3 AN male", "3/8-24 UNF external, cone-37, 3/16 in tube"),
    ("1/8-27NPT female", "1/8-27 NPT internal, taper"),
    ("M10 x 1.0 external, crush washer", "M10x1 external, washer-face"),
    ('3/16" 3/8-24 inverted flare, female', "3/8-24 UNF internal, inverted-flare, 3/16 in tube"),
    (".1875 in tube, 7/16-24 UNS internal 45 degree", "7/16-24 UNS internal, cone-45, 3/16 in tube"),
    ("barb 8 mm", "no thread external, push-on, 8 mm hose"),
    ("feed hose 5/16 in", "no thread internal, push-on, 5/16 in hose"),
    ("banjo eye 10 mm", "no thread, washer-face, 10 mm eye"),
    ("R1/8", "R1/8 external, taper"),
]


@pytest.mark.parametrize(("text", "words"), SPELT)
def test_as_people_spell_it(text: str, words: str) -> None:
    """Spellings of the trade mean the port they mean at the counter."""
    read = read_end(text, EMPTY, built=False).port
    assert read is not None
    assert describe(read) == words


SAMPLES = "'M10x1 internal bubble 4.75 mm', '3/16 in tube' or 'hose 8 mm'"
SEATS = "inverted-flare, bubble, cone-37, cone-45, washer-face, o-ring, taper, push-on, ferrule"
REFUSED = [
    ("M10x1 bubble", "'M10x1 bubble': say whether its thread is internal or external"),
    ("M10x1 male", f"'M10x1 male': say how it seals: {SEATS}"),
    ("R1/8 female", "'R1/8 female': R1/8 is never internal"),
    ("bubble female", "'bubble female': say its thread, such as M10x1 or 3/8-24 UNF"),
    ("hose", "'hose': say for what hose: a size such as 8 mm"),
    ("", f"'': expected an end such as {SAMPLES}, or a port of the build"),
    ("4.75 tube", "'4.75 tube': a bare number, 4.75: write 4.75 mm, or inches as 3/16 in"),
    ("M10x1 M12x1 female bubble", "'M10x1 M12x1 female bubble': it says two things of its thread"),
    (
        "M10x1 femal bubble",
        f"'M10x1 femal bubble': 'femal' is not understood; nearest is 'female'; expected words such as {SAMPLES}",
    ),
    (
        "M10x1.1 female bubble",
        "'M10x1.1 female bubble': 'm10x1.1' is not a thread designation: 1.1 mm is no pitch of M10; nearest is M10x1",
    ),
    ("x" * 121, f"'{'x' * 39}…': longer than 120 characters"),
    ("1/0 tube", "'1/0 tube': '1/0 in' divides by zero"),
]


@pytest.mark.parametrize(("text", "message"), REFUSED)
def test_what_is_not_understood(text: str, message: str) -> None:
    """A description that leaves something out, or has a word that means nothing, is refused in one sentence."""
    with pytest.raises(EndError) as error:
        read_end(text, EMPTY, built=False)
    assert str(error.value) == message


def test_threads_that_mate_do_so_over_any_engagement() -> None:
    """What the search leaves out of an interface, the length of engagement, never decides whether threads mate."""
    threads = known_threads()
    for external in threads:
        for internal in threads:
            mating = {fit(external, internal, length).verdict == "mates" for length in (1.0, 6.0, 30.0)}
            assert len(mating) == 1


def test_threads_far_apart_never_mate() -> None:
    """No two threads mate whose nominal diameters differ by more than the search looks at."""
    threads = every_thread()
    outer = [thread for thread in threads if has_member(thread, internal=False)]
    inner = [thread for thread in threads if has_member(thread, internal=True)]
    gaps = [
        abs(a.nominal_mm - b.nominal_mm)
        for a in outer
        for b in inner
        if abs(a.nominal_mm - b.nominal_mm) < 4.0 and fit(a, b).verdict == "mates"
    ]
    assert len(gaps) > 300
    assert max(gaps) < APART_MM


def test_the_verb_and_the_search_agree() -> None:
    """The verb says the same longest chain in its help as the search takes when none is asked for."""
    assert verb._LONGEST == LONGEST


WORDS = [
    "M10x1",
    "3/8-24",
    "UNF",
    "-3 AN",
    "NPT",
    "internal",
    "male",
    "bubble",
    "37",
    "degree",
    "mm",
    "in",
    "3/16",
    "hose",
]


@given(
    st.one_of(st.text(max_size=140), st.lists(st.sampled_from(WORDS) | st.text(max_size=6), max_size=7).map(" ".join))
)
def test_any_text_is_an_end_or_a_clear_error(text: str) -> None:
    """Whatever is typed is read as an end or refused in words; nothing else is ever raised."""
    try:
        end = read_end(text, EMPTY, built=False)
    except EndError as error:
        refused = str(error)
    else:
        refused = ""
    assert refused or end.tube_end or end.port is not None
