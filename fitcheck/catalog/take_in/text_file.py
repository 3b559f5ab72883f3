"""Which encoding a price list has, and its lines."""

import codecs
from collections.abc import Iterator
from io import TextIOWrapper
from typing import IO, Final

from fitcheck.files import AnyPath
from fitcheck.progress import step
from fitcheck.trees import InputError, Problem

ENCODINGS: Final = ("utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252")
"""Encodings that are recognised; a mapping file may name any of them."""
LONGEST_LINE: Final = 100_000
"""Most characters of one line: a longer one is no row of a price list, and would have to be held whole."""
_CHUNK: Final = 1 << 20
_TOLD_EVERY: Final = 500
"""Lines between two words of how far reading is."""
_SAMPLE: Final = 4096
_LEAST_WIDE: Final = 4
_MARKS: Final = ((codecs.BOM_UTF8, "utf-8-sig"), (codecs.BOM_UTF16_LE, "utf-16"), (codecs.BOM_UTF16_BE, "utf-16"))


def fault(path: AnyPath, row: int, message: str) -> InputError:
    """Return the error that says what is wrong with a list, and in which row of it."""
    return InputError((Problem(path.as_posix(), row, 1, message),))


def encoding_of(path: AnyPath) -> str:
    """Return the encoding of a file: by its byte order mark, else by what its bytes can be.

    Without a mark: UTF-16 if every other byte at the beginning is zero, UTF-8 if the whole file is that, else
    Windows-1252, which is what spreadsheets of western Europe write (common practice, no source).

    Raises:
        InputError: there is no such file, it cannot be read, or it holds zero bytes and is no UTF-16.
    """
    try:
        if path.exists() and not path.is_file():
            raise fault(path, 1, "this is not an ordinary file; expected a price list as CSV")
        with path.open("rb") as file:
            start = file.read(_SAMPLE)
            marked = next((name for mark, name in _MARKS if start.startswith(mark)), None) or _wide(start)
            if marked is not None:
                return marked
            return _narrow(path, start, iter(lambda: file.read(_CHUNK), b""))
    except FileNotFoundError:
        raise fault(path, 1, "there is no such file") from None
    except (OSError, ValueError) as error:
        if isinstance(error, InputError):
            raise
        raise fault(path, 1, f"cannot be read: {(getattr(error, 'strerror', None) or str(error)).lower()}") from error


def _wide(start: bytes) -> str | None:
    """Return the order of UTF-16 without a mark: most of a price list's characters have one byte of zero."""
    half = len(start) // 2
    if half < _LEAST_WIDE:
        return None
    even, odd = start[0::2].count(0) / half, start[1::2].count(0) / half
    if odd > 0.6 and even < 0.1:
        return "utf-16-le"
    return "utf-16-be" if even > 0.6 and odd < 0.1 else None


def _narrow(path: AnyPath, start: bytes, rest: Iterator[bytes]) -> str:
    decoder = codecs.getincrementaldecoder("utf-8")()
    utf_8 = True
    chunk = start
    while chunk:
        if 0 in chunk:
            raise fault(path, 1, "this is no text: it holds zero bytes; save the list as CSV")
        if utf_8:
            try:
                decoder.decode(chunk)
            except UnicodeDecodeError:
                utf_8 = False
        chunk = next(rest, b"")
    if utf_8:
        try:
            decoder.decode(b"", final=True)
        except UnicodeDecodeError:
            utf_8 = False
    return "utf-8" if utf_8 else "cp1252"


def _read_so_far(file: IO[str]) -> int:
    """Return how many bytes of a file have been read, some of which wait in buffers."""
    return file.buffer.tell() if isinstance(file, TextIOWrapper) else 0


def lines(path: AnyPath, encoding: str) -> Iterator[str]:
    """Yield the lines of a file, each with its end.

    Raises:
        InputError: the file cannot be read, is not in this encoding, or a line is longer than `LONGEST_LINE`.
    """
    number = 1
    try:
        with path.open(encoding=encoding, newline="") as file:
            total = path.stat().st_size
            while line := file.readline(LONGEST_LINE + 1):
                if number % _TOLD_EVERY == 0:
                    step(_read_so_far(file), total, f"{number:,} lines")
                if len(line) > LONGEST_LINE:
                    raise fault(path, number, f"the line is longer than {LONGEST_LINE} characters; this is no list")
                yield line
                number += 1
    except UnicodeError as error:
        what = getattr(error, "reason", "the bytes are none")
        raise fault(path, number, f"this is not {encoding}: {what}") from None
    except OSError as error:
        raise fault(path, number, f"cannot be read: {(error.strerror or str(error)).lower()}") from error
