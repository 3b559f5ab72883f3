"""Writes the index of the standards' tables: `python -m fitcheck.standards`."""

import json
from zlib import crc32

from fitcheck.sources import write_atomically
from fitcheck.standards.tables import DATA, INDEX, from_text


def index_text() -> str:
    """Return the text of the index: one table on each line, by name, the same for the same tables."""
    lines = (
        f"{json.dumps(path.stem)}:{json.dumps([crc32(path.read_bytes()), from_text(path.stem)], separators=(',', ':'))}"
        for path in sorted(DATA.glob("*.yaml"))
    )
    return "{\n" + ",\n".join(lines) + "\n}\n"


if __name__ == "__main__":
    write_atomically(INDEX, index_text())
