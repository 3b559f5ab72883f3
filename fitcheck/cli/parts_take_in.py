"""`fitcheck parts take-in`: a supplier's price list becomes parts, offers and a file of rejects."""

import argparse
from pathlib import Path
from typing import TYPE_CHECKING, Final

from fitcheck.cli.common import RequestError

if TYPE_CHECKING:
    from fitcheck.catalog.shelf import Shelf

ABOUT: Final = """\
a supplier's price list (CSV) becomes a catalog file and an offers file, and whatever is not understood a file of
rejects with a reason for each row; only wording that is understood to the last word makes a part"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.add_argument("file", metavar="FILE", help="the price list, as CSV")
    parser.add_argument("--supplier", metavar="NAME", help="who wrote it (default: the name of FILE)")
    parser.add_argument("--columns", metavar="MAP", help="a mapping file: which column holds what")
    parser.add_argument("--currency", metavar="CODE", help="of every price, such as EUR (default: as the list says)")
    parser.add_argument("--out", metavar="FOLDER", help="where to write (default: next to FILE)")
    parser.add_argument("--also-likely", action="store_true", help="make parts of wording understood in part, too")
    parser.add_argument("--write-over", action="store_true", help="replace files that were edited or are not its own")


def run(args: argparse.Namespace, shelf: "Shelf", width: int) -> int:
    """Take the list in and say what became of it; 1 if no row of it was taken.

    Raises:
        FitcheckError: the list or an option cannot be read, or a file would have to be replaced.
    """
    from fitcheck.catalog.money import parse_currency
    from fitcheck.catalog.take_in.run import Request, take_in
    from fitcheck.reports.take_in_text import take_in_json, take_in_text

    try:
        currency = None if args.currency is None else parse_currency(args.currency)
    except ValueError as error:
        raise RequestError(f"--currency: {error}") from None
    request = Request(
        Path(args.file),
        args.supplier,
        None if args.columns is None else Path(args.columns),
        None if args.out is None else Path(args.out),
        currency,
        args.also_likely,
        args.write_over,
    )
    found = take_in(request, shelf)
    print(take_in_json(found) if args.format == "json" else take_in_text(found, width))
    return 0 if found.taken or not found.rows else 1
