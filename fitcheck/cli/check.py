"""`fitcheck check`: what is wrong, what was not checked."""

import argparse
import shutil
import sys

from fitcheck.cli.common import build_arguments, read_build


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments."""
    build_arguments(parser, ("text", "json", "sarif"))
    parser.add_argument("--unchecked", action="store_true", help="list every place that was not checked")


def run(args: argparse.Namespace) -> int:
    """Check a build; 1 if anything stands at level error."""
    from fitcheck.build.assemble import assemble
    from fitcheck.checks.context import Context
    from fitcheck.checks.run import check_context

    context = Context(assemble(read_build(args)))
    report = check_context(context)
    if report.failed:
        from fitcheck.remedies.adapters import with_adapters

        report = with_adapters(context, report)
    if args.format == "json":
        from fitcheck.reports.check_json import check_json

        print(check_json(report))
    elif args.format == "sarif":
        from fitcheck.checks.register import pages
        from fitcheck.reports.sarif import sarif

        print(sarif(report, pages()))
    else:
        from fitcheck.reports.check_text import check_text

        width = min(shutil.get_terminal_size((80, 24)).columns, 110)
        print(check_text(report, width=width, colour=sys.stdout.isatty(), all_unchecked=args.unchecked))
    return 1 if report.failed else 0
