"""Nesting: the true optimum on small cases, what holds of every plan, refusals."""

import sys
from fractions import Fraction

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from fitcheck.bom.nesting import search
from fitcheck.bom.nesting.grid import PER_MM, gridded
from fitcheck.bom.nesting.nest import nest
from fitcheck.bom.nesting.record import Coil, Cut, Nest, NestingError, NoSolverError
from fitcheck.bom.nesting.shelf import least_new
from fitcheck.bom.solver import Model, Solved
from tests.bom.nesting_by_hand import best, first_fit_decreasing, reached

briefly = settings(max_examples=40, deadline=None, derandomize=True, database=None)
kerfs = st.integers(0, 2)
lengths = st.integers(1, 30)
shelves = st.lists(st.integers(3, 25), max_size=3)
few = st.lists(lengths, min_size=1, max_size=5)
many = st.lists(lengths, min_size=1, max_size=20)


def cuts(pieces: list[int]) -> list[Cut]:
    """Return pieces with a tag each."""
    return [Cut(f"p{number}", float(mm)) for number, mm in enumerate(pieces)]


@st.composite
def offers(draw: st.DrawFn) -> list[Coil]:
    """Draw one or two coils on offer, all with a price or none, in packs of one or two; the first holds every piece."""
    prices = st.fractions(1, 20, max_denominator=100) if draw(st.booleans()) else st.none()
    coils = [Coil(float(draw(st.integers(30, 45))), draw(prices), None, draw(st.integers(1, 2)))]
    if draw(st.booleans()):
        available = draw(st.one_of(st.none(), st.integers(0, 2)))
        coils.append(Coil(float(draw(st.integers(10, 60))), draw(prices), available, draw(st.integers(1, 2))))
    return coils


def assert_can_be_cut(plan: Nest, pieces: list[Cut], coils: list[Coil], offcuts: list[float], kerf: float) -> None:
    """Assert that a plan can be cut on the bench, and that its figures are those of its bars."""
    assert sorted(cut for bar in plan.bars for cut in bar.cuts) == sorted(pieces)
    sources = [bar.source.number for bar in (*plan.bars, *plan.whole) if bar.source.offcut]
    assert sorted(sources) == list(range(len(offcuts)))
    for number, coil in enumerate(coils):
        bars = [bar for bar in (*plan.bars, *plan.whole) if not bar.source.offcut and bar.source.number == number]
        assert len(bars) == plan.bought[number] * coil.pack
        assert coil.available is None or plan.bought[number] <= coil.available
    for bar in plan.bars:
        of = [cut.mm for cut in bar.cuts]
        assert bar.mm == (offcuts[bar.source.number] if bar.source.offcut else coils[bar.source.number].mm)
        assert sum(of) + (len(of) - 1) * kerf <= bar.mm + 1e-9
        assert bar.left_mm <= max(bar.mm - sum(of) - len(of) * kerf, 0) + 1e-9
        assert of == sorted(of, reverse=True)
    assert plan.longest_left_mm == max((bar.left_mm for bar in (*plan.bars, *plan.whole)), default=0.0)


@briefly
@given(few, offers(), shelves, kerfs)
def test_the_best_of_all_ways(pieces: list[int], coils: list[Coil], offcuts: list[int], kerf: int) -> None:
    """On small cases cost, use of offcuts and longest leftover are those of the best of all ways, and proven."""
    plan = nest(cuts(pieces), coils, [float(mm) for mm in offcuts], float(kerf))
    assert reached(plan) == best(pieces, coils, offcuts, kerf)
    assert plan.optimal
    assert_can_be_cut(plan, cuts(pieces), coils, [float(mm) for mm in offcuts], float(kerf))


@briefly
@given(few, offers(), shelves, kerfs)
def test_the_model_for_few_bars_finds_the_same(
    pieces: list[int], coils: list[Coil], offcuts: list[int], kerf: int
) -> None:
    """The assignment model, on its own and with nothing found by filling, comes to the best of all ways as well."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(search, "MOST_ARCS", 0)
        patched.setattr(search, "best_filling", lambda *_: None)
        plan = nest(cuts(pieces), coils, [float(mm) for mm in offcuts], float(kerf))
    assert reached(plan) == best(pieces, coils, offcuts, kerf)
    assert plan.optimal


@briefly
@given(few, offers(), shelves, kerfs)
def test_the_model_of_positions_finds_the_same(
    pieces: list[int], coils: list[Coil], offcuts: list[int], kerf: int
) -> None:
    """The arc-flow model, with nothing found by filling, comes to the best of all ways as well."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(search, "best_filling", lambda *_: None)
        plan = nest(cuts(pieces), coils, [float(mm) for mm in offcuts], float(kerf))
    assert reached(plan) == best(pieces, coils, offcuts, kerf)
    assert plan.optimal


@briefly
@given(many, offers(), shelves, kerfs)
def test_every_plan_can_be_cut(pieces: list[int], coils: list[Coil], offcuts: list[int], kerf: int) -> None:
    """Proven or not: every piece once, no bar over its length or too many; the bound is not above the cost."""
    plan = nest(cuts(pieces), coils, [float(mm) for mm in offcuts], float(kerf), seconds=0.05)
    assert_can_be_cut(plan, cuts(pieces), coils, [float(mm) for mm in offcuts], float(kerf))
    assert plan.proof.least <= plan.spent


@briefly
@given(many, st.integers(30, 60), shelves, kerfs)
def test_never_more_than_the_rule_of_thumb(pieces: list[int], length: int, offcuts: list[int], kerf: int) -> None:
    """First-fit decreasing never takes fewer bars, even when the solver is given no time."""
    plan = nest(cuts(pieces), [Coil(float(length))], [float(mm) for mm in offcuts], float(kerf), seconds=0.0)
    assert plan.bought[0] <= first_fit_decreasing(pieces, length, offcuts, kerf)


@briefly
@given(st.lists(lengths, min_size=1, max_size=9), offers(), shelves, st.integers(1, 40), kerfs)
def test_an_offcut_never_costs(pieces: list[int], coils: list[Coil], offcuts: list[int], more: int, kerf: int) -> None:
    """Another offcut on the shelf never raises the cost."""
    shelf = [float(mm) for mm in offcuts]
    before, after = (nest(cuts(pieces), coils, more_or_less, float(kerf)) for more_or_less in (shelf, [*shelf, more]))
    assume(before.cost_proven and after.cost_proven)
    assert after.spent <= before.spent


@briefly
@given(st.lists(st.floats(1, 400), min_size=1, max_size=8), st.floats(0, 3), st.floats(400, 900))
def test_no_rounding_over_the_end(pieces: list[float], kerf: float, length: float) -> None:
    """With lengths that no grid holds, what is cut from a bar is still no longer than the bar."""
    asked = [Cut(f"p{number}", mm) for number, mm in enumerate(pieces)]
    plan = nest(asked, [Coil(length)], (), kerf, seconds=0.2)
    too_long = {cut.tag for cut in plan.too_long}
    assert all(cut.mm > length - 0.2 for cut in plan.too_long)
    assert_can_be_cut(plan, [cut for cut in asked if cut.tag not in too_long], [Coil(length)], [], kerf)


def test_kerf_may_fall_off_the_end() -> None:
    """Two pieces of half a bar fit without a kerf and not with one; a piece as long as the bar fits with any."""
    assert nest(cuts([50, 50]), [Coil(100.0)]).bought == (1,)
    assert nest(cuts([50, 50]), [Coil(100.0)], (), 1.0).bought == (2,)
    assert nest(cuts([100]), [Coil(100.0)], (), 1.0).bought == (1,)
    assert nest(cuts([49, 50]), [Coil(100.0)], (), 1.0).bought == (1,)


def test_one_long_leftover_rather_than_many_short() -> None:
    """Of the ways to cut from two bars the one that keeps a long piece is taken, not 60 and 20 with 20 and 30 left."""
    plan = nest(cuts([60, 40, 30, 20]), [Coil(100.0)])
    assert (plan.bought, plan.longest_left_mm) == ((2,), 50.0)


def test_offcuts_before_new_stock() -> None:
    """With a bar to buy in any case, as much as fits comes off the offcut, though the bar would do for both."""
    plan = nest(cuts([50, 40]), [Coil(100.0)], [45.0])
    assert [(bar.source.offcut, [cut.mm for cut in bar.cuts]) for bar in plan.bars] == [(True, [40.0]), (False, [50.0])]


def test_money_before_length() -> None:
    """A shorter bar that costs more is not bought; a pack counts whole, and its spare bar is left."""
    dear = [Coil(100.0, Fraction("9.99")), Coil(60.0, Fraction(10))]
    assert nest(cuts([50]), dear).bought == (1, 0)
    pack = nest(cuts([50]), [Coil(100.0, Fraction(7), None, 2)])
    assert (pack.bought, pack.cost, pack.bought_mm, pack.longest_left_mm) == ((1,), Fraction(7), Fraction(200), 100.0)
    assert [bar.mm for bar in pack.whole] == [100.0]


def test_price_to_the_last_digit() -> None:
    """Costs are exact: a hundredth part of a cent decides, and no binary figure comes into it."""
    coils = [Coil(100.0, Fraction("0.1001")), Coil(100.0, Fraction("0.1"))]
    plan = nest(cuts([100] * 3), coils)
    assert (plan.bought, plan.cost) == ((0, 3), Fraction("0.3"))


def test_a_piece_that_fits_nothing_is_named() -> None:
    """The piece that no length holds is left out and named, the others are cut."""
    plan = nest([Cut("long", 120.0), Cut("short", 20.0)], [Coil(100.0)])
    assert [cut.tag for cut in plan.too_long] == ["long"]
    assert [cut.tag for bar in plan.bars for cut in bar.cuts] == ["short"]


def test_nothing_to_cut() -> None:
    """Without pieces nothing is bought, and the shelf is left whole."""
    plan = nest([], [Coil(100.0)], [30.0])
    assert (plan.bars, plan.bought, plan.longest_left_mm, plan.optimal) == ((), (0,), 30.0, True)


NONSENSE = [
    (
        ([Cut("feed", 0.0)], [Coil(9.0)], (), 0.0),
        "feed: expected a length of more than 0 mm and at most 200 m, got 0 mm",
    ),
    (([], [Coil(-1.0)], (), 0.0), "stock: expected a length of more than 0 mm and at most 200 m, got -1 mm"),
    (([], [Coil(1e9)], (), 0.0), "stock: expected a length of more than 0 mm and at most 200 m, got 1e+09 mm"),
    (([], [], (float("nan"),), 0.0), "offcut: expected a length of more than 0 mm and at most 200 m, got nan mm"),
    (([], [], (), -1.0), "kerf: expected 0 mm or more and at most 200 m, got -1 mm"),
    (([], [Coil(9.0, None, None, 0)], (), 0.0), "stock of 9 mm: expected a pack of 1 or more, nothing below zero"),
    (
        ([], [Coil(9.0), Coil(8.0, Fraction(1))], (), 0.0),
        "stock with and without a price cannot be compared: give every price, or none",
    ),
    (([Cut("a", 9.0), Cut("b", 9.0)], [], (9.0,), 0.0), "there is too little stock for these pieces"),
    (([Cut("a", 9.0), Cut("b", 9.0)], [Coil(9.0, None, 1)], (), 0.0), "there is too little stock for these pieces"),
]


@pytest.mark.parametrize(("asked", "told"), NONSENSE)
def test_refusals(asked: tuple[list[Cut], list[Coil], tuple[float, ...], float], told: str) -> None:
    """What cannot be nested is refused with what was expected and what was got."""
    with pytest.raises(NestingError) as refused:
        nest(*asked)
    assert str(refused.value) == told


def test_without_the_solver(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where bound and filling meet no solver is asked; where they do not, its absence is told with what installs it."""
    monkeypatch.setitem(sys.modules, "highspy", None)
    assert nest(cuts([60, 40, 30]), [Coil(200.0)]).optimal
    with pytest.raises(NoSolverError) as told:
        nest(cuts([60, 60, 60, 60, 40]), [Coil(100.0)])
    assert str(told.value) == 'this plan needs a solver that is not installed: pip install "fitcheck[order]"'


def test_out_of_time_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    """If the solver comes to nothing the plan of filling stands, and nothing is called proven that is not."""
    monkeypatch.setattr(Model, "solve", lambda *_: Solved(None, None, False))
    plan = nest(cuts([60, 60, 60, 60, 40]), [Coil(100.0)])
    assert plan.bought == (4,)
    assert (plan.cost_proven, plan.optimal) == (False, False)
    assert plan.proof[:3] == (Fraction(300), None, None)


def test_too_large_for_the_solver(monkeypatch: pytest.MonkeyPatch) -> None:
    """A model too large for the solver is not built: filling stands, every piece is in a bar."""
    monkeypatch.setattr(search, "MOST_ARCS", 0)
    monkeypatch.setattr(search, "MOST_COUNTS", 3)
    plan = nest(cuts([60, 60, 60, 60, 40]), [Coil(100.0)])
    assert (plan.bought, plan.cost_proven, plan.optimal) == ((4,), False, False)
    with pytest.raises(NestingError) as told:
        nest(cuts([60, 60, 60, 60, 40]), [Coil(100.0, None, 3)])
    assert str(told.value) == "no plan was found for these pieces"


def test_what_offcuts_hold_together() -> None:
    """Each of two offcuts could take the long piece, only one does: 7 mm have to come off new stock, 8 with a kerf."""
    pieces, shelf = cuts([10, 7, 7]), [10.0, 10.0]
    for kerf, least in ((0.0, 7), (1.0, 8)):
        problem = gridded(pieces, [Coil(30.0)], shelf, kerf)
        assert least_new(problem, 5.0) == least * PER_MM
        assert nest(pieces, [Coil(30.0)], shelf, kerf).new_mm == least
