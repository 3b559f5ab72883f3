"""What could stand in place of a component, line or hose: text and JSON."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Any, Final, NamedTuple

from fitcheck.build.fixings import Fixings
from fitcheck.build.graph import Fitted
from fitcheck.catalog.money import Money
from fitcheck.catalog.part import Part
from fitcheck.checks.context import Context
from fitcheck.checks.joint_words import joined
from fitcheck.measures import Units
from fitcheck.quantities import Quantity, render
from fitcheck.remedies.replacements import JointFit, Refit, Replacement, pricing, replacements, unjudged
from fitcheck.reports.caution import CAUTION
from fitcheck.reports.plain import WIDTH, caution_lines, count_of, paragraph
from fitcheck.reports.plain_json import json_text
from fitcheck.standards.materials import material

_DIMENSIONS: Final = {
    "bore": "length", "stroke": "length", "displacement": "volume", "volume": "volume", "reservoir_volume": "volume",
    "length": "length", "inside": "length", "bend_radius": "length", "od": "length", "wall": "length",
    "max_pressure": "pressure", "setting": "pressure", "burst": "pressure", "cut_off": "length", "give": "give",
    "pistons": "length", "chambers": "length",
}  # fmt: skip


class Listing(NamedTuple):
    """What could replace one thing of a build.

    `found` is best first, `most` says how many are shown. `unjudged` are joints that no part can be judged at.
    `command` is the command line that an exchange goes on from: `fitcheck swap demo_vehicle`, and `options` what
    follows it. `priced` is True if the build names offers. Figures without a unit of their own are told in `units`.
    """

    build: str
    item: Fitted
    found: tuple[Replacement, ...]
    most: int
    unjudged: tuple[tuple[str, ...], ...]
    command: str
    options: str = ""
    priced: bool = False
    units: Units = Units()

    @property
    def shown(self) -> tuple[Replacement, ...]:
        """What of it is shown."""
        return self.found[: self.most]

    def next_line(self, found: Replacement) -> str:
        """Return the command that tries this part."""
        return f"{self.command} {self.item.tag}={found.part.id}{self.options}"


def listing_of(context: Context, tag: str, most: int, command: str = "fitcheck swap", options: str = "") -> Listing:
    """Return what could replace a thing of a build, best first; its tag must be there."""
    prices = pricing(context, tag)
    return Listing(
        context.file.name,
        context.graph.fitted[tag],
        replacements(context, tag, pricing=prices),
        most,
        unjudged(context, tag),
        command,
        options,
        prices is not None,
        context.units,
    )


def replacements_text(listing: Listing, *, width: int = WIDTH) -> str:
    """Return what could replace it for people, in lines of at most `width` columns."""
    return "\n".join([*_head(listing, width), *_each(listing, width), *caution_lines(width)])


def _head(listing: Listing, width: int) -> Iterator[str]:
    item = listing.item
    what = f"{item.part.kind} {item.part_id}" if item.part is not None else f"{item.part_id}, which no catalog has"
    yield from paragraph(f"{listing.build}: what could replace {item.tag} ({what})", width, hang="  ")
    yield ""
    tried, shown = count_of(len(listing.found), "part"), len(listing.shown)
    few = f"the best {shown} of them" if shown < len(listing.found) else "all of them"
    yield from paragraph(f"{tried} tried; {few} shown, best first" if listing.found else "no other part to try", width)
    for refs in listing.unjudged:
        yield from paragraph(f"not judged with any of them: the joint of {joined(refs)}", width, hang="  ")
    if not listing.priced and listing.found:
        yield "no cost: the build names no offers"


def _each(listing: Listing, width: int) -> Iterator[str]:
    for found in listing.shown:
        yield ""
        yield from paragraph(f"{found.part.id}: {found.part.description or found.part.kind}", width, "  ", "    ")
        for line in _lines(listing, found):
            yield from paragraph(line, width, "    ", "      ")
        yield f"    {listing.next_line(found)}"


def _lines(listing: Listing, found: Replacement) -> Iterator[str]:
    """Yield everything about one part, one line for each fact."""
    yield f"{found.fits} of {count_of(found.joints, 'joint')} {'fits' if found.fits == 1 else 'fit'}"
    yield from map(_misfit, found.misfits)
    if found.lost_ports:
        yield f"to change: it has no port for {joined(found.lost_ports)}"
    if found.spare_ports:
        yield f"to change: its {joined(found.spare_ports)} would be open"
    yield from (f"to fit: {_refit(refit)}" for refit in found.refits)
    yield from (f"to look at: {_doubt(fit)}" for fit in found.doubts)
    refused = _refused(found.part)
    if refused:
        yield refused
    yield from (f"differs: {_difference(listing.units, *each)}" for each in found.differs)
    if found.renamed:
        yield _renamed(listing.item, found.renamed)
    if listing.priced:
        yield f"cost: {_cost(found)}"


def _refused(part: Part) -> str | None:
    """Return that a tube's material is refused under pressure, whatever its ends fit."""
    if part.kind != "tube" or part.material is None or material(part.material).brake_pressure:
        return None
    return f"to look at: {part.material} tube is refused under pressure; fine on the feed side"


def _misfit(fit: JointFit) -> str:
    """Return why a joint does not hold with the new part, and whether it is so with the present one."""
    then, now = fit.then, fit.now
    if then.rule is not None and then.level == "error":
        return f"to change: {then.message}" + (
            ", as now" if (now.rule, now.message) == (then.rule, then.message) else ""
        )
    gaps = ", ".join(dict.fromkeys(missing for _, missing in then.unchecked))
    return f"not judged: the joint of {joined(then.joint.refs)}, without {gaps}"


def _doubt(fit: JointFit) -> str:
    then = fit.then
    gaps = ", ".join(dict.fromkeys(missing for _, missing in then.unchecked))
    told = [then.message] if then.rule is not None else []
    told += [f"the joint of {joined(then.joint.refs)} is judged without {gaps}"] if gaps else []
    return "; ".join(told)


def _refit(refit: Refit) -> str:
    return f"{_fixings(refit.then)} at {refit.refs[-1]}, now {_fixings(refit.now)}"


def _fixings(needs: Fixings) -> str:
    words = [f"{needs.flare} flare"] if needs.flare is not None else []
    for item in needs.items:
        name = item.part.id if item.part is not None else item.wanted
        words.append(name if item.quantity == 1 else f"{item.quantity} {name}")
    return ", ".join(words) or "nothing"


def _difference(units: Units, field: str, now: object, then: object) -> str:
    name = field.replace("_", " ")
    if now is None and then is None:
        return f"{name}, perhaps: the catalog does not say"
    words = f"{name} {_value(units, field, now)} -> {_value(units, field, then)}"
    if field == "bore" and isinstance(now, float) and isinstance(then, float):
        words += f", {(then / now) ** 2 - 1.0:+.1%} area"
    return words


def _value(units: Units, field: str, value: object) -> str:
    if value is None:
        return "not stated"
    if isinstance(value, Quantity):
        return value.text
    if field == "piston_area" and isinstance(value, float):
        return f"{value:.0f} mm2"
    if isinstance(value, float):
        return _figure(units, value, _DIMENSIONS[field]) if field in _DIMENSIONS else f"{value:g}"
    if field == "panel" and isinstance(value, tuple):
        sizes = zip(("hole", "grip"), value, strict=True)
        return ", ".join(f"{name} {_figure(units, size, 'length')}" for name, size in sizes if size is not None)
    if field in ("pistons", "chambers") and isinstance(value, tuple):
        return " and ".join(_value(units, field, size) for size in value)
    if field == "expansion" and isinstance(value, tuple):
        told = ((render(swelling, "swelling"), _figure(units, at, "pressure")) for at, swelling in value)
        return ", ".join(f"{swelling} at {pressure}" for swelling, pressure in told)
    if field == "passages" and isinstance(value, tuple):
        return "; ".join(" and ".join(group) for group in value) or "none"
    if field == "one_way" and isinstance(value, tuple):
        return f"from {value[0]} to {value[1]}"
    return ", ".join(map(str, value)) if isinstance(value, tuple) else str(value)


def _renamed(item: Fitted, renamed: tuple[tuple[str, str], ...]) -> str:
    """Return what has to be written otherwise in the file, because the new part calls its ports otherwise."""
    if item.section == "hoses" and set(renamed) == {("from", "to"), ("to", "from")}:
        return f"in the file: turn {item.tag} round, its `from` for its `to`"
    words = joined(tuple(f"{item.tag}.{new} for {item.tag}.{old}" for old, new in renamed))
    return f"in the file: write {words}"


def _cost(found: Replacement) -> str:
    now, then = found.cost_now, found.cost
    if then is None:
        return "no offer for it"
    change = _change(now, then)
    if now is not None and now.currency != then.currency:
        return f"{then}; the present part is offered in {now.currency}, and no rate is known"
    return f"{then}, {change}" if change is not None else f"{then}; no offer to compare for the present part"


def _change(now: Money | None, then: Money) -> str | None:
    """Return by how much the cost changes, None if that cannot be told."""
    if now is None or now.currency != then.currency:
        return None
    by = then.amount - now.amount
    if by == 0:
        return "the same as now"
    return f"{Money(abs(by), then.currency)} {'more' if by > 0 else 'less'} than now"


def replacements_json(listing: Listing) -> str:
    """Return the same as JSON text: lengths in mm, pressure in MPa, volumes in mm3."""
    item = listing.item
    value: dict[str, Any] = {
        "build": listing.build,
        "tag": item.tag,
        "part": item.part_id,
        "kind": item.part.kind if item.part is not None else None,
        "tried": len(listing.found),
        "not_judged": listing.unjudged,
        "replacements": [_value_of(listing, found) for found in listing.shown],
        "caution": CAUTION,
    }
    return json_text(value)


def _value_of(listing: Listing, found: Replacement) -> dict[str, Any]:
    value: dict[str, Any] = {
        "part": found.part.id,
        "kind": found.part.kind,
        "description": found.part.description,
        "fits": found.fits,
        "joints": found.joints,
        "misfits": [_fit_value(fit) for fit in found.misfits],
        "lost_ports": found.lost_ports,
        "spare_ports": found.spare_ports,
        "refits": [
            {"at": refit.refs, "now": _fixings_value(refit.now), "then": _fixings_value(refit.then)}
            for refit in found.refits
        ],
        "doubts": [_fit_value(fit) for fit in found.doubts],
        "same_work": not found.matters,
        "differs": [{"field": field, "now": now, "then": then} for field, now, then in found.differs],
        "renamed": dict(found.renamed),
        "next": listing.next_line(found),
    }
    if listing.priced:
        value["cost_now"] = str(found.cost_now) if found.cost_now is not None else None
        value["cost"] = str(found.cost) if found.cost is not None else None
        value["cost_change"] = _change_value(found)
    return value


def _change_value(found: Replacement) -> str | None:
    now, then = found.cost_now, found.cost
    if now is None or then is None or now.currency != then.currency:
        return None
    by: Decimal = then.amount - now.amount
    return f"{by} {then.currency}"


def _fit_value(fit: JointFit) -> dict[str, Any]:
    then = fit.then
    return {
        "at": fit.refs,
        "rule": then.rule,
        "level": then.level if then.rule is not None else None,
        "message": then.message,
        "as_now": (fit.now.rule, fit.now.message) == (then.rule, then.message),
        "evidence": then.evidence,
        "unchecked": [{"rule": rule, "missing": missing} for rule, missing in then.unchecked],
    }


def _fixings_value(needs: Fixings) -> dict[str, Any]:
    items = [
        {"word": item.word, "quantity": item.quantity, "part": item.part.id if item.part is not None else None}
        for item in needs.items
    ]
    return {"flare": needs.flare, "items": items}


def _figure(units: Units, value: float, dimension: str) -> str:
    """Return a figure of a part; lengths and pressures as the build's author measures, others as usual."""
    like = {"length": "1 in" if units.length == "in" else None, "pressure": units.pressure}.get(dimension)
    return render(value, dimension, like)
