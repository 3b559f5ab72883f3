"""What the verbs share: arguments, reading the build, printing, errors."""

import argparse
import json
import os
import sys
from collections.abc import Sequence
from contextlib import AbstractContextManager, nullcontext
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from fitcheck.build.load import Build, load
from fitcheck.errors import FitcheckError
from fitcheck.sources import InputError

if TYPE_CHECKING:
    from fitcheck.checks.context import Context


class RequestError(FitcheckError, ValueError):
    """The command line asks for something that cannot be."""


def answer(verb: str, about: str, rest: Sequence[str]) -> int:
    """Parse `rest` for `verb`, answer it, and return the exit code. Errors are told on standard error."""
    module = import_module(f"fitcheck.cli.{verb}")
    parser = argparse.ArgumentParser(prog=f"fitcheck {verb}", description=about, allow_abbrev=False)
    module.add_arguments(parser)
    intermixed = getattr(module, "INTERMIXED", False)  # words before and after options, as many as one likes
    args = (parser.parse_intermixed_args if intermixed else parser.parse_args)(rest)
    _never_fail_on_output()
    try:
        with _progress():
            code: int = module.run(args)
    except InputError as error:
        return _tell(error, getattr(args, "format", "text"))
    except FitcheckError as error:
        if getattr(args, "format", "text") == "json":
            print(json.dumps({"problems": [{"message": str(error)}]}, indent=2, ensure_ascii=False))
        print(f"fitcheck: {printable(str(error))}", file=sys.stderr)
        return 2
    return code


def _progress() -> AbstractContextManager[None]:
    """Return what shows how far long work is, if somebody is looking at a terminal."""
    if not _is_terminal(sys.stderr):
        return nullcontext()
    from fitcheck.cli.bar import Bar, columns_of
    from fitcheck.progress import shown_by

    return shown_by(Bar(sys.stderr, columns_of(sys.stderr)).show)


def _is_terminal(stream: TextIO | None) -> bool:
    """Return whether a stream is a terminal that can write over a line and change colours."""
    return stream is not None and stream.isatty() and os.environ.get("TERM") != "dumb"


def coloured() -> bool:
    """Return whether the answer may have colours: on a terminal, unless NO_COLOR says anything (no-color.org)."""
    return _is_terminal(sys.stdout) and not os.environ.get("NO_COLOR")


def _never_fail_on_output() -> None:
    """Let a terminal that cannot show a character show its escape instead of ending the run."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="backslashreplace")


def _tell(error: InputError, form: str) -> int:
    if form == "json":
        problems = [problem._asdict() for problem in error.problems]
        print(json.dumps({"problems": problems}, indent=2, ensure_ascii=False))
    elif form == "junit":
        from datetime import UTC, datetime

        from fitcheck.reports.check_junit import problems_junit

        print(problems_junit(error.problems, datetime.now(UTC)))
    print(printable(str(error)), file=sys.stderr)
    count = len(error.problems)
    print(f"{count} problem{'' if count == 1 else 's'}; nothing was checked and no file was changed", file=sys.stderr)
    return 2


def printable(text: str) -> str:
    """Return `text` with control characters made visible, so that no file can drive the terminal."""
    from fitcheck.reports.plain import visible

    return "\n".join(map(visible, text.split("\n")))


def build_arguments(parser: argparse.ArgumentParser, formats: Sequence[str]) -> None:
    """Add what every verb about a build takes."""
    parser.add_argument("build", nargs="?", default=".", help="build file, or folder with build.yaml")
    common_arguments(parser, formats)


def common_arguments(parser: argparse.ArgumentParser, formats: Sequence[str]) -> None:
    """Add `--format` and `--variant`."""
    parser.add_argument("--format", choices=formats, default="text", help="form of the answer (default: text)")
    parser.add_argument("--variant", metavar="NAME", help="apply this variant of the build first")


def count(text: str) -> int:
    """Return the whole number of at least 1 that an option says.

    Raises:
        ArgumentTypeError: it says none.
    """
    from fitcheck.trees import short

    if not (text.isascii() and text.isdigit() and len(text) <= 9 and int(text) > 0):
        raise argparse.ArgumentTypeError(f"expected a whole number of at least 1, got {short(text)}")
    return int(text)


def cured(context: "Context") -> "Context":
    """Return a build with its best remedies in it; what has none is told on standard error."""
    from fitcheck.checks.run import check_context
    from fitcheck.remedies.cure import cure

    done = cure(context, check_context(context), in_text=False)
    for finding in done.left:
        print(f"no remedy for {finding.rule} at {', '.join(finding.at)}: not in this bill", file=sys.stderr)
    return done.after


def read_build(args: argparse.Namespace) -> Build:
    """Return the build that the arguments name.

    Raises:
        InputError: it cannot be read.
    """
    return load(Path(args.build), args.variant)
