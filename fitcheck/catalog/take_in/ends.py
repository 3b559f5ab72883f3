"""One end of a fitting as its wording gives it: thread, side, seat, tube, and every doubt about them."""

from collections.abc import Iterable, Sequence
from functools import cache, lru_cache
from typing import Any, Final, NamedTuple

from fitcheck.catalog.take_in.sizes import Item, Sized, known_tube, sized
from fitcheck.catalog.take_in.tokens import Token
from fitcheck.catalog.take_in.words import Meaning
from fitcheck.quantities import Quantity
from fitcheck.standards.seats import seat as known_seat
from fitcheck.standards.threads import Thread, ThreadDesignationError, known_threads
from fitcheck.standards.threads import parse as parse_thread

_THREADS: Final = frozenset(("metric", "pipe", "unified"))
_TAPER: Final = frozenset(("NPT", "NPTF", "R", "Rc"))
_SIDES: Final = {"R": "external", "Rc": "internal", "Rp": "internal"}
"""Series whose letter says the side (ISO 7-1)."""
_KIND_SIDES: Final = {"banjo bolt": "external", "plug": "external", "cap": "internal"}
_THROUGH: Final = frozenset(("union", "bulkhead union"))
_FLARED: Final = frozenset(("inverted-flare", "bubble", "cone-37"))
_EYE_MM: Final = (2.0, 30.0)
"""What an eye or a barb can measure: from memory."""
_DASH_IN: Final = 16
"""A dash size counts sixteenths of an inch (SAE J514)."""


class End(NamedTuple):
    """What one end is. `faults` make it unread; `doubts` make it likely only."""

    port: dict[str, Any]
    faults: tuple[str, ...]
    doubts: tuple[str, ...]


class _Reader:
    """Reads one end and collects what is wrong with it."""

    def __init__(self, items: Sequence[Item], kind: str, decimal: str | None) -> None:
        self.items = items
        self.kind = kind
        self.decimal = decimal
        self.faults: list[str] = []
        self.doubts: list[str] = []
        self.sizes = sized(items)
        self.seats = set(_values(items, "seats"))
        self.sides = set(_values(items, "genders"))
        self.dash_tube: str | None = None
        self.letter_says_side = True

    def end(self) -> End:
        if "banjo" in self.seats:
            port = self._eye()
        elif "push-on" in self.seats:
            port = self._barb()
        else:
            port = self._screwed()
        return End(port, tuple(self.faults), tuple(self.doubts))

    def _eye(self) -> dict[str, Any]:
        self._nothing_else("an eye", "banjo")
        size = self._one_size("eye", "how large the eye is")
        return {"seat": "washer-face", "eye": size.text if size else ""}

    def _barb(self) -> dict[str, Any]:
        self._nothing_else("a barb", "push-on")
        if "internal" in self.sides:
            self.faults.append("a barb is never internal")
        size = self._one_size("hose", "how large the barb is")
        return {"gender": "external", "seat": "push-on", "hose": size.text if size else ""}

    def _nothing_else(self, what: str, seat: str) -> None:
        if self.seats != {seat} or any(token.sort in (*_THREADS, "dash") for token, _ in self.items):
            self.faults.append(f"{what} and something else are in one end")

    def _one_size(self, role: str, what: str) -> Quantity | None:
        fits = [each for each in self.sizes if each.role == role and _EYE_MM[0] < each.size < _EYE_MM[1]]
        self._refuse(each for each in self.sizes if each.role != "across" and each not in fits)
        sizes = {float(each.size): each for each in reversed(fits)}
        if len(sizes) == 1:
            return next(iter(sizes.values())).size
        both = " and ".join(repr(each.text) for each in fits)
        self.faults.append(f"{what} is said twice: {both}" if fits else f"{what} is not said")
        return None

    def _screwed(self) -> dict[str, Any]:
        thread = self._thread()
        seat = self._seat(thread)
        side = self._side(thread, seat)
        tube = self._tube(thread, seat)
        port = {
            "thread": thread.designation if thread and self.kind != "sleeve" else None,
            "gender": side if self.kind != "sleeve" else None,
            "seat": seat,
            "tube": tube,
        }
        return {key: value for key, value in port.items() if value is not None}

    def _thread(self) -> Thread | None:
        found: dict[object, Thread] = {}
        for token, _ in self.items:
            if token.sort in _THREADS or token.sort == "dash":
                thread = self._parsed(token)
                if thread is not None:
                    found[thread.key] = thread
        if len(found) > 1:
            self.faults.append("one end has two threads: " + " and ".join(map(str, found.values())))
        if not found:
            if self.kind != "sleeve" and not self.faults:
                self.faults.append("an end has no thread")
            return None
        thread = next(iter(found.values()))
        if thread.key not in _trade_keys():
            self.doubts.append(f"{thread} is not among the threads of the trade")
        return thread

    def _parsed(self, token: Token) -> Thread | None:
        text = token.text
        if token.sort == "dash":
            dash = "".join(filter(str.isdigit, text.rpartition("-")[2] if text.startswith("37") else text)).lstrip("0")
            text, self.dash_tube = f"AN{dash or 0}", f"{dash}/{_DASH_IN} in"
            self.seats.add("cone-37")
        if "," in text:
            self._comma(text)
        if "bspt" in text:  # the taper thread of either side; its letter follows the side that is said
            self.letter_says_side = False
            text = text.replace("bspt", "Rc" if self.sides == {"internal"} else "R")
        try:
            return parse_thread(text)
        except ThreadDesignationError as error:
            self.faults.append(str(error))
            return None

    def _comma(self, text: str) -> None:
        if self.decimal == "point":
            self.faults.append(f"{text!r} has a comma in a list that writes decimal points")
        elif self.decimal is None:
            self.doubts.append(f"nothing in the list shows that the comma in {text!r} stands before decimals")

    def _seat(self, thread: Thread | None) -> str | None:
        seats = set(self.seats)
        if thread is not None and thread.series in _TAPER:
            seats.add("taper")
        if self.kind == "banjo bolt":
            seats.add("washer-face")
        if len(seats) > 1:
            self.faults.append(f"one end has two seats: {' and '.join(sorted(seats))}")
        if not seats:
            self.doubts.append("the seat is not said")
            return None
        seat = min(seats)
        if seat == "taper" and thread is not None and thread.series not in _TAPER:
            self.faults.append(f"{thread} is no taper thread")
        return seat

    def _side(self, thread: Thread | None, seat: str | None) -> str | None:
        lettered = _SIDES.get(thread.series) if thread is not None and self.letter_says_side else None
        implied = _KIND_SIDES.get(self.kind) or lettered
        sides = self.sides | ({implied} if implied else set())
        if len(sides) > 1:
            self.faults.append("one end is both external and internal")
        if not sides:
            if self.kind != "sleeve":
                self.doubts.append("whether an end is external or internal is not said")
            return None
        side = min(sides)
        self._check_side(side, seat)
        return side

    def _check_side(self, side: str, seat: str | None) -> None:
        if seat is None:
            return
        its = known_seat(seat)
        if self.kind == "nut" and its.nut_gender != side:
            usual = f"the nut of {seat} is {its.nut_gender}" if its.nut_gender else f"{seat} takes no tube nut"
            self.faults.append(f"{usual}, not {side}")
        if self.kind in _THROUGH and side not in its.port_genders and seat in _FLARED:
            self.faults.append(f"a {self.kind} whose {seat} end is {side} may be a nut")

    def _tube(self, thread: Thread | None, seat: str | None) -> str | None:
        stated = {each.size.text: each for each in self.sizes if each.role == "tube"}
        free = [each for each in self.sizes if each.role in ("free", "hose", "eye")]
        if not stated and len(free) == 1 and _is_the_tube(free[0], thread, seat):
            stated, free = {free[0].size.text: free[0]}, []
        self._refuse(free)
        if self.dash_tube is not None:
            stated.setdefault("", Sized(_of_dash(self.dash_tube), "tube", self.dash_tube))
        if not stated:
            self._no_tube(seat)
            return None
        if seat is not None and seat not in (*_FLARED, "ferrule", "cone-45"):
            self.faults.append(f"a tube size at a {seat} end")
            return None
        return self._agreed([each.size for each in stated.values()], thread, seat)

    def _agreed(self, sizes: list[Quantity], thread: Thread | None, seat: str | None) -> str:
        from fitcheck.standards.sizes import same_tube

        if not all(same_tube(sizes[0], other) for other in sizes):
            self.faults.append("one end has two tube sizes")
        if thread is not None and seat in _FLARED and not known_tube(thread, seat, float(sizes[0])):
            self.doubts.append(f"no table has {thread} {seat} for {sizes[0].text} tube")
        if seat is None and thread is not None and not (1.5 < sizes[0] < thread.nominal_mm):
            self.faults.append(f"{sizes[0].text} tube does not go through {thread}")
        return sizes[0].text

    def _no_tube(self, seat: str | None) -> None:
        if self.kind == "sleeve":
            self.faults.append("the tube size is not said")
        elif seat in _FLARED:
            self.doubts.append("the tube size is not said")

    def _refuse(self, sizes: Iterable[Sized]) -> None:
        for each in sizes:
            if each.text.startswith("m") and each.role == "free":
                self.faults.append(f"{each.text.upper()} does not say its pitch")
            else:
                self.faults.append(f"what {each.text!r} measures is not said")


def _is_the_tube(each: Sized, thread: Thread | None, seat: str | None) -> bool:
    """Return whether a size with nothing beside it can only be the tube's: the table has it for thread and seat."""
    if each.role != "free" or each.text.startswith("m") or thread is None or seat not in _FLARED:
        return False
    return known_tube(thread, seat, float(each.size))


def _of_dash(text: str) -> Quantity:
    from fitcheck.quantities import parse

    top = int(text.split("/")[0])
    bottom = _DASH_IN
    while top and top % 2 == 0 and bottom > 1:
        top, bottom = top // 2, bottom // 2
    return parse(f"{top}/{bottom} in" if bottom > 1 else f"{top} in", "length")


@cache
def _trade_keys() -> frozenset[object]:
    return frozenset(thread.key for thread in known_threads())


def _values(items: Iterable[Item], sort: str) -> Iterable[str]:
    return (meaning.value for _, meanings in items for meaning in meanings if meaning.sort == sort)


@lru_cache(maxsize=4096)
def read_end(items: tuple[Item, ...], kind: str, decimal: str | None) -> End:
    """Return the end that the items of one side of a fitting describe.

    Args:
        items: what stands on one side of `to` or `x`.
        kind: the kind of part that the whole wording names.
        decimal: the list's decimal sign, `comma` or `point`, if it is known.
    """
    return _Reader(items, kind, decimal).end()


def angle_seat(items: Sequence[Item]) -> list[Item]:
    """Return the items with 37 degrees, which only one seat has, as that seat."""
    seat = (Meaning("seats", "cone-37"),)
    return [(token, seat if token.sort == "angle" and token.text.startswith("37") else its) for token, its in items]
