"""`fitcheck schema`: writes the JSON Schemas of the files that users write."""

import argparse
from pathlib import Path

from fitcheck.cli.common import RequestError


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments."""
    parser.add_argument("folder", nargs="?", default="catalog_schema", help="where to write (default: catalog_schema)")
    parser.add_argument("--check", action="store_true", help="write nothing; 1 if a schema there is out of date")


def run(args: argparse.Namespace) -> int:
    """Write the schemas, or say which are out of date."""
    from fitcheck.reports.schemas import schema_texts
    from fitcheck.sources import write_atomically

    folder = Path(args.folder)
    stale = []
    if not args.check:
        try:
            folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise RequestError(f"{folder}: {error.strerror}") from error
    for name, text in schema_texts().items():
        path = folder / name
        present = path.read_text(encoding="utf-8") if path.is_file() else None
        if present == text:
            continue
        stale.append(name)
        if not args.check:
            write_atomically(path, text)
        print(f"{path}: {'out of date' if args.check else 'written'}")
    if not stale:
        print(f"{folder}: up to date")
    return 1 if stale and args.check else 0
