"""`fitcheck pack`: everything about a build in one HTML file and one PDF, to look at and to print."""

import argparse
import os
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Final

from fitcheck.cli.common import RequestError, printable, read_build
from fitcheck.cli.output import refuse_inputs, write

if TYPE_CHECKING:
    from fitcheck.build.load import Build
    from fitcheck.reports.pack.record import Pack, Revision

_EPILOG: Final = """\
pack.html: one file, no script, nothing from outside; pack.pdf: the same with page numbers (needs fitcheck[print]).
The date is that of --on, else of SOURCE_DATE_EPOCH, else today's; the same files and date give the same bytes.
Exit code 1: findings at level error stand in the build. The pack is made all the same, and says so on each page."""
_EPOCH: Final = "SOURCE_DATE_EPOCH"
"""Seconds since 1970 that a build environment sets for what it makes (the specification of reproducible builds)."""
_MARKS: Final = {"html": b'<meta name="generator" content="fitcheck pack">', "pdf": b"/Creator (fitcheck pack)"}
_LOOKED_AT: Final = 400
"""How far into a page its mark stands [bytes]; that of a PDF may stand anywhere."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments."""
    parser.epilog, parser.formatter_class = _EPILOG, argparse.RawDescriptionHelpFormatter
    parser.add_argument("build", nargs="?", default=".", help="build file, or folder with build.yaml")
    parser.add_argument("--out", metavar="DIR", required=True, help="folder for pack.html and pack.pdf")
    parser.add_argument("--only", choices=("html", "pdf"), help="one of the two files only")
    parser.add_argument("--on", metavar="DATE", help="the day the pack is made for: 2026-12-01 (default: today)")
    parser.add_argument("--paper", choices=("a4", "letter"), default="a4", help="paper to print on (default: a4)")
    parser.add_argument("--variant", metavar="NAME", help="apply this variant of the build first")
    parser.add_argument("--force", action="store_true", help="replace files of these names that are no packs")


def run(args: argparse.Namespace) -> int:
    """Write the pack; 1 if findings at level error stand in it."""
    from fitcheck.progress import task

    forms = (args.only,) if args.only else ("html", "pdf")
    if not args.out:
        raise RequestError("--out: expected the name of a folder, got ''")
    on = _day(args.on)
    if "pdf" in forms:
        from fitcheck.reports.pack.pdf import ready

        ready()
    try:
        before = _revision(args, on)
    finally:
        build = read_build(args)  # what is wrong with a file is told better by who reads it
    targets = {form: Path(args.out) / f"pack.{form}" for form in forms}
    _refuse(build, args, targets)
    with task("making the pack"):
        pack, failed = _gathered(build, before, args.paper)
        made = {form: _written(pack, form, args.paper) for form in forms}
    if _revision(args, on) != before:
        raise RequestError("a file of the build was changed while the pack was made: make it again")
    _make_folder(Path(args.out))
    for form, content in made.items():
        write(str(targets[form]), content)
    return 1 if failed else 0


def _day(text: str | None) -> date:
    """Return the day of the pack: as asked for, as the environment says, today."""
    from fitcheck.cli.days import day

    if text is not None:
        return day("--on", text)
    epoch = os.environ.get(_EPOCH)
    if epoch is None:
        return datetime.now().date()
    try:
        return datetime.fromtimestamp(int(epoch), UTC).date()
    except (ValueError, OverflowError, OSError):
        raise RequestError(f"{_EPOCH}: expected seconds since 1970, got {epoch[:40]!r}") from None


def _revision(args: argparse.Namespace, on: date) -> "Revision":
    """Return the revision of the files as they are now.

    Raises:
        InputError: one of them cannot be read.
    """
    from fitcheck.build.files import files_of
    from fitcheck.build.load import build_path
    from fitcheck.reports.pack.record import revision
    from fitcheck.sources import content

    path = Path(build_path(Path(args.build)))
    found = files_of(path)
    named = [(os.path.relpath(each, path.parent).replace(os.sep, "/"), content(each)) for each in found]
    return revision(named, on, args.variant)


def _refuse(build: "Build", args: argparse.Namespace, targets: dict[str, Path]) -> None:
    """Refuse to write over what the build is read from, and over what is no pack.

    Raises:
        RequestError: that would happen, the folder is a file or cannot be written to, or a file is a folder.
    """
    _refuse_folder(Path(args.out))
    for form, target in targets.items():
        refuse_inputs(build, Path(args.build), target)
        if target.is_dir():
            raise RequestError(f"{target} is a folder: take another --out")
        if not args.force and target.exists() and not _is_pack(target, form):
            raise RequestError(f"{target} is there already and is no pack: take another --out, or --force")


def _refuse_folder(out: Path) -> None:
    """Refuse a folder that nothing can be written to, before the work is done.

    Raises:
        RequestError: it is none, or the program may not make it or write to it.
    """
    shown = printable(str(out))
    try:
        out.lstat()
    except (FileNotFoundError, NotADirectoryError):
        pass  # it is made later, or refused then
    except (OSError, ValueError) as error:
        raise RequestError(f"--out: {shown} cannot be looked at: {_reason(error)}") from None
    else:
        if not out.exists():
            raise RequestError(f"--out: {shown} is a link that leads nowhere")
        if not out.is_dir():
            raise RequestError(f"--out: {shown} is no folder")
    there = next(place for place in (out, *out.absolute().parents) if place.exists())
    if there.is_dir() and not os.access(there, os.W_OK | os.X_OK):
        raise RequestError(f"--out: {printable(str(there))} may not be written to")


def _reason(error: Exception) -> str:
    return ((error.strerror if isinstance(error, OSError) else str(error)) or "it is refused").lower()


def _is_pack(target: Path, form: str) -> bool:
    try:
        with target.open("rb") as file:
            return _MARKS[form] in (file.read(_LOOKED_AT) if form == "html" else file.read())
    except OSError:
        return False


def _gathered(build: "Build", revision: "Revision", paper: str) -> "tuple[Pack, bool]":
    """Return the pack of a build, and whether findings at level error stand in it."""
    from fitcheck.cli.check import checked
    from fitcheck.reports.pack.gather import gather

    found = checked(build)
    return gather(found.context, found.report, revision, paper), found.report.failed


def _written(pack: "Pack", form: str, paper: str) -> bytes:
    if form == "html":
        from fitcheck.reports.pack.page import pack_html

        return pack_html(pack, paper).encode("utf-8")
    from fitcheck.reports.pack.pdf import pack_pdf

    return pack_pdf(pack, paper)


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise RequestError(f"--out: {printable(str(folder))} cannot be made: {_reason(error)}") from None
