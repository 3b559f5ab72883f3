"""Filling, bleeding and leak-testing as JSON: exact figures, in mm3, MPa, N and N m."""

from typing import Any

from fitcheck.bom.bleed_sheet import BleedSheet
from fitcheck.bom.need import Need
from fitcheck.bom.ordering.record import Plan
from fitcheck.build.volumes import Held, Holding
from fitcheck.hydraulics.bleed import Way
from fitcheck.hydraulics.leak_test import Joined, LeakTest
from fitcheck.reports.bleed_words import cautions
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.plain_json import json_text
from fitcheck.standards.bleeding import bleed_figures


def bleed_json(sheet: BleedSheet) -> str:
    """Return the sheet as JSON text."""
    return json_text(bleed_value(sheet))


def bleed_value(sheet: BleedSheet) -> dict[str, Any]:
    """Return the sheet as plain values."""
    return {
        "build": sheet.bleed.build,
        "fluid": {
            "holdings": [_holding(one) for one in sheet.bleed.holdings],
            "needs": [_need(need) for need in sheet.needs],
            "containers": _containers(sheet.plan) if sheet.plan is not None else None,
            "no_containers": sheet.why_no_plan or None,
        },
        "master_cylinders": [master._asdict() for master in sheet.bleed.masters],
        "order": [_way(way) for way in sheet.bleed.ways],
        "doubtful": sheet.bleed.doubtful,
        "without_bleed_screw": sheet.bleed.without,
        "leak_tests": [_test(test) for test in sheet.tests.tests],
        "feeds": [_joined(joined) for joined in sheet.tests.feeds],
        "figures": [figure._asdict() for figure in bleed_figures().values()],
        "cautions": list(cautions(sheet)),
        "caution": CAUTION,
    }


def _holding(one: Holding) -> dict[str, Any]:
    return {
        "circuits": one.circuits,
        "fluid": one.fluid,
        "mm3": one.mm3,
        "parts": [_held(part) for part in one.parts],
    }


def _held(part: Held) -> dict[str, Any]:
    return {"at": part.tag, "mm3": part.mm3, "source" if part.mm3 is not None else "missing": part.words}


def _need(need: Need) -> dict[str, Any]:
    return {"part": need.part, "description": need.description, "ml": need.quantity, "why": need.why}


def _containers(plan: Plan) -> dict[str, Any]:
    bought = [
        {
            "part": line.offer.part,
            "supplier": order.supplier.tag,
            "number": line.offer.number,
            "packs": line.packs,
            "contents_mm3": line.offer.contents,
            "cost": str(line.cost),
        }
        for order in plan.orders
        for line in order.lines
    ]
    shelf = [{"part": one.part, "ml": one.quantity, "coming": one.coming} for one in plan.stock]
    short = [{"part": one.need.part, "ml": one.short, "why": one.reasons} for one in plan.missing]
    return {"buy": bought, "shelf": shelf, "missing": short, "cost": str(plan.cost), "proven": plan.bound.optimal}


def _way(way: Way) -> dict[str, Any]:
    return {
        "at": way.at,
        "port": way.ref,
        "outlet": way.outlet,
        "circuits": way.circuits,
        "drives": way.drives,
        "bleed_screws": way.screws,
        "by_bolt": way.by_bolt,
        "before_mm3": way.before_mm3,
        "mm3": way.mm3,
        "flush_mm3": way.flush_mm3,
        "swept_mm3": way.swept_mm3,
        "strokes_to_fill": way.fill_strokes,
        "strokes_to_flush": way.flush_strokes,
        "parts": [_held(part) for part in way.parts],
    }


def _test(test: LeakTest) -> dict[str, Any]:
    lowest = test.lowest
    return {
        "circuits": test.circuits,
        "outlets": test.outlets,
        "lowest_rating": None
        if lowest is None
        else {
            "at": lowest.tag,
            "part": lowest.part_id,
            "mpa": lowest.rating.mpa,
            "words": lowest.rating.words,
            "source": lowest.rating.source,
        },
        "without_rating": [{"at": tag, "missing": field} for tag, field in test.unrated],
        "low_mpa": test.low_mpa,
        "high_mpa": test.high_mpa,
        "capped": test.capped,
        "gauge_at": test.gauge.at if test.gauge is not None else None,
        "gauges": test.gauges,
        "pedal_mpa": test.pedal_mpa,
        "pedal_too_much": test.pedal_too_much,
        "drives": test.drives,
        "foot_n": test.foot_n,
        "foot_most_n": test.foot_most_n,
        "foot_limit": test.foot_limit or None,
        "joints": [_joined(joined) for joined in test.joints],
    }


def _joined(joined: Joined) -> dict[str, Any]:
    torque = joined.torque
    return {
        "what": joined.what,
        "at": joined.at,
        "thread": joined.thread,
        "torque_n_m": None if torque is None else (torque.low_n_mm / 1000.0, torque.high_n_mm / 1000.0),
        "torque_source": torque.mark if torque is not None else None,
    }
