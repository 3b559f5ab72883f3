"""Proof of a remedy: the build with the change made, checked again, and what that check may not show.

A remedy is refused if the finding still stands, if anything new stands at level error, if a joint that could be judged
no longer can, if fewer brake outlets work apart from each other, if a valve, switch, gauge or bleed screw is gone, or
if a part that came in is rated below the working pressure.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from functools import cached_property, partial
from typing import Final, NamedTuple

from fitcheck.bom.change import BomChange, compare
from fitcheck.bom.record import Bom
from fitcheck.bom.take_off import take_off
from fitcheck.build.assemble import assemble
from fitcheck.build.graph import PortGraph
from fitcheck.build.load import Build, reread
from fitcheck.build.refs import tag_of
from fitcheck.build.variants import chosen_variant
from fitcheck.catalog.part import BRAKES
from fitcheck.changes import Change, ConflictError, Drop, changed_tree, merged
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Report
from fitcheck.checks.run import check_context
from fitcheck.hydraulics.outlets import outlets
from fitcheck.hydraulics.push import lever, pressure_mpa, stated_foot_n
from fitcheck.measures import pressure_text, told_apart
from fitcheck.remedies.bench import Bench
from fitcheck.remedies.remedy import Remedy
from fitcheck.trees import InputError

NOT_MADE_BLIND: Final = frozenset(
    {
        "thread-mismatch",
        "gender-clash",
        "nut-mismatch",
        "seat-mismatch",
        "flare-mismatch",
        "tube-size-mismatch",
        "fixing-missing",
        "circuits-crossed",
        "circuit-not-fed",
        "dead-end",
        "tube-material-refused",
    }
)
"""Rules that a remedy may not make blind: nothing passes because a catalog says too little of the new part."""
MOST_BILLED: Final = 500
"""Ends of a build up to which every remedy of a report is billed; `--remedies` bills each in any build."""
UNPRESSURISED: Final = ("reservoir", "feed hose")
"""Kinds on the feed side, whose rating says nothing of the brakes."""
CLEAN: Final = frozenset({"bend", "bender", "measured", "clips", "clip places", "grommet", "hole", "corner", "form"})
"""Kinds that size or move something on the car: they bring nothing new to what they touch, be it a warning."""
GUARDS: Final = ("pressure switch", "gauge", "residual valve", "proportioning valve", "shut-off valve")
"""Kinds that no remedy may take out of a build."""


class Witness(NamedTuple):
    """What the check says of the build with the remedy in it.

    `gone` and `new` are findings, without regard to accepted ones; `left` are those that were to go and stand.
    `refused` says why the remedy is no remedy, None if it is one. `bill` is how the bill of materials changes.
    """

    gone: tuple[Finding, ...]
    new: tuple[Finding, ...]
    refused: str | None = None
    bill: BomChange | None = None
    left: tuple[Finding, ...] = ()


class Proven(NamedTuple):
    """A remedy and the check that it has passed."""

    remedy: Remedy
    witness: Witness


class Prover:
    """Re-checks one build with changes made. Holds what the build was before."""

    def __init__(self, bench: Bench) -> None:
        self.bench = bench
        self.before = {_key(finding): finding for finding in standing(bench.report)}
        self.blind = _blind(bench.report)
        self.guards = _guards(bench.graph)
        self.outlets = _independent(bench.context)
        self.checks = 0

    def spent(self, most: int) -> bool:
        """Return whether so many re-checks have been made."""
        return self.checks >= most

    @cached_property
    def bill(self) -> Bom:
        """The bill of materials before."""
        return self._billed(self.bench.graph)

    def _billed(self, graph: PortGraph) -> Bom:
        same = graph.build.file.offers == self.bench.file.offers
        return take_off(graph, offers=self.bench.offers if same else None)

    def bill_of(self, remedy: Remedy) -> BomChange | None:
        """Return how one remedy alone changes the bill of materials; None where a large build makes that slow."""
        if len(self.bench.graph.ends) > MOST_BILLED:
            return None
        context = self.changed(remedy.changes)
        return compare(self.bill, self._billed(context.graph)) if context is not None else None

    def changed(self, changes: Iterable[Change]) -> Context | None:
        """Return the context of the build with changes made, or None if it is no build any more."""
        build = self.bench.build
        try:
            document = changed_tree(build.document, merged(changes))
            return Context(assemble(reread(build, document)))
        except (InputError, ConflictError):
            return None

    def _spoils(self, changes: Sequence[Change], context: Context) -> str | None:
        """Return the variant that these changes of the file would break or turn into another, None if there is none.

        A variant names things of the file by their tags, and joints by their number.
        """
        for name in self.bench.file.variants:
            if name in self._broken:
                continue
            if any(isinstance(change, Drop) and change.path[0] == "joints" for change in changes):
                variant = self.bench.file.variants[name]
                if any(path.startswith("joints.") for path in (*variant.set, *variant.drop)):
                    return name
            if not _holds(context.graph.build, name):
                return name
        return None

    @cached_property
    def _broken(self) -> frozenset[str]:
        """The variants that cannot be read as the file is, which no change can be blamed for."""
        build = self.bench.build
        return frozenset(name for name in self.bench.file.variants if not _holds(build, name))

    def witness(self, findings: Sequence[Finding], remedies: Sequence[Remedy], bill: bool = False) -> Witness:
        """Return what the check says with all of `remedies` applied, which are to put right all of `findings`."""
        changes = [change for remedy in remedies for change in remedy.changes]
        context = self.changed(changes)
        if context is None:
            return Witness((), (), "the file cannot be read with this change")
        spoilt = self._spoils(changes, context)
        if spoilt is not None:
            return Witness((), (), f"the variant {spoilt} would not hold any more")
        self.checks += 1
        return self.seen(findings, remedies, context, check_context(context), bill)

    def seen(
        self,
        findings: Sequence[Finding],
        remedies: Sequence[Remedy],
        context: Context,
        report: Report,
        bill: bool = False,
    ) -> Witness:
        """Do what `witness` does, for a build that has been changed and checked already."""
        after = {_key(finding): finding for finding in standing(report)}
        gone = tuple(finding for key, finding in self.before.items() if key not in after)
        new = tuple(finding for key, finding in after.items() if key not in self.before)
        refused = self._refused(findings, remedies, context, report, after, new)
        bills = compare(self.bill, self._billed(context.graph)) if bill and refused is None else None
        left = tuple(finding for finding in findings if _still(finding, after))
        return Witness(gone, new, refused, bills, left)

    def _refused(
        self,
        findings: Sequence[Finding],
        remedies: Sequence[Remedy],
        context: Context,
        report: Report,
        after: dict[tuple[str, frozenset[str]], Finding],
        new: tuple[Finding, ...],
    ) -> str | None:
        left = [finding for finding in findings if _still(finding, after)]
        if left:
            return f"{left[0].rule} still stands"
        worse = [finding for finding in new if any(spoils(remedy, finding) for remedy in remedies)]
        if worse:
            return f"{worse[0].rule}: {worse[0].message}"
        brought = {part for remedy in remedies for part in remedy.parts}
        for rule, at, missing in sorted(_blind(report) - self.blind):
            if brought & set(missing.split(".")):
                return f"{rule} could not be checked any more at {at}: {missing} is not known"
        gone = sorted((self.guards - _guards(context.graph)).elements())
        if gone:
            return f"it takes out the {gone[0]}"
        if _independent(context) < self.outlets:
            return "fewer brake circuits would work on their own"
        return self._too_weak(remedies)

    def _too_weak(self, remedies: Sequence[Remedy]) -> str | None:
        pressure = self.pressure
        for part_id in (part for remedy in remedies for part in remedy.parts):
            part = self.bench.shelf.get(part_id)
            rating = part.max_pressure if part is not None and part.kind not in UNPRESSURISED else None
            if rating is not None and rating < pressure:
                units = self.bench.graph.units
                rated, works = told_apart(rating, pressure, partial(pressure_text, units=units))
                return f"{part_id} is rated {rated}, the working pressure is {works}"
        return None

    @cached_property
    def pressure(self) -> float:
        """The highest working pressure that the file lets be worked out [MPa]; 0 if it says too little.

        What each pedal makes at its stated force, as `fitcheck.hydraulics` has it, with one circuit lost what
        `pedal.share_left` says; a share that is not known is taken as all of the push. Where that is not known, the
        lowest rating that the build has already: a remedy must not make a circuit weaker.
        """
        return working_pressure(self.bench.graph) or _lowest_rating(self.bench.graph)


def spoils(remedy: Remedy, finding: Finding) -> bool:
    """Return whether a new finding speaks against a remedy: an error, or, of some kinds, any at what it touches."""
    return finding.level == "error" or (remedy.kind in CLEAN and bool({*map(tag_of, finding.at)} & {*remedy.tags}))


def working_pressure(graph: PortGraph) -> float:
    """Return the highest pressure that a pedal can make [MPa], 0 where force, ratio or bores are not known."""
    file, found = graph.build.file, outlets(graph)
    stated = file.pedal.share_left if file.pedal is not None else None
    highest = 0.0
    for outlet in found.outlets:
        by = lever(file, outlet.drives)[0] if outlet.drives is not None else None
        foot = stated_foot_n(file, outlet.drives) if outlet.drives is not None else None
        if by is None or foot is None or outlet.area_mm2 is None:
            continue
        share = 1.0 if outlet.share is None else outlet.share
        share = max(share, stated or 0.0) if outlet.drives == "brake" else share
        highest = max(highest, pressure_mpa(share * by.rod_n(foot), outlet.area_mm2))
    return highest


def _lowest_rating(graph: PortGraph) -> float:
    parts = (item.part for item in graph.fitted.values())
    ratings = (part.max_pressure for part in parts if part is not None and part.kind not in UNPRESSURISED)
    return min((rating for rating in ratings if rating is not None), default=0.0)


def _holds(build: Build, name: str) -> bool:
    """Return whether a variant of a build can be read."""
    try:
        reread(build, chosen_variant(build.document, name))
    except InputError:
        return False
    return True


def standing(report: Report) -> Iterable[Finding]:
    """Return the findings that a builder has to act on: errors and warnings that are not accepted."""
    return (finding for finding in report.findings if finding.level != "note")


def _key(finding: Finding) -> tuple[str, frozenset[str]]:
    return finding.rule, frozenset(finding.at)


def _still(finding: Finding, after: dict[tuple[str, frozenset[str]], Finding]) -> bool:
    """Return whether the finding stands, or one of its rule that speaks of its first place."""
    return _key(finding) in after or any(rule == finding.rule and finding.at[0] in at for rule, at in after)


def _blind(report: Report) -> set[tuple[str, str, str]]:
    """Return what joint rules could not look at: the rule, the place, the missing field."""
    unchecked = (item for item in report.unchecked if item.rule in NOT_MADE_BLIND)
    return {(item.rule, at, item.missing) for item in unchecked for at in item.at}


def _guards(graph: PortGraph) -> Counter[str]:
    """Count the valves, switches and gauges of a build, and the parts with a bleed screw."""
    kinds: Counter[str] = Counter()
    for item in graph.fitted.values():
        if item.part is not None and item.part.kind in GUARDS:
            kinds[item.part.kind] += 1
        if item.part is not None and (item.part.bleeder or "none").lower() != "none":
            kinds["bleed screw"] += 1
    return kinds


def _independent(context: Context) -> int:
    """Return how many networks with an outlet feed at least one brake."""
    ends = context.graph.ends

    def brakes(ref: str) -> bool:
        part = ends[ref].fitted.part
        return part is not None and part.kind in BRAKES

    return sum(any(map(brakes, network.consumers)) for network in context.circuits.pressurised())
