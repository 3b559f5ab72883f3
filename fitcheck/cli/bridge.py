"""`fitcheck bridge`: the adapters that join two ends, best first."""

import argparse
import shutil
from pathlib import Path
from typing import TYPE_CHECKING, Final

from fitcheck.cli.common import RequestError, common_arguments

if TYPE_CHECKING:
    from fitcheck.build.graph import End, PortGraph
    from fitcheck.remedies.bridge import Duty

_MOST: Final = 3
_MOST_CHAINS: Final = 100
_LONGEST: Final = 4
_MOST_ADAPTERS: Final = 8
_END: Final = "an end of the build (mc_front.outlet, front_feed.from) or words: 'M10x1 internal bubble 4.75 mm'"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments."""
    parser.add_argument("first", metavar="END", help=_END)
    parser.add_argument("second", metavar="END", help="the other; '3/16 in tube', 'hose 8 mm', '1/8 NPT female', ...")
    where = "build file, or folder with build.yaml (default: build.yaml here, if there is one)"
    parser.add_argument("--build", metavar="BUILD", help=where)
    parser.add_argument("--most", metavar="K", type=int, default=_MOST, help=f"show at most K (default: {_MOST})")
    longest = f"at most N adapters in a chain, each one more joint that can leak (default: {_LONGEST})"
    parser.add_argument("--longest", metavar="N", type=int, default=_LONGEST, help=longest)
    parser.add_argument(
        "--pressure", metavar="P", help="refuse what is rated below this, such as '10 MPa' or '1500 psi'"
    )
    parser.add_argument("--fluid", metavar="FLUID", help="refuse what is made for others (default: the build's fluid)")
    explain = "also what was refused for pressure, tube size or fluid and would stand before these"
    parser.add_argument("--explain", action="store_true", help=explain)
    common_arguments(parser, ("text", "json"))


def run(args: argparse.Namespace) -> int:
    """Print the chains; 0 if there is one or none is needed, 1 if nothing joins the two ends."""
    from datetime import date

    from fitcheck.remedies.bridge import Bridge
    from fitcheck.remedies.bridge_ends import read_end
    from fitcheck.remedies.bridge_prices import prices_of
    from fitcheck.remedies.bridge_refused import refusals
    from fitcheck.remedies.interfaces import adapters_of
    from fitcheck.reports.bridge_text import Answer, bridge_text

    _within("--most", args.most, _MOST_CHAINS)
    _within("--longest", args.longest, _MOST_ADAPTERS)
    graph, built = _graph(args)
    ends = read_end(args.first, graph, built), read_end(args.second, graph, built)
    adapters = adapters_of(graph, *prices_of(graph.build, date.today()))
    bridge = Bridge(adapters, *ends, _duty(args, graph, *ends), args.longest, lenient=True)
    chains = bridge.best(args.most)
    answer = Answer(bridge, chains, refusals(bridge, chains) if args.explain else None)
    if args.format == "json":
        from fitcheck.reports.bridge_json import bridge_json

        print(bridge_json(answer))
    else:
        print(bridge_text(answer, width=min(shutil.get_terminal_size((80, 24)).columns, 110)))
    return 0 if chains or bridge.direct else 1


def _graph(args: argparse.Namespace) -> tuple["PortGraph", bool]:
    """Return the graph of the build that is named or lies here, and whether there is one; else that of an empty one."""
    from fitcheck.build.assemble import assemble
    from fitcheck.build.load import load, load_document
    from fitcheck.sources import parse

    place = Path(args.build) if args.build is not None else Path("build.yaml")
    if args.build is not None or place.is_file():
        return assemble(load(place, args.variant)), True
    if args.variant is not None:
        raise RequestError("--variant needs a build: there is no build.yaml here, name one with --build")
    return assemble(load_document(parse("build: 1\n", "no build"), Path())), False


def _duty(args: argparse.Namespace, graph: "PortGraph", first: "End", second: "End") -> "Duty":
    """Return what the chains have to stand.

    Raises:
        RequestError: an option holds no pressure or fluid, or an end is not fit for the pressure asked for.
    """
    from fitcheck.errors import FitcheckError
    from fitcheck.quantities import parse
    from fitcheck.remedies.bridge import Duty, weak_seat
    from fitcheck.standards.fluids import fluid

    name = args.fluid if args.fluid is not None else graph.build.file.fluid
    try:
        pressure = parse(args.pressure, "pressure") if args.pressure is not None else None
    except FitcheckError as error:
        raise RequestError(f"--pressure: {error}") from None
    try:
        family = fluid(name).family if name is not None else None
    except FitcheckError as error:
        raise RequestError(f"--fluid: {error}") from None
    for end in (first, second):
        weak = weak_seat(end)
        if weak is not None and pressure is not None:
            raise RequestError(f"--pressure: {end.ref} is a {weak} end, which is not fit for brake pressure")
    return Duty.between(first, second, pressure, family)


def _within(option: str, number: int, most: int) -> None:
    if not 1 <= number <= most:
        raise RequestError(f"{option}: expected a whole number from 1 to {most}, got {number}")
