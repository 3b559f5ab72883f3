"""`fitcheck parts`: search the catalogs; everything about one part; take a price list in."""

import argparse
import shutil
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Final

from fitcheck.cli import parts_take_in
from fitcheck.cli.common import RequestError, count
from fitcheck.naming import hint
from fitcheck.trees import short

if TYPE_CHECKING:
    from fitcheck.catalog.search import Query
    from fitcheck.catalog.shelf import Shelf
    from fitcheck.standards.threads import Thread

_MOST: Final = 20
_FORMATS: Final = ("text", "json")


class _Parser(argparse.ArgumentParser):
    """A parser that lets options stand anywhere among the words."""

    _inside = False

    def parse_known_args(self, args: Any = None, namespace: Any = None) -> tuple[Any, list[str]]:
        """Parse words and options in any order."""
        if self._inside:  # the way through asks for the plain parsing below it
            return super().parse_known_args(args, namespace)
        self._inside = True
        try:
            return self.parse_known_intermixed_args(args, namespace)
        finally:
            self._inside = False


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments."""
    below = parser.add_subparsers(dest="action", required=True, metavar="search|show|take-in", parser_class=_Parser)
    text = "the parts that every word fits; words may be cut short: tee 3/16, m10 bubble nut, 37 union"
    search = below.add_parser("search", help="find parts by words", description=text, allow_abbrev=False)
    search.add_argument("words", nargs="*", metavar="WORD", help="in the id, description, kind, material, thread, seat")
    search.add_argument("--kind", metavar="KIND", help="only parts of this kind: nut, tee, 'banjo bolt', ...")
    search.add_argument("--thread", metavar="DESIGNATION", help="with a port of this thread: M10x1, '3/8-24 UNF'")
    search.add_argument("--seat", metavar="SEAT", help="with a port of this seat: bubble, inverted-flare, ...")
    search.add_argument("--tube", metavar="SIZE", help="with a port for tube of this outside diameter: '3/16 in'")
    search.add_argument("--most", metavar="N", type=count, default=_MOST, help=f"show at most N (default: {_MOST})")
    show = below.add_parser(
        "show", help="everything about one part", description="everything about one part", allow_abbrev=False
    )
    show.add_argument("part", metavar="ID", help="the id of a part")
    taken = below.add_parser(
        "take-in", help="a supplier's price list", description=parts_take_in.ABOUT, allow_abbrev=False
    )
    parts_take_in.add_arguments(taken)
    for each in (search, show, taken):
        each.add_argument("--build", metavar="BUILD", help="look into the catalogs of this build too, and first")
        each.add_argument("--format", choices=_FORMATS, default="text", help="form of the answer (default: text)")


def run(args: argparse.Namespace) -> int:
    """Print what was found; 1 if nothing was."""
    if args.action == "take-in":
        return parts_take_in.run(args, _shelf(args.build), _width())
    return _search(args) if args.action == "search" else _show(args)


def _search(args: argparse.Namespace) -> int:
    from fitcheck.catalog.search import Index
    from fitcheck.reports.parts_text import Search, search_json, search_text

    query = _query(args)
    index = Index(_shelf(args.build))
    found = index.search(query)
    answer = Search(tuple(args.words), len(index.entries), found, args.most, None if found else index.miss(query))
    print(search_json(answer) if args.format == "json" else search_text(answer, width=_width()))
    return 0 if found else 1


def _show(args: argparse.Namespace) -> int:
    from fitcheck.reports.parts_text import no_part_json, no_part_text, part_json, part_text

    shelf = _shelf(args.build)
    part = shelf.get(args.part)
    if part is None:
        print(no_part_json(shelf, args.part) if args.format == "json" else no_part_text(shelf, args.part))
        return 1
    print(part_json(shelf, part) if args.format == "json" else part_text(shelf, part, width=_width()))
    return 0


def _shelf(build: str | None) -> "Shelf":
    """Return the shipped catalog, under those of the build if one is named."""
    from fitcheck.catalog.shelf import Shelf

    if build is None:
        return Shelf.generic()
    from pathlib import Path

    from fitcheck.build.load import load

    return load(Path(build)).shelf


def _query(args: argparse.Namespace) -> "Query":
    """Return what is asked for.

    Raises:
        FitcheckError: nothing is asked for, or an option holds no such thing.
    """
    from fitcheck.catalog.part import KINDS
    from fitcheck.catalog.search import Query
    from fitcheck.standards.seats import SEAT_NAMES

    query = Query.of(
        args.words,
        kind=_known("--kind", "kind of part", args.kind, KINDS),
        seat=_known("--seat", "seat", args.seat, SEAT_NAMES),
        thread=_thread(args.thread) if args.thread is not None else None,
        tube=_length(args.tube) if args.tube is not None else None,
    )
    if query.empty:
        asked = f"{short(' '.join(args.words))} holds no word" if args.words else "say what to look for"
        raise RequestError(f"{asked}: a word or two such as tee 3/16, or --kind, --thread, --seat, --tube")
    return query


def _known(option: str, what: str, value: str | None, known: Sequence[str]) -> str | None:
    if value is None or value in known:
        return value
    raise RequestError(f"{option}: {short(value)} is no {what}{hint(value, known)}; known: {', '.join(known)}")


def _thread(text: str) -> "Thread":
    from fitcheck.standards.threads import ThreadDesignationError, parse

    try:
        return parse(text)
    except ThreadDesignationError as error:
        raise RequestError(f"--thread: {error}") from None


def _length(text: str) -> float:
    from fitcheck.quantities import QuantityError, parse

    try:
        return parse(text, "length")
    except QuantityError as error:
        raise RequestError(f"--tube: {error}") from None


def _width() -> int:
    return min(shutil.get_terminal_size((80, 24)).columns, 110)
