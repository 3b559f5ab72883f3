"""`fitcheck order`: what to buy where, what it costs, when each circuit can be finished."""

import argparse
import sys
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from fitcheck.cli.common import RequestError, build_arguments, cured, printable, read_build
from fitcheck.cli.days import day, moment
from fitcheck.cli.lengths import length
from fitcheck.cli.output import put, refuse_inputs, write

if TYPE_CHECKING:
    from fitcheck.bom.ordering.market import Shop, Terms
    from fitcheck.bom.ordering.record import Plan, Readiness, TradeOff
    from fitcheck.build.load import Build
    from fitcheck.catalog.stock import Coming


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments."""
    build_arguments(parser, ("text", "json", "csv", "xlsx", "mail"))
    aim = parser.add_mutually_exclusive_group()
    aim.add_argument("--by", metavar="DATE", help="the cheapest plan that has everything here by this day")
    aim.add_argument("--soonest", action="store_true", help="the cheapest of the plans that are here first")
    aim.add_argument("--trade-off", action="store_true", help="a table of what waiting saves")
    parser.add_argument(
        "--on", metavar="DATE", help="when orders go out: 2026-12-01, or 2026-12-01T15:30 (default: now)"
    )
    parser.add_argument("--currency", metavar="CODE", help="of the sum (default: that of most prices)")
    parser.add_argument("--exact-parts", action="store_true", help="nothing that stands in for another part")
    parser.add_argument("--no-spares", action="store_true", help="nothing beyond need")
    parser.add_argument("--no-consumables", action="store_true", help="no clips, fluid, sealant and caps")
    parser.add_argument("--kerf", metavar="LENGTH", help="what each cut takes away, such as 1mm (default: nothing)")
    parser.add_argument("--seconds", metavar="N", type=_seconds, default=10.0, help="how long to search (default: 10)")
    parser.add_argument("--with-remedies", action="store_true", help="for the build with its best remedies in it")
    parser.add_argument("--supplier", metavar="TAG", help="of mail: the order to this supplier only")
    parser.add_argument("--output", metavar="FILE", help="write the answer to this file; of xlsx needed")
    done = parser.add_mutually_exclusive_group()
    done.add_argument(
        "--placed", metavar="SUPPLIER", nargs="*", help="these orders went out: the stock file notes them"
    )
    done.add_argument("--have", metavar="WHAT", nargs="*", help="this has come: the stock file has it on the shelf")


def run(args: argparse.Namespace) -> int:
    """Print the plan; 1 if something cannot be had, or the build has findings at level error."""
    on = moment("--on", args.on)
    if args.format == "xlsx" and not args.output:
        raise RequestError("--format xlsx needs --output FILE")
    if args.supplier and args.format != "mail":
        raise RequestError("--supplier goes with --format mail")
    if args.have is not None and _planning(args):
        raise RequestError(f"--have only moves what has come: it does not go with {_planning(args)}")
    if args.placed is not None and (args.trade_off or args.with_remedies):
        other = "--trade-off" if args.trade_off else "--with-remedies: let `fitcheck cure --write` put them in first"
        raise RequestError(f"--placed does not go with {other}")
    build = read_build(args)
    if args.output:
        refuse_inputs(build, Path(args.build), Path(args.output))
    if args.have is not None:
        return _have(build, args.have, on.date())
    if not build.file.offers:
        raise RequestError("the build names no offers: add `offers: [offers.yaml]` (catalog_schema/README.md says how)")
    return _order(args, build, on)


def _order(args: argparse.Namespace, build: "Build", on: datetime) -> int:
    from fitcheck.bom.ordering.plan import trade_off
    from fitcheck.bom.ordering.shop import lacking, planned, shop_of
    from fitcheck.build.assemble import assemble
    from fitcheck.checks.context import Context
    from fitcheck.checks.run import check_context

    context = Context(assemble(build))
    if args.with_remedies:
        context = cured(context)
    errors = check_context(context).count("error")
    shop = shop_of(context.graph, spares=not args.no_spares, consumables=not args.no_consumables)
    terms = _terms(args, build, on)
    if args.trade_off:
        rows = trade_off(shop, terms)
        _write_trade_off(args, shop, terms, rows)
        return 1 if errors or any(row.missing for row in rows) else 0
    plan, ready = planned(context.graph, terms, shop, soon=args.soonest)
    known = {order.supplier.tag for order in plan.orders}
    for tag in (*(args.placed or ()), *([args.supplier] if args.supplier else ())):
        if tag not in known:
            raise RequestError(
                f"nothing is ordered from {tag!r}; the plan buys from {', '.join(sorted(known)) or 'nobody'}"
            )
    if args.placed is not None:
        _placed(build, plan, args.placed)
    _write(args, plan, ready, errors)
    return 1 if errors or lacking(plan) else 0


def _planning(args: argparse.Namespace) -> str:
    """Return the options of a plan that were given; "" if none were."""
    given = {
        "--by": args.by,
        "--soonest": args.soonest,
        "--trade-off": args.trade_off,
        "--with-remedies": args.with_remedies,
        "--output": args.output,
        "--supplier": args.supplier,
        "--format": args.format != "text",
    }
    return ", ".join(option for option, value in given.items() if value)


def _terms(args: argparse.Namespace, build: "Build", on: datetime) -> "Terms":
    from fitcheck.bom.ordering.market import Terms

    by = day("--by", args.by) if args.by is not None else None
    if by is not None and by < on.date():
        raise RequestError(f"--by: {by} is past on {on.date()}")
    if args.currency is not None:
        from fitcheck.catalog.money import parse_currency

        try:
            parse_currency(args.currency)
        except ValueError as error:
            raise RequestError(f"--currency: {error}") from None
    kerf = length("--kerf", args.kerf) if args.kerf is not None else 0.0
    return Terms(on, by, args.currency, not args.exact_parts, kerf, args.seconds)


def _write(args: argparse.Namespace, plan: "Plan", ready: "Readiness", errors: int) -> None:
    """Print the plan in the form asked for, or write it to the file asked for."""
    if args.format == "xlsx":
        from fitcheck.reports.order_xlsx import order_xlsx

        write(args.output, order_xlsx(plan, ready, errors=errors))
        return
    if args.format == "json":
        from fitcheck.reports.order_json import order_json

        text = order_json(plan, ready, errors=errors)
    elif args.format == "csv":
        from fitcheck.reports.order_csv import order_csv

        text = order_csv(plan)
    elif args.format == "mail":
        from fitcheck.reports.order_mail import order_mail

        text = order_mail(plan, args.supplier)
    else:
        from fitcheck.reports.order_text import order_text

        text = order_text(plan, ready, errors=errors)
    put(args.output, text)
    if errors and (args.format != "text" or args.placed is not None):
        told = "1 error" if errors == 1 else f"{errors} errors"
        print(f"fitcheck check finds {told} in this build: do not order before that is put right", file=sys.stderr)
    if plan.missing and args.placed is not None:
        print(f"{len(plan.missing)} of the needs are not met by these orders", file=sys.stderr)


def _write_trade_off(args: argparse.Namespace, shop: "Shop", terms: "Terms", rows: "tuple[TradeOff, ...]") -> None:
    from fitcheck.reports.order_json import trade_off_json
    from fitcheck.reports.order_text import trade_off_text

    if args.format not in ("text", "json"):
        raise RequestError("--trade-off is told as text or json")
    show = trade_off_json if args.format == "json" else trade_off_text
    put(args.output, show(shop.build, rows, terms.on.date()))


def _stock_file(build: "Build") -> Path:
    if not build.file.stock:
        raise RequestError(
            "the build names no stock file: add `stock: stock.yaml`, and such a file, with the line `stock: 1`"
        )
    return Path(build.folder.as_posix()) / build.file.stock


def _placed(build: "Build", plan: "Plan", suppliers: list[str]) -> None:
    from fitcheck.bom.ordering.placing import placed
    from fitcheck.catalog.stock_edit import place

    path = _stock_file(build)
    entries = placed(plan, suppliers)
    if entries:
        place(path, entries)
    print(f"{printable(str(path))} now says that {len(entries)} more entries are coming", file=sys.stderr)


def _have(build: "Build", words: list[str], on: date) -> int:
    from fitcheck.catalog.stock_edit import arrived

    path = _stock_file(build)
    moved = arrived(path, words, on)
    for entry in moved:
        origin = f" from {entry.supplier}" if entry.supplier else ""
        print(printable(f"on the shelf: {_much(entry)} {entry.part}{origin}"))
    if not moved:
        print("nothing is on its way")
        return 0
    print(f"{printable(str(path))} now says so; `fitcheck order` tells what that makes possible")
    return 0


def _much(entry: "Coming") -> str:
    """Return how much of something has come: `2 x`, `2 lengths of`, `500 ml of`."""
    if entry.lengths:
        return "1 length of" if len(entry.lengths) == 1 else f"{len(entry.lengths)} lengths of"
    if entry.contents is not None and not entry.quantity:
        return f"{entry.contents / 1000:g} ml of"
    return f"{entry.quantity} x"


def _seconds(text: str) -> float:
    try:
        seconds = float(text)
    except ValueError:
        seconds = 0.0
    if not 0 < seconds <= 3600:
        raise argparse.ArgumentTypeError(f"expected seconds from 0 to 3600, got {text[:40]!r}")
    return seconds
