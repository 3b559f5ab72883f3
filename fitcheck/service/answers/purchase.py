"""The purchase plan."""

from typing import TYPE_CHECKING

from fitcheck.build.assemble import assemble
from fitcheck.checks.context import Context
from fitcheck.checks.run import check_context
from fitcheck.reports.plain_json import compact_text
from fitcheck.service.answers.checks import cured_context
from fitcheck.service.answers.said import day, length, moment
from fitcheck.service.answers.source import Answer, AskedError, Options, Source

if TYPE_CHECKING:
    from fitcheck.bom.ordering.market import Terms


def order(source: Source, options: Options) -> Answer:
    """Return what to buy where, what it costs, when each circuit can be finished."""
    from fitcheck.bom.ordering.plan import purchase_plan, soonest, trade_off
    from fitcheck.bom.ordering.readiness import readiness
    from fitcheck.bom.ordering.shop import shop_of
    from fitcheck.reports.order_json import order_value, trade_off_json

    terms = terms_of(options)
    build = source.build()
    if not build.file.offers:
        raise AskedError("the build names no offers: add `offers: [offers.yaml]`, and such a file")
    context = Context(assemble(build))
    if options["with_remedies"]:
        context = cured_context(context)
    errors = check_context(context).count("error")
    shop = shop_of(context.graph, spares=options["spares"], consumables=options["consumables"])
    if options["aim"] == "trade-off":
        rows = trade_off(shop, terms)
        code = 1 if errors or any(row.missing for row in rows) else 0
        return Answer(trade_off_json(shop.build, rows, terms.on.date()), code)
    plan = soonest(shop, terms) if options["aim"] == "soonest" else purchase_plan(shop, terms)
    unknown = any(need.unknown and need.unit != "ml" for need in plan.needs)
    ready = readiness(context.graph, plan, shop.stock)
    return Answer(compact_text(order_value(plan, ready, errors)), 1 if errors or plan.missing or unknown else 0)


def terms_of(options: Options) -> "Terms":
    """Return the terms that a request states.

    Raises:
        AskedError: a field holds no day, currency or length, or two do not go together.
    """
    from fitcheck.bom.ordering.market import Terms
    from fitcheck.catalog.money import parse_currency

    on = moment("on", options["on"])
    by = day("by", options["by"]) if options["by"] is not None else None
    if by is not None and options["aim"] != "cheapest":
        raise AskedError("by: goes with the aim cheapest only")
    if by is not None and by < on.date():
        raise AskedError(f"by: {by} is past on {on.date()}")
    if options["currency"] is not None:
        try:
            parse_currency(options["currency"])
        except ValueError as error:
            raise AskedError(f"currency: {error}") from None
    kerf = length("kerf", options["kerf"]) if options["kerf"] is not None else 0.0
    return Terms(on, by, options["currency"], not options["exact_parts"], kerf, options["seconds"])
