"""What an edited build file is worth, told without the code that proposes or proves remedies.

The text is read and checked afresh, and read a second time by `naive`. `harms` compares two states of a file.
"""

from collections import Counter
from math import pi
from pathlib import Path
from typing import Any, NamedTuple

import yaml

from fitcheck.build.load import load_document
from fitcheck.checks.findings import Finding, Report
from fitcheck.checks.run import check
from fitcheck.sources import parse
from tests.properties.editing import refs_of
from tests.properties.generic_parts import ROWS, Row
from tests.properties.growing import Plan
from tests.properties.naive import BRAKES, Naive, look
from tests.properties.strategies import serious

GUARDS = ("pressure switch", "gauge", "residual valve", "proportioning valve", "shut-off valve")
"""Kinds that a builder fits to be safe: none may go."""
OWN_WORK = ("caliper", "wheel cylinder", "slave cylinder", "master cylinder", "pedal box", "reservoir")
"""Kinds that are what the car is built of: each stays, under its tag."""
NO_PRESSURE = ("feed hose", "reservoir")
"""Kinds that are not made for pressure."""
LOADER = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
Key = tuple[str, frozenset[str]]


class State(NamedTuple):
    """One state of a build file: its text, its plain tree, what `check` says, and what the slow reading sees.

    `seen` is None where the slow reading cannot follow: a part or a port has a name that nothing is called by.
    """

    text: str
    plan: Plan
    house: dict[str, Row]
    report: Report
    seen: Naive | None

    def row(self, section: str, tag: str) -> Row:
        """Return the row of the part at a tag, an empty one if no catalog has it."""
        entry = self.plan[section][tag]
        part_id = entry["tube" if section == "lines" else "part"]
        return self.house.get(part_id) or ROWS.get(part_id) or {}

    def kinds(self) -> dict[str, str]:
        """Return the kind of each component by its tag."""
        return {tag: self.row("components", tag).get("kind", "") for tag in self.plan.get("components", {})}

    def parts(self) -> Counter[str]:
        """Count the parts that the file names, by id."""
        entries = [e for section in ("components", "lines", "hoses") for e in self.plan.get(section, {}).values()]
        return Counter(entry.get("part") or entry["tube"] for entry in entries)


def state_of(text: str, folder: Path, house: dict[str, Row]) -> State:
    """Return what a text says, read anew; its own catalog lies in `folder` and is `house`."""
    plan: Any = yaml.load(text, LOADER)  # all scalars as text, no words of the older YAML
    report = check(load_document(parse(text, "build.yaml"), folder))
    return State(text, plan, house, report, look(plan, house) if _can_follow(plan, house) else None)


def _can_follow(plan: Plan, house: dict[str, Row]) -> bool:
    """Return whether every part that the file names is known, and every port."""
    known = {**ROWS, **house}
    fitted = {tag: e["part"] for section in ("components", "hoses") for tag, e in plan.get(section, {}).items()}
    lines = plan.get("lines", {})
    bolts = [joint["bolt"] for joint in plan.get("joints", []) if isinstance(joint, dict) and "bolt" in joint]
    if not {*fitted.values(), *bolts} <= known.keys() or not all(_is_tube(known, e["tube"]) for e in lines.values()):
        return False
    ports = {f"{tag}.{name}" for tag, part_id in fitted.items() for name in known[part_id].get("ports", {})}
    ports |= {f"{tag}.{name}" for tag in lines for name in ("from", "to")}
    refs = {ref for joint in plan.get("joints", []) for ref in refs_of(joint)}
    for tag, entry in (*lines.items(), *plan.get("hoses", {}).items()):
        for name in {"from", "to"} & entry.keys():
            refs |= {f"{tag}.{name}", entry[name]}
    return ports >= refs


def _is_tube(known: dict[str, Row], part_id: str) -> bool:
    return "od" in known.get(part_id, {})


def key(finding: Finding) -> Key:
    """Return what makes a finding the same one in two reports."""
    return finding.rule, frozenset(finding.at)


def stands(finding: Finding, after: State) -> bool:
    """Return whether a finding is still there, or another of its rule that names its first place."""
    left = serious(after.report)
    return any(
        key(other) == key(finding) or (other.rule == finding.rule and finding.at[0] in other.at) for other in left
    )


def harms(before: State, after: State) -> list[str]:
    """Return everything about the second state that is worse than the first; nothing after a good cure."""
    return [*_new_errors(before, after), *_slow(before, after), *_gone(before, after), *_unfit(before, after)]


def _new_errors(before: State, after: State) -> list[str]:
    known = {key(finding) for finding in before.report.findings}
    worse = [f for f in after.report.findings if f.level == "error" and key(f) not in known]
    return [f"new error {finding.rule} at {', '.join(finding.at)}" for finding in worse]


def _slow(before: State, after: State) -> list[str]:
    """Return what the slow reading holds against the second state: joints, open ends, consumers, outlets."""
    if after.seen is None:
        return [] if before.seen is None and serious(after.report) else ["the slow reading cannot follow it"]
    old = before.seen or Naive()
    found = [f"{rule} at {', '.join(sorted(at))}" for rule, at in after.seen.wrong - old.wrong]
    found += [f"{ref} is open" for ref in after.seen.open - old.open]
    found += [f"{ref} is used twice" for ref in after.seen.twice - old.twice]
    found += [f"{ref} is not fed" for ref in after.seen.unfed - old.unfed]
    found += [f"{', '.join(sorted(refs))} are joined" for refs in after.seen.joined_outlets - old.joined_outlets]
    if brake_outlets(after) < brake_outlets(before):
        found.append("fewer outlets feed brakes on their own")
    fed, still = ({r.partition(".")[0] for r, by in s.fed_by.items() if by} for s in (old, after.seen))
    return found + [f"{tag} was fed and is not" for tag in fed - still]


def brake_outlets(state: State) -> int:
    """Return how many sets of outlets, apart from each other, feed a brake."""
    if state.seen is None:
        return 0
    kinds = state.kinds()
    fed = state.seen.fed_by.items()
    return len({outlets for ref, outlets in fed if outlets and kinds.get(ref.partition(".")[0]) in BRAKES})


def _gone(before: State, after: State) -> list[str]:
    """Return what was there for safety, or to brake with, and is not; and what was accepted on top."""
    kinds, now = before.kinds(), after.kinds()
    lost = Counter(k for k in kinds.values() if k in GUARDS) - Counter(k for k in now.values() if k in GUARDS)
    found = [f"a {kind} is gone" for kind in lost]
    found += [
        f"{tag} is no {kind} any more" for tag, kind in kinds.items() if kind in OWN_WORK and now.get(tag) != kind
    ]
    for tag in kinds.keys() & now.keys():
        if _bleeds(before.row("components", tag)) and not _bleeds(after.row("components", tag)):
            found.append(f"{tag} has lost its bleed screw")
    if any(entry not in before.plan.get("accept", ()) for entry in after.plan.get("accept", ())):
        found.append("an acceptance came in")
    return found + [
        f"{word} changed" for word in ("fluid", "catalogs") if before.plan.get(word) != after.plan.get(word)
    ]


def _bleeds(row: Row) -> bool:
    return bool(row.get("bleeder", "none") != "none")


def _unfit(before: State, after: State) -> list[str]:
    """Return what came in and is too weak, and what is not made for pressure and gets it now."""
    pressure = working_pressure(after)
    came = after.parts() - before.parts()
    rows = {part_id: after.house.get(part_id) or ROWS.get(part_id) or {} for part_id in came}
    found = [
        f"{part_id} is too weak for {pressure:.3g} MPa"
        for part_id, row in rows.items()
        if float(str(row.get("max_pressure", "inf")).removesuffix(" MPa")) < pressure
    ]
    return found + [f"{tag} comes under pressure" for tag in sorted(_misused(after) - _misused(before))]


def _misused(state: State) -> set[str]:
    """Return the tags of feed hose, reservoirs and copper tube in the fluid of an outlet."""
    if state.seen is None:
        return set()
    waters = [water for water in state.seen.waters if any(_outlet(state, ref) for ref in water)]
    tags = {ref.partition(".")[0] for water in waters for ref in water}
    found = set()
    for section in ("components", "lines", "hoses"):
        for tag in tags & set(state.plan.get(section, {})):
            row = state.row(section, tag)
            if row.get("kind") in NO_PRESSURE or row.get("material") == "copper":
                found.add(tag)
    return found


def _outlet(state: State, ref: str) -> bool:
    tag, _, name = ref.partition(".")
    return tag in state.plan["components"] and name in state.row("components", tag).get("outlets", ())


def working_pressure(state: State) -> float:
    """Return the highest pressure that the pedal makes [MPa], 0 if the file does not say how it is pushed."""
    pedal = state.plan.get("pedal")
    bores = [
        float(str(row["bore"]).removesuffix(" mm"))
        for tag in state.plan.get("components", {})
        if (row := state.row("components", tag)).get("kind") == "master cylinder" and "bore" in row
    ]
    if not pedal or not bores:
        return 0.0
    balance = float(pedal.get("balance", 1))
    force = float(pedal["force"].removesuffix(" N")) * float(pedal["ratio"]) * max(balance, 1 - balance)
    return force / (pi / 4 * min(bores) ** 2)
