"""Remedies in words and in JSON: the act, what to buy, what to take off the order, the edit of the file."""

import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import TYPE_CHECKING, Any, Final

from fitcheck.catalog.money import Money
from fitcheck.checks.findings import Finding
from fitcheck.measures import cut_length
from fitcheck.reports.plain import count_of

if TYPE_CHECKING:
    from fitcheck.bom.change_cost import Act, Lack
    from fitcheck.bom.record import Row
    from fitcheck.changes import Change
    from fitcheck.remedies.proof import Proven, Witness
    from fitcheck.remedies.remedy import Remedy


def remedy_text(proven: "Proven") -> str:
    """Return a remedy as an act, verb first: `fit adapter-a, then adapter-b (2 more joints)`."""
    remedy = proven.remedy
    act = _act(remedy)
    if remedy.added_joints > 0:
        return f"{act} ({count_of(remedy.added_joints, 'more joint')})"
    return act


def _act(remedy: "Remedy") -> str:
    words = _ACTS[remedy.kind]
    return words(remedy) if callable(words) else words


def _parts(remedy: "Remedy") -> str:
    return ", then ".join(remedy.parts)


def _tags(remedy: "Remedy") -> str:
    return ", ".join(remedy.tags)


def _left_out(remedy: "Remedy") -> str:
    close = f"; close what it leaves open with {' and '.join(remedy.parts)}" if remedy.parts else ""
    return f"leave out {_tags(remedy)}{close}"


def _moved(remedy: "Remedy") -> str:
    close = f"; close the port it leaves with {_parts(remedy)}" if remedy.parts else ""
    return f"move {_tags(remedy)} to {_goes_to(remedy)}{close}"


def _goes_to(remedy: "Remedy") -> str:
    """Return the end that a thing is joined to from now on: the last reference written."""
    values = (getattr(change, "value", None) for change in remedy.changes)
    value = next((value for value in values if isinstance(value, (str, list))), "the open port")
    return str(value[-1]) if isinstance(value, list) else str(value)


def _hose_for_line(remedy: "Remedy") -> str:
    place = f"in the place of {_tags(remedy)}" if remedy.tags else "from the end of the line"
    return f"run {_parts(remedy)} {place}"


def _led_on(remedy: "Remedy") -> str:
    run = f"and run {_parts(remedy)}" if remedy.parts else "and join what it joined"
    return f"leave out {_tags(remedy)} {run}"


_ACTS: Final[Mapping[str, "str | Callable[[Remedy], str]"]] = {
    "adapters": lambda remedy: f"fit {_parts(remedy)}",
    "part": lambda remedy: f"exchange {_tags(remedy)} for {_parts(remedy)}",
    "length": lambda remedy: f"cut {_tags(remedy)} to {_value(remedy)}",
    "flare": lambda remedy: f"flare {_where(remedy)} as {_value(remedy)}",
    "nut": lambda remedy: f"fit {' and '.join(remedy.parts) or 'the nut that the port takes'} at {_where(remedy)}",
    "washers": lambda remedy: f"fit {count_of(int(_value(remedy)), 'washer')}",
    "bolt": lambda remedy: f"leave the banjo bolt to be chosen{_takes(remedy)}",
    "union": lambda remedy: f"join the two tubes with {_parts(remedy)}",
    "join": "join the two open ends",
    "plug": lambda remedy: f"close it with {_parts(remedy)}",
    "cap": lambda remedy: f"close it with {_parts(remedy)}",
    "leave out": _left_out,
    "move": _moved,
    "tee": lambda remedy: f"part the line with {remedy.parts[0]}",
    "line": lambda remedy: f"run a line of {_parts(remedy)}",
    "hose": lambda remedy: f"run {_parts(remedy)}",
    "feed hose": lambda remedy: f"run {_parts(remedy)}",
    "reservoir": lambda remedy: f"fit {_parts(remedy)}",
    "circuit": lambda remedy: f"begin the circuit at {_value(remedy)}",
    "uncross": lambda remedy: f"lead {' and '.join(remedy.tags)} each where the other goes",
    "turn": lambda remedy: f"turn {_tags(remedy)} round",
    "body": lambda remedy: f"have {_tags(remedy)} on the body that it is screwed into",
    "hose for line": _hose_for_line,
    "lead on": _led_on,
    "name": lambda remedy: "; ".join(remedy.notes),
    "unlist": lambda remedy: "; ".join(remedy.notes),
    "acceptance": "take the acceptance out",
    "bend": lambda remedy: f"bend {_tags(remedy)} to {_radius(remedy)} there",
    "bender": lambda remedy: f"bend {_tags(remedy)} with {_value(remedy)}",
    "measured": lambda remedy: f"state {_value(remedy)} for {_tags(remedy)}, as its route comes to",
    "clips": lambda remedy: f"put clips every {_value(remedy)}",
    "clip places": lambda remedy: f"fit {count_of(len(remedy.parts), 'clip')} on {_tags(remedy)}: {remedy.parts[0]}",
    "grommet": lambda remedy: f"fit {_parts(remedy)} in {_tags(remedy)}{_drilled(remedy)}",
    "hole": lambda remedy: f"drill {_tags(remedy)} out to {_value(remedy)}",
    "form": lambda remedy: f"form {_where(remedy)} when the tube is in its place",
    "corner": lambda remedy: f"lead {_tags(remedy)} {_further(remedy)}",
}
"""What a remedy of each kind is called: the act, verb first."""


def _radius(remedy: "Remedy") -> str:
    values = (getattr(change, "value", "") for change in remedy.changes)
    return next(str(value["bend"] if isinstance(value, dict) else value) for value in values)


def _drilled(remedy: "Remedy") -> str:
    holes = [str(getattr(change, "value", "")) for change in remedy.changes if change.path[-1] == "hole"]
    return f", drilled out to {holes[0]}" if holes else ""


def _further(remedy: "Remedy") -> str:
    """Return how a line is moved: the end of its note, which says it for that line."""
    return remedy.notes[0].rpartition(f" for {_tags(remedy)} ")[2]


def _takes(remedy: "Remedy") -> str:
    return f": {', '.join(remedy.parts)}" if remedy.parts else ""


def _where(remedy: "Remedy") -> str:
    path = remedy.changes[0].path
    return f"{path[1]}.{path[3]}" if len(path) > 3 else str(path[1])


def _value(remedy: "Remedy") -> str:
    values = (getattr(change, "value", None) for change in remedy.changes)
    return next((str(value) for value in values if value is not None), "")


def remedy_lines(proven: "Proven") -> Iterator[str]:
    """Yield what there is to know of a remedy beside the act: notes, what to buy, what not to, cost, the edit."""
    remedy, witness = proven.remedy, proven.witness
    if remedy.kind not in ("name", "unlist"):
        yield from (f"look by hand: {note}" for note in remedy.notes)
    yield from order_lines(witness)
    for change in remedy.changes:
        yield f"edit: {edit_text(change)}"


def order_lines(witness: "Witness") -> Iterator[str]:
    """Yield what to buy, what to take off the order and what it costs, as far as that is known."""
    for heading, rows in orders(witness):
        yield f"{heading}: {', '.join(rows)}"
    cost = cost_of(witness)
    if cost is not None:
        yield f"cost: {cost}"


def edit_text(change: "Change") -> str:
    """Return a change of the file: `set lines.run.to = adapter_run_to.a`, `take out joints.4`."""
    from fitcheck.changes import Append, Drop

    where = ".".join(map(str, change.path))
    if isinstance(change, Drop):
        return f"take out {where}"
    value = flow(change.value)
    return f"add to {where}: {value}" if isinstance(change, Append) else f"set {where} = {value}"


def flow(value: Any) -> str:
    """Return a plain value as YAML on one line: `{part: x, on: y}`."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {flow(item)}" for key, item in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(flow, value)) + "]"
    text = str(value)
    return text if text.isprintable() and not set(text) & set(",[]{}#:\"'") else json.dumps(text, ensure_ascii=False)


def orders(witness: "Witness") -> Iterator[tuple[str, list[str]]]:
    """Yield what to buy and what to take off the order, each with its heading."""
    from fitcheck.bom.change_cost import LEAST_MM, can_be_ordered
    from fitcheck.reports.bom_words import amount, name_of

    bill = witness.bill
    if bill is None:
        return
    unit = bill.told_in
    more = [f"{amount(row, unit)} {name_of(row)}" for row in bill.new]
    less = [f"{amount(row, unit)} {name_of(row)}" for row in bill.gone if can_be_ordered(row)]
    for change in bill.changed:
        by = (change.after.quantity or 0.0) - (change.before.quantity or 0.0)
        if change.after.quantity is None or change.before.quantity is None:
            more += _pieces(change.after, change.before, unit)
            less += _pieces(change.before, change.after, unit) if can_be_ordered(change.before) else ()
        elif abs(by) >= (LEAST_MM if change.after.unit == "mm" else 1) and (by > 0 or can_be_ordered(change.before)):
            said = amount(change.after._replace(quantity=abs(by), pieces=()), unit)
            (more if by > 0 else less).append(f"{said} {name_of(change.after)}")
    if more:
        yield "buy", more
    if less:
        yield "take off the order", less


def _pieces(row: "Row", other: "Row", unit: str) -> Iterator[str]:
    """Yield the pieces that `row` has and `other` has not, or has shorter; nothing can be said of unknown lengths."""
    from fitcheck.bom.change_cost import LEAST_MM
    from fitcheck.reports.bom_words import name_of

    there = {piece.tag: piece.length.mm for piece in other.pieces}
    for piece in row.pieces:
        length = piece.length.mm
        if piece.tag not in there:
            long = cut_length(length, unit) if length is not None else "length to be measured"
            yield f"{name_of(row)} for {piece.tag}, {long}"
        elif length is not None and length - (there[piece.tag] or length) >= LEAST_MM:
            yield f"{cut_length(length - (there[piece.tag] or length), unit)} {name_of(row)} for {piece.tag}"


def cost_of(witness: "Witness") -> str | None:
    """Return how much more the bill is than before, in words; None if nothing is priced.

    Where something bought or dropped has no price the cost is not known: no saving is read into a missing price.
    """
    from fitcheck.bom.change_cost import cost_change

    bill = witness.bill
    if bill is None or not bill.priced:
        return None
    change = cost_change(bill)
    sums = [f"{Money(abs(by.amount), by.currency)} {'less' if by.amount < 0 else 'more'}" for by in change.by]
    told = f"{' and '.join(sums)} than before" if sums else "no change"
    if not change.lacking:
        return told
    lacking = ", ".join(_lacking(change.lacking, lack) for lack in ("price", "length") if change.lacks(lack))
    without = f"; without {'it' if sum(change.lacking.values()) == 1 else 'them'} {told}" if change.counted else ""
    return f"not known: {lacking}{without}"


def _lacking(lines: "Mapping[tuple[Act, Lack], int]", lack: "Lack") -> str:
    """Return which lines lack what: `2 lines bought and 1 line dropped have no price`."""
    counts = {act: count for (act, what), count in lines.items() if what == lack}
    told = " and ".join(f"{count_of(count, 'line')} {act}" for act, count in counts.items())
    return f"{told} {'has' if sum(counts.values()) == 1 else 'have'} no {'known length' if lack == 'length' else lack}"


def cost_value(witness: "Witness") -> dict[str, Any]:
    """Return the cost as plain values: in words, and how many lines change at no known cost; None without prices."""
    from fitcheck.bom.change_cost import cost_change

    bill = witness.bill
    change = cost_change(bill) if bill is not None and bill.priced else None
    acts: tuple[Act, ...] = ("bought", "dropped", "changed")
    counts = {f"unpriced_{act}": change.unpriced(act) if change is not None else None for act in acts}
    return {"cost": cost_of(witness), **counts}


def remedy_value(proven: "Proven") -> Any:
    """Return a remedy as plain values; `kind` says which sort it is."""
    from fitcheck.changes import Append, Drop
    from fitcheck.reports.plain_json import plain

    remedy, witness = proven.remedy, proven.witness
    operations = {Drop: "drop", Append: "append"}
    changes = [
        {"change": operations.get(type(change), "put"), "path": list(change.path)}
        | ({} if isinstance(change, Drop) else {"value": change.value})
        for change in remedy.changes
    ]
    value = {
        "kind": remedy.kind,
        "act": remedy_text(proven),
        "parts": list(remedy.parts),
        "tags": list(remedy.tags),
        "added_joints": remedy.added_joints,
        "notes": list(remedy.notes),
        "changes": changes,
        "gone": [{"rule": finding.rule, "at": list(finding.at)} for finding in witness.gone],
    }
    if witness.bill is not None:
        order = dict(orders(witness))
        value |= {"buy": order.get("buy", []), "take_off": order.get("take off the order", [])}
        value |= cost_value(witness)
    return plain(value)


def missing_adapters(findings: Iterable[Finding]) -> dict[str, list[str]]:
    """Return the adapters of each finding's first remedy, each with the ends that it is for, by part id."""
    wanted: dict[str, list[str]] = {}
    for finding in findings:
        first = finding.remedies[0].remedy if finding.remedies else None
        if first is not None and first.kind == "adapters":
            for part in first.parts:
                wanted.setdefault(part, []).append(finding.at[0])
    return {part: wanted[part] for part in sorted(wanted)}
