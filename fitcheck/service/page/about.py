"""One joint, one thing or one finding, looked at closer: both ends, the verdict, its evidence, what would help."""

import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from hashlib import sha256
from typing import Any, Final

from fitcheck.build.graph import End, Joint
from fitcheck.build.refs import tag_of
from fitcheck.checks.findings import Finding
from fitcheck.checks.joint_facts import JointFacts
from fitcheck.checks.joint_words import describe
from fitcheck.measures import number, torque_text
from fitcheck.naming import hint
from fitcheck.quantities import render
from fitcheck.reports.plain_json import compact_text, plain
from fitcheck.service.answers.source import Answer, MissingError, Options, Source
from fitcheck.service.page.known import Looked, looked
from fitcheck.service.page.told import finding_value, finding_values, verdict_of

_MOST_REMEDIES: Final = 6
_MOST_PARTS: Final = 8
_UNITS: Final = {"mm": "mm", "mm3": "mm3", "mpa": "MPa", "n": "N", "deg": "deg", "percent": "%"}


def about(source: Source, options: Options) -> Answer:
    """Return what there is to know of `at`: `finding` with its name, a tag, or the ends of a joint.

    Raises:
        MissingError: nothing here is called so.
    """
    found, at = looked(source, options), options["at"]
    if at.startswith("finding "):
        return Answer(compact_text(_of_finding(found, at.removeprefix("finding "))))
    joint = _joint_of(found, at.split(" "))
    if joint is not None:
        return Answer(compact_text(_of_joint(found, joint)))
    return Answer(compact_text(_of_thing(found, tag_of(at))))


def _of_finding(found: Looked, name: str) -> dict[str, Any]:
    if name not in found.names:
        raise MissingError(f"the build has no finding of this name now: {name[:80]}")
    number = found.names.index(name) + 1
    finding = found.report.findings[number - 1]
    joint = _joint_of(found, finding.at)
    return {
        "kind": "finding",
        "title": finding.message,
        "finding": finding_value(number, finding, found),
        "joint": _joint_value(found, joint) if joint is not None else None,
        "evidence": list(_flat(plain(finding.evidence))),
        "remedies": list(_remedies(found, finding)),
        "rule": _rule(finding.rule),
        "tags": list(dict.fromkeys(map(tag_of, finding.at))),
    }


def _of_joint(found: Looked, joint: Joint) -> dict[str, Any]:
    return {
        "kind": "joint",
        "title": " and ".join(joint.refs),
        "joint": _joint_value(found, joint),
        "unchecked": _unchecked(found, lambda ref: ref in joint.refs),
        "findings": [each for each in finding_values(found) if set(each["at"]) & set(joint.refs)],
        "tags": list(dict.fromkeys(end.tag for end in joint.ends)),
    }


def _of_thing(found: Looked, tag: str) -> dict[str, Any]:
    from fitcheck.reports.parts_text import facts

    graph = found.context.graph
    item = graph.fitted.get(tag)
    if item is None:
        raise MissingError(f"nothing here has the tag {tag[:80]!r}{hint(tag, graph.fitted)}")
    ends = [end for end in graph.ends.values() if end.tag == tag]
    place = graph.build.place(item.path)
    return {
        "kind": "thing",
        "title": tag,
        "part": item.part_id,
        "what": item.part.kind if item.part is not None else "in no catalog",
        "description": item.part.description if item.part is not None else "",
        "facts": [list(each) for each in facts(item.part)] if item.part is not None else [],
        "line": place.line if place.file == found.path else None,
        "ends": [
            {**_end(end, graph.unit), "joints": [list(joint.refs) for joint in graph.joints_at.get(end.ref, ())]}
            for end in ends
        ],
        "findings": [each for each in finding_values(found) if tag in map(tag_of, each["at"])],
        "unchecked": _unchecked(found, lambda ref: tag_of(ref) == tag),
        "others": _others(found, tag),
    }


def _unchecked(found: Looked, here: Callable[[str], bool]) -> list[list[str]]:
    """Return what was not looked at here: rule, and the field that is missing."""
    gaps = ((each.rule, each.missing) for each in found.report.unchecked if any(map(here, each.at)))
    return [list(each) for each in dict.fromkeys(gaps)]


def _joint_of(found: Looked, at: Sequence[str]) -> Joint | None:
    """Return the joint that has all these ends, the first of several; None if there is none."""
    first = next((ref for ref in at if "." in ref), None)
    if first is None:
        return None
    wanted = {ref for ref in at if "." in ref}
    return next((each for each in found.context.graph.joints_at.get(first, ()) if wanted <= set(each.refs)), None)


def _joint_value(found: Looked, joint: Joint) -> dict[str, Any]:
    from fitcheck.build.joint_torques import joint_torque

    fact = next((each for each in found.context.facts if each.joint is joint), None)
    torque = joint_torque(joint)
    needs = found.context.fixings(joint)
    value: dict[str, Any] = {
        "kind": joint.kind,
        "ends": [_end(end, found.context.unit) for end in joint.ends],
        "flare": needs.flare,
        "fixings": [
            {"word": item.word, "many": item.quantity, "part": item.part.id if item.part is not None else None}
            | {"wanted": item.wanted, "stated": item.stated}
            for item in needs.items
        ],
        "torque": None,
        "verdict": _verdict(found, joint, fact),
        "rule": None,
        "level": None,
        "looked": [],
    }
    if torque is not None:
        span = torque_text(torque.low_n_mm, torque.high_n_mm, found.context.units)
        value["torque"] = {"span": span, "mark": torque.mark}
    if fact is not None:
        value |= {"rule": fact.rule, "level": fact.level if fact.rule is not None else None}
        value |= {"looked": sorted(fact.looked)}
    return value


def _verdict(found: Looked, joint: Joint, fact: JointFacts | None) -> str:
    """Return the verdict on a joint; of one that has no fault of its own also what else names it."""
    refs = set(joint.refs)
    words = verdict_of(fact, any(refs & set(each.at) for each in found.report.unchecked))
    if fact is None or fact.rule is not None:
        return words
    numbers = [str(place) for place, each in enumerate(found.report.findings, 1) if refs & set(each.at)]
    return f"{words}; named by finding {', '.join(numbers)}" if numbers else words


def _end(end: End, unit: str) -> dict[str, Any]:
    """Return an end of a joint, with everything that decides whether it fits."""
    part, port = end.fitted.part, end.port
    rows: list[tuple[str, str]] = []
    if part is not None:
        rows.append(("part", f"{part.id}, {part.description or part.kind}"))
    if end.tube_end and part is not None and part.od is not None:
        rows.append(("tube", render(part.od, "length")))
    if port is not None:
        rows += [("thread", f"{port.thread.designation} {port.gender or ''}".strip())] if port.thread else []
        rows += [("seat", port.seat)] if port.seat else []
        sizes = {"tube": port.tube, "hose": port.hose, "eye": port.eye}
        rows += [(name, render(value, "length")) for name, value in sizes.items() if value is not None]
        ways = {"depth": port.depth, "length": port.length}
        rows += [(name, render(value, "length", f"1 {unit}")) for name, value in ways.items() if value is not None]
    if end.stated is not None:
        said = {"flare": end.stated.flare, "nut": end.stated.nut, "sleeve": end.stated.sleeve}
        rows += [(f"{name}, stated", value) for name, value in said.items() if value]
    words = describe(port) if port is not None else "end of a tube" if end.tube_end else "not known"
    return {"ref": end.ref, "tag": end.tag, "words": words, "rows": [list(row) for row in rows]}


def _remedies(found: Looked, finding: Finding) -> Iterator[dict[str, Any]]:
    from fitcheck.remedies.bench import Bench
    from fitcheck.remedies.choose import all_remedies
    from fitcheck.remedies.proof import Prover
    from fitcheck.reports.remedy_words import remedy_lines, remedy_text, remedy_value

    if finding.level == "note":
        return
    bench = Bench(found.context, found.report)
    for proven in all_remedies(bench, Prover(bench), finding, _MOST_REMEDIES):
        changes = json.dumps(remedy_value(proven)["changes"], separators=(",", ":"))
        name = sha256(changes.encode()).hexdigest()[:12]
        yield {"act": remedy_text(proven), "lines": list(remedy_lines(proven)), "changes": changes, "name": name}


def _rule(name: str) -> dict[str, Any]:
    from fitcheck.checks.register import page

    found = page(name)
    return {"name": found.name, "short": found.short, "text": found.text}


def _others(found: Looked, tag: str) -> list[dict[str, Any]]:
    """Return parts that could stand in its place, best first."""
    from fitcheck.remedies.replacements import pricing, replacements

    prices = pricing(found.context, tag)
    best = replacements(found.context, tag, pricing=prices)[:_MOST_PARTS]
    return [
        {
            "part": each.part.id,
            "description": each.part.description or each.part.kind,
            "fits": f"{each.fits} of {each.joints} joints fit" if each.joints != 1 else f"{each.fits} of 1 joint fits",
            "all": each.fits == each.joints and not each.lost_ports,
            "cost": str(each.cost) if prices is not None and each.cost is not None else None,
        }
        for each in best
    ]


def _flat(value: Mapping[str, Any], before: str = "") -> Iterator[list[str]]:
    """Yield evidence as rows of name and words; what is inside something has its name before it.

    The unit that a key ends with stands behind the figure.
    """
    for key, inner in value.items():
        stem, _, last = key.rpartition("_")
        unit = _UNITS.get(last, "") if stem and not isinstance(inner, str) else ""
        name = f"{before}{(stem if unit else key).replace('_', ' ')}"
        if isinstance(inner, Mapping):
            yield from _flat(inner, f"{name}: ")
        elif isinstance(inner, list) and any(isinstance(each, Mapping) for each in inner):
            for place, each in enumerate(inner, 1):
                yield from _flat(each if isinstance(each, Mapping) else {"": each}, f"{name} {place}: ")
        elif inner is not None and inner != []:
            yield [name, f"{_words(inner)} {unit}".rstrip()]


def _words(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return number(value, 4)
    return ", ".join(map(_words, value)) if isinstance(value, list) else str(value)
