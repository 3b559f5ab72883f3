"""`fitcheck make`: bench sheets: what to cut, slide on, flare, mark and bend, in order of doing."""

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from fitcheck.cli.common import RequestError, build_arguments, printable, read_build
from fitcheck.cli.output import put, refuse_inputs

if TYPE_CHECKING:
    from fitcheck.build.graph import PortGraph
    from fitcheck.making.hole_sheet import HoleSchedule
    from fitcheck.making.sheet import Sheets

INTERMIXED = True
"""Lines may be named before and after options."""
_FORMATS = ("text", "json", "csv", "svg", "html", "dxf")
_FORMS = """\
svg: ruler with marks, four views, a dial for each turn; several lines are stacked in one picture, hoses below.
html: pages to print at 100 %, with templates at 1:1 of what is flat; a page for each hose.
dxf: the centre-lines in space, for another drawing program (needs fitcheck[cad])."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments."""
    parser.epilog, parser.formatter_class = _FORMS, argparse.RawDescriptionHelpFormatter
    build_arguments(parser, _FORMATS)
    parser.add_argument("lines", nargs="*", metavar="LINE", help="these lines and hoses only (default: all)")
    parser.add_argument("--holes", action="store_true", help="the hole schedule alone: what to drill, how and how fast")
    parser.add_argument("--paper", choices=("a4", "letter"), help="paper of html (default: a4)")
    parser.add_argument("--output", metavar="FILE", help="write the answer to this file")


def run(args: argparse.Namespace) -> int:
    """Print the bench sheets, or write them to a file; 1 if a line cannot be made, or a hose will not do."""
    from fitcheck.build.assemble import assemble
    from fitcheck.making.holes import hole_schedule
    from fitcheck.making.make import sheets
    from fitcheck.naming import hint

    if args.paper is not None and args.format != "html":
        raise RequestError("--paper goes with --format html")
    if args.holes and args.format in ("svg", "dxf"):
        raise RequestError("--holes goes with --format text, json, csv or html")
    build = read_build(args)
    for tag in args.lines:
        if tag not in build.file.lines and tag not in build.file.hoses:
            raise RequestError(f"no line or hose is called {tag!r}{hint(tag, (*build.file.lines, *build.file.hoses))}")
    if args.output:
        refuse_inputs(build, Path(args.build), Path(args.output))
    graph, tags = assemble(build), tuple(dict.fromkeys(args.lines)) or None
    if args.holes:
        return _holes(graph, tags, args)
    made = sheets(graph, tags)
    put(args.output, _written(made, hole_schedule(graph, tags), args.format, args.paper or "a4"))
    unsaid = [tag for tag in args.lines if tag in build.file.hoses] if args.format in ("csv", "dxf") else []
    if unsaid:
        print(printable(f"no hoses in {args.format}: {', '.join(unsaid)}"), file=sys.stderr)
    return 1 if any(sheet.faults for sheet in made.sheets) or any(hose.faults for hose in made.hoses) else 0


def _holes(graph: "PortGraph", tags: Sequence[str] | None, args: argparse.Namespace) -> int:
    """Print the hole schedule alone; 1 if a hole is wrong or its diameter is not known."""
    from fitcheck.making.holes import hole_schedule

    made = hole_schedule(graph, tags)
    put(args.output, _schedule(made, args.format, args.paper or "a4"))
    return 1 if any(job.wrong or job.mm is None for job in made.jobs) else 0


def _schedule(made: "HoleSchedule", form: str, paper: str) -> str:
    """Return the hole schedule in the form asked for."""
    if form == "html":
        from fitcheck.reports.make_page import holes_html

        return holes_html(made, "letter" if paper == "letter" else "a4")
    if form == "text":
        from fitcheck.reports.make_holes import holes_text

        return holes_text(made)
    from fitcheck.reports.make_holes_data import holes_csv, holes_json

    return holes_json(made) if form == "json" else holes_csv(made)


def _written(made: "Sheets", holes: "HoleSchedule", form: str, paper: str) -> str:
    """Return the sheets in the form asked for."""
    if form == "json":
        from fitcheck.reports.make_json import make_json

        return make_json(made, holes)
    if form == "csv":
        from fitcheck.reports.make_csv import make_csv

        return make_csv(made)
    if form == "svg":
        from fitcheck.reports.make_svg import make_svg

        return make_svg(made)
    if form == "html":
        from fitcheck.reports.make_page import make_html

        return make_html(made, "letter" if paper == "letter" else "a4", holes)
    if form == "dxf":
        return _dxf(made)
    from fitcheck.reports.make_text import make_text

    return make_text(made, holes)


def _dxf(made: "Sheets") -> str:
    from fitcheck.reports.make_dxf import make_dxf, without_shape

    text = make_dxf(made)
    left_out = without_shape(made)
    if left_out:
        print(printable(f"not drawn, no shape in space: {', '.join(left_out)}"), file=sys.stderr)
    return text
