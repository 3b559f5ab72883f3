"""The cutting list as JSON."""

from typing import Any

from fitcheck.bom.cutting import CutPart, CuttingList
from fitcheck.bom.nesting.record import Bar, Nest
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.cut_text import money_text
from fitcheck.reports.plain_json import json_text


def cut_json(cutting: CuttingList) -> str:
    """Return the cutting list as JSON text. Money is text, `12.50 GBP`; lengths are in mm."""
    return json_text(
        {
            "build": cutting.build,
            "kerf_mm": cutting.kerf_mm,
            "parts": [_part(part) for part in cutting.parts],
            "caution": CAUTION,
        }
    )


def _part(part: CutPart) -> dict[str, Any]:
    bought = part.nest.bought if part.nest is not None else [0] * len(part.coils)
    lengths = [
        {
            "length_mm": coil.mm,
            "pack": coil.pack,
            "price": money_text(coil.cost, part.currency) if coil.cost is not None else None,
            "offer": coil.tag or None,
            "buy": count,
        }
        for coil, count in zip(part.coils, bought, strict=True)
    ]
    return {
        "part": part.part,
        "description": part.description,
        "lengths_from": part.origin,
        "lengths": lengths,
        "offcuts_mm": list(part.offcuts),
        "plan": _plan(part, part.nest) if part.nest is not None and part.nest.bars else None,
        "by_the_metre": [{"for": cut.tag, "length_mm": cut.mm} for cut in part.by_the_metre],
        "left_out": [{"for": piece.what, "reason": piece.reason} for piece in part.left_out],
        "offers_ignored": [{"offer": offer.what, "reason": offer.reason} for offer in part.ignored],
    }


def _plan(part: CutPart, plan: Nest) -> dict[str, Any]:
    least = plan.proof.least
    return {
        "bars": [_bar(bar) for bar in plan.bars],
        "left_whole": [_bar(bar) for bar in plan.whole],
        "cost": money_text(plan.cost, part.currency) if plan.cost is not None else None,
        "bought_mm": plan.bought_mm,
        "new_mm": plan.new_mm,
        "longest_left_mm": plan.longest_left_mm,
        "proof": {
            "optimal": plan.optimal,
            "cost_proven": plan.cost_proven,
            "least_cost": money_text(least, part.currency) if plan.cost is not None else None,
            "least_bought_mm": least if plan.cost is None else None,
            "least_new_mm": plan.proof.least_new_mm,
            "longest_left_mm": plan.proof.longest_left_mm,
        },
    }


def _bar(bar: Bar) -> dict[str, Any]:
    return {
        "from": "offcut" if bar.source.offcut else "length",
        "number": bar.source.number,
        "length_mm": bar.mm,
        "pieces": [{"for": cut.tag, "length_mm": cut.mm} for cut in bar.cuts],
        "left_mm": bar.left_mm,
    }
