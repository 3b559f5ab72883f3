"""Reads a thread designation in the spellings that people write.

Every pattern is matched against the whole of at most 80 characters and repeats nothing inside a repetition,
so that any text is answered in linear time.
"""

import re
from collections.abc import Callable
from functools import lru_cache

from fitcheck.standards.threads import nearest, series
from fitcheck.standards.threads.thread import Thread, ThreadDesignationError

LONGEST = 80
"""Longest text, in characters, that is looked at."""

_PLAIN = str.maketrans(
    {"×": "x", "*": "x", "✕": "x", ",": ".", "⁄": "/", "–": "-", "—": "-", "−": "-", "‐": "-", "‑": "-"}  # noqa: RUF001
    | dict.fromkeys("″”“", '"')
    | {"¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"}
)
_FLAGS = re.ASCII | re.IGNORECASE
_INCHES = r"([0-9]{1,2}[ -][0-9]{1,2}/[0-9]{1,2}|[0-9]{1,2}/[0-9]{1,2}|[0-9]?\.[0-9]{1,4}|[0-9]{1,2})"
_INCH_MARK = r' ?(?:"|inch|in\.?)?'

_METRIC = re.compile(
    r"(MJ|M) ?([0-9]{1,3}(?:\.[0-9]{1,3})?)"
    r"(?: ?[x-] ?([0-9]{1,3}(?:\.[0-9]{1,3})?))?(?: ?mm)?"
    r"(?:(?: ?- ?| )([0-9][a-z](?:[0-9][a-z])?(?: ?/ ?[0-9][a-z](?:[0-9][a-z])?)?))?",
    _FLAGS,
)
_DASH = re.compile(r"(?:(?:AN|JIC) ?-? ?([0-9]{1,2})|-? ?([0-9]{1,2}) ?-? ?(?:AN|JIC))", _FLAGS)
_PIPE_WORD = re.compile(r"(?<![a-z])(NPTF|NPT|BSPP|BSPT|BSP|Rc|Rp|R|G)(?![a-z])", _FLAGS)
_PIPE = re.compile(_INCHES + _INCH_MARK + r"(?: ?[-x ] ?([0-9]{1,2}(?:\.[0-9])?))?(?: ?-? ?([AB]))?", _FLAGS)
_UNIFIED_WORD = re.compile(r"(?<![a-z])(UNJEF|UNJC|UNJF|UNJS|UNJ|UNEF|UNC|UNF|UNS|UN|NEF|NC|NF|NS)(?![a-z])", _FLAGS)
_UNIFIED = re.compile(
    r"(#|No\.?)? ?" + _INCHES + _INCH_MARK + r"(?: ?[-x ] ?([0-9]{1,3}) ?(?:TPI)?)?"
    r"(?: ?-? ?([0-9][a-z])(?: ?/ ?([0-9][a-z]))?)?",
    _FLAGS,
)
_PIPE_SERIES = {"BSPP": "G", "BSPT": "R", "RC": "Rc", "RP": "Rp"}
_UNIFIED_CLASSES = ("1A", "2A", "3A", "1B", "2B", "3B")


def parse(text: str) -> Thread:
    """Return the thread that a designation names.

    Reads unified (`3/8-24 UNF`, `#10-32`, `.375-24`), metric (`M10x1`, `M10` for the coarse pitch), pipe
    (`1/8 NPT`, `G1/8`, `1/8 BSPT`) and 37 degree dash sizes (`-3 AN`, `JIC 3`). A dash size becomes its UNF
    or UN thread: commercial automotive 37 degree fittings are cut UNF; aerospace ones are UNJF, which has
    to be written out (common practice, no source). The series word may be left out; the standard's table
    supplies it.

    Raises ThreadDesignationError for any other text, with the reason and the nearest designation. Source of
    the sizes: ASME B1.1-2003, ISO 261:1998, ASME B1.20.1, ISO 228-1:1994, ISO 7-1:1994, SAE J514.
    """
    if len(text) > LONGEST:
        raise ThreadDesignationError(text, f"it is longer than {LONGEST} characters")
    return _parse(text)


@lru_cache(maxsize=4096)
def _parse(text: str) -> Thread:
    plain = " ".join(text.translate(_PLAIN).replace("''", '"').split())
    if not plain:
        raise ThreadDesignationError(text, "it is empty")
    readers: tuple[Callable[[str, str], Thread | None], ...] = (_metric, _dash, _pipe, _unified)
    for reader in readers:
        thread = reader(text, plain)
        if thread is not None:
            return thread
    raise ThreadDesignationError(
        text, "it is not spelled like any unified, metric or pipe thread", nearest.spelling(plain)
    )


def _metric(text: str, plain: str) -> Thread | None:
    match = _METRIC.fullmatch(plain)
    if match is None:
        return None
    word, diameter_text, pitch_text, class_text = match.groups()
    rounded = word.upper() == "MJ"
    diameter = float(diameter_text)
    pitch = float(pitch_text) if pitch_text else None
    name = f"{word.upper()}{series.plain_number(diameter)}"
    if diameter not in series.metric_pitches():
        reason = f"{name} is no size of ISO 261 from M1.6 to M36"
        raise ThreadDesignationError(text, reason, nearest.metric(diameter, pitch, rounded))
    coarse, pitches = series.metric_pitches()[diameter]
    pitch = coarse if pitch is None else pitch
    if pitch is None:
        raise ThreadDesignationError(
            text, f"{name} has no coarse pitch", nearest.metric(diameter, max(pitches), rounded)
        )
    if pitch not in pitches:
        reason = f"{series.plain_number(pitch)} mm is no pitch of {name}"
        raise ThreadDesignationError(text, reason, nearest.metric(diameter, pitch, rounded))
    plain_thread = series.metric(diameter, pitch, rounded)
    classes = _metric_classes(text, class_text, plain_thread)
    return series.metric(diameter, pitch, rounded, classes)


def _metric_classes(text: str, given: str | None, thread: Thread) -> tuple[str, str]:
    """Return (external, internal) class; capitals are internal, small letters external (ISO 965-1)."""
    external, internal = thread.external_class, thread.internal_class
    for name in (given or "").replace(" ", "").split("/"):
        if not name:
            continue
        letters = set(name[1::2])
        if len(letters) == 1 and letters <= set("efgh"):
            external = name
        elif len(letters) == 1 and letters <= set("GH"):
            internal = name
        else:
            reason = f"{name} is no tolerance class of ISO 965-1 with position e, f, g, h, G or H"
            raise ThreadDesignationError(text, reason, thread.designation)
    return external, internal


def _dash(text: str, plain: str) -> Thread | None:
    match = _DASH.fullmatch(plain)
    if match is None:
        return None
    dash = (match[1] or match[2]).lstrip("0") or "0"
    sizes = series.dash_sizes()
    if dash in sizes:
        return parse(sizes[dash])
    closest = min(sizes, key=lambda known: (abs(int(known) - int(dash)), int(known)))
    reason = f"there is no 37 degree dash size -{dash} from -2 to -10"
    raise ThreadDesignationError(text, reason, parse(sizes[closest]).designation)


def _pipe(text: str, plain: str) -> Thread | None:
    found = _PIPE_WORD.search(plain)
    match = found and _PIPE.fullmatch(_without(plain, found))
    if not found or not match:
        return None
    word = found[1].upper()
    name = _PIPE_SERIES.get(word, word)
    size_text, tpi_text, grade = match.groups()
    inch = series.fraction(size_text)
    if name == "BSP":
        reason = "BSP does not say whether it is parallel (G) or taper (R, Rc)"
        raise ThreadDesignationError(text, reason, nearest.pipe("G", inch))
    size = next((size for size in series.pipe_sizes(name) if series.fraction(size.label) == inch), None)
    if size is None:
        raise ThreadDesignationError(text, f"{size_text} is no size of {name}", nearest.pipe(name, inch))
    thread = series.pipe(name, size, (grade or "").upper() if name == "G" else "")
    if tpi_text and float(tpi_text) != size.tpi:
        threads = f"{series.plain_number(size.tpi)} threads per inch, not {tpi_text}"
        raise ThreadDesignationError(text, f"{size.label} {name} has {threads}", thread.designation)
    if grade and name != "G":
        raise ThreadDesignationError(text, f"{name} has no class {grade.upper()}", thread.designation)
    return thread


def _without(plain: str, found: re.Match[str]) -> str:
    """Return the text without a word that was found in it."""
    return " ".join(f"{plain[: found.start()]} {plain[found.end() :]}".split()).strip(" -")


def _unified(text: str, plain: str) -> Thread | None:
    found = _UNIFIED_WORD.search(plain)
    match = _UNIFIED.fullmatch(_without(plain, found) if found else plain)
    if match is None:
        return None
    number, size_text, tpi_text, class_1, class_2 = match.groups()
    word = found[1].upper() if found else ""
    word = word if word.startswith("UN") else word and f"U{word}"
    rounded = word.startswith("UNJ")
    tpi = int(tpi_text) if tpi_text else None
    if not word:
        _refuse_nameless_pipe(text, size_text, tpi)
    size = _unified_size(text, size_text, bool(number), tpi, rounded)
    label = size.label.lstrip("#")
    tpi = tpi if tpi is not None else _tpi_of_series(text, size, word)
    if tpi not in size.series:
        reason = f"{tpi} threads per inch is no series of {label}"
        raise ThreadDesignationError(text, reason, nearest.unified(size.inch, tpi, rounded))
    usual = series.unified(size, tpi, rounded)
    if word and word != usual.series:
        raise ThreadDesignationError(text, f"{label}-{tpi} is {usual.series}", usual.designation)
    return series.unified(size, tpi, rounded, _unified_classes(text, (class_1, class_2), usual))


def _refuse_nameless_pipe(text: str, size_text: str, tpi: int | None) -> None:
    """Raise if `1/8-27` is meant for a pipe thread: no unified size has that pitch, a pipe size has."""
    inch = series.fraction(size_text)
    if tpi is None or any(abs(size.inch - inch) < 0.0006 and tpi in size.series for size in series.unified_sizes()):
        return
    for name in ("NPT", "G"):
        for size in series.pipe_sizes(name):
            if size.tpi == tpi and series.fraction(size.label) == inch:
                found = series.pipe(name, size).designation
                raise ThreadDesignationError(text, "a pipe thread needs the name of its series", found)


def _unified_size(text: str, size_text: str, number: bool, tpi: int | None, rounded: bool) -> series.UnifiedSize:
    """Return the size meant; a bare whole number is a number size if its pitch fits, else inches."""
    by_label = {size.label: size for size in series.unified_sizes()}
    numbered = by_label.get(f"#{size_text.lstrip('0') or '0'}") if size_text.isdigit() else None
    if numbered and (number or size_text not in by_label or tpi in numbered.series):
        return numbered
    # Number sizes step by 0.013 in from 0.060 in (ASME B1.1).
    inch = 0.060 + 0.013 * series.fraction(size_text) if number else series.fraction(size_text)
    for size in by_label.values():
        # Decimal sizes are written with three or four places: .312 is 5/16.
        if not number and abs(size.inch - inch) < 0.0006:
            return size
    shown = f"#{size_text}" if number else size_text
    reason = f"{shown} is no unified size from #0 to 1 1/2"
    raise ThreadDesignationError(text, reason, nearest.unified(inch, tpi, rounded))


def _tpi_of_series(text: str, size: series.UnifiedSize, word: str) -> int:
    """Return the threads per inch that a graded series has in a size, for texts such as `3/8 UNF`."""
    label = size.label.lstrip("#")
    plain = word.replace("UNJ", "UN")
    near = nearest.unified(size.inch, None, word.startswith("UNJ"))
    if plain not in ("UNC", "UNF", "UNEF"):
        raise ThreadDesignationError(text, "it does not give the threads per inch", near)
    for tpi, name in size.series.items():
        if name == plain:
            return tpi
    raise ThreadDesignationError(text, f"{label} has no {word} series", near)


def _unified_classes(text: str, given: tuple[str | None, str | None], usual: Thread) -> tuple[str, str]:
    """Return (external, internal) class; A is external, B internal (ASME B1.1)."""
    external, internal = usual.external_class, usual.internal_class
    for name in (given[0], given[1]):
        if name is None:
            continue
        upper = name.upper()
        if upper not in _UNIFIED_CLASSES:
            reason = f"{name} is none of the tolerance classes {', '.join(_UNIFIED_CLASSES)}"
            raise ThreadDesignationError(text, reason, usual.designation)
        if upper.endswith("A"):
            external = upper
        else:
            internal = upper
    return external, internal
