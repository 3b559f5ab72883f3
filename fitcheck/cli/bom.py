"""`fitcheck bom`: the bill of materials."""

import argparse
from datetime import date

from fitcheck.cli.common import build_arguments, read_build


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments."""
    build_arguments(parser, ("text", "json", "csv"))


def run(args: argparse.Namespace) -> int:
    """Print what the build needs; 1 if a part or a fixing is in no catalog."""
    from fitcheck.bom.take_off import take_off
    from fitcheck.build.assemble import assemble

    bom = take_off(assemble(read_build(args)), on=date.today())
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
