"""`fitcheck check`: what is wrong, what was not checked."""

import argparse
import shutil
from time import monotonic
from typing import TYPE_CHECKING, NamedTuple

from fitcheck.build.load import Build
from fitcheck.cli.common import build_arguments, coloured, read_build

if TYPE_CHECKING:
    from fitcheck.checks.context import Context
    from fitcheck.checks.findings import Report


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments."""
    build_arguments(parser, ("text", "json", "sarif", "junit"))
    parser.add_argument("--remedies", action="store_true", help="every remedy, what to buy and what to edit for it")
    parser.add_argument("--unchecked", action="store_true", help="list every place that was not checked")


class Checked(NamedTuple):
    """A build under check, and what the check says, remedies included."""

    context: "Context"
    report: "Report"


def checked(build: Build, every_remedy: bool = False) -> Checked:
    """Check a build and look for the first remedy of each error and warning, or for every one.

    Raises:
        InputError: offers that prices of remedies are looked for in cannot be read.
    """
    from fitcheck.build.assemble import assemble
    from fitcheck.checks.context import Context
    from fitcheck.checks.run import check_context

    context = Context(assemble(build))
    report = check_context(context)
    if report.failed or report.count("warning"):
        from fitcheck.remedies.choose import MOST_PROPOSED, with_remedies

        report = with_remedies(context, report, MOST_PROPOSED if every_remedy else 1)
    return Checked(context, report)


def run(args: argparse.Namespace) -> int:
    """Check a build; 1 if anything stands at level error."""
    began = monotonic()
    report = checked(read_build(args), args.remedies).report
    if args.format == "json":
        from fitcheck.reports.check_json import check_json

        print(check_json(report))
    elif args.format == "sarif":
        from fitcheck.checks.register import pages
        from fitcheck.reports.sarif import sarif

        print(sarif(report, pages()))
    elif args.format == "junit":
        from datetime import UTC, datetime

        from fitcheck.reports.check_junit import check_junit

        print(check_junit(report, datetime.now(UTC), monotonic() - began))
    else:
        from fitcheck.reports.check_text import check_text

        width = min(shutil.get_terminal_size((80, 24)).columns, 110)
        colour = coloured()
        shown = {"all_unchecked": args.unchecked, "all_remedies": args.remedies}
        print(check_text(report, width=width, colour=colour, **shown))
    return 1 if report.failed else 0
