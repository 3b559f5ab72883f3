"""`fitcheck cut`: the cutting list: which tube is cut from which coil or offcut, in which order, what is left."""

import argparse
from datetime import date

from fitcheck.cli.common import RequestError, build_arguments, read_build
from fitcheck.cli.lengths import length


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments."""
    build_arguments(parser, ("text", "json"))
    parser.add_argument("--kerf", metavar="LENGTH", help="what each cut takes away, such as 1mm (default: nothing)")
    parser.add_argument(
        "--stock",
        metavar="LENGTH",
        nargs="+",
        action="extend",
        default=[],
        help="lengths that tube comes in, such as 25ft 5m (default: what is on offer, else 25 ft)",
    )


def run(args: argparse.Namespace) -> int:
    """Print the cutting list; 1 if a piece is in no bar."""
    from fitcheck.bom.cutting import Sources, cutting_list
    from fitcheck.bom.take_off import take_off
    from fitcheck.build.assemble import assemble

    kerf = length("--kerf", args.kerf) if args.kerf is not None else 0.0
    asked = tuple(length("--stock", text) for text in args.stock)
    if not all(asked):
        raise RequestError("--stock: expected a length of more than 0 mm")
    build = read_build(args)
    today = date.today()
    sources = Sources(build.offers(), build.stock(), build.shelf, today, asked)
    cutting = cutting_list(take_off(assemble(build), on=today), sources, kerf)
    if args.format == "json":
        from fitcheck.reports.cut_json import cut_json

        print(cut_json(cutting))
    else:
        from fitcheck.reports.cut_text import cut_text

        print(cut_text(cutting))
    return 0 if cutting.complete else 1
