"""`fitcheck bom`: the bill of materials."""

import argparse
from datetime import date

from fitcheck.cli.common import build_arguments, cured, read_build


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments."""
    build_arguments(parser, ("text", "json", "csv"))
    parser.add_argument("--with-remedies", action="store_true", help="of the build with its best remedies in it")


def run(args: argparse.Namespace) -> int:
    """Print what the build needs; 1 if a part or a fixing is in no catalog."""
    from fitcheck.bom.take_off import take_off
    from fitcheck.build.assemble import assemble

    graph = assemble(read_build(args))
    if args.with_remedies:
        from fitcheck.checks.context import Context

        graph = cured(Context(graph)).graph
    bom = take_off(graph, on=date.today())
    if args.format == "json":
        from fitcheck.reports.bom_json import bom_json

        print(bom_json(bom))
    elif args.format == "csv":
        from fitcheck.reports.bom_csv import bom_csv

        print(bom_csv(bom), end="")
    else:
        from fitcheck.reports.bom_text import bom_text

        print(bom_text(bom))
    return 1 if any(row.part is None or row.unknown for row in bom.rows) else 0
