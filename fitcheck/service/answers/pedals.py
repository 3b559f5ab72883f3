"""The pedals, and how the system is filled and bled."""

from fitcheck.build.assemble import assemble
from fitcheck.naming import hint
from fitcheck.service.answers.said import moment, quantity_of
from fitcheck.service.answers.source import Answer, AskedError, Options, Source


def pedal(source: Source, options: Options) -> Answer:
    """Return pressure, stroke, travel, balance and failures, from the foot to the caliper."""
    from fitcheck.hydraulics.answer import answer
    from fitcheck.reports.pedal_beside import Sides, beside_json
    from fitcheck.reports.pedal_concerns import wrong
    from fitcheck.reports.pedal_json import pedal_json

    said, against = options["force"], options["against"]
    foot = quantity_of("force", said, "force") if said is not None else None
    if foot is not None and foot <= 0.0:
        raise AskedError(f"force: expected more than zero, got {said!r}")
    found = answer(assemble(source.build()), foot)
    if against is None:
        return Answer(pedal_json(found), 1 if wrong(found) else 0)
    other = answer(assemble(source._replace(variant=against).build()), foot)
    sides = Sides(source.variant or "as it is", against, found, other)
    return Answer(beside_json(sides), 1 if wrong(other) else 0)


def bleed(source: Source, options: Options) -> Answer:
    """Return how to fill, in which order to bleed, how to test for leaks."""
    from fitcheck.bom.bleed_sheet import bleed_sheet, of_circuits
    from fitcheck.reports.bleed_json import bleed_json

    on, build = moment("on", options["on"]), source.build()
    for name in options["circuits"]:
        if name not in build.file.circuits:
            raise AskedError(f"circuits: no circuit is called {name!r}{hint(name, build.file.circuits)}")
    sheet = bleed_sheet(assemble(build), on)
    if options["circuits"]:
        sheet = of_circuits(sheet, options["circuits"])
    found = sheet.bleed
    return Answer(bleed_json(sheet), 1 if found.without or found.doubtful or not found.ways else 0)
