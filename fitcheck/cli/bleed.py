"""`fitcheck bleed`: how to fill, in which order to bleed, how to test for leaks; to print and sign."""

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from fitcheck.cli.common import RequestError, build_arguments, read_build
from fitcheck.cli.days import moment
from fitcheck.cli.output import put, refuse_inputs

if TYPE_CHECKING:
    from fitcheck.bom.bleed_sheet import BleedSheet

INTERMIXED = True
"""Circuits may be named before and after options."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments."""
    build_arguments(parser, ("text", "json", "html"))
    parser.add_argument("circuits", nargs="*", metavar="CIRCUIT", help="these circuits only (default: all)")
    parser.add_argument("--on", metavar="DATE", help="when fluid is ordered: 2026-12-01 (default: now)")
    parser.add_argument("--paper", choices=("a4", "letter"), help="paper of html (default: a4)")
    parser.add_argument("--output", metavar="FILE", help="write the answer to this file")


def run(args: argparse.Namespace) -> int:
    """Print the sheet, or write it to a file; 1 if something has no bleed screw, or the order is in doubt."""
    from fitcheck.bom.bleed_sheet import bleed_sheet, of_circuits
    from fitcheck.build.assemble import assemble
    from fitcheck.naming import hint

    if args.paper is not None and args.format != "html":
        raise RequestError("--paper goes with --format html")
    on = moment("--on", args.on)
    build = read_build(args)
    for name in args.circuits:
        if name not in build.file.circuits:
            raise RequestError(f"no circuit is called {name!r}{hint(name, build.file.circuits)}")
    if args.output:
        refuse_inputs(build, Path(args.build), Path(args.output))
    sheet = bleed_sheet(assemble(build), on)
    if args.circuits:
        sheet = of_circuits(sheet, args.circuits)
    put(args.output, _written(sheet, args.format, args.paper or "a4"))
    return 1 if sheet.bleed.without or sheet.bleed.doubtful or not sheet.bleed.ways else 0


def _written(sheet: "BleedSheet", form: str, paper: str) -> str:
    """Return the sheet in the form asked for."""
    if form == "json":
        from fitcheck.reports.bleed_json import bleed_json

        return bleed_json(sheet)
    if form == "html":
        from fitcheck.reports.bleed_page import bleed_html

        return bleed_html(sheet, "letter" if paper == "letter" else "a4")
    from fitcheck.reports.bleed_text import bleed_text

    return bleed_text(sheet)
