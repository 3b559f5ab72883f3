"""The purchase plan."""

from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from fitcheck.build.assemble import assemble
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Report
from fitcheck.checks.run import check_context
from fitcheck.reports.plain_json import compact_text
from fitcheck.service.answers.checks import cured_context
from fitcheck.service.answers.said import day, length, moment
from fitcheck.service.answers.source import Answer, AskedError, Options, Source

if TYPE_CHECKING:
    from fitcheck.bom.ordering.market import Terms
    from fitcheck.bom.ordering.record import Plan, Readiness, TradeOff


class Purchase(NamedTuple):
    """A plan with the days on which circuits can be finished, or the `rows` of what waiting saves, as of the day `on`.

    `errors` are findings at level error in the build that is bought for.
    """

    build: str
    on: date
    errors: int
    planned: "tuple[Plan, Readiness] | None"
    rows: "tuple[TradeOff, ...]" = ()

    @property
    def lacks(self) -> bool:
        """Whether something cannot be had or is not known."""
        from fitcheck.bom.ordering.shop import lacking

        if self.planned is None:
            return any(row.missing for row in self.rows)
        return lacking(self.planned[0])


def order(source: Source, options: Options) -> Answer:
    """Return what to buy where, what it costs, when each circuit can be finished."""
    from fitcheck.reports.order_json import order_value, trade_off_json

    made = purchase_of(Context(assemble(source.build())), options)
    code = 1 if made.errors or made.lacks else 0
    if made.planned is None:
        return Answer(trade_off_json(made.build, made.rows, made.on), code)
    return Answer(compact_text(order_value(*made.planned, made.errors)), code)


def purchase_of(context: Context, options: Options, report: Report | None = None) -> Purchase:
    """Return what a request asks to be planned for a build; `report` is what is found in it, if that is known.

    Raises:
        AskedError: the build names no offers, or the terms make no sense.
    """
    from fitcheck.bom.ordering.plan import trade_off
    from fitcheck.bom.ordering.shop import planned, shop_of

    terms = terms_of(options)
    if not context.file.offers:
        raise AskedError("the build names no offers: add `offers: [offers.yaml]`, and such a file")
    if options["with_remedies"]:
        context, report = cured_context(context), None
    errors = (report or check_context(context)).count("error")
    shop = shop_of(context.graph, spares=options["spares"], consumables=options["consumables"])
    on = terms.on.date()
    if options["aim"] == "trade-off":
        return Purchase(shop.build, on, errors, None, trade_off(shop, terms))
    soon = options["aim"] == "soonest"
    return Purchase(shop.build, on, errors, planned(context.graph, terms, shop, soon=soon))


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
