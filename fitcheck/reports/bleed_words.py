"""Filling, bleeding and leak-testing in sentences: what the text and the printed page share."""

from collections.abc import Iterable, Iterator
from math import floor
from typing import Final

from fitcheck.bom.bleed_sheet import BleedSheet
from fitcheck.bom.need import MM3_PER_ML
from fitcheck.build.volumes import Holding
from fitcheck.hydraulics.bleed import Bleed, Master, Way
from fitcheck.hydraulics.leak_test import Joined, LeakTest
from fitcheck.measures import LBF_N, METRIC, PSI_MPA, Units, number
from fitcheck.measures import torque_text as torque_span
from fitcheck.reports.order_words import filled_up, pack_text
from fitcheck.reports.plain import count_of
from fitcheck.standards.bleeding import bleed_figure
from fitcheck.standards.fluids import FAMILIES, fluid, mixing

_NEAR: Final = 1e-6
"""What a bound may be short of a round figure and still be that figure."""
_WHOLE_MPA: Final = 0.7
"""From here on, some 100 psi, a pressure is told in whole psi."""


def sentences(sheet: BleedSheet) -> Iterator[tuple[str, list[str]]]:
    """Yield each part of the sheet as a title and its sentences, up to the leak tests."""
    yield "Take care", list(cautions(sheet))
    holdings = sheet.bleed.holdings
    yield "Fluid", [*map(holding_text, holdings), *boiling_texts(holdings), *fluid_texts(sheet)]
    masters = [text for master in sheet.bleed.masters for text in master_texts(master)]
    yield "Master cylinders first", [*masters, *bench_texts()] if masters else ["no master cylinder is known"]
    yield "Order of bleeding", list(order_texts(sheet.bleed))
    yield "At each bleed screw", list(screw_texts(sheet))


def cautions(sheet: BleedSheet) -> Iterator[str]:
    """Yield what to take care of, by the fluids that are in the build."""
    names = list(dict.fromkeys(one.fluid for one in sheet.bleed.holdings if one.fluid is not None))
    families = {fluid(name).family for name in names}
    if "glycol" in families or not families:
        yield "Glycol fluid takes off paint: cover it, and rinse splashes off with water at once."
        yield "It draws water from the air: use what comes from a container just opened."
    yield "Goggles and gloves. Fluid in the eyes: rinse with plenty of water, then see a doctor."
    yield "Never fill in again what has come out."
    for family in FAMILIES:
        if family in families:
            yield from _not_mixed(family)
    yield "Under high pressure stand clear of joints and hoses: a jet of fluid goes through the skin."
    yield "The car does not move under its own power before every test here has passed."


def _not_mixed(family: str) -> Iterator[str]:
    others = [other for other in FAMILIES if other != family and not mixing(family, other).allowed]
    if others:
        yield f"Never top up {family} fluid with {' or '.join(others)}: {mixing(family, others[0]).effect}."


def holding_text(one: Holding) -> str:
    """Return what circuits hold: `front: 76.8 ml of DOT 4`."""
    *most, last = one.circuits or ("in no circuit",)
    names = f"{', '.join(most)} and {last} together" if most else last
    left = dict(one.unknown)
    lacking = ", ".join(f"{tag} ({words})" for tag, words in left.items())
    what = one.fluid or "a fluid that the build does not name"
    if lacking and not one.mm3:
        return f"{names}: how much {what} to fill is not known, for want of {lacking}"
    return f"{names}: {ml(one.mm3)} of {what} to fill{f'; not counted: {lacking}' if lacking else ''}"


def boiling_texts(holdings: Iterable[Holding]) -> Iterator[str]:
    """Yield what each fluid stands, fresh and with water in it."""
    for name in dict.fromkeys(one.fluid for one in holdings if one.fluid is not None):
        known = fluid(name)
        if known.dry_degc is not None and known.wet_degc is not None:
            boils = f"boils at {known.dry_degc:.0f} degC fresh at least, at {known.wet_degc:.0f} degC with 3.7 % water"
            yield f"{name} {boils} ({known.standard}): on the road plan for the second"


def fluid_texts(sheet: BleedSheet) -> Iterator[str]:
    """Yield what to have of each fluid, and in which containers it is cheapest."""
    for need in sheet.needs:
        name = need.part or need.description
        yield f"have {need.quantity} ml of {name}" if need.quantity else f"how much {name} to have is not known"
        yield from need.why
    if sheet.plan is None:
        if sheet.needs:
            yield sheet.why_no_plan or "nothing is offered: no containers to choose from"
        return
    for taken in sheet.plan.stock:
        yield f"{taken.quantity} ml of {taken.part} {'on the way' if taken.coming else 'on the shelf'}"
    for order in sheet.plan.orders:
        for line in order.lines:
            number_ = f" {line.offer.number}" if line.offer.number else ""
            size = pack_text(line.offer, line.packs, sheet.units.length)
            yield f"buy {line.packs} x {size} of {line.offer.part},{number_} from {order.supplier.name}: {line.cost}"
        more = filled_up(order)
        if more is not None:
            yield f"of this {more} is bought only to reach the smallest order or free carriage"
        if order.carriage.amount:
            yield f"carriage of that by itself: {order.carriage}; `fitcheck order` weighs it with the rest"
    for missing in sheet.plan.missing:
        yield f"{missing.short} ml of {missing.need.part or missing.need.description} cannot be had"
        yield from missing.reasons


def master_texts(master: Master) -> Iterator[str]:
    """Yield what is done with one master cylinder."""
    fed = " and ".join(master.tanks) if master.tanks else "its own reservoir" if master.own_tank else "its feed"
    screw = ", then at its own bleed screw" if master.bleeder else ""
    yield f"{master.tag}: fill {fed}; if it is dry, bleed it on the bench before its lines are joined{screw}"


def bench_texts() -> Iterator[str]:
    """Yield how a dry master cylinder is bled on the bench."""
    known = bleed_figure("bench_strokes")
    yield "Clamp it level, lead a short hose from each outlet back under the fluid of its reservoir."
    yield f"{number(known.low)} to {number(known.high)} slow full strokes until no bubble comes ({known.mark})."
    yield "Close the outlets, fit it, join the lines, then one slow stroke at each nut before it is tightened."


def order_texts(bleed: Bleed) -> Iterator[str]:
    """Yield the bleed screws in order, those of the brakes first."""
    if not bleed.ways:
        yield "no bleed screw is reached from a master cylinder"
    for place, way in enumerate(bleed.ways, 1):
        yield f"{place}. {way_text(way)}"
    if bleed.doubtful:
        yield f"may come earlier, something on the way is not known: {', '.join(bleed.doubtful)}"
    for way in bleed.ways:
        for tag, words in way.unknown:
            yield f"{way.at}: without {tag}: {words}"
    if bleed.without:
        yield f"no bleed screw of their own: {', '.join(bleed.without)}"


def way_text(way: Way) -> str:
    """Return one bleed screw: what is on its way, and the strokes it takes."""
    circuits = " and ".join(way.circuits) or way.outlet
    what = f"{way.at} ({'clutch, by itself' if way.drives == 'clutch' else circuits})"
    bolt = f" at the banjo bolt of {way.ref}" if way.by_bolt else ""
    least = "at least " if way.unknown else ""
    volume = f"{least}{ml(way.before_mm3)} before it, {least}{ml(way.mm3)} with it"
    return f"{what}{bolt}: {volume}; let out {least}{ml(way.flush_mm3)}; {strokes_text(way, least)}{screws_text(way)}"


def strokes_text(way: Way, least: str = "") -> str:
    """Return how many strokes fluid takes to come, and to flush the way."""
    if way.fill_strokes is None or way.flush_strokes is None:
        return f"strokes not known: bore and stroke of {way.outlet.partition('.')[0]} are not given"
    return f"{least}{count_of(way.fill_strokes, 'stroke')} until fluid comes, {way.flush_strokes} to flush"


def screws_text(way: Way) -> str:
    """Return words on a part with several bleed screws, or without a stated one."""
    if way.screws is None:
        return "; its bleed screw is not stated in the catalog"
    return f"; {way.screws} bleed screws: inner one first, then the outer" if way.screws > 1 else ""


def screw_texts(sheet: BleedSheet) -> Iterator[str]:
    """Yield how a bleed screw is worked: by two people, by gravity, by pressure."""
    usual, most = bleed_figure("pressure_bleeding"), bleed_figure("pressure_bleeding_most")
    plastic, turns = bleed_figure("plastic_reservoir_most"), bleed_figure("open_screw")
    flush = bleed_figure("flush")
    yield "Clear hose over the screw, its end under fluid in a jar that stands higher than the screw."
    times = f"{number(flush.low)} to {number(flush.high)} times"
    yield f"Open it {number(turns.low)} turn or more ({turns.mark}); push slowly, close it before the pedal comes back."
    yield f"Go on until {number(flush.value)} times the way has come, and no bubble ({flush.mark}: {times})."
    yield "Never let the reservoir fall below its mark; top up after every few strokes."
    yield "By gravity: open, wait until it drips without bubbles, close; slow, and it passes no hump."
    yield (
        f"By pressure on the reservoir: {number(usual.low)} psi is usual ({usual.mark}), never over {number(most.low)}"
        f" psi, a plastic reservoir {number(plastic.low)} psi ({most.mark}); the tank at least a third full."
    )
    yield "A second person looks at the pedal: if it grows harder with quick pushes, air is left."


def leak_texts(test: LeakTest, units: Units = METRIC) -> Iterator[str]:
    """Yield how one circuit is tested."""
    low, high = bleed_figure("low_test"), bleed_figure("high_test")
    hold, press = bleed_figure("low_hold"), bleed_figure("high_hold")
    if test.lowest is not None:
        rated = test.lowest.rating
        most = gauge_text(_down(rated.mpa, units), units)
        yield f"nothing above {most}: {test.lowest.tag} ({test.lowest.part_id}), {rated.told(units)}"
    if test.unrated:
        fields = ", ".join(f"{tag} ({field})" for tag, field in test.unrated)
        yield f"no rating is known, look it up before the high test: {fields}"
    hours = f"{number(hold.low)} to {number(hold.high)} h"
    yield f"low: {bars(test.low_mpa, units)} of air or fluid, held overnight ({hours}); {low.mark}"
    capped = ", held down by that rating" if test.capped else ""
    minutes = f"{number(press.low)} to {number(press.high)} min"
    yield f"high: {bars(test.high_mpa, units)} by pedal or pump, held {minutes}{capped}; {high.mark}"
    yield from foot_texts(test, units)
    gauge = f"gauge in place of the bleed screw of {test.gauge.at}" if test.gauge else "no bleed screw for a gauge"
    yield f"{gauge}; fitted: {', '.join(test.gauges)}" if test.gauges else gauge
    yield from pedal_texts(test, units)


def foot_texts(test: LeakTest, units: Units = METRIC) -> Iterator[str]:
    """Yield the push that makes the high test, kept below what any circuit of that pedal bears."""
    if test.foot_n is None:
        return
    low, high = test.foot_n
    most = high if test.foot_most_n is None else min(high, test.foot_most_n)
    if most < low * (1.0 - 1e-9):
        least = newtons((most, most), units)
        yield f"by pump only: on the pedal {test.foot_limit} reaches its lowest rating first, at {least}"
    else:
        yield f"that is a push of {newtons((low, most), units)} on the pedal"


def pedal_texts(test: LeakTest, units: Units = METRIC) -> Iterator[str]:
    """Yield the tests by pedal; the regulation's is for service brakes."""
    push, hold, sink = bleed_figure("pedal_test"), bleed_figure("pedal_test_hold"), bleed_figure("sink_hold")
    here = [f"{gauge_text(test.pedal_mpa, units)} here"] if test.pedal_mpa is not None else []
    apart = ", ".join([*([] if units.pounds else [f"{push.value:.0f} N"]), *here])
    law = f"{number(push.low)} lbf{f' ({apart})' if apart else ''} on the pedal for {number(hold.low)} s"
    if test.pedal_too_much and test.drives != "clutch":
        yield f"NOT {law}: that goes above the lowest rating of {test.foot_limit or test.name}; push less"
    elif test.drives != "clutch":
        yield f"pedal: {law}: it does not sink ({push.mark}, written for vehicles over 10,000 lb)"
    times = f"{number(sink.low)} to {number(sink.high)} s"
    yield f"sink: hold the pedal firmly {times}, a boosted one with the engine off and on: it stays ({sink.mark})"


LEAK: Final = (
    "Let the pressure off before a spanner touches a joint.",
    "Tighten to the top of its range once; if it still weeps, take it apart: look at flare, seat and thread.",
    "New washers at every banjo joint that has been apart; never tape or sealant on a flare.",
    "A pedal that sinks with every joint dry: the seals of the master cylinder.",
    "Bleed that circuit again, and begin its test from the low pressure.",
)
"""What to do about a leak. Common practice, no source."""


def torque_text(joined: Joined, marks: list[str], units: Units = METRIC) -> str:
    """Return a joint's torque with the number of its source; `marks` collects the sources."""
    if joined.what == "hose on barb":
        return "clamp"
    if joined.torque is None:
        return "as its maker says"
    if joined.torque.mark not in marks:
        marks.append(joined.torque.mark)
    span = torque_span(joined.torque.low_n_mm, joined.torque.high_n_mm, units)
    return f"{span} ({marks.index(joined.torque.mark) + 1})"


def joined_text(joined: Joined) -> str:
    """Return a joint in words: `tube nut 3/8-24 UNF, mc_front.outlet and front_feed.from`."""
    thread = f" {joined.thread}" if joined.thread else ""
    return f"{joined.what}{thread}, {' and '.join(joined.at)}"


def mark_texts(marks: Iterable[str]) -> list[str]:
    """Return the sources of torques, numbered."""
    found = [f"({place}) {mark}" for place, mark in enumerate(marks, 1)]
    return ["Torques are typical, the maker's own come first.", *found]


def ml(mm3: float) -> str:
    """Return a volume: `76.8 ml`."""
    return f"{number(mm3 / MM3_PER_ML, 1)} ml"


def gauge_text(mpa: float, units: Units) -> str:
    """Return a pressure as a gauge shows it: `140 bar`, `2030 psi`."""
    return f"{_gauge(mpa, units)} {'psi' if units.pounds else 'bar'}"


def bars(span: tuple[float, float], units: Units = METRIC) -> str:
    """Return a range of pressure: `100 to 140 bar`. Its upper end is a bound, so it is rounded down."""
    least, most = span[0], _down(span[1], units)
    return f"{_gauge(least, units)} to {gauge_text(most, units)}" if most > least else gauge_text(most, units)


def newtons(span: tuple[float, float], units: Units = METRIC) -> str:
    """Return a range of force: `400 to 600 N`, `90 to 134 lbf`. Its upper end is a bound, so it is rounded down."""
    per, name = (LBF_N, "lbf") if units.pounds else (1.0, "N")
    least, most = round(span[0] / per), floor(span[1] / per + _NEAR)
    return f"{least} to {most} {name}" if most > least else f"{most} {name}"


def _gauge(mpa: float, units: Units) -> str:
    return number(mpa / PSI_MPA, 0 if mpa >= _WHOLE_MPA else 1) if units.pounds else number(mpa * 10.0, 1)


def _down(mpa: float, units: Units = METRIC) -> float:
    """Return a pressure that is printed to 0.1 bar, or in psi, rounded down to what is printed."""
    if not units.pounds:
        return floor(mpa * 100.0 + _NEAR) / 100.0
    parts = 1.0 if mpa >= _WHOLE_MPA else 10.0
    return floor(mpa / PSI_MPA * parts + _NEAR) / parts * PSI_MPA
