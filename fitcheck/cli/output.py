"""Writing an answer to a file instead of the terminal."""

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from fitcheck.cli.common import RequestError, printable

if TYPE_CHECKING:
    from fitcheck.build.load import Build


def refuse_inputs(build: "Build", place: Path, output: Path) -> None:
    """Refuse to write over a file that the build at `place` is read from.

    Raises:
        RequestError: `output` is one.
    """
    from fitcheck.build.load import build_path

    names = [*build.file.catalogs, *build.file.offers, *([build.file.stock] if build.file.stock else [])]
    inputs = [build_path(place), *(Path((build.folder / name).as_posix()) for name in names)]
    if os.path.realpath(output) in set(map(os.path.realpath, inputs)):  # links that lead to themselves too
        raise RequestError(f"--output: {output} is a file that the build is read from")


def refuse_nameless(name: str | None) -> None:
    """Refuse to write to a file without a name; None is the terminal.

    Raises:
        RequestError: that is asked for.
    """
    if name == "":
        raise RequestError("--output: expected the name of a file, got ''")


def write(name: str, content: bytes) -> None:
    """Write an answer to a file, whole or not at all, and say so on standard error.

    Raises:
        RequestError: the file has no name, or is in a folder that does not exist.
        InputError: it cannot be written.
    """
    from fitcheck.sources import write_atomically

    refuse_nameless(name)
    folder = Path(name).parent
    if not os.path.lexists(folder):
        raise RequestError(f"{printable(name)} cannot be written: there is no folder {printable(str(folder))}")
    write_atomically(Path(name), content)
    print(f"{printable(name)} written", file=sys.stderr)


def put(name: str | None, text: str) -> None:
    """Print an answer, or write it to the file `name`; it ends with a line's end either way.

    Raises:
        InputError: it cannot be written.
    """
    text = text if text.endswith("\n") else f"{text}\n"
    if name is None:
        print(text, end="")
    else:
        write(name, text.encode("utf-8"))
