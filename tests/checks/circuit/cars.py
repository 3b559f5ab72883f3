"""An invented car without a fault, ways to spoil it, and short cuts to what the rules then say."""

from collections.abc import Callable
from importlib import import_module
from itertools import pairwise
from pathlib import Path

from fitcheck.build.assemble import assemble
from fitcheck.build.load import Build, load_document
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Looked, Said, Unchecked
from fitcheck.sources import parse

RULES = (
    "circuits-crossed",
    "circuit-not-fed",
    "reservoir-missing",
    "dead-end",
    "port-reused",
    "single-circuit",
    "one-way-reversed",
    "circuit-looped",
    "no-bleeder",
    "reservoir-small",
    "air-trap",
)

CAR = """\
build: 1
name: Plover
fluid: DOT 4
components:
  tank: {part: reservoir-3-outlet}
  mc_front: {part: mc-m10x1-bubble}
  mc_rear: {part: mc-m10x1-bubble}
  mc_clutch: {part: mc-m10x1-bubble}
  tee_front: {part: tee-m10x1-bubble}
  tee_light: {part: tee-m10x1-bubble-1-8-npt}
  switch: {part: pressure-switch-1-8-npt}
  limiter: {part: proportioning-valve-m10x1-bubble}
  tee_rear: {part: tee-m10x1-bubble}
  caliper_fl: {part: caliper-m10x1-bubble}
  caliper_fr: {part: caliper-m10x1-bubble}
  caliper_rl: {part: caliper-m10x1-bubble}
  caliper_rr: {part: caliper-m10x1-bubble}
  slave: {part: slave-m10x1-bubble}
joints:
  - [switch.port, tee_light.top]
lines:
  front_feed: {from: mc_front.outlet, to: tee_light.left, tube: tube-3-16-cuni}
  front_middle: {from: tee_light.right, to: tee_front.left, tube: tube-3-16-cuni}
  front_left: {from: tee_front.right, to: caliper_fl.inlet, tube: tube-3-16-cuni}
  front_right: {from: tee_front.top, to: caliper_fr.inlet, tube: tube-3-16-cuni}
  rear_feed: {from: mc_rear.outlet, to: limiter.in, tube: tube-3-16-cuni}
  rear_middle: {from: limiter.out, to: tee_rear.left, tube: tube-3-16-cuni}
  rear_left: {from: tee_rear.right, to: caliper_rl.inlet, tube: tube-3-16-cuni}
  rear_right: {from: tee_rear.top, to: caliper_rr.inlet, tube: tube-3-16-cuni}
  clutch_line: {from: mc_clutch.outlet, to: slave.inlet, tube: tube-3-16-cuni}
hoses:
  feed_front: {part: feed-hose-8mm, from: tank.front, to: mc_front.feed}
  feed_rear: {part: feed-hose-8mm, from: tank.rear, to: mc_rear.feed}
  feed_clutch: {part: feed-hose-8mm, from: tank.clutch, to: mc_clutch.feed}
circuits:
  front: {from: mc_front.outlet, feeds: [caliper_fl.inlet, caliper_fr.inlet]}
  rear: {from: mc_rear.outlet, feeds: [caliper_rl.inlet, caliper_rr.inlet]}
  clutch: {from: mc_clutch.outlet, feeds: [slave.inlet]}
"""
UNSTATED = CAR[: CAR.index("circuits:")]
"""The same car, whose file says nothing of what the circuits should hold."""


def spoilt(*changes: tuple[str, str], text: str = CAR) -> str:
    """Return the file with texts replaced; each must be there exactly once."""
    for old, new in changes:
        assert text.count(old) == 1, (old, text.count(old))
        text = text.replace(old, new)
    return text


def without(*tags: str, text: str = CAR) -> str:
    """Return the file without the entries of these tags."""
    kept = [line for line in text.splitlines() if line.strip().partition(":")[0] not in tags]
    assert len(kept) == len(text.splitlines()) - len(tags)
    return "\n".join(kept) + "\n"


def build_of(text: str, catalog: str = "", folder: Path = Path()) -> Build:
    """Return the build that a text states; `catalog` is its house catalog, written into `folder`."""
    if catalog:
        (folder / "house.yaml").write_text(catalog, encoding="utf-8")
        text = text.replace("build: 1\n", "build: 1\ncatalogs: [house.yaml]\n", 1)
    return load_document(parse(text, "build.yaml"), folder)


def context_of(text: str, catalog: str = "", folder: Path = Path()) -> Context:
    """Return the build that a text states, ready for rules."""
    return Context(assemble(build_of(text, catalog, folder)))


def said(context: Context, *rules: str) -> list[Said]:
    """Return all that these rules, or all circuit rules, have to say."""
    answers: list[Said] = []
    for rule in rules or RULES:
        finder: Callable[[Context], list[Said]] = import_module(
            f"fitcheck.checks.circuit.{rule.replace('-', '_')}"
        ).find
        answers += list(finder(context))
    return answers


def findings(context: Context, *rules: str) -> list[Finding]:
    """Return what these rules, or all circuit rules, find; notes left out."""
    return [one for one in said(context, *rules) if isinstance(one, Finding) and one.level != "note"]


def told(context: Context, *rules: str) -> list[tuple[str, str, str]]:
    """Return rule, level and message of each finding; notes left out."""
    return [(one.rule, one.level, one.message) for one in findings(context, *rules)]


def unchecked(context: Context, *rules: str) -> list[tuple[str, tuple[str, ...], str]]:
    """Return rule, place and missing field of what these rules could not look at."""
    answers = said(context, *rules)
    return [(one.rule, one.at, one.missing) for one in answers if isinstance(one, Unchecked)]


def looked(context: Context, rule: str) -> int:
    """Return at how many places a rule looked."""
    return sum(one.places for one in said(context, rule) if isinstance(one, Looked))


def touching(context: Context) -> dict[str, set[str]]:
    """Return which ends share fluid, read from joints and parts without the graph's own edges."""
    graph = context.graph
    found: dict[str, set[str]] = {ref: set() for ref in graph.ends}
    groups = [joint.refs for joint in graph.joints if joint.kind != "mechanical"]
    groups += [(f"{tag}.from", f"{tag}.to") for tag in context.file.lines]
    for item in graph.fitted.values():
        if item.part is not None and item.section != "lines":
            groups += [tuple(f"{item.tag}.{name}" for name in group) for group in item.part.passages]
    for group in groups:
        for ref in group:
            found[ref] |= set(group) - {ref}
    return found


def assert_walked(context: Context, path: tuple[str, ...], start: str, end: str) -> None:
    """Walk a witness step by step: each one a joint or a passage, from `start` to `end`."""
    neighbours = touching(context)
    assert (path[0], path[-1]) == (start, end)
    assert all(after in neighbours[before] for before, after in pairwise(path))


def reached(context: Context, *starts: str) -> set[str]:
    """Return every end that fluid from `starts` gets to."""
    neighbours = touching(context)
    seen = set(starts)
    queue = list(starts)
    while queue:
        for other in neighbours[queue.pop()] - seen:
            seen.add(other)
            queue.append(other)
    return seen
