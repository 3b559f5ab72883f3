"""Check, bill of materials, cure: what a build is like, and what it is like once it is put right."""

from typing import Any

from fitcheck.build.assemble import assemble
from fitcheck.checks.context import Context
from fitcheck.checks.run import check_context
from fitcheck.naming import hint
from fitcheck.reports.plain_json import compact_text, json_text, plain_text
from fitcheck.service.answers.source import Answer, AskedError, Options, Source


def check(source: Source, options: Options) -> Answer:
    """Return what is wrong and what was not checked."""
    from fitcheck.remedies.choose import MOST_PROPOSED, with_remedies
    from fitcheck.reports.check_json import check_value

    context = Context(assemble(source.build()))
    report = check_context(context)
    if options["remedies"] != "none" and (report.failed or report.count("warning")):
        report = with_remedies(context, report, MOST_PROPOSED if options["remedies"] == "all" else 1)
    return Answer(plain_text(check_value(report)), 1 if report.failed else 0)


def bom(source: Source, options: Options) -> Answer:
    """Return the bill of materials."""
    from datetime import date

    from fitcheck.bom.take_off import take_off
    from fitcheck.reports.bom_json import bom_value

    context = Context(assemble(source.build()))
    if options["with_remedies"]:
        context = cured_context(context)
    bill = take_off(context.graph, on=date.today())
    unknown = any(row.part is None or row.unknown for row in bill.rows)
    return Answer(compact_text(bom_value(bill)), 1 if unknown else 0)


def cure(source: Source, options: Options) -> Answer:
    """Return what the best remedies do together, and what is left."""
    import json

    from fitcheck.remedies.cure import cure as cured_of
    from fitcheck.remedies.cure import places
    from fitcheck.reports.cure_text import cure_json

    if options["text"] and source.variant is not None:
        raise AskedError("text: a variant has no text of its own: leave one of the two out")
    context = Context(assemble(source.build()))
    report = check_context(context)
    known = places(context, report)
    for name in options["only"]:
        if name not in known:
            raise AskedError(f"only: nothing here has the tag {name!r}{hint(name, known)}")
    cured = cured_of(context, report, options["only"], in_text=source.variant is None)
    value: dict[str, Any] = json.loads(cure_json(cured))
    if options["text"]:
        value["text"] = cured.text
    return Answer(json_text(value), 1 if cured.report_after.failed else 0)


def cured_context(context: Context) -> Context:
    """Return a build with its best remedies in it."""
    from fitcheck.remedies.cure import cure as cured_of

    return cured_of(context, check_context(context), in_text=False).after
