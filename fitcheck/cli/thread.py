"""`fitcheck thread`: limits of size of a thread; what happens when A is screwed into B."""

import argparse

from fitcheck.standards.threads import fit, limits, parse


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments."""
    parser.add_argument("thread", metavar="A", help="a thread designation, such as '3/8-24 UNF' or M10x1")
    parser.add_argument("into", metavar="B", nargs="?", help="the internal thread that A is screwed into")
    parser.add_argument("--format", choices=("text", "json"), default="text", help="form of the answer")


def run(args: argparse.Namespace) -> int:
    """Print one thread's limits, or how two threads meet; 1 if they do not mate."""
    thread = parse(args.thread)
    into = parse(args.into) if args.into else None
    met = fit(thread, into) if into else None
    if args.format == "json":
        from fitcheck.reports.thread_text import thread_json

        print(thread_json(limits(thread), limits(into) if into else None, met))
    else:
        from fitcheck.reports.thread_text import thread_text

        print(thread_text(limits(thread), limits(into) if into else None, met))
    return 0 if met is None or met.verdict in ("mates", "may-bind") else 1
