"""`fitcheck pedal`: pressure, stroke, travel, balance and failures, from the foot to the caliper."""

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from fitcheck.cli.common import RequestError, build_arguments, printable, read_build
from fitcheck.cli.output import put, refuse_inputs

if TYPE_CHECKING:
    from fitcheck.build.load import Build
    from fitcheck.hydraulics.record import Answer

_FORMATS = ("text", "json", "svg")
_FORMS = """\
svg: pressure and travel over force, where the fluid goes, balance, circuits lost (needs fitcheck[plot]).
Exit code 1: a piston, pedal or clutch comes to its end even at its kindest, a clause of a rule that the build names
is not met, or pedal or piston comes to its end with one circuit lost; with --against, in the variant."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments."""
    parser.epilog, parser.formatter_class = _FORMS, argparse.RawDescriptionHelpFormatter
    build_arguments(parser, _FORMATS)
    parser.add_argument(
        "--force", metavar="F", help="push of the foot on the brake pedal, such as '450 N' or '100 lbf'"
    )
    parser.add_argument("--against", metavar="NAME", help="side by side with this variant of the build")
    parser.add_argument("--output", metavar="FILE", help="write the answer to this file")


def run(args: argparse.Namespace) -> int:
    """Print what the pedals do, or write it to a file; 1 if something is wrong at level error."""
    from fitcheck.reports.pedal_concerns import wrong

    foot = _force(args.force)
    if args.against is not None and args.format == "svg":
        raise RequestError("--against goes with --format text or json")
    build = read_build(args)
    if args.output:
        refuse_inputs(build, Path(args.build), Path(args.output))
    found = _answer(build, foot)
    if args.against is None:
        put(args.output, _written(found, args.format))
        return 1 if wrong(found) else 0
    from fitcheck.build.load import load

    other = _answer(load(Path(args.build), args.against), foot)
    put(args.output, _beside(found, other, args))
    return 1 if wrong(other) else 0


def _force(text: str | None) -> float | None:
    from fitcheck.quantities import QuantityError, parse

    if text is None:
        return None
    try:
        force = parse(text, "force")
    except QuantityError as error:
        raise RequestError(f"--force: {error}") from None
    if force <= 0.0:
        raise RequestError(f"--force: expected more than zero, got {force.text!r}")
    return force


def _answer(build: "Build", foot: float | None) -> "Answer":
    from fitcheck.build.assemble import assemble
    from fitcheck.hydraulics.answer import answer

    return answer(assemble(build), foot)


def _written(found: "Answer", form: str) -> str:
    """Return the answer in the form asked for."""
    if form == "json":
        from fitcheck.reports.pedal_json import pedal_json

        return pedal_json(found)
    if form == "svg":
        from fitcheck.reports.pedal_svg import pedal_svg

        if found.gaps:
            print(printable(f"not computed, see --format text: {len(found.gaps)} fields are missing"), file=sys.stderr)
        return pedal_svg(found)
    from fitcheck.reports.pedal_text import pedal_text

    return pedal_text(found)


def _beside(found: "Answer", other: "Answer", args: argparse.Namespace) -> str:
    """Return two answers side by side."""
    from fitcheck.reports.pedal_beside import Sides, beside_json, beside_text

    sides = Sides(args.variant or "as it is", args.against, found, other)
    return beside_json(sides) if args.format == "json" else beside_text(sides)
