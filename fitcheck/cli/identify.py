"""`fitcheck identify`: which threads a measured fitting can be, and its look-alikes."""

import argparse

from fitcheck.cli.common import RequestError
from fitcheck.measures import LengthUnit
from fitcheck.standards.threads.identify import identify
from fitcheck.standards.threads.reading import Reading, reading
from fitcheck.standards.threads.tell_apart import confusions


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments."""
    parser.add_argument("--od", metavar="LENGTH", help="external thread: diameter over the crests, such as 9.4mm")
    parser.add_argument("--bore", metavar="LENGTH", help="internal thread: diameter across the crests, such as 8.6mm")
    parser.add_argument("--internal", action="store_true", help="it is an internal thread, measured by --bore")
    parser.add_argument(
        "--pitch", required=True, help="24tpi or 1mm by pitch gauge, or turns over a length: '10 in 10.6mm'"
    )
    parser.add_argument("--tube", metavar="LENGTH", help="outside diameter of the tube that the fitting takes")
    parser.add_argument("--format", choices=("text", "json", "svg"), default="text", help="form of the answer")


def run(args: argparse.Namespace) -> int:
    """Print what the reading can be of; 1 if no thread is like that."""
    found = identify(_reading(args))
    if args.format == "svg":
        from fitcheck.reports.identify_svg import identify_svg

        print(identify_svg(found))
    else:
        from fitcheck.build.units import in_inches
        from fitcheck.reports.identify_text import identify_json, identify_text

        apart = confusions(found)
        unit: LengthUnit = "in" if in_inches(args.od or args.bore) else "mm"
        print(identify_json(found, apart) if args.format == "json" else identify_text(found, apart, unit=unit))
    return 0 if found.candidates else 1


def _reading(args: argparse.Namespace) -> Reading:
    if args.od is not None and args.bore is not None:
        raise RequestError("one thread at a time: --od for an external, --bore for an internal one")
    if args.internal and args.bore is None:
        raise RequestError("an internal thread is measured across its crests: give --bore instead of --od")
    crest = args.bore if args.bore is not None else args.od
    if crest is None:
        raise RequestError("expected --od LENGTH of an external thread or --bore LENGTH of an internal one")
    return reading(crest, args.pitch, internal=args.bore is not None, tube=args.tube)
