"""Which remedies a finding has, best first, each proven by a re-check of the build with it in."""

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import islice
from typing import Final, NamedTuple

from fitcheck.build.refs import tag_of
from fitcheck.catalog.part import CONSUMERS
from fitcheck.changes import Plain
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Report
from fitcheck.progress import step, task
from fitcheck.remedies.bench import Bench
from fitcheck.remedies.cures import cures
from fitcheck.remedies.proof import Proven, Prover, Witness, spoils, standing
from fitcheck.remedies.remedy import Remedy

MOST_PROPOSED: Final = 24
"""How many proposals are looked at for one finding."""
WORTH: Final = 30_000
"""Ends that are looked at again, in all re-checks together, before a report does without further remedies."""
LEAST_CHECKS: Final = 10
RESTATES: Final = ("unlist", "circuit", "body")
"""Kinds that change what the file says is meant: only where nothing else holds."""
_DEAR: Final = CONSUMERS | {"master cylinder", "pedal box"}
"""Kinds that cost far more than any fitting (common practice, no source)."""


class _Open(NamedTuple):
    """A finding that is waiting for a remedy that holds, with what is left to try."""

    finding: Finding
    ahead: Iterator[Remedy]
    tried: Remedy


Weight = tuple[int, bool, Fraction, int, bool, int]


def weight(bench: Bench, remedy: Remedy) -> Weight:
    """Return what remedies of one finding are tried by, least first.

    Every joint that comes on top can leak, and every part has to be bought; a caliper, cylinder or pedal box that is
    exchanged weighs as much as three joints. Among equals those whose price is known come first, the cheapest first;
    then the fewest parts, known ratings before unknown ones, the fewest edits. Common practice, no source.
    """
    parts = [bench.shelf.get(part) for part in remedy.parts]
    dear = sum(part is not None and part.kind in _DEAR for part in parts)
    guessed = sum("read as" in note for note in remedy.notes) + 3 * (remedy.kind in RESTATES)
    unrated = any(part is None or part.max_pressure is None for part in parts)
    cost = max(remedy.added_joints, 0) + 3 * dear + len(remedy.parts) + guessed
    prices = [bench.price(part) for part in remedy.parts]
    known = [price for price in prices if price is not None]
    unpriced = len(known) < len(prices)
    return (
        cost,
        unpriced,
        Fraction(0) if unpriced else sum(known, Fraction(0)),
        len(parts),
        unrated,
        len(remedy.changes),
    )


def proposals(bench: Bench, finding: Finding) -> list[Remedy]:
    """Return what to try for a finding, in the order of trying."""
    found = list(islice(cures(bench, finding), 4 * MOST_PROPOSED))
    order = sorted(range(len(found)), key=lambda index: (weight(bench, found[index]), index))
    return [found[index] for index in order][:MOST_PROPOSED]


def _shared_first(bench: Bench, lists: Sequence[list[Remedy]]) -> None:
    """Sort proposals so that one which several findings have in common, and would cure at once, is tried sooner."""
    common = Counter(repr(remedy.changes) for found in lists for remedy in found)

    def share(remedy: Remedy) -> tuple[float, Weight]:
        own = weight(bench, remedy)
        return own[0] / common[repr(remedy.changes)], own

    for found in lists:
        if any(common[repr(remedy.changes)] > 1 for remedy in found):
            found.sort(key=share)


def with_remedies(context: Context, report: Report, most: int = 1) -> Report:
    """Return the report with up to `most` proven remedies for each error and warning, best first.

    Their order is that of `weight`.
    """
    bench = Bench(context, report)
    prover = Prover(bench)
    if most == 1:
        proven = first_remedies(bench, prover, list(standing(report)))
        left_out = prover.spent(_worth(bench)) or bench.moves_spent
    else:
        proven = {id(finding): tuple(all_remedies(bench, prover, finding, most)) for finding in standing(report)}
        proven = {finding: remedies for finding, remedies in proven.items() if remedies}
        left_out = bench.moves_spent
    unproven = sum(id(finding) not in proven for finding in standing(report)) if left_out else 0
    report = report._replace(unproven=unproven)
    findings = tuple(finding._replace(remedies=proven.get(id(finding), ())) for finding in report.findings)
    return report._replace(findings=findings)


def all_remedies(bench: Bench, prover: Prover, finding: Finding, most: int) -> list[Proven]:
    """Return up to `most` remedies of one finding, each proven on its own, with what it does to the bill."""
    found: list[Proven] = []
    for remedy in proposals(bench, finding):
        witness = prover.witness([finding], [remedy], bill=True)
        if witness.refused is None:
            found.append(Proven(remedy, witness))
        if len(found) == most:
            break
    return found


def _worth(bench: Bench) -> int:
    """Return how many re-checks a report is worth: the larger the build, the fewer."""
    return max(LEAST_CHECKS, WORTH // max(1, len(bench.graph.ends)))


def first_remedies(
    bench: Bench, prover: Prover, findings: Sequence[Finding], patience: int = 1
) -> dict[int, tuple[Proven, ...]]:
    """Return for each finding, by `id`, its first remedy that holds; none if none does.

    Remedies of different places hardly ever meet, so they are proven together: one re-check for all. Where that fails
    those that the check blames are left out, and the rest proven again. Re-checks are bounded by the size of the build,
    times `patience`: what has none by then may still have one.
    """
    found: dict[int, tuple[Proven, ...]] = {}
    waiting: list[_Open] = []
    lists = [proposals(bench, finding) for finding in findings]
    _shared_first(bench, lists)
    for finding, proposed in zip(findings, lists, strict=True):
        ahead = iter(proposed)
        first = next(ahead, None)
        if first is not None:
            waiting.append(_Open(finding, ahead, first))
    most = patience * _worth(bench)
    with task("proving remedies"):
        while waiting and not prover.spent(most):
            done = len(findings) - len(waiting)
            step(done, len(findings), f"{done} of {len(findings)} findings")
            failed: list[_Open] = []
            _prove(prover, waiting, found, failed)
            waiting = _following(failed)
    return found


def _following(failed: Sequence[_Open]) -> list[_Open]:
    """Return what is left to try of those whose remedy did not hold."""
    return [open_._replace(tried=tried) for open_ in failed if (tried := next(open_.ahead, None)) is not None]


def _prove(prover: Prover, batch: Sequence[_Open], found: dict[int, tuple[Proven, ...]], failed: list[_Open]) -> None:
    """Prove the remedies of a batch together; where that fails, leave out those that are to blame and try the rest."""
    if not batch:
        return
    one = len(batch) == 1
    witness = prover.witness([each.finding for each in batch], [each.tried for each in batch], bill=one)
    if witness.refused is None:
        for each in batch:
            own = witness if one else witness._replace(gone=(each.finding,), bill=prover.bill_of(each.tried))
            found[id(each.finding)] = (Proven(each.tried, own),)
        return
    if one:
        failed.append(batch[0])
        return
    guilty = _guilty(batch, witness)
    if 0 < len(guilty) < len(batch):
        failed += guilty
        marked = set(map(id, guilty))
        _prove(prover, [each for each in batch if id(each) not in marked], found, failed)
    else:
        middle = len(batch) // 2
        _prove(prover, batch[:middle], found, failed)
        _prove(prover, batch[middle:], found, failed)


def _guilty(batch: Sequence[_Open], witness: Witness) -> list[_Open]:
    """Return the remedies whose finding still stands, and those that alone touch what a new error names."""
    left = set(map(id, witness.left))
    guilty = [each for each in batch if id(each.finding) in left]
    touched = [(each, _touched(each)) for each in batch]
    for finding in witness.new:
        tags = set(map(tag_of, finding.at))
        near = [each for each, own in touched if own & tags]
        if len(near) == 1 and near[0] not in guilty and spoils(near[0].tried, finding):
            guilty.append(near[0])
    return guilty


def _touched(each: _Open) -> set[str]:
    """Return the tags that a remedy and its finding name."""
    paths = [change.path for change in each.tried.changes]
    found = {str(path[1]) for path in paths if len(path) > 1}
    values = (getattr(change, "value", "") for change in each.tried.changes)
    return found | set(map(tag_of, _texts([*values, *each.finding.at])))


def _texts(value: Plain) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    else:
        for inner in value.values() if isinstance(value, dict) else value:
            yield from _texts(inner)
