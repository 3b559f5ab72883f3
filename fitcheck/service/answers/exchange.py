"""Other parts in place of what is there, and the adapters between two ends."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from fitcheck.build.assemble import assemble
from fitcheck.build.load import Build
from fitcheck.checks.context import Context
from fitcheck.checks.run import check_context
from fitcheck.naming import hint
from fitcheck.reports.plain_json import compact_text
from fitcheck.service.answers.said import moment, quantity
from fitcheck.service.answers.source import Answer, AskedError, Options, Source

if TYPE_CHECKING:
    from fitcheck.bom.ordering.change import PlanChange
    from fitcheck.build.graph import End, PortGraph
    from fitcheck.hydraulics.change import Changed
    from fitcheck.remedies.bridge import Duty


def swap(source: Source, options: Options) -> Answer:
    """Return what an exchange of parts changes."""
    from fitcheck.bom.change import compare
    from fitcheck.bom.take_off import take_off
    from fitcheck.remedies.choose import with_remedies
    from fitcheck.reports.swap_text import swap_value

    swaps: Mapping[str, str] = options["swaps"]
    if options["text"] and source.variant is not None:
        raise AskedError("text: a variant has no text of its own: leave one of the two out")
    builds = (source.build(), source.build(swaps))
    _known_parts(builds[1], swaps)
    before, after = (Context(assemble(build)) for build in builds)
    reports = [check_context(before), check_context(after)]
    if reports[1].failed or reports[1].count("warning"):
        reports[1] = with_remedies(after, reports[1])
    change = compare(take_off(before.graph), take_off(after.graph))
    purchase = _purchase(before, after, options["on"])
    value = swap_value(reports[0], reports[1], change, purchase, _pedal(before, after))
    if options["text"]:
        value["text"] = swapped_text(source, swaps)
    return Answer(compact_text(value), 1 if reports[1].failed else 0)


def swapped_text(source: Source, swaps: Mapping[str, str]) -> str:
    """Return the text of a build file with other parts in it; every other byte is as it was."""
    from fitcheck.build.variants import swap_path
    from fitcheck.edits import replace_scalar
    from fitcheck.sources import parse

    document = source.document()
    for tag, part in swaps.items():
        document = parse(replace_scalar(document, swap_path(document, tag), part), document.name)
    return document.text


def _known_parts(build: Build, swaps: Mapping[str, str]) -> None:
    for part in swaps.values():
        if part not in build.shelf:
            raise AskedError(f"swaps: no catalog has a part {part!r}{hint(part, build.shelf.ids())}")


def _purchase(before: Context, after: Context, on: str | None) -> "PlanChange | str | None":
    if not before.file.offers and not after.file.offers:
        return None
    from fitcheck.bom.nesting.record import NoSolverError
    from fitcheck.bom.ordering.change import compare_plans
    from fitcheck.bom.ordering.market import Terms
    from fitcheck.bom.ordering.shop import planned
    from fitcheck.bom.ordering.solve import NoPlanError

    terms = Terms(moment("on", on))
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


def replacements(source: Source, options: Options) -> Answer:
    """Return what could replace a part, best first."""
    from fitcheck.remedies.replacements import pricing, unjudged
    from fitcheck.remedies.replacements import replacements as found_for
    from fitcheck.reports.replacements_text import Listing, replacements_json

    context, tag = Context(assemble(source.build())), options["tag"]
    fitted = context.graph.fitted
    if tag not in fitted:
        raise AskedError(f"tag: nothing here has the tag {tag!r}{hint(tag, fitted)}")
    prices = pricing(context, tag)
    listing = Listing(
        context.file.name,
        fitted[tag],
        found_for(context, tag, pricing=prices),
        options["most"],
        unjudged(context, tag),
        "fitcheck swap",
        f" --variant {source.variant}" if source.variant else "",
        prices is not None,
    )
    return Answer(replacements_json(listing))


def bridge(source: Source, options: Options) -> Answer:
    """Return the adapters that join two ends, best first."""
    from datetime import date

    from fitcheck.remedies.bridge import Bridge
    from fitcheck.remedies.bridge_ends import read_end
    from fitcheck.remedies.bridge_prices import prices_of
    from fitcheck.remedies.bridge_refused import refusals
    from fitcheck.remedies.interfaces import adapters_of
    from fitcheck.reports.bridge_json import bridge_json
    from fitcheck.reports.bridge_text import Answer as Bridged

    graph = assemble(source.build())
    built = source.path is not None
    ends = read_end(options["first"], graph, built), read_end(options["second"], graph, built)
    adapters = adapters_of(graph, *prices_of(graph.build, date.today()))
    found = Bridge(adapters, *ends, _duty(options, graph, *ends), options["longest"], lenient=True)
    chains = found.best(options["most"])
    told = Bridged(found, chains, refusals(found, chains) if options["explain"] else None)
    return Answer(bridge_json(told), 0 if chains or found.direct else 1)


def _duty(options: Mapping[str, Any], graph: "PortGraph", first: "End", second: "End") -> "Duty":
    from fitcheck.errors import FitcheckError
    from fitcheck.remedies.bridge import Duty, weak_seat
    from fitcheck.standards.fluids import fluid

    asked = options["pressure"]
    pressure = quantity("pressure", asked, "pressure") if asked is not None else None
    name = options["fluid"] if options["fluid"] is not None else graph.build.file.fluid
    try:
        family = fluid(name).family if name is not None else None
    except FitcheckError as error:
        raise AskedError(f"fluid: {error}") from None
    for end in (first, second):
        weak = weak_seat(end)
        if weak is not None and pressure is not None:
            raise AskedError(f"pressure: {end.ref} is a {weak} end, which is not fit for brake pressure")
    return Duty.between(first, second, pressure, family)
