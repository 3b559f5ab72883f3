"""Limits of size of ISO metric threads, from the tables of ISO 965-1; the tables rule, not their formulas."""

from functools import lru_cache

from fitcheck.standards.threads.member import BASIC_HEIGHT, FILLET_START, Member, ThreadLimitsError
from fitcheck.standards.threads.series import plain_number
from fitcheck.standards.threads.thread import Thread


def members(thread: Thread) -> tuple[Member, Member, str]:
    """Return external and internal member and the source. Source: ISO 965-1:1998 tables 1 and 3 to 6.

    The minor diameters of MJ are those of FED-STD-H28/21B (1984), worked examples. Raises ThreadLimitsError
    where a table has no row or no grade for the thread.
    """
    source = (
        f"ISO 965-1:1998 tables 1 and 3 to 6, class {thread.external_class} external, {thread.internal_class} internal"
    )
    if thread.family == "MJ":
        source += "; minor diameters of MJ as FED-STD-H28/21B (1984) worked examples, usual classes from memory"
    return _external(thread), _internal(thread), source


def _external(thread: Thread) -> Member:
    pitch_grade, major_grade, position = _grades(thread.external_class)
    pitch = thread.pitch_mm
    deviation = 0.0 if position == "h" else _flat(thread, "deviation", position, "deviation")
    major_max = thread.nominal_mm - deviation
    major_min = major_max - _flat(thread, "major_external", major_grade, "external major")
    pitch_max = _basic_pitch(thread) - deviation
    pitch_min = pitch_max - _stepped(thread, "pitch_external", pitch_grade, "external pitch")
    controlled = thread.family == "MJ"
    minor_max = pitch_max - (0.505181 if controlled else 0.433013) * pitch
    return Member(
        major_mm=(_um(major_min), _um(major_max)),
        pitch_mm=(_um(pitch_min), _um(pitch_max)),
        minor_mm=(_um(pitch_min - 0.565805 * pitch) if controlled else None, _um(minor_max)),
        thread_pitch_mm=pitch,
        basic_pitch_mm=_basic_pitch(thread),
        height_mm=BASIC_HEIGHT["60"] * pitch,
        fillet_mm=_um(pitch_max - FILLET_START * pitch) if controlled else None,
    )


def _internal(thread: Thread) -> Member:
    pitch_grade, minor_grade, position = _grades(thread.internal_class)
    pitch = thread.pitch_mm
    # Position G is as far above nominal as position g is below it (ISO 965-1 table 1).
    deviation = 0.0 if position == "H" else _flat(thread, "deviation", "g", "deviation")
    height = 0.974279 if thread.family == "MJ" else 1.082532
    minor_min = _um(thread.nominal_mm - height * pitch) + deviation
    minor_max = minor_min + _flat(thread, "minor_internal", minor_grade, "internal minor")
    pitch_min = _basic_pitch(thread) + deviation
    pitch_max = pitch_min + _stepped(thread, "pitch_internal", pitch_grade, "internal pitch")
    return Member(
        major_mm=(_um(thread.nominal_mm + deviation), None),
        pitch_mm=(_um(pitch_min), _um(pitch_max)),
        minor_mm=(_um(minor_min), _um(minor_max)),
        thread_pitch_mm=pitch,
        basic_pitch_mm=_basic_pitch(thread),
        height_mm=BASIC_HEIGHT["60"] * pitch,
    )


def _grades(name: str) -> tuple[str, str, str]:
    """Return pitch grade, crest grade and position of a class: `6g` is (6, 6, g), `5g6g` is (5, 6, g)."""
    return name[0], name[-2], name[-1]


def _basic_pitch(thread: Thread) -> float:
    return _um(thread.nominal_mm - 0.649519 * thread.pitch_mm)


def _um(value: float) -> float:
    """Round to whole micrometres, as the standard prints diameters."""
    return round(value, 3)


@lru_cache(maxsize=8)
def _rows(table: str) -> dict[str, dict[str, float]]:
    """Return a table that depends on the pitch only: per pitch, per column, the value [mm]."""
    from fitcheck.standards.tables import load  # read only when a metric limit is asked for

    data = load("threads_metric")[table]
    return {pitch: _cells(data["columns"], row) for pitch, row in data["rows"].items()}


@lru_cache(maxsize=2)
def _steps(table: str) -> tuple[tuple[float, dict[str, dict[str, float]]], ...]:
    """Return a table by diameter step, largest step first: (over diameter, then as `_rows`)."""
    from fitcheck.standards.tables import load

    data = load("threads_metric")[table]
    steps = (
        (float(over), {pitch: _cells(data["columns"], row) for pitch, row in rows.items()})
        for over, rows in data["over"].items()
    )
    return tuple(sorted(steps, reverse=True, key=lambda step: step[0]))


def _cells(columns: str, row: str) -> dict[str, float]:
    """Return the filled cells of a printed row, micrometres turned into millimetres."""
    pairs = zip(columns.split(), row.split(), strict=True)
    return {column: float(cell) / 1000 for column, cell in pairs if cell != "-"}


def _flat(thread: Thread, table: str, column: str, what: str) -> float:
    return _cell(thread, _rows(table), column, what)


def _stepped(thread: Thread, table: str, column: str, what: str) -> float:
    rows = next((rows for over, rows in _steps(table) if thread.nominal_mm > over), {})
    return _cell(thread, rows, column, what)


def _cell(thread: Thread, rows: dict[str, dict[str, float]], column: str, what: str) -> float:
    pitch = plain_number(thread.pitch_mm)
    if pitch not in rows:
        raise ThreadLimitsError(thread.designation, f"ISO 965-1 has no {what} row for pitch {pitch} mm at this size")
    if column not in rows[pitch]:
        offered = ", ".join(rows[pitch]) or "none"
        kind = "position" if column.isalpha() else "grade"
        reason = f"ISO 965-1 has no {what} {kind} {column} at pitch {pitch} mm; it has {offered}"
        raise ThreadLimitsError(thread.designation, reason.replace("deviation position", "position"))
    return rows[pitch][column]
