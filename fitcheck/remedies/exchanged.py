"""What an exchange of parts changes: findings, bill, purchase plan, pedals."""

from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple

from fitcheck.bom.change import BomChange, compare
from fitcheck.bom.take_off import take_off
from fitcheck.build.assemble import assemble
from fitcheck.build.load import Build
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Report
from fitcheck.checks.run import check_context

if TYPE_CHECKING:
    from fitcheck.bom.ordering.change import PlanChange
    from fitcheck.hydraulics.change import Changed


class Exchanged(NamedTuple):
    """Two builds compared: what is found in each (with remedies of what is left), and what else differs.

    `purchase` is in words why nobody can say; None if neither build names offers. `pedal` is None if neither has one.
    """

    before: Report
    after: Report
    bill: BomChange
    purchase: "PlanChange | str | None"
    pedal: "Changed | None"


def exchanged(before: Build, after: Build, on: datetime) -> Exchanged:
    """Return what changes from a build to another; orders would go out on `on`.

    Raises:
        InputError: an offer file or the stock file cannot be read.
    """
    contexts = Context(assemble(before)), Context(assemble(after))
    old, new = (check_context(context) for context in contexts)
    if new.failed or new.count("warning"):
        from fitcheck.remedies.choose import with_remedies

        new = with_remedies(contexts[1], new)
    bill = compare(*(take_off(context.graph) for context in contexts))
    return Exchanged(old, new, bill, _purchase(*contexts, on), _pedal(*contexts))


def _purchase(before: Context, after: Context, on: datetime) -> "PlanChange | str | None":
    if not before.file.offers and not after.file.offers:
        return None
    from fitcheck.bom.nesting.record import NoSolverError
    from fitcheck.bom.ordering.change import compare_plans
    from fitcheck.bom.ordering.market import Terms
    from fitcheck.bom.ordering.shop import planned
    from fitcheck.bom.ordering.solve import NoPlanError

    terms = Terms(on)
    try:
        return compare_plans(planned(before.graph, terms), planned(after.graph, terms))
    except (NoSolverError, NoPlanError) as error:
        return str(error)


def _pedal(before: Context, after: Context) -> "Changed | None":
    from fitcheck.hydraulics.answer import answer, has_pedal

    if not has_pedal(before.file) and not has_pedal(after.file):
        return None
    from fitcheck.hydraulics.change import changed

    return changed(*(answer(context.graph, circuits=context.circuits) for context in (before, after)))
