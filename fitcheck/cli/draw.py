"""`fitcheck draw`: the circuit diagram, and the car seen from above, from the side and from ahead."""

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Final

from fitcheck.cli.common import RequestError, read_build
from fitcheck.cli.output import refuse_inputs, refuse_nameless, write

if TYPE_CHECKING:
    from collections.abc import Iterator

    from fitcheck.checks.context import Context
    from fitcheck.checks.findings import Report
    from fitcheck.reports.drawing import Drawing, Theme

_VIEWS: Final = ("circuit", "plan", "side", "front", "all")
_FORMATS: Final = ("svg", "pdf")
_THEMES: "Final[tuple[Theme, ...]]" = ("auto", "light", "dark")
_EPILOG: Final = """\
circuit: symbols after ISO 1219-1, from the pedals on the left to the wheels on the right; needs no positions.
plan, side, front: to scale, in the car's coordinates.
pdf: a page for each view: A4, A3, or the drawing's own size (needs fitcheck[print])."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments."""
    parser.epilog, parser.formatter_class = _EPILOG, argparse.RawDescriptionHelpFormatter
    parser.add_argument("build", nargs="?", default=".", help="build file, or folder with build.yaml")
    parser.add_argument("--view", choices=_VIEWS, default="circuit", help="what is drawn (default: circuit)")
    parser.add_argument("--format", choices=_FORMATS, default="svg", help="form of the answer (default: svg)")
    parser.add_argument("--theme", choices=_THEMES, help="paper: auto follows the reader's (default: auto; pdf: light)")
    parser.add_argument("--no-findings", action="store_true", help="draw the build alone, nothing is checked")
    parser.add_argument("--output", metavar="FILE", help="write the drawing to this file")
    parser.add_argument("--variant", metavar="NAME", help="apply this variant of the build first")


def run(args: argparse.Namespace) -> int:
    """Print a drawing, or write it to a file; 1 if findings at level error stand on it."""
    from fitcheck.build.assemble import assemble
    from fitcheck.checks.context import Context
    from fitcheck.checks.run import check_context
    from fitcheck.reports.drawing import sheet, stacked

    if args.format == "pdf" and args.output is None and sys.stdout.isatty():
        raise RequestError("a PDF goes to a file: name it by --output")
    refuse_nameless(args.output)
    build = read_build(args)
    if args.output is not None:
        refuse_inputs(build, Path(args.build), Path(args.output))
    context = Context(assemble(build))
    report = None if args.no_findings else check_context(context)
    drawings = list(_drawings(context, report, args.view))
    if args.format == "pdf":
        from fitcheck.reports.svg_pdf import svg_pdf

        theme: Theme = "light" if args.theme in (None, "auto") else args.theme
        _put(args.output, svg_pdf(*(sheet(drawing, theme) for drawing in drawings)))
    else:
        drawing = drawings[0] if len(drawings) == 1 else stacked(drawings, context.file.name)
        _put(args.output, f"{sheet(drawing, args.theme or 'auto')}\n".encode())
    return 1 if report is not None and report.failed else 0


def _drawings(context: "Context", report: "Report | None", view: str) -> "Iterator[Drawing]":
    if view in ("circuit", "all"):
        from fitcheck.reports.diagram.circuit import circuit_drawing

        yield circuit_drawing(context, report)
    if view != "circuit":
        from fitcheck.reports.plan.drawing import plan_drawing
        from fitcheck.reports.plan.views import VIEWS

        yield from (plan_drawing(context, report, each) for each in VIEWS if view in (each, "all"))


def _put(name: str | None, content: bytes) -> None:
    if name is not None:
        write(name, content)
        return
    sys.stdout.flush()
    sys.stdout.buffer.write(content)
