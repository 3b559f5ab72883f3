"""What can be said of one joint, and which rule says it.

One joint, at most one finding. Genders equal: `gender-clash`; else threads that do not mate:
`thread-mismatch`; else seats that differ: `seat-mismatch`; else sizes that differ: `tube-size-mismatch`.
What the file states about a tube's end is judged by `nut-mismatch` and `flare-mismatch`; what no catalog
can supply by `fixing-missing`. Whatever else is wrong with the same joint is evidence of that one finding.
"""

from collections.abc import Iterator, Mapping
from typing import Any, Final, NamedTuple

from fitcheck.build.fixings import OPPOSITE, Fixings, tube_od
from fitcheck.build.graph import End, Joint
from fitcheck.catalog.part import Port
from fitcheck.checks.findings import NO_EVIDENCE, Level
from fitcheck.checks.joint_fixings import banjo_faults, fixing_gaps, nut_and_flare_faults, pair_washer_faults
from fitcheck.checks.joint_words import Fault, describe, joined
from fitcheck.standards.seats import Seat, pair
from fitcheck.standards.seats import seat as seat_named
from fitcheck.standards.sizes import SAME_WITHIN_MM, same_tube, size_name
from fitcheck.standards.threads import Fit, Thread, dangerous, fit
from fitcheck.standards.threads.fit import ENGAGEMENT_MM

ORDER: Final = (
    "gender-clash",
    "thread-mismatch",
    "nut-mismatch",
    "seat-mismatch",
    "tube-size-mismatch",
    "flare-mismatch",
    "fixing-missing",
)
"""Which rule speaks when several could."""


class JointFacts(NamedTuple):
    """The verdict on one joint.

    `rule` is the rule that speaks, None if nothing is wrong. `looked` names the rules that had what they
    needed; `unchecked` those that had not, with the missing field.
    """

    joint: Joint
    rule: str | None
    level: Level
    message: str
    evidence: Mapping[str, Any] = NO_EVIDENCE
    looked: frozenset[str] = frozenset()
    unchecked: tuple[tuple[str, str], ...] = ()


def judge(joint: Joint, fixings: Fixings) -> JointFacts:
    """Return everything that can be said of `joint`, given what it needs besides its two sides."""
    verdict = _Verdict(joint)
    if joint.kind == "tubes":
        both = joined(joint.refs)
        verdict.add(Fault("fixing-missing", f"two tube ends meet without a union: {both}", {"ends": both}))
    elif joint.kind == "tube":
        _judge_tube(verdict, joint, fixings)
    elif joint.kind == "banjo":
        _judge_banjo(verdict, joint, fixings)
    elif joint.kind == "mechanical":
        _judge_mechanical(verdict, joint)
    else:
        _judge_pair(verdict, joint)
        verdict.look("fixing-missing", pair_washer_faults(joint, fixings))
    return verdict.facts()


class _Verdict:
    """Collects faults of one joint, and what was and was not looked at."""

    def __init__(self, joint: Joint) -> None:
        self.joint = joint
        self.faults: list[Fault] = []
        self.looked: set[str] = set()
        self.unchecked: list[tuple[str, str]] = []

    def add(self, fault: Fault) -> None:
        self.looked.add(fault.rule)
        self.faults.append(fault)

    def look(self, rule: str, faults: Iterator[Fault] | Fault | None = None) -> None:
        self.looked.add(rule)
        if isinstance(faults, Fault):
            self.add(faults)
        elif faults is not None:
            for fault in faults:
                self.add(fault)

    def miss(self, rule: str, end: End, key: str) -> None:
        name = f".ports.{end.port.name}" if end.port is not None else ""
        self.unchecked.append((rule, f"parts.{end.fitted.part_id}{name}.{key}"))

    def facts(self) -> JointFacts:
        ranked = sorted(self.faults, key=lambda fault: ORDER.index(fault.rule))
        if not ranked:
            looked, unchecked = frozenset(self.looked), tuple(self.unchecked)
            return JointFacts(self.joint, None, "note", "", {}, looked, unchecked)
        first, *others = ranked
        evidence = dict(first.evidence)
        if others:
            evidence["also"] = [{"rule": f.rule, "message": f.message, **f.evidence} for f in others]
        return JointFacts(
            self.joint,
            first.rule,
            first.level,
            first.message,
            evidence,
            frozenset(self.looked),
            tuple(self.unchecked),
        )


def _judge_pair(verdict: _Verdict, joint: Joint) -> None:
    a, b = joint.ends
    _genders(verdict, a, b)
    _threads(verdict, a, b)
    _seats(verdict, a, b)


def _genders(verdict: _Verdict, a: End, b: End) -> bool:
    """Judge which side goes into which; return False if that cannot be told."""
    assert a.port is not None  # a pair is two ports
    assert b.port is not None
    for end in (a, b):
        if end.port is not None and end.port.gender is None:
            verdict.miss("gender-clash", end, "gender")
            return False
    if a.port.gender == b.port.gender:
        both = f"{a.ref} and {b.ref} are both {a.port.gender}"
        evidence = {"genders": [a.port.gender, b.port.gender], "ports": [describe(a.port), describe(b.port)]}
        verdict.add(Fault("gender-clash", both, evidence))
        return False
    verdict.look("gender-clash")
    return True


def _threads(verdict: _Verdict, a: End, b: End) -> None:
    assert a.port is not None
    assert b.port is not None
    if a.port.thread is None and b.port.thread is None:
        if not (a.port.seat == "push-on" or b.port.seat == "push-on" or a.port.mechanical):
            verdict.miss("thread-mismatch", a, "thread")
        return
    for end in (a, b):
        if end.port is not None and end.port.thread is None:
            if end.port.seat != "push-on":
                verdict.miss("thread-mismatch", end, "thread")
            return
    if a.port.gender == b.port.gender or a.port.gender is None or b.port.gender is None:
        same = a.port.thread is not None and b.port.thread is not None and a.port.thread.key == b.port.thread.key
        if not same and a.port.gender is not None and a.port.gender == b.port.gender:
            names = [describe(a.port), describe(b.port)]
            verdict.look("thread-mismatch", Fault("thread-mismatch", f"{names[0]} against {names[1]}"))
        return
    outer, inner = (a, b) if a.port.gender == "external" else (b, a)
    assert outer.port is not None
    assert inner.port is not None
    engaged = _engaged(outer.port, inner.port)
    found = thread_fault(outer.port.thread, inner.port.thread, outer.ref, inner.ref, engaged)
    verdict.look("thread-mismatch", found)


def _engaged(outer: Port, inner: Port) -> float:
    """Return the length of engagement [mm] that the catalog gives, or the usual one."""
    known = [length for length in (outer.length, inner.depth) if length is not None and length > 0.0]
    return min(known) if len(known) == 2 else ENGAGEMENT_MM


def thread_fault(
    external: Thread | None, internal: Thread | None, who: str, into: str, engagement_mm: float = ENGAGEMENT_MM
) -> Fault | None:
    """Return what is wrong when `external` is screwed into `internal`, or None if they mate.

    `engagement_mm` is over what length they can engage [mm].
    """
    if external is None or internal is None:
        return None
    found = fit(external, internal, engagement_mm)
    if found.verdict == "mates":
        return None
    level: Level = "warning" if found.verdict == "may-bind" else "error"
    outcome = _OUTCOME[found.verdict]
    if found.binding_band_mm is not None:
        outcome = "may bind at the root in"
    message = f"{who} ({external.designation}) {outcome} {into} ({internal.designation})"
    return Fault("thread-mismatch", message, fit_evidence(external, internal, found), level)


_OUTCOME: Final = {
    "may-bind": "may bind in",
    "will-not-start": "will not start in",
    "starts-then-binds": "starts, then binds in",
    "runs-in-loose": "runs in loose and strips in",
    "drops-through": "drops through",
}


def fit_evidence(external: Thread, internal: Thread, found: Fit) -> dict[str, Any]:
    """Return the two threads and how they meet, as plain values: every figure of the fit; lengths in mm."""
    threads = {"external": external.designation, "internal": internal.designation}
    return {**threads, **found.to_json(), "dangerous": dangerous(found)}


def _seats(verdict: _Verdict, a: End, b: End) -> None:
    assert a.port is not None
    assert b.port is not None
    for end in (a, b):
        if end.port is not None and end.port.seat is None:
            verdict.miss("seat-mismatch", end, "seat")
            return
    verdict.look("seat-mismatch")
    assert a.port.seat is not None
    assert b.port.seat is not None
    if a.port.seat != b.port.seat:
        verdict.add(seat_fault(a.ref, a.port.seat, b.ref, b.port.seat))
        return
    _sizes(verdict, a, b, seat_named(a.port.seat))


def seat_fault(ref_a: str, seat_a: str, ref_b: str, seat_b: str) -> Fault:
    """Return the fault of two ends that seal in different ways."""
    note = pair(seat_a, seat_b)
    evidence: dict[str, Any] = {"seats": [seat_a, seat_b]}
    if note is not None:
        evidence |= {"outcome": note.outcome, "source": note.mark}
    return Fault("seat-mismatch", f"{seat_a} of {ref_a} against {seat_b} of {ref_b}", evidence)


def _sizes(verdict: _Verdict, a: End, b: End, seat: Seat) -> None:
    if seat.needs_tube:
        _same_size(verdict, a, b, "tube", SAME_WITHIN_MM)
    elif seat.name == "push-on":
        _same_size(verdict, a, b, "hose", HOSE_WITHIN_MM)
    else:
        verdict.look("tube-size-mismatch")


HOSE_WITHIN_MM: Final = 0.5
"""How far a push-on hose's bore may be from its barb: 1/4 in goes on 6 mm. Common practice, no source."""


def _same_size(verdict: _Verdict, a: End, b: End, key: str, within: float) -> None:
    sizes: list[float] = []
    for end in (a, b):
        size = getattr(end.port, key)
        if size is None:
            verdict.miss("tube-size-mismatch", end, key)
            return
        sizes.append(size)
    verdict.look("tube-size-mismatch")
    if abs(sizes[0] - sizes[1]) > within + 1e-9:
        message = f"{key} {size_name(sizes[0])} at {a.ref}, {size_name(sizes[1])} at {b.ref}"
        verdict.add(Fault("tube-size-mismatch", message, {f"{key}_mm": sizes}))


def _judge_mechanical(verdict: _Verdict, joint: Joint) -> None:
    a, b = joint.ends
    assert a.port is not None
    assert b.port is not None
    if a.port.mechanical != b.port.mechanical:
        kinds = f"{a.ref} carries {_carries(a.port)}, {b.ref} {_carries(b.port)}"
        verdict.add(Fault("seat-mismatch", kinds, {"ports": [describe(a.port), describe(b.port)]}))
        return
    if a.port.thread is not None or b.port.thread is not None:
        _genders(verdict, a, b)
        _threads(verdict, a, b)
    elif a.port.pattern is None and b.port.pattern is None:
        verdict.miss("thread-mismatch", a, "thread")
        verdict.miss("thread-mismatch", b, "thread")
    if (a.port.pattern is None) != (b.port.pattern is None):
        verdict.miss("seat-mismatch", a if a.port.pattern is None else b, "pattern")
    elif a.port.pattern is not None:
        verdict.look("seat-mismatch")
        if a.port.pattern != b.port.pattern:
            message = f"mounting {a.port.pattern} of {a.ref} against {b.port.pattern} of {b.ref}"
            verdict.add(Fault("seat-mismatch", message, {"patterns": [a.port.pattern, b.port.pattern]}))


def _carries(port: Port) -> str:
    return "force" if port.mechanical else "fluid"


def _judge_tube(verdict: _Verdict, joint: Joint, fixings: Fixings) -> None:
    port_end, tube_end = joint.ends
    port = port_end.port
    assert port is not None  # a tube joint is a port and a tube end
    if port.mechanical:
        message = f"tube end {tube_end.ref} at {port_end.ref}, which carries force"
        verdict.add(Fault("seat-mismatch", message, {"port": describe(port)}))
        return
    if port.seat is None:
        verdict.miss("seat-mismatch", port_end, "seat")
        return
    seat = seat_named(port.seat)
    if not seat.tube_end:
        message = f"a flared tube, {tube_end.ref}, cannot seal in the {port.seat} port {port_end.ref}"
        verdict.add(Fault("seat-mismatch", message, {"seats": [port.seat], "port": describe(port)}))
        return
    verdict.look("seat-mismatch")
    if port.thread is None:
        verdict.miss("nut-mismatch", port_end, "thread")
    _tube_gender(verdict, port_end, tube_end, seat)
    _tube_size(verdict, port_end, tube_end)
    missed = list(fixing_gaps(joint, fixings))
    verdict.unchecked.extend(missed)
    verdict.looked |= _OF_A_TUBE.difference([rule for rule, _ in missed])
    sized = not any(fault.rule in ("tube-size-mismatch", "gender-clash") for fault in verdict.faults)
    for fault in nut_and_flare_faults(joint, fixings, seat, thread_fault):
        if sized or fault.rule != "fixing-missing":
            verdict.add(fault)


_OF_A_TUBE: Final = frozenset(("nut-mismatch", "flare-mismatch", "fixing-missing"))


def _tube_gender(verdict: _Verdict, port_end: End, tube_end: End, seat: Seat) -> None:
    port = port_end.port
    if port is None or port.gender is None:
        verdict.miss("gender-clash", port_end, "gender")
    elif seat.nut_gender is not None and port.gender == seat.nut_gender:
        message = f"{port_end.ref} is {port.gender}, and so is the nut of {tube_end.ref}"
        verdict.add(Fault("gender-clash", message, {"port": describe(port), "nut": seat.nut_gender}))
    else:
        verdict.look("gender-clash")


def _tube_size(verdict: _Verdict, port_end: End, tube_end: End) -> None:
    od = tube_od(tube_end)
    if port_end.port is None or od is None:
        return
    if port_end.port.tube is None:
        verdict.miss("tube-size-mismatch", port_end, "tube")
        return
    verdict.look("tube-size-mismatch")
    if not same_tube(od, port_end.port.tube):
        message = (
            f"{size_name(od)} tube of {tube_end.ref} against {port_end.ref}, made for {size_name(port_end.port.tube)}"
        )
        verdict.add(Fault("tube-size-mismatch", message, {"tube_mm": [od, port_end.port.tube]}))


def _judge_banjo(verdict: _Verdict, joint: Joint, fixings: Fixings) -> None:
    port_end = joint.ends[0]
    port = port_end.port
    assert port is not None  # ends of unknown parts are not judged
    if port.seat is None:
        verdict.miss("seat-mismatch", port_end, "seat")
    else:
        verdict.look("seat-mismatch")
    if port.seat not in (None, "washer-face") and port.seat is not None:
        verdict.add(seat_fault(joint.ends[1].ref, "washer-face", port_end.ref, port.seat))
    if port.gender is None:
        verdict.miss("gender-clash", port_end, "gender")
    elif port.gender == "external":
        message = f"{port_end.ref} is external, and so is a banjo bolt"
        verdict.add(Fault("gender-clash", message, {"port": describe(port), "wanted": OPPOSITE["external"]}))
    else:
        verdict.look("gender-clash")
    missed = list(fixing_gaps(joint, fixings))
    verdict.unchecked.extend(missed)
    if port.thread is None:
        verdict.miss("thread-mismatch", port_end, "thread")
    elif not missed:
        verdict.look("thread-mismatch")
        verdict.look("tube-size-mismatch")
    verdict.look("fixing-missing")
    for fault in banjo_faults(joint, fixings, thread_fault):
        verdict.add(fault)
