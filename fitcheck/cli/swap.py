"""`fitcheck swap`: the same build with parts exchanged, and only what that changes."""

import argparse
from pathlib import Path

from fitcheck.build.load import Build, build_path, load
from fitcheck.build.variants import swap_path
from fitcheck.cli.common import RequestError, common_arguments
from fitcheck.naming import hint


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments."""
    parser.usage = "fitcheck swap [BUILD] TAG=PART [TAG=PART ...] [--write] [--format text|json] [--variant NAME]"
    parser.add_argument("words", nargs="+", metavar="BUILD or TAG=PART", help="what to exchange for what")
    parser.add_argument("--write", action="store_true", help="edit the build file in place")
    common_arguments(parser, ("text", "json"))


def run(args: argparse.Namespace) -> int:
    """Print what the exchange changes; 1 if the changed build has findings at level error."""
    from fitcheck.bom.change import compare
    from fitcheck.bom.take_off import take_off
    from fitcheck.build.assemble import assemble
    from fitcheck.checks.context import Context
    from fitcheck.checks.run import check_context
    from fitcheck.reports.swap_text import swap_json, swap_text

    place, swaps = _asked(args.words)
    if args.write and args.variant:
        raise RequestError("--write edits the build itself, so it does not go with --variant")
    before, after = load(place, args.variant), load(place, args.variant, swaps)
    _known_parts(after, swaps)
    contexts = [Context(assemble(build)) for build in (before, after)]
    reports = [check_context(context) for context in contexts]
    if reports[1].failed:
        from fitcheck.remedies.adapters import with_adapters

        reports[1] = with_adapters(contexts[1], reports[1])
    boms = [take_off(context.graph) for context in contexts]
    show = swap_json if args.format == "json" else swap_text
    print(show(reports[0], reports[1], compare(boms[0], boms[1])))
    if args.write:
        write_swaps(build_path(place), swaps)
        if args.format == "text":
            print(f"{build_path(place)} now says so")
    return 1 if reports[1].failed else 0


def _asked(words: list[str]) -> tuple[Path, dict[str, str]]:
    places = [word for word in words if "=" not in word]
    if len(places) > 1:
        raise RequestError(f"expected TAG=PART, got {places[1]!r}")
    swaps: dict[str, str] = {}
    for word in words:
        tag, equals, part = word.partition("=")
        if equals and not (tag and part):
            raise RequestError(f"expected TAG=PART, got {word!r}")
        if equals and tag in swaps:
            raise RequestError(f"{tag} is to be exchanged twice")
        if equals:
            swaps[tag] = part
    if not swaps:
        raise RequestError("say what to exchange: TAG=PART")
    return Path(places[0] if places else "."), swaps


def _known_parts(build: Build, swaps: dict[str, str]) -> None:
    for part in swaps.values():
        if part not in build.shelf:
            raise RequestError(f"no catalog has a part {part!r}{hint(part, build.shelf.ids())}")


def write_swaps(path: Path, swaps: dict[str, str]) -> None:
    """Put other part ids into the build file and leave every other byte as it is.

    The file is written to a temporary neighbour and renamed: an interrupted run loses nothing.
    """
    from fitcheck.edits import replace_scalar
    from fitcheck.sources import parse, read, write_atomically

    document = read(path)
    for tag, part in swaps.items():
        text = replace_scalar(document, swap_path(document, tag), part)
        document = parse(text, document.name)
    write_atomically(path, document.text)
