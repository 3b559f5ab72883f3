"""The adapters that join two ends as JSON: lengths in mm, pressure in MPa."""

from typing import Any

from fitcheck.build.graph import End
from fitcheck.remedies.bridge import Bridge, Chain, Step, meetings_of
from fitcheck.remedies.bridge_refused import Refused
from fitcheck.remedies.interfaces import joint_of
from fitcheck.reports.bridge_text import (
    Answer,
    cost_of,
    end_words,
    gaps_of,
    line_between,
    part_of,
    price_of,
    why_not_direct,
)
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.plain_json import json_text


def bridge_json(answer: Answer) -> str:
    """Return the answer as JSON text. `refused` is there if it was asked for."""
    bridge = answer.bridge
    value: dict[str, Any] = {
        "first": _end(bridge.ends[0]),
        "second": _end(bridge.ends[1]),
        "duty": bridge.duty._asdict(),
        "longest": bridge.longest,
        "direct": bridge.direct,
        "why_not_direct": why_not_direct(bridge),
        "joints": [_joint(bridge, *bridge.ends)] if bridge.direct else [],
        "line": line._asdict() if (line := line_between(bridge)) is not None and not bridge.direct else None,
        "chains": [_chain(answer, chain) for chain in answer.chains],
    }
    if answer.refusals is not None:
        value["refused"] = [_refused(refused) for refused in answer.refusals.told]
        value["more_refused"] = answer.refusals.more
    return json_text(value | {"caution": CAUTION})


def _end(end: End) -> dict[str, Any]:
    return {"end": end.ref, "is": end_words(end)}


def _chain(answer: Answer, chain: Chain) -> dict[str, Any]:
    cost = cost_of(answer, chain)
    return {
        "parts": [_part(answer, step) for step in chain.steps],
        "added_joints": len(chain.steps),
        "price": str(cost) if cost is not None else None,
        "unpriced": chain.unpriced,
        "max_pressure": chain.rating,
        "new_forms": chain.foreign,
        "joints": [_joint(answer.bridge, *ends) for ends in meetings_of(answer.bridge, chain)],
    }


def _part(answer: Answer, step: Step) -> dict[str, Any]:
    part, price = part_of(answer.bridge, step.part), price_of(answer, step.part)
    value = {"part": part.id, "description": part.description, "near": step.near, "far": step.far}
    offer = (
        {"price": float(price.unit_price), "currency": price.currency, "supplier": price.supplier} if price else None
    )
    return {**value, "max_pressure": part.max_pressure, "offer": offer}


def _joint(bridge: Bridge, a: End, b: End) -> dict[str, Any]:
    joint = joint_of(a, b)
    fixings = bridge.adapters.needs(joint)
    needs = [
        {"fixing": item.word, "part": item.part.id if item.part else None, "quantity": item.quantity}
        for item in fixings.items
    ]
    gaps = gaps_of(bridge, joint)
    return {"ends": [a.ref, b.ref], "flare": fixings.flare, "fixings": needs, "not_checked": gaps}


def _refused(refused: Refused) -> dict[str, Any]:
    return {"parts": refused.chain.parts, "reasons": refused.reasons}
