"""The words at ports, ends and symbols of a diagram."""

from functools import lru_cache
from typing import Final

from fitcheck.build.fixings import Fixings, tube_od
from fitcheck.build.graph import End, Joint
from fitcheck.catalog.part import Port
from fitcheck.reports.drawing import words_mm
from fitcheck.standards.sizes import size_name
from fitcheck.standards.threads import Thread

TAG_MM: Final = 2.8
SMALL_MM: Final = 2.1
SEATS: Final = {
    "inverted-flare": "inv",
    "bubble": "bubble",
    "cone-37": "37 deg",
    "cone-45": "45 deg",
    "washer-face": "washer",
    "o-ring": "o-ring",
    "taper": "taper",
    "push-on": "push-on",
    "ferrule": "ferrule",
}
"""What a seat is called where there is little room."""
_USUAL: Final = (" UNF", " UNC")
_MOST_LINES: Final = 3
_MOST_MM: Final = 30.0
_LEFT_OUT: Final = "..."


def thread_text(thread: Thread) -> str:
    """Return a thread where there is little room: diameter and pitch say UNF and UNC by themselves."""
    name = thread.designation
    return next((name.removesuffix(series) for series in _USUAL if name.endswith(series)), name)


def port_text(port: Port | None) -> str:
    """Return thread and seat of a port: `3/8-24 inv`; a question mark where the catalog says neither."""
    if port is None:
        return "?"
    words = [thread_text(port.thread)] if port.thread is not None else []
    if port.eye is not None:
        words.append(f"eye {size_name(port.eye)}")
    elif port.thread is None and port.hose is not None:
        words.append(size_name(port.hose))
    elif port.thread is None and port.tube is not None:
        words.append(size_name(port.tube))
    if port.seat is not None:
        words.append(SEATS.get(port.seat, port.seat))
    return " ".join(words) or "?"


def hose_texts(port: Port | None) -> tuple[str, str]:
    """Return thread and seat of a hose's end: the words over and under it."""
    words = port_text(port)
    seat = SEATS.get(port.seat, port.seat) if port is not None and port.seat is not None else ""
    size = words.removesuffix(seat).strip()
    return (size, seat) if size else (words, "")


def port_told(end: End) -> str:
    """Return a port in full, for those who hear the drawing."""
    port = end.port
    if port is None:
        return f"{end.ref}: {'end of a tube' if end.tube_end else 'not known'}"
    words = [port.gender or "", port.thread.designation if port.thread else "", port.seat or ""]
    words += [f"for {size_name(port.tube)} tube" if port.tube is not None else ""]
    return f"{end.ref}: {' '.join(word for word in words if word) or port_text(port)}"


def end_texts(fixed: Fixings | None) -> tuple[str, str]:
    """Return flare and nut of a tube's end: the words over and under it."""
    if fixed is None or (fixed.flare is None and not fixed.items):
        return "", "?"
    nut, sleeve = fixed.one("nut"), fixed.one("sleeve")
    words = []
    if nut is not None:
        threads = [port.thread for port in nut.part.ports.values() if port.thread is not None] if nut.part else []
        words.append(f"nut {thread_text(threads[0]) if threads else '?'}")
    return fixed.flare or "", " + ".join([*words, *(["sleeve"] if sleeve is not None else [])])


def tube_text(end: End) -> str:
    """Return the size of a line's tube."""
    od = tube_od(end)
    return size_name(od) if od is not None else "size not known"


def joint_told(joint: Joint, fixed: Fixings) -> str:
    """Return a joint in full: its ends, and what it needs."""
    needs = [f"{item.quantity} {item.part.id if item.part is not None else item.wanted}" for item in fixed.items]
    flare = [fixed.flare] if fixed.flare else []
    return f"joint {' - '.join(joint.refs)}" + (f": {', '.join([*flare, *needs])}" if flare or needs else "")


@lru_cache(maxsize=4096)
def folded(words: str, size: float, bold: bool = False, most_mm: float = _MOST_MM) -> tuple[str, ...]:
    """Return words in at most three lines of a width, broken behind hyphens and the like where that is enough."""
    lines, line = [], ""
    for piece in _pieces(words):
        if line and words_mm(line + piece, size, bold) > most_mm:
            lines.append(line)
            line = ""
        for char in piece if words_mm(piece, size, bold) > most_mm else (piece,):
            if line and words_mm(line + char, size, bold) > most_mm:
                lines.append(line)
                line = ""
            line += char
    lines.append(line)
    if len(lines) > _MOST_LINES:
        lines = [*lines[: _MOST_LINES - 1], lines[_MOST_LINES - 1][: -len(_LEFT_OUT)] + _LEFT_OUT]
    return tuple(lines)


def _pieces(words: str) -> list[str]:
    """Return words cut behind each hyphen, underline and blank."""
    pieces, piece = [], ""
    for char in words:
        piece += char
        if char in "-_ ":
            pieces.append(piece)
            piece = ""
    return [*pieces, piece] if piece or not pieces else pieces


def clipped(words: str, most_mm: float, size: float = SMALL_MM) -> str:
    """Return words cut to a width, with dots for what is left out."""
    if words_mm(words, size) <= most_mm:
        return words
    while words and words_mm(words + _LEFT_OUT, size) > most_mm:
        words = words[:-1]
    return words + _LEFT_OUT
