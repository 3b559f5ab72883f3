"""`fitcheck cure`: the best remedies applied together and checked again."""

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from fitcheck.build.load import build_path
from fitcheck.cli.common import RequestError, build_arguments, read_build

if TYPE_CHECKING:
    from fitcheck.remedies.cure import Cured


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments."""
    build_arguments(parser, ("text", "json"))
    parser.add_argument(
        "--only", metavar="TAG", action="append", help="cure only what speaks of this tag or end; may be given again"
    )
    parser.add_argument(
        "--write", action="store_true", help="edit the build file in place; not with --variant (exit 2)"
    )


def run(args: argparse.Namespace) -> int:
    """Print what the cure does and what is left; 1 if anything stands at level error after it."""
    from fitcheck.build.assemble import assemble
    from fitcheck.checks.context import Context
    from fitcheck.checks.run import check_context
    from fitcheck.naming import hint
    from fitcheck.remedies.cure import cure, places
    from fitcheck.reports.cure_text import cure_json, cure_text

    if args.write and args.variant:
        raise RequestError("--write edits the build itself, so it does not go with --variant")
    build = read_build(args)
    context = Context(assemble(build))
    report = check_context(context)
    known = places(context, report)
    for name in args.only or ():
        if name not in known:
            raise RequestError(f"nothing here has the tag {name!r}{hint(name, known)}")
    cured = cure(context, report, args.only or (), in_text=not args.variant)
    print((cure_json if args.format == "json" else cure_text)(cured))
    if args.write:
        _write(build_path(Path(args.build)), cured)
    return 1 if cured.report_after.failed else 0


def _write(path: Path, cured: "Cured") -> None:
    """Write the cured text, and say whether anything was written."""
    from fitcheck.sources import write_atomically

    if cured.applied:
        write_atomically(path, cured.text)
        print(f"{path} now says so", file=sys.stderr)
    else:
        print(f"nothing written: {path} stays as it is", file=sys.stderr)
