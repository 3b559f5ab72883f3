"""Applying every rule to a build, and the builder's acceptances to what they say."""

from typing import Final

from fitcheck.build.assemble import assemble
from fitcheck.build.load import Build
from fitcheck.build.refs import tag_of
from fitcheck.checks.circuit import circuit_not_fed, dead_end, port_reused
from fitcheck.checks.context import Context
from fitcheck.checks.file import acceptance_stale, port_unknown
from fitcheck.checks.findings import LEVELS, Finding, Looked, Report, Unchecked, met_by
from fitcheck.checks.register import NOT_YET, finders, names


def check(build: Build) -> Report:
    """Return what every rule has to say about `build`, worst first, and what none could look at."""
    return check_context(Context(assemble(build)))


def check_context(context: Context) -> Report:
    """Do what `check` does, for a build whose graph stands already."""
    reasons = {(entry.rule, entry.at): entry.why for entry in reversed(context.file.accept)}
    for rule, find in finders():
        if rule == acceptance_stale.RULE:
            context.found += _uncovered(context, reasons)
        count = 0
        for said in find(context):
            if isinstance(said, Finding):
                context.found.append(said)
            elif isinstance(said, Unchecked):
                context.unchecked.append(said)
            elif isinstance(said, Looked):
                count += said.places
        context.looked[rule] = count
    later = tuple(Unchecked(rule, (), "not in this version") for rule in NOT_YET)
    judged = [finding._replace(accepted=_reason(reasons, finding)) for finding in context.found]
    accepted = [finding for finding in judged if finding.accepted is not None]
    standing = [finding for finding in judged if finding.accepted is None]
    return Report(
        build=context.file.name,
        findings=tuple(sorted(standing, key=_rank)),
        accepted=tuple(sorted(accepted, key=_rank)),
        unchecked=(*context.unchecked, *later),
        checked={rule: count for rule, count in context.looked.items() if count},
    )


_DANGEROUS: Final = ("runs-in-loose", "starts-then-binds", "may-bind")
"""Ways for threads to meet that feel right by hand: shown before those that never start."""


def _rank(finding: Finding) -> tuple[int, int, bool, int, int, tuple[str, ...]]:
    """Return what findings are sorted by: level, rule, danger, then place in the file."""
    harmless = finding.evidence.get("verdict") not in _DANGEROUS
    place = finding.place
    return LEVELS.index(finding.level), _ORDER[finding.rule], harmless, place.line, place.column, finding.at


_ORDER: Final = {name: index for index, name in enumerate(names())}


def _reason(reasons: dict[tuple[str, str], str], finding: Finding) -> str | None:
    """Return why the builder accepted this finding, or None. `at` may be an end, a tag or a circuit."""
    for key in met_by(finding) if reasons else ():
        if key in reasons:
            return reasons[key]
    return None


def _uncovered(context: Context, reasons: dict[tuple[str, str], str]) -> list[Finding]:
    """Return what accepted findings accounted for, as findings of their own: an acceptance hides no open end.

    Of an accepted dead end those are the ends of parts that no acceptance of a dead end names.
    """
    named = {tag_of(at) for rule, at in reasons if rule == dead_end.RULE}
    gaps = context.gaps
    refs: dict[str, None] = {}
    found: list[Finding] = []
    for finding in context.found:
        if _reason(reasons, finding) is None:
            continue
        ends = [*finding.evidence.get("open_ends", ()), *finding.evidence.get("left_out", ())]
        if finding.rule == dead_end.RULE:
            ends = [ref for ref in ends if tag_of(ref) not in named]
        elif finding.rule == port_unknown.RULE:
            ends += gaps.by_lost
        elif finding.rule == port_reused.RULE and finding.at[0] in gaps.held:
            found.append(circuit_not_fed.finding_of(context, gaps.held[finding.at[0]]))
        refs.update(dict.fromkeys(ref for ref in ends if not context.graph.joined(ref)))
    return [*found, *dead_end.alone(context, refs)]
