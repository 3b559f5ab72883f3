"""Limits of size as printed, each with the document that it was seen in. Figures in the unit of the print."""

from typing import NamedTuple

import screw_thread_lib.data as reference

from fitcheck.standards.threads import limits, parse
from fitcheck.standards.threads.pipe import npt_size

INCH = 25.4


class Printed(NamedTuple):
    """One printed figure: of which thread, which limit, its value in `unit`, and where it stands."""

    thread: str
    limit: str
    value: float
    unit: str
    source: str


SERIES = "ASME B1.1, table of limits of the standard series, by two published copies"
FEDERAL = "FED-STD-H28/2B (1991) table II.A.3"
RING_GAUGES = "published table of ring gauges"
PACKAGE_INCH = "independent package, ASME B1.1-2019"
PACKAGE_METRIC = "independent package, ASME B1.13M-2005"
METRIC_TABLE = "published tables of ISO 965 limits for 6g and 6H"
METRIC_CHART = "published chart of metric limits for 6g, 6h and 4g6g (ASME B1.13M)"
NPT_TABLE = "ASME B1.20.1, table of basic dimensions"
G_TABLE = "ISO 228-1:1994 table 1"
R_TABLE = "ISO 7-1:1994 table 1, gauge lengths by a published extract"

# External rows: d max, d min, d2 max, d2 min. Internal rows: D1 max, D1 min, D2 max, D2 min. A dash was not legible.
STANDARD_SERIES = """
0-80 UNF-2A       .0595 .0563 .0514 .0496
0-80 UNF-2B       .0514 .0465 .0542 .0519
0-80 UNF-3A       .0600 .0568 .0519 .0506
0-80 UNF-3B       .0514 .0465 .0536 .0519
1-64 UNC-2A       .0724 .0686 .0623 .0603
1-64 UNC-2B       .0623 .0561 .0655 .0629
1-64 UNC-3A       .0730 .0692 .0629 .0614
1-64 UNC-3B       .0623 .0561 .0648 .0629
1-72 UNF-2A       .0724 .0689 .0634 .0615
1-72 UNF-2B       .0635 .0580 .0665 .0640
1-72 UNF-3A       .0730 .0695 .0640 .0626
1-72 UNF-3B       .0635 .0580 .0659 .0640
2-56 UNC-2A       .0854 .0813 .0738 .0717
2-56 UNC-2B       .0737 .0667 .0772 .0744
2-56 UNC-3A       .0860 .0819 .0744 .0728
2-56 UNC-3B       .0737 .0667 .0765 .0744
2-64 UNF-2A       .0854 .0816 .0753 .0733
2-64 UNF-2B       .0753 .0691 .0786 .0759
2-64 UNF-3A       .0860 .0822 .0759 .0744
2-64 UNF-3B       .0753 .0691 .0779 .0759
3-48 UNC-2A       .0983 .0938 .0848 .0825
3-48 UNC-2B       .0845 .0764 .0885 .0855
5/8-11 UNC-1A     .6234 .6052 -     .5561
5/8-11 UNC-1B     .546  .527  -     -
5/8-11 UNC-2A     .6234 .6113 -     -
5/8-11 UNC-2B     .546  .527  -     -
5/8-11 UNC-3A     .6250 .6129 -     .5619
5/8-11 UNC-3B     .5391 .5270 -     -
5/8-12 UN-2A      .6234 .6120 -     .5639
5/8-12 UN-2B      .553  .535  -     -
5/8-12 UN-3A      .6250 .6136 -     .5668
5/8-12 UN-3B      .5463 .5350 -     -
5/8-16 UN-2A      .6236 .6142 -     .5782
5/8-16 UN-2B      .571  .557  -     -
5/8-16 UN-3A      .6250 .6156 -     .5808
5/8-16 UN-3B      .5662 .5570 -     -
5/8-18 UNF-1A     .6236 .6105 -     .5805
5/8-18 UNF-1B     .578  .565  -     -
5/8-18 UNF-2A     .6236 .6149 -     .5828
5/8-18 UNF-2B     .578  .565  -     -
5/8-18 UNF-3A     .6250 .6163 -     .5854
5/8-18 UNF-3B     .5730 .5650 -     -
15/16-12 UN-2A    .9358 .9244 .8817 .8760
15/16-12 UN-2B    .8650 .8470 .8908 .8834
15/16-12 UN-3A    .9375 .9261 .8834 .8793
15/16-12 UN-3B    .8575 .8470 .8889 .8834
15/16-16 UN-2A    .9360 .9266 .8954 .8904
15/16-16 UN-2B    .8840 .8700 .9034 .8969
15/16-16 UN-3A    .9375 .9281 .8969 .8932
15/16-16 UN-3B    .8783 .8700 .9018 .8969
15/16-20 UNEF-2A  .9361 .9280 .9036 .8991
15/16-20 UNEF-2B  .8950 .8830 .9109 .9050
15/16-20 UNEF-3A  .9375 .9294 .9050 .9016
"""

FEDERAL_ROWS = """
3/8-24 UNF-2B     .340  .330  .3528 .3479
3/8-24 UNF-3B     .3372 .3300 -     -
7/16-20 UNF-2B    .395  .383  .4104 .4050
1/2-20 UNF-2B     .457  .446  .4731 .4675
9/16-18 UNF-2B    .515  .502  .5323 .5264
"""

# d max, d min, d2 max, d2 min, d1 max (flat root), D1 max, D1 min, D2 max, D2 min. What the tables print to two
# decimals only is left out.
METRIC_6G_6H = """
M5x0.8    4.976  4.826  4.456  4.361  4.110  4.334  4.134  4.605  4.480
M8x1.25   7.972  7.760  7.160  7.042  6.619  6.912  6.647  7.348  7.188
M10x1     9.974  9.794  9.324  9.212  8.891  9.153  8.917  9.500  9.350
M10x1.25  9.972  9.760  9.160  9.042  8.619  8.912  8.647  9.348  9.188
M10x1.5   9.968  9.732  8.994  8.862  8.344  -      -      -      -
M11x1     -      -      -      -      9.891  10.153 9.917  10.500 10.350
M11x1.5   -      -      9.994  9.862  9.344  9.676  9.376  -      10.026
M12x1     -      -      -      -      10.891 11.153 10.917 11.510 11.350
M12x1.5   -      -      -      -      10.344 10.676 10.376 11.216 11.026
"""

# d max, d min, d2 max, d2 min, d1 max (flat root).
METRIC_CLASSES = """
M1.6x0.35-6g    1.581 1.496 1.354 1.291 1.202
M1.6x0.35-6h    1.600 1.515 1.373 1.310 1.221
M1.6x0.35-4g6g  1.581 1.496 1.354 1.314 1.202
M2x0.4-6g       1.981 1.886 1.721 1.654 1.548
M2x0.4-6h       2.000 1.905 1.740 1.673 1.567
M2x0.4-4g6g     1.981 1.886 1.721 1.679 1.548
M2.5x0.45-6g    2.480 2.380 2.188 2.117 1.993
M2.5x0.45-6h    2.500 2.400 2.208 2.137 2.013
M2.5x0.45-4g6g  2.480 2.380 2.188 2.143 1.993
M3x0.5-6g       2.980 2.874 2.655 2.580 2.438
M3x0.5-6h       3.000 2.894 2.675 2.600 2.458
M3x0.5-4g6g     2.980 2.874 2.655 2.607 2.438
M3.5x0.6-6g     3.479 3.354 3.089 3.004 2.829
M3.5x0.6-6h     3.500 3.375 3.110 3.025 2.850
M3.5x0.6-4g6g   3.479 3.354 3.089 3.036 2.829
M4x0.7-6g       3.978 3.838 3.523 3.433 3.220
M4x0.7-6h       4.000 3.860 3.545 3.455 3.242
M4x0.7-4g6g     3.978 3.838 3.523 3.467 3.220
M5x0.8-6h       5.000 4.850 4.480 4.385 4.134
M5x0.8-4g6g     4.976 4.826 4.456 4.396 4.110
"""

# Major, pitch and minor diameter; tolerances of pitch, internal minor and external major diameter. Class B doubles
# the first of them.
G_ROWS = """
1/16  7.723  7.142  6.561  .107 .282 .214
1/8   9.728  9.147  8.566  .107 .282 .214
1/4   13.157 12.301 11.445 .125 .445 .250
3/8   16.662 15.806 14.950 .125 .445 .250
1/2   20.955 19.793 18.631 .142 .541 .284
3/4   26.441 25.279 24.117 .142 .541 .284
1     33.249 31.770 30.291 .180 .640 .360
"""

NPT_ROWS = """
1/16  .27118 .28118 .2611
1/8   .36351 .37360 .2639
1/2   .75843 .77843 .5337
"""

R_GAUGE_LENGTHS = {"1/16": 4.0, "1/8": 4.0, "1/4": 6.0, "3/8": 6.4, "1/2": 8.2}

EXTERNAL, INTERNAL = ("d max", "d min", "d2 max", "d2 min"), ("D1 max", "D1 min", "D2 max", "D2 min")


def _rows(table: str, cells: int) -> list[tuple[str, list[str]]]:
    lines = (line.rsplit(None, cells) for line in table.strip().splitlines())
    return [(line[0].strip(), line[1:]) for line in lines]


def _filled(name: str, limits_: tuple[str, ...], cells: list[str], unit: str, source: str) -> list[Printed]:
    pairs = zip(limits_, cells, strict=True)
    return [Printed(name, limit, float(cell), unit, source) for limit, cell in pairs if cell != "-"]


def printed() -> list[Printed]:
    """Return every printed figure."""
    found: list[Printed] = []
    for table, source in ((STANDARD_SERIES, SERIES), (FEDERAL_ROWS, FEDERAL)):
        for name, cells in _rows(table, 4):
            found += _filled(name, EXTERNAL if name.endswith("A") else INTERNAL, cells, "in", source)
    for name, cells in _rows(METRIC_6G_6H, 9):
        found += _filled(name, (*EXTERNAL, "d1 max", *INTERNAL), cells, "mm", METRIC_TABLE)
    for name, cells in _rows(METRIC_CLASSES, 5):
        found += _filled(name, (*EXTERNAL, "d1 max"), cells, "mm", METRIC_CHART)
    for label, cells in _rows(NPT_ROWS, 3):
        found += _filled(f"{label} NPT", ("E0", "E1", "L2"), cells, "in", NPT_TABLE)
    found += [Printed(f"R{label}", "gauge length", value, "mm", R_TABLE) for label, value in R_GAUGE_LENGTHS.items()]
    return [*found, *_parallel_pipe(), *_package()]


def _parallel_pipe() -> list[Printed]:
    found = []
    for label, cells in _rows(G_ROWS, 6):
        major, pitch, minor, on_pitch, on_minor, on_major = map(float, cells)
        figures = {
            "d max": major,
            "d min": major - on_major,
            "d2 max": pitch,
            "d2 min": pitch - on_pitch,
            "D1 max": minor + on_minor,
            "D1 min": minor,
            "D2 max": pitch + on_pitch,
            "D2 min": pitch,
        }
        found += [Printed(f"G{label}", limit, round(value, 3), "mm", G_TABLE) for limit, value in figures.items()]
        found.append(Printed(f"G{label} B", "d2 min", round(pitch - 2 * on_pitch, 3), "mm", G_TABLE))
    return found


def _package() -> list[Printed]:
    names = {name.replace(" ", ""): name for name in (*EXTERNAL, "d1 max", *INTERNAL)}
    tables = ((reference.ASME_UN_2A2B_dict, PACKAGE_INCH), (reference.ASME_M_6g6H_dict, PACKAGE_METRIC))
    return [
        Printed(thread, names[key], value, "in", source)
        for table, source in tables
        for thread, row in table.items()
        for key, value in row.items()
        if key in names
    ]


def ours(figure: Printed) -> float:
    """Return what the program has for a printed figure, in the same unit."""
    if figure.limit in ("E0", "E1", "L2"):
        size = npt_size(figure.thread.removesuffix(" NPT"))
        return {"E0": size.e0, "E1": size.e1, "L2": size.l2}[figure.limit]
    found = limits(parse(figure.thread))
    if figure.limit == "gauge length":
        return found.external.gauge_mm
    symbol, end = figure.limit.split()
    member = found.internal if symbol.startswith("D") else found.external
    pair = {"": member.major_mm, "1": member.minor_mm, "2": member.pitch_mm}[symbol[1:]]
    value = pair[end == "max"]
    assert value is not None
    return value / INCH if figure.unit == "in" else value
