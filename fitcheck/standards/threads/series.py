"""Which sizes and pitches exist (unified, metric, pipe), and canonical threads made from them."""

from functools import lru_cache
from typing import NamedTuple

from fitcheck.standards.threads.thread import INCH, PIPE_TAPER, Thread

DEFAULT_CLASSES = {
    "UN": ("2A", "2B"),
    "UNJ": ("3A", "3B"),
    "M": ("6g", "6H"),
    "MJ": ("4h6h", "4H5H"),  # from memory (ISO 5855-1)
    "G": ("A", ""),
}
"""Tolerance classes (external, internal) meant when a designation gives none, by family."""


class UnifiedSize(NamedTuple):
    """One unified size: label as printed, diameter [in], and the series word of each threads per inch."""

    label: str
    inch: float
    series: dict[int, str]


class PipeSize(NamedTuple):
    """One pipe size: its label as printed, basic major diameter [mm] and threads per inch."""

    label: str
    major_mm: float
    tpi: float


@lru_cache(maxsize=1)
def unified_sizes() -> tuple[UnifiedSize, ...]:
    """Return every unified size of ASME B1.1 from #0 to 1 1/2 in, smallest first."""
    from fitcheck.standards.tables import load  # read only when a unified thread is met

    return tuple(_unified_size(label, row) for label, row in load("threads_unified")["sizes"].items())


def _unified_size(label: str, row: str) -> UnifiedSize:
    inch, *words = row.split()
    series: dict[int, str] = {}
    name = ""
    for word in words:
        if word.isdigit():
            series[int(word)] = name
        else:
            name = word
    return UnifiedSize(label, float(inch), series)


@lru_cache(maxsize=1)
def dash_sizes() -> dict[str, str]:
    """Return the thread of each 37 degree dash size, such as ``{"3": "3/8-24"}`` (SAE J514)."""
    from fitcheck.standards.tables import load

    return dict(load("threads_unified")["dash_sizes"]["rows"])


@lru_cache(maxsize=1)
def metric_pitches() -> dict[float, tuple[float | None, tuple[float, ...]]]:
    """Return for each metric diameter [mm] its coarse pitch, or None, and all its pitches [mm] (ISO 261)."""
    from fitcheck.standards.tables import load

    table = {}
    for diameter, row in load("threads_metric")["pitches"]["rows"].items():
        words = row.split()
        coarse = None if words[0] == "-" else float(words[0])
        table[float(diameter)] = (coarse, tuple(float(word) for word in words if word != "-"))
    return table


@lru_cache(maxsize=3)
def pipe_sizes(series: str) -> tuple[PipeSize, ...]:
    """Return the sizes of a pipe series, smallest first (ASME B1.20.1; ISO 228-1; ISO 7-1)."""
    from fitcheck.standards.tables import load

    data = load("threads_pipe")
    if series in ("NPT", "NPTF"):
        rows = ((label, row.split()) for label, row in data["npt"]["rows"].items())
        return tuple(PipeSize(label, round(float(row[0]) * INCH, 6), float(row[1])) for label, row in rows)
    wanted = data["parallel"]["rows"] if series == "G" else data["taper"]["rows"]
    rows = ((label, data["parallel"]["rows"][label].split()) for label in wanted)
    return tuple(PipeSize(label, float(row[1]), float(row[0])) for label, row in rows)


def fraction(text: str) -> float:
    """Return the number that `3/8`, `1 1/8`, `1-1/8`, `.375` or `10` stands for; 0 if it divides by 0."""
    whole, _, part = text.replace("-", " ").rpartition(" ")
    over, _, under = part.partition("/")
    if under and not int(under):
        return 0.0
    return float(whole or 0) + float(over) / float(under or 1)


def plain_number(value: float) -> str:
    """Return a number as designations print it: no trailing zeros, no exponent."""
    return f"{value:.3f}".rstrip("0").rstrip(".")


def unified(size: UnifiedSize, tpi: int, rounded_root: bool = False, classes: tuple[str, str] | None = None) -> Thread:
    """Return the unified thread of a size and threads per inch that the size's series hold."""
    word = size.series[tpi]
    series = word.replace("UN", "UNJ", 1) if rounded_root else word
    usual = DEFAULT_CLASSES["UNJ" if rounded_root else "UN"]
    external, internal = classes or usual
    label = f"{size.label.lstrip('#')}-{tpi} {series}"
    suffix = _suffix((external, internal), usual, external_first=True)
    nominal = round(size.inch * INCH, 6)
    return Thread(series, nominal, INCH / tpi, 60.0, 0.0, label + suffix, external, internal)


def metric(diameter: float, pitch: float, rounded_root: bool = False, classes: tuple[str, str] | None = None) -> Thread:
    """Return the metric thread of a diameter and pitch [mm]."""
    series = "MJ" if rounded_root else "M"
    usual = DEFAULT_CLASSES[series]
    external, internal = classes or usual
    label = f"{series}{plain_number(diameter)}x{plain_number(pitch)}"
    suffix = _suffix((external, internal), usual, external_first=False)
    return Thread(series, diameter, pitch, 60.0, 0.0, label + suffix, external, internal)


def pipe(series: str, size: PipeSize, external_class: str = "") -> Thread:
    """Return the pipe thread of a series and size; `external_class` is B for the wider class of G threads."""
    if series in ("NPT", "NPTF"):
        label = f"{size.label}-{plain_number(size.tpi)} {series}"
        return Thread(series, size.major_mm, INCH / size.tpi, 60.0, PIPE_TAPER, label, "", "")
    usual, internal = DEFAULT_CLASSES.get(series, ("", ""))
    external = external_class or usual
    label = f"{series}{size.label}" + ("" if external == usual else f" {external}")
    taper = PIPE_TAPER if series in ("R", "Rc") else 0.0
    return Thread(series, size.major_mm, INCH / size.tpi, 55.0, taper, label, external, internal)


def _suffix(classes: tuple[str, str], usual: tuple[str, str], external_first: bool) -> str:
    """Return the end of a designation that names unusual classes, in the standard's order."""
    unusual = [given for given, default in zip(classes, usual, strict=True) if given != default]
    named = unusual if external_first else unusual[::-1]
    return "-" + "/".join(named) if named else ""
