"""The best remedies of a whole build applied together, checked again, round by round until nothing more is cured."""

from collections.abc import Sequence
from itertools import chain
from typing import Final, NamedTuple

from fitcheck.build.assemble import assemble
from fitcheck.build.load import reread
from fitcheck.build.refs import tag_of
from fitcheck.changes import changed_document, changed_tree
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Report
from fitcheck.checks.run import check_context
from fitcheck.progress import step as tell
from fitcheck.progress import stepping, task
from fitcheck.remedies.bench import Bench
from fitcheck.remedies.choose import first_remedies, proposals
from fitcheck.remedies.proof import Proven, Prover, standing
from fitcheck.remedies.remedy import Remedy
from fitcheck.trees import InputError

MOST_ROUNDS: Final = 6
"""One remedy can bring to light what another finding hid; after so many rounds what is left is left to the builder."""

PATIENCE: Final = 8
"""A cure may take so many times the re-checks that a report takes."""
MOST_LEFT, MOST_WAYS = 4, 3
"""How many findings may be left for a way by a new error to be sought, and how many remedies of each begin one."""


class Applied(NamedTuple):
    """A finding that was put right, and how."""

    finding: Finding
    proven: Proven


class Cured(NamedTuple):
    """A build before and after. `left` are the findings that no remedy puts right; `after` has the whole new check.

    `only` are the places that the cure was asked for, all if there are none: `left` has what stands at them.
    """

    before: Context
    report_before: Report
    after: Context
    report_after: Report
    applied: tuple[Applied, ...]
    left: tuple[Finding, ...]
    only: tuple[str, ...] = ()

    @property
    def text(self) -> str:
        """The build file as it is after the cure."""
        return self.after.graph.build.document.text


def places(context: Context, report: Report) -> frozenset[str]:
    """Return what a cure can be asked for: every tag and reference of a build, and wherever its report says something.

    What the build has no such thing for, as a port that a part does not have, is there if a finding stands at it.
    """
    file, graph = context.file, context.graph
    said = [at for finding in (*report.findings, *report.accepted) for at in finding.at]
    said += [at for question in report.unchecked for at in question.at]
    named = (graph.fitted, graph.ends, file.bodies, file.circuits, file.heat, file.panels, said, map(tag_of, said))
    return frozenset(chain.from_iterable(named))


def cure(context: Context, report: Report, only: Sequence[str] = (), in_text: bool = True) -> Cured:
    """Return the build with the best remedies applied together; with `only`, those of findings that name these tags.

    Each round proposes for what still stands, proves the proposals in as few re-checks as it can, applies those that
    hold together, and looks again. Where nothing more holds, remedies that bring an error to light are followed to
    their end, unless only some findings were asked for. A finding whose remedies do not hold is left as it is.

    Without `in_text` the file's text stays as it was and only its tree is changed: for a variant, which is not in the
    text, or where nobody asks for the text.
    """
    with task("curing"):
        far = _in_rounds(context, report, only, in_text)
        while not only and (further := _by_way_of_worse(far, in_text)) is not None:
            far = further
    return far


def _by_way_of_worse(far: Cured, in_text: bool) -> Cured | None:
    """Return the build with one more finding put right, by way of an error that it hid and that is put right too.

    Two defects at one place can hide each other: a line of an unknown tube shows no crossed circuits. The end of the
    way is judged as any remedy is: no error may be there that was not there before. None if no way leads so far.
    """
    if len(far.left) > MOST_LEFT:
        return None
    bench = Bench(far.after, far.report_after)
    prover = Prover(bench)
    ways = [(finding, remedy) for finding in far.left for remedy in proposals(bench, finding)[:MOST_WAYS]]
    for finding, remedy in stepping(ways, lambda way: f"what lies behind {way[0].rule}"):
        witness = prover.witness([finding], [remedy])
        step = None if witness.left or not witness.new else _written(far.after, [remedy], in_text)
        if step is None:
            continue
        end = _in_rounds(*step, (), in_text)
        whole = prover.seen(
            [finding], [remedy, *(one.proven.remedy for one in end.applied)], end.after, end.report_after
        )
        if whole.refused is None:
            applied = (*far.applied, Applied(finding, Proven(remedy, whole)), *end.applied)
            left = _wanted(end.report_after, ())
            return Cured(far.before, far.report_before, end.after, end.report_after, applied, left)
    return None


def _wanted(report: Report, only: Sequence[str]) -> tuple[Finding, ...]:
    return tuple(finding for finding in standing(report) if not only or _names(finding, only))


def _in_rounds(context: Context, report: Report, only: Sequence[str], in_text: bool) -> Cured:
    now, said = context, report
    applied: list[Applied] = []
    hopeless: set[tuple[str, tuple[str, ...]]] = set()
    tried = 0  # how many remedies were in when all that stands was last tried
    for _ in range(MOST_ROUNDS):
        wanted = [finding for finding in _wanted(said, only) if (finding.rule, finding.at) not in hopeless]
        tell(len(applied), len(applied) + len(wanted), f"{len(applied)} put right, {len(wanted)} left")
        bench = Bench(now, said)
        prover = Prover(bench)
        found = first_remedies(bench, prover, wanted, PATIENCE)
        hopeless |= {(finding.rule, finding.at) for finding in wanted if id(finding) not in found}
        chosen = [Applied(finding, found[id(finding)][0]) for finding in wanted if id(finding) in found]
        step = _together(now, prover, chosen, in_text)
        if step is None and len(applied) > tried:
            # What was put right since may be what the others were waiting for: each is tried once more.
            hopeless, tried = set(), len(applied)
            continue
        if step is None:
            break
        applied += step[0]
        now, said = step[1], step[2]
    return Cured(context, report, now, said, tuple(applied), _wanted(said, only), tuple(only))


def _names(finding: Finding, only: Sequence[str]) -> bool:
    return any(name in only for at in finding.at for name in (at, tag_of(at)))


def _together(
    context: Context, prover: Prover, chosen: list[Applied], in_text: bool
) -> tuple[list[Applied], Context, Report] | None:
    """Apply as many of the chosen remedies as hold together; None if there is none, or none can be written."""
    while chosen:
        witness = prover.witness([each.finding for each in chosen], [each.proven.remedy for each in chosen])
        if witness.refused is None:
            step = _written(context, [each.proven.remedy for each in chosen], in_text)
            if step is not None:
                return chosen, *step
        # The later half waits for the next round: what it needs may be there by then, or may have gone.
        chosen = chosen[: len(chosen) // 2]
    return None


def _written(context: Context, chosen: Sequence[Remedy], in_text: bool) -> tuple[Context, Report] | None:
    build = context.graph.build
    changes = [change for remedy in chosen for change in remedy.changes]
    try:
        document = (changed_document if in_text else changed_tree)(build.document, changes)
        after = Context(assemble(reread(build, document)))
    except InputError:
        return None
    return after, check_context(after)
