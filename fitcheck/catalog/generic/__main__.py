"""Writes the generic catalog's index: `python -m fitcheck.catalog.generic`."""

import json

from fitcheck.catalog.generic import INDEX
from fitcheck.catalog.generic.expand import rows
from fitcheck.sources import write_atomically


def index_text() -> str:
    """Return the text of the index: one part on each line, by id, the same for the same families."""
    lines = (
        f"{json.dumps(part_id)}:{json.dumps(row, separators=(',', ':'), ensure_ascii=False)}"
        for part_id, row in rows().items()
    )
    return "{\n" + ",\n".join(lines) + "\n}\n"


if __name__ == "__main__":
    write_atomically(INDEX, index_text())
