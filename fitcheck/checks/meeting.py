"""Whether two ends could be brought together, by what can be seen of them: in one another, by a tube, by a hose.

What the catalog does not say rules nothing out: an unknown thread may be any.
"""

from collections.abc import Hashable
from functools import lru_cache
from typing import NamedTuple

from fitcheck.build.fixings import tube_od
from fitcheck.build.graph import End
from fitcheck.checks.joint_facts import HOSE_WITHIN_MM
from fitcheck.standards.seats import seat
from fitcheck.standards.sizes import same_tube
from fitcheck.standards.threads import Thread, fit


class Form(NamedTuple):
    """What can be seen of an end. Lengths in mm."""

    thread: Thread | None = None
    gender: str | None = None
    seat: str | None = None
    tube: float | None = None
    hose: float | None = None
    eye: float | None = None
    tube_end: bool = False


def form_of(end: End) -> Form:
    """Return the form of a port or a tube's end; of a tube's end only its size is known."""
    if end.tube_end:
        return Form(tube=tube_od(end), tube_end=True)
    port = end.port
    return Form() if port is None else Form(port.thread, port.gender, port.seat, port.tube, port.hose, port.eye)


def kind_of(form: Form) -> tuple[Hashable, ...]:
    """Return what is equal for ends of the same kind: thread, gender, seat, size. 3/16 in and 4.75 mm are one size."""
    sizes = (None if size is None else round(size * 4) for size in (form.tube, form.hose, form.eye))
    return (form.thread and form.thread.key, form.gender, form.seat, *sizes, form.tube_end)


@lru_cache(maxsize=4096)
def could_join(a: Form, b: Form) -> bool:
    """Return whether the two would go into one another: a tube's end into a port for it, external into internal."""
    if a.tube_end or b.tube_end:
        return a.tube_end != b.tube_end and _by_tube(a, b)
    if _differ(a.seat, b.seat) or (a.gender is not None and a.gender == b.gender):
        return False
    if a.seat == b.seat == "push-on":
        return _near(a.hose, b.hose)
    return _mate(a, b) and (a.tube is None or b.tube is None or same_tube(a.tube, b.tube))


@lru_cache(maxsize=4096)
def could_meet(a: Form, b: Form) -> bool:
    """Return whether one tube, one hose or nothing at all between the two could join them."""
    return could_join(a, b) or _by_tube(a, b) or _by_hose(a, b)


def _by_tube(a: Form, b: Form) -> bool:
    return _takes_tube(a) and _takes_tube(b) and (a.tube is None or b.tube is None or same_tube(a.tube, b.tube))


def _by_hose(a: Form, b: Form) -> bool:
    """Return whether a hose would go between the two: barb to barb, or a brake hose, one end of it at a flat land."""
    if a.seat == b.seat == "push-on":
        return _near(a.hose, b.hose)
    flat = [form.seat == "washer-face" for form in (a, b)]
    return any(flat) and all(land or _takes_tube(form) for land, form in zip(flat, (a, b), strict=True))


def _takes_tube(form: Form) -> bool:
    return form.tube_end or form.seat is None or seat(form.seat).tube_end


def _mate(a: Form, b: Form) -> bool:
    if a.thread is None or b.thread is None:
        return True
    outer, inner = (a.thread, b.thread) if a.gender == "external" else (b.thread, a.thread)
    return a.thread.key == b.thread.key or fit(outer, inner).verdict in ("mates", "may-bind")


def _differ(a: str | None, b: str | None) -> bool:
    return a is not None and b is not None and a != b


def _near(a: float | None, b: float | None) -> bool:
    return a is None or b is None or abs(a - b) <= HOSE_WITHIN_MM
