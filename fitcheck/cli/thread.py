"""`fitcheck thread`: limits of size of a thread; what happens when A is screwed into B; the table of look-alikes."""

import argparse

from fitcheck.cli.common import RequestError
from fitcheck.standards.threads import Limits, fit, limits, parse
from fitcheck.standards.threads.fit import ENGAGEMENT_MM

_MOST_MM = 100.0  # longer than any thread of a hydraulic fitting, short enough to be drawn


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments."""
    parser.add_argument("thread", metavar="A", nargs="?", help="a thread designation, such as '3/8-24 UNF' or M10x1")
    parser.add_argument("into", metavar="B", nargs="?", help="the internal thread that A is screwed into")
    parser.add_argument("--table", action="store_true", help="every thread of the trade into every other")
    parser.add_argument("--reverse", action="store_true", help="also B into A")
    parser.add_argument("--explain", action="store_true", help="the formula of each figure and its source")
    default = f"length of engagement, such as '8mm' (default: {ENGAGEMENT_MM:g} mm)"
    parser.add_argument("--engagement", metavar="LENGTH", help=default)
    parser.add_argument(
        "--format",
        choices=("text", "json", "svg", "html"),
        default="text",
        help="form of the answer; svg needs A and B, html --table",
    )


def run(args: argparse.Namespace) -> int:
    """Print limits of one thread, how two meet, or the table; 1 if two do not mate."""
    _refuse_nonsense(args)
    engagement = _engagement(args.engagement)
    if args.table:
        return _table(args.format, engagement)
    thread = limits(parse(args.thread))
    if args.into is None:
        return _print(args, thread)
    return _pair(args, thread, limits(parse(args.into)), engagement)


def _refuse_nonsense(args: argparse.Namespace) -> None:
    """Raise RequestError for options that do not go together."""
    if args.table and (args.thread or args.reverse or args.explain or args.format == "svg"):
        raise RequestError("--table is of every thread: it goes with --engagement and --format text, json or html")
    if args.format == "html" and not args.table:
        raise RequestError("--format html is a page of --table")
    if not args.table and args.thread is None:
        raise RequestError("expected a thread, such as '3/8-24 UNF', or --table")
    wants_pair = [option for option in ("reverse", "explain", "engagement") if getattr(args, option)]
    if args.format == "svg":
        wants_pair.append("format svg")
    if not args.table and args.into is None and wants_pair:
        raise RequestError(f"--{wants_pair[0]} needs two threads: fitcheck thread A B --{wants_pair[0]}")
    if args.format == "svg" and (args.reverse or args.explain):
        raise RequestError("a drawing shows A into B alone: leave out --reverse and --explain")


def _engagement(text: str | None) -> float:
    from fitcheck.quantities import QuantityError
    from fitcheck.quantities import parse as quantity

    if text is None:
        return ENGAGEMENT_MM
    try:
        length = float(quantity(text, "length"))
    except QuantityError as error:
        raise RequestError(f"--engagement: {error}") from error
    if length > _MOST_MM:
        raise RequestError(f"--engagement: expected at most {_MOST_MM:g} mm, got {text}")
    return length


def _table(form: str, engagement: float) -> int:
    from fitcheck.reports.thread_table import table_json, table_text
    from fitcheck.reports.thread_table_page import table_html
    from fitcheck.standards.threads.pair_table import pair_table

    write = {"json": table_json, "html": table_html}.get(form, table_text)
    print(write(pair_table(engagement)))
    return 0


def _print(args: argparse.Namespace, thread: Limits) -> int:
    from fitcheck.reports.thread_text import thread_json, thread_text

    print((thread_json if args.format == "json" else thread_text)(thread))
    return 0


def _pair(args: argparse.Namespace, thread: Limits, into: Limits, engagement: float) -> int:
    from fitcheck.reports.thread_text import thread_json, thread_text

    met = fit(thread.thread, into.thread, engagement)
    back = fit(into.thread, thread.thread, engagement) if args.reverse else None
    if args.format == "svg":
        from fitcheck.reports.thread_svg import thread_svg

        print(thread_svg(thread, into, met))
    else:
        write = thread_json if args.format == "json" else thread_text
        print(write(thread, into, met, reverse=back, explain=args.explain))
    return 0 if all(way.verdict in ("mates", "may-bind") for way in (met, back) if way) else 1
