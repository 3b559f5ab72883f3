"""What could replace a part, as text and JSON: every kind of line."""

import json
from decimal import Decimal
from pathlib import Path

import pytest

from fitcheck.catalog.money import Money
from fitcheck.checks.context import Context
from fitcheck.remedies.replacements import Replacement, replacements, unjudged
from fitcheck.reports.replacements_text import Listing, replacements_json, replacements_text
from tests.remedies.replacement_house import CAR, by_id, context_of
from tests.reports.samples import CAUTION_LINES


def listing(context: Context, tag: str, *parts: str, **more: object) -> Listing:
    """Return the listing of some of what could replace the tag, in the order given."""
    found = by_id(context, tag)
    shown = tuple(found[part] for part in parts)
    all_of_it = Listing("Plover", context.graph.fitted[tag], shown, 10, unjudged(context, tag), "fitcheck swap car")
    return all_of_it._replace(**more)


def body(told: Listing) -> str:
    """Return the text without its heading and caution."""
    text = replacements_text(told)
    assert text.endswith(CAUTION_LINES)
    return text.removesuffix(CAUTION_LINES).split("\n\n", 2)[2]


@pytest.fixture
def car(tmp_path: Path) -> Context:
    """A car with one of everything from the house catalog."""
    return context_of(tmp_path)


PUMPS = """\
Plover: what could replace mc (master cylinder pump)

3 parts tried; all of them shown, best first
no cost: the build names no offers

  pump-turned: Pump with its outlet called in
    2 of 2 joints fit
    in the file: write mc.in for mc.out and mc.out for mc.feed
    fitcheck swap car mc=pump-turned

  pump-double: Pump with two outlets
    2 of 2 joints fit
    to change: its two would be open
    differs: outlets 1 -> 2
    fitcheck swap car mc=pump-double

  pump-blind: Pump without a feed
    1 of 2 joints fits
    to change: it has no port for feed
    fitcheck swap car mc=pump-blind
"""


def test_whole_text(car: Context) -> None:
    """The heading says what and how many, each part what fits, what to change and the line to run; then the caution."""
    told = listing(car, "mc", "pump-turned", "pump-double", "pump-blind")
    assert replacements_text(told) == PUMPS + CAUTION_LINES


def test_what_a_caliper_does_otherwise_in_words(car: Context) -> None:
    """Figures stand in the usual units, what the catalog does not say is named."""
    told = listing(car, "fl", "brake-weak", "brake-dry", "brake-unsaid")
    assert (
        body(told)
        == """\
  brake-weak: Brake brake-weak
    1 of 1 joint fits
    differs: max pressure 14 MPa -> 9 MPa
    fitcheck swap car fl=brake-weak

  brake-dry: Brake brake-dry
    1 of 1 joint fits
    differs: bleeder M8x1.25 -> none
    fitcheck swap car fl=brake-dry

  brake-unsaid: Brake brake-unsaid
    1 of 1 joint fits
    differs: displacement 18 cm3 -> not stated
    fitcheck swap car fl=brake-unsaid
"""
    )


def test_joints_that_do_not_seal_and_fixings(car: Context) -> None:
    """A fault stands in its rule's words; other fixings stand with the end they are for and what is there now."""
    told = listing(car, "mid", "joiner-air")
    assert (
        body(told)
        == """\
  joiner-air: Joiner for air
    0 of 2 joints fit
    to change: nut short-nut and mid.a are both external
    to change: a cone-45 joint under pressure from mc.out
    fitcheck swap car mid=joiner-air
"""
    )
    assert (
        body(listing(car, "fl", "brake-coarse"))
        == """\
  brake-coarse: Brake brake-coarse
    1 of 1 joint fits
    to fit: bubble flare, nut-m12x1-bubble-for-4-75 at three.to, now bubble
      flare, short-nut
    fitcheck swap car fl=brake-coarse
"""
    )


def test_valves(car: Context) -> None:
    """A setting that is in no field is told as a doubt, and ports that change places by their names."""
    assert (
        body(listing(car, "keep", "valve-other", "valve-turned"))
        == """\
  valve-other: Another valve
    2 of 2 joints fit
    differs: setting, perhaps: the catalog does not say
    fitcheck swap car keep=valve-other

  valve-turned: The valve, its names turned
    2 of 2 joints fit
    in the file: write keep.out for keep.in and keep.in for keep.out
    fitcheck swap car keep=valve-turned
"""
    )


WEAK = """\
  brake-bare-thread:
    kind: caliper
    description: Brake that says little
    ports:
      in: {thread: M10x1, gender: internal, seat: bubble}
"""


def test_what_could_not_be_judged_before_either_is_to_be_looked_at(tmp_path: Path) -> None:
    """A joint that is as little known as now fits, with the missing field told."""
    context = context_of(
        tmp_path,
        CAR.replace("fl: {part: brake}", "fl: {part: brake-bare-thread}"),
        WEAK + WEAK.replace("brake-bare-thread", "brake-bare-other"),
    )
    assert (
        body(listing(context, "fl", "brake-bare-other"))
        == """\
  brake-bare-other: Brake that says little
    1 of 1 joint fits
    to look at: the joint of fl.in and three.to is judged without
      parts.brake-bare-other.ports.in.tube
    differs: bore, perhaps: the catalog does not say
    differs: displacement, perhaps: the catalog does not say
    fitcheck swap car fl=brake-bare-other
"""
    )


def test_a_joint_that_nothing_can_be_said_of(tmp_path: Path) -> None:
    """The heading names the joint whose other part no catalog has, and a part that is in none."""
    context = context_of(tmp_path, CAR.replace("keep: {part: valve}", "keep: {part: valv}"))
    lines = replacements_text(listing(context, "two", "tube-4-75mm-steel")).splitlines()
    assert lines[2:4] == [
        "1 part tried; all of them shown, best first",
        "not judged with any of them: the joint of keep.in and two.to",
    ]
    head = replacements_text(listing(context, "keep")).splitlines()[:3]
    assert head == ["Plover: what could replace keep (valv, which no catalog has)", "", "no other part to try"]


def test_a_hose_is_turned_round(tmp_path: Path) -> None:
    """Where a hose's ends only change places the file is told to turn it, in words of the hose."""
    hose = """\
  {name}:
    kind: hose
    description: Whip
    length: 300 mm
    ports:
      {a}: {{thread: M10x1, gender: external, seat: bubble, tube: 4.75 mm}}
      {b}: {{thread: 3/8-24 UNF, gender: external, seat: inverted-flare, tube: 3/16 in}}
"""
    more = hose.format(name="whip", a="from", b="to") + hose.format(name="pihw", a="to", b="from")
    text = CAR + "  whip: {part: whip, from: mid.a, to: end.a}\n"
    context = context_of(
        tmp_path, text.replace("components:\n", "components:\n  end: {part: union-3-16-inverted}\n"), more
    )
    assert (
        body(listing(context, "whip", "pihw"))
        == """\
  pihw: Whip
    2 of 2 joints fit
    in the file: turn whip round, its `from` for its `to`
    fitcheck swap car whip=pihw
"""
    )


@pytest.mark.parametrize(
    ("now", "then", "told"),
    [
        ("4.00 GBP", "5.50 GBP", "cost: 5.50 GBP, 1.50 GBP more than now"),
        ("4.00 GBP", "4.00 GBP", "cost: 4.00 GBP, the same as now"),
        ("4.00 GBP", "3.00 GBP", "cost: 3.00 GBP, 1.00 GBP less than now"),
        ("4.00 GBP", "3.00 EUR", "cost: 3.00 EUR; the present part is offered in GBP, and no rate is known"),
        (None, "3.00 EUR", "cost: 3.00 EUR; no offer to compare for the present part"),
        ("4.00 GBP", None, "cost: no offer for it"),
    ],
)
def test_cost(car: Context, now: str | None, then: str | None, told: str) -> None:
    """The cost is told with the change, or why there is none."""
    one = by_id(car, "fl")["brake-twin"]._replace(cost_now=_money(now), cost=_money(then))
    text = replacements_text(listing(car, "fl", found=(one,), priced=True))
    assert f"    {told}\n" in text
    assert "no cost" not in text


def _money(text: str | None) -> Money | None:
    return None if text is None else Money(Decimal(text.split()[0]), text.split()[1])


def test_json_of_a_misfit(car: Context) -> None:
    """The JSON has the same facts under fixed keys, with rule and evidence for each joint at fault."""
    value = json.loads(replacements_json(listing(car, "mid", "joiner-short", options=" --variant x")))
    (found,) = value["replacements"]
    assert list(found) == [
        "part",
        "kind",
        "description",
        "fits",
        "joints",
        "misfits",
        "lost_ports",
        "spare_ports",
        "refits",
        "doubts",
        "same_work",
        "differs",
        "renamed",
        "next",
    ]
    assert (found["fits"], found["joints"], found["same_work"], found["renamed"]) == (0, 2, True, {})
    first = found["misfits"][0]
    assert (first["at"], first["rule"], first["level"]) == (["mid.a", "one.to"], "short-engagement", "error")
    assert first["evidence"]["engaged_mm"] == 1.0
    assert {metal["part"] for metal in first["evidence"]["metals"]} == {"short-nut", "joiner-short"}
    assert found["next"] == "fitcheck swap car mid=joiner-short --variant x"


def test_no_line_is_wider_than_asked(car: Context) -> None:
    """All but the line to copy keeps to the width."""
    found: tuple[Replacement, ...] = replacements(car, "mid")
    text = replacements_text(listing(car, "mid", found=found, most=400), width=50)
    assert [line for line in text.splitlines() if len(line) > 50 and "fitcheck swap" not in line] == []
