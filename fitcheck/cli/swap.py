"""`fitcheck swap`: the same build with parts exchanged, and only what that changes; or what could replace a part."""

import argparse
from pathlib import Path
from typing import Final, NamedTuple

from fitcheck.build.load import Build, build_path, load
from fitcheck.build.variants import swapped_document
from fitcheck.cli.common import RequestError, common_arguments, count
from fitcheck.naming import hint

MOST: Final = 10
"""How many replacements are listed if the command line does not say."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments."""
    parser.usage = (
        "fitcheck swap [BUILD] TAG=PART [TAG=PART ...] [--write] [--on DATE] [--format text|json] [--variant NAME]\n"
        "       fitcheck swap [BUILD] TAG [--most N] [--format text|json] [--variant NAME]"
    )
    parser.add_argument(
        "words",
        nargs="+",
        metavar="BUILD, TAG=PART or TAG",
        help="what to exchange for what; a TAG alone lists what could replace it, best first",
    )
    parser.add_argument("--write", action="store_true", help="edit the build file in place")
    parser.add_argument("--on", metavar="DATE", help="when orders would go out (default: now)")
    parser.add_argument("--most", metavar="N", type=count, help=f"of a TAG alone: list at most N (default: {MOST})")
    common_arguments(parser, ("text", "json"))


def run(args: argparse.Namespace) -> int:
    """Print what the exchange changes; 1 if the changed build has findings at level error.

    Without a part print what could replace the tag, and return 0.
    """
    asked = _asked(args.words)
    if asked.tag is not None:
        return _list(args, asked.place, asked.tag, asked.named)
    if args.most is not None:
        raise RequestError("--most goes with a TAG alone, which lists what could replace it")
    return _exchange(args, asked.place, asked.swaps)


def _exchange(args: argparse.Namespace, place: Path, swaps: dict[str, str]) -> int:
    from fitcheck.cli.days import moment
    from fitcheck.remedies.exchanged import exchanged
    from fitcheck.reports.swap_text import swap_json, swap_text

    if args.write and args.variant:
        raise RequestError("--write edits the build itself, so it does not go with --variant")
    before, after = load(place, args.variant), load(place, args.variant, swaps)
    _known_parts(after, swaps)
    found = exchanged(before, after, moment("--on", args.on))
    show = swap_json if args.format == "json" else swap_text
    print(show(*found))
    if args.write:
        write_swaps(build_path(place), swaps)
        if args.format == "text":
            print(f"{build_path(place)} now says so")
    return 1 if found.after.failed else 0


class _Asked(NamedTuple):
    """What the words ask for: exchanges, or the replacements of `tag`. `named` is the build as it was typed, if so."""

    place: Path
    swaps: dict[str, str]
    tag: str | None = None
    named: str | None = None


def _asked(words: list[str]) -> _Asked:
    swaps = _swaps(words)
    bare = [word for word in words if "=" not in word]
    if swaps:
        if len(bare) > 1:
            raise RequestError(f"expected TAG=PART, got {bare[1]!r}")
        return _Asked(Path(bare[0] if bare else "."), swaps)
    if len(bare) > 2:
        raise RequestError(f"expected one TAG, or TAG=PART, got {bare[2]!r}")
    if len(bare) == 2:
        return _Asked(Path(bare[0]), {}, bare[1], bare[0])
    if _is_build(Path(bare[0])):
        raise RequestError("say what to exchange: TAG=PART, or TAG alone to see what could replace it")
    return _Asked(Path(), {}, bare[0])


def _is_build(path: Path) -> bool:
    return build_path(path).is_file()


def _swaps(words: list[str]) -> dict[str, str]:
    swaps: dict[str, str] = {}
    for word in words:
        tag, equals, part = word.partition("=")
        if equals and not (tag and part):
            raise RequestError(f"expected TAG=PART, got {word!r}")
        if equals and tag in swaps:
            raise RequestError(f"{tag} is to be exchanged twice")
        if equals:
            swaps[tag] = part
    return swaps


def _list(args: argparse.Namespace, place: Path, tag: str, named: str | None) -> int:
    """Print what could replace `tag`."""
    from shlex import quote

    from fitcheck.build.assemble import assemble
    from fitcheck.checks.context import Context
    from fitcheck.reports.replacements_text import listing_of, replacements_json, replacements_text

    if args.write:
        raise RequestError("--write goes with TAG=PART: say which part is to be written")
    context = Context(assemble(load(place, args.variant)))
    fitted = context.graph.fitted
    if tag not in fitted:
        raise RequestError(f"nothing here has the tag {tag!r}{hint(tag, fitted)}")
    command = f"fitcheck swap {quote(named)}" if named is not None else "fitcheck swap"
    options = f" --variant {quote(args.variant)}" if args.variant else ""
    listing = listing_of(context, tag, args.most or MOST, command, options)
    print(replacements_json(listing) if args.format == "json" else replacements_text(listing))
    return 0


def _known_parts(build: Build, swaps: dict[str, str]) -> None:
    for part in swaps.values():
        if part not in build.shelf:
            raise RequestError(f"no catalog has a part {part!r}{hint(part, build.shelf.ids())}")


def write_swaps(path: Path, swaps: dict[str, str]) -> None:
    """Put other part ids into the build file and leave every other byte as it is.

    The file is written to a temporary neighbour and renamed: an interrupted run loses nothing.
    """
    from fitcheck.sources import read, write_atomically

    write_atomically(path, swapped_document(read(path), swaps).text)
