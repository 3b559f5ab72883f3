"""Other parts in place of what is there, and the adapters between two ends."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from fitcheck.build.assemble import assemble
from fitcheck.build.load import Build
from fitcheck.checks.context import Context
from fitcheck.naming import hint
from fitcheck.reports.plain_json import compact_text
from fitcheck.service.answers.said import moment, quantity
from fitcheck.service.answers.source import Answer, AskedError, Options, Source

if TYPE_CHECKING:
    from fitcheck.build.graph import End, PortGraph
    from fitcheck.remedies.bridge import Duty


def swap(source: Source, options: Options) -> Answer:
    """Return what an exchange of parts changes."""
    from fitcheck.build.variants import swapped_document
    from fitcheck.remedies.exchanged import exchanged
    from fitcheck.reports.swap_text import swap_value

    swaps: Mapping[str, str] = options["swaps"]
    if options["text"] and source.variant is not None:
        raise AskedError("text: a variant has no text of its own: leave one of the two out")
    builds = (source.build(), source.build(swaps))
    _known_parts(builds[1], swaps)
    found = exchanged(*builds, moment("on", options["on"]))
    value = swap_value(*found)
    if options["text"]:
        value["text"] = swapped_document(source.document(), swaps).text
    return Answer(compact_text(value), 1 if found.after.failed else 0)


def _known_parts(build: Build, swaps: Mapping[str, str]) -> None:
    for part in swaps.values():
        if part not in build.shelf:
            raise AskedError(f"swaps: no catalog has a part {part!r}{hint(part, build.shelf.ids())}")


def replacements(source: Source, options: Options) -> Answer:
    """Return what could replace a part, best first."""
    from fitcheck.reports.replacements_text import listing_of, replacements_json

    context, tag = Context(assemble(source.build())), options["tag"]
    fitted = context.graph.fitted
    if tag not in fitted:
        raise AskedError(f"tag: nothing here has the tag {tag!r}{hint(tag, fitted)}")
    variant = f" --variant {source.variant}" if source.variant else ""
    return Answer(replacements_json(listing_of(context, tag, options["most"], options=variant)))


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
