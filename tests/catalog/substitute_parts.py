"""One invented part of each kind that can stand in for another, for tests of what can be bought instead."""

from typing import Any

from fitcheck.catalog.part import Part, part_from_row

FLARE = {"thread": "3/8-24 UNF", "gender": "internal", "seat": "inverted-flare", "tube": 4.7625, "depth": 11.0}
TAPER = {"thread": "1/8-27 NPT", "gender": "internal", "seat": "taper"}
ROWS: dict[str, dict[str, Any]] = {
    "tee": {
        "kind": "tee",
        "ports": {"left": FLARE, "right": FLARE, "top": TAPER},
        "material": "brass",
        "max_pressure": 20.0,
        "fluid_families": ["glycol"],
    },
    "pump": {
        "kind": "master cylinder",
        "ports": {
            "out": FLARE,
            "feed": {"seat": "push-on", "gender": "external", "hose": 8.0},
            "pushrod": {"thread": "5/16-24 UNF", "gender": "internal", "pattern": "pushrod", "reach": 40.0},
            "flange": {"pattern": "two 8 mm at 57 mm", "offset": [0.0, 10.0, -5.0]},
        },
        "outlets": ["out"],
        "bore": 16.0,
        "stroke": 30.0,
        "reservoir_volume": 90_000.0,
        "volume": 5_000.0,
    },
    "brake": {
        "kind": "caliper",
        "ports": {"inlet": {"eye": 10.2, "seat": "washer-face"}, "lugs": {"pattern": "two M10 at 90 mm"}},
        "bore": 38.0,
        "displacement": 18_000.0,
        "bleeder": "M8x1.25",
    },
    "valve": {
        "kind": "residual valve",
        "ports": {"in": FLARE, "out": FLARE},
        "one_way": ["in", "out"],
        "setting": 0.07,
    },
    "through": {"kind": "bulkhead union", "ports": {"a": FLARE, "b": FLARE}, "panel": {"hole": 14.0, "grip": 6.0}},
    "whip": {
        "kind": "hose",
        "ports": {
            "from": {"thread": "3/8-24 UNF", "gender": "external", "seat": "inverted-flare", "length": 8.0},
            "to": {"eye": 10.2, "seat": "washer-face"},
        },
        "length": 350.0,
        "inside": 3.2,
        "bend_radius": 50.0,
    },
    "nut": {"kind": "nut", "ports": {"nut": {**FLARE, "gender": "external"}}},
    "bolt": {
        "kind": "banjo bolt",
        "eyes": 1,
        "ports": {"bolt": {**TAPER, "gender": "external", "seat": "washer-face"}},
    },
    "ring": {"kind": "washer", "inside": 10.2, "outside": 15.0, "thickness": 1.5, "material": "copper"},
    "pipe": {"kind": "tube", "od": 4.7625, "wall": 0.7112, "material": "copper-nickel", "length": 7620.0},
    "clip": {"kind": "clip", "inside": 14.0, "for_hose": 8.0},
    "rubber": {"kind": "grommet", "inside": 4.7625, "outside": 17.0, "panel": {"hole": 12.0, "grip": 1.6}},
    "cover": {"kind": "dust cap", "inside": 4.7625},
}
"""One invented part of each kind that can be proven, all of it known."""


def part(name: str, part_id: str = "wanted", **changes: object) -> Part:
    """Return the part `name` under another id; `changes` are fields or, with two underscores, a port's fields."""
    row = {**ROWS[name], "ports": {key: dict(port) for key, port in ROWS[name].get("ports", {}).items()}}
    for key, value in changes.items():
        port, _, field = key.rpartition("__")
        (row["ports"][port] if port else row)[field] = value
    return part_from_row(part_id, {key: value for key, value in row.items() if value is not None})
