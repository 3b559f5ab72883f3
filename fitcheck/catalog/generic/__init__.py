"""The generic catalog: what the trade sells for every common thread and seat, from families, unpriced.

A family is one template with many sizes (`families/*.yaml`). `python -m fitcheck.catalog.generic` expands
them into `parts.json`, which is all that is read at run time. A new size is a row of data.
Sizes come from the standards' tables where those have them (`from_tables`, `ends`). What is left out of the fittings
for flared tube, and why, stands in `families/left_out.yaml`.

Ids. `KIND-END` or `KIND-END-END`, in which an end is

- thread and form: `3-8-24-inverted`, `m10x1-bubble`, `1-8-npt`, `7-16-20-washer`, `m10x1-oring`, `g1-8`.
  A dot in a thread becomes a dash (`m10x1-25` is M10x1.25). Inverted flare on a metric thread is the metric
  double flare;
- `an3`: 37 degree cone of dash size 3;
- `banjo-10mm`, `barb-8mm`: an eye and a barb;
- `...-for-3-16`: a nut or port whose thread is not the usual one for its tube names the tube;
- `...-male`, `...-female`: said wherever one end could be either (adapters, hoses). Left out, a port for an
  inverted or bubble flare is internal, a 37 degree one external, and the nut for it the other way round.

Unions, tees and elbows for inch tube go by the tube, as in the shop: `tee-3-16-inverted`. Tube is
`tube-3-16-cuni`, a hose `hose-braided-350-an3-banjo-10mm` (length in mm, ends from and to), a duty part its
kind and its port: `mc-3-8-24-inverted`, `caliper-m10x1-washer`, `slave-an4`.

Ports: `a` and `b`; tees `left`, `right`, `top`; bulkhead unions `inside`, `outside`; hoses `from`, `to`;
plugs and caps `end`; switches and gauges `port`; valves `in`, `out`.
"""

from functools import cache
from pathlib import Path
from typing import Any, Final

INDEX: Final = Path(__file__).with_name("parts.json")
"""The generated index that ships."""


@cache
def rows() -> dict[str, dict[str, Any]]:
    """Return the generic catalog's rows by id, as `part_from_row` takes them. Read once for each process."""
    import json

    found: dict[str, dict[str, Any]] = json.loads(INDEX.read_bytes())
    return found
