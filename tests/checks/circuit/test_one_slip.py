"""One slip of the pen is one finding, wherever what is open can only be the other side of it."""

import re

import pytest

from fitcheck.build.circuits import is_consumer
from fitcheck.checks.context import Context
from tests.checks.circuit.cars import CAR, UNSTATED, context_of, findings, spoilt, told, unchecked

_REF = re.compile(r"\b\w+\.\w+\b")
_JOINING = re.compile(r"^  (- \[|\w+: \{from|\w+: \{part: feed-hose)")


def _statements(text: str) -> list[str]:
    return [line for line in text.splitlines() if _JOINING.match(line) and "feeds:" not in line]


def _dropped(text: str, statement: str) -> str:
    kept = "".join(line + "\n" for line in text.splitlines() if line != statement)
    return kept.replace("joints:\nlines", "joints: []\nlines")


def _ports() -> list[str]:
    ends = context_of(CAR).graph.ends.values()
    return [end.ref for end in ends if end.port is not None and not end.port.mechanical and end.ref[:4] != "feed"]


@pytest.mark.parametrize("text", [CAR, UNSTATED], ids=["stated", "unstated"])
def test_sound_car_has_no_findings(text: str) -> None:
    """The car that all the others are spoilt from is sound, whether or not it states its circuits."""
    assert told(context_of(text)) == []


@pytest.mark.parametrize("statement", _statements(CAR))
@pytest.mark.parametrize("text", [CAR, UNSTATED], ids=["stated", "unstated"])
def test_a_left_out_joint_is_one_finding(text: str, statement: str) -> None:
    """Leaving out any one line, hose or joint gives exactly one finding, whatever stays open on both sides."""
    assert len(told(context_of(_dropped(text, statement)))) == 1


@pytest.mark.parametrize("statement", _statements(CAR))
def test_a_joint_in_the_wrong_place_is_one_finding(statement: str) -> None:
    """A line, hose or joint that goes to a port in use is found there, and what it leaves open or unfed is told.

    It is exactly one finding if that port is of the kind that was meant, and of the same circuit or the one meant is
    a consumer's. Otherwise what is left behind may have its own reason, and is a finding of its own.
    """
    sound = context_of(CAR)
    for match in _REF.finditer(statement):
        meant = match.group()
        for port in _ports():
            if port == meant:
                continue
            wrong = statement[: match.start()] + port + statement[match.end() :]
            found = findings(context_of(spoilt((statement, wrong))))
            (reused,) = [one for one in found if one.rule == "port-reused"]
            assert reused.at[0] == port
            assert meant in {place for one in found for place in one.at}, (wrong, found)
            assert len(found) == 1 or not _same_kind(sound, meant, port) or port in statement, (wrong, found)
            assert len(found) <= 3, (wrong, found)


def _same_kind(context: Context, meant: str, port: str) -> bool:
    """Return whether a joint at `port` may be taken for one at `meant`: thread, seat, side and circuit agree."""
    a, b = (context.graph.ends[ref] for ref in (meant, port))
    assert a.port is not None
    assert b.port is not None
    beside = is_consumer(a) or context.circuits.of(meant) is context.circuits.of(port)
    return beside and (a.port.thread, a.port.gender, a.port.seat) == (b.port.thread, b.port.gender, b.port.seat)


@pytest.mark.parametrize("statement", _statements(CAR))
def test_a_misspelt_reference_is_left_to_its_own_rule(statement: str) -> None:
    """A reference that means nothing is `port-unknown`'s to tell: the circuit rules find nothing besides."""
    for match in _REF.finditer(statement):
        for wrong_ref in ("xyz.foo", match.group() + "x", "q" + match.group()):
            wrong = statement[: match.start()] + wrong_ref + statement[match.end() :]
            context = context_of(spoilt((statement, wrong)))
            assert len(context.graph.unknown_refs) == 1
            assert told(context) == [], wrong


def test_unclear_references_leave_what_hangs_on_them_unchecked() -> None:
    """A caliper behind a reference that cannot be guessed is listed as not checked, not passed over."""
    context = context_of(spoilt(("to: caliper_fl.inlet", "to: xyz.foo")))
    assert told(context) == []
    assert ("circuit-not-fed", ("caliper_fl.inlet",), "a port that exists") in unchecked(context)


def test_two_slips_are_two_findings() -> None:
    """Two lines left out are two findings: none is explained away by the other."""
    left = next(line for line in CAR.splitlines() if "front_left" in line)
    right = next(line for line in CAR.splitlines() if "rear_right" in line)
    assert told(context_of(_dropped(_dropped(CAR, left), right))) == [
        ("circuit-not-fed", "error", "circuit front does not reach caliper_fl.inlet"),
        ("circuit-not-fed", "error", "circuit rear does not reach caliper_rr.inlet"),
    ]


def test_swapped_ends_of_two_lines_are_at_most_one_finding() -> None:
    """Swapping where any two lines or hoses lead gives one finding, or none where both lead to the same thing."""
    ends = re.findall(r"\bto: (\w+\.\w+)", CAR)
    harmless = {
        frozenset(("caliper_fl.inlet", "caliper_fr.inlet")),
        frozenset(("caliper_rl.inlet", "caliper_rr.inlet")),
        *(frozenset((a, b)) for a in ends for b in ends if a.endswith(".feed") and b.endswith(".feed")),
    }
    for index, one in enumerate(ends):
        for other in ends[index + 1 :]:
            text = CAR.replace(f"to: {one}", "to: @").replace(f"to: {other}", f"to: {one}").replace("@", other)
            expected = 0 if frozenset((one, other)) in harmless else 1
            assert len(told(context_of(text))) == expected, (one, other, told(context_of(text)))
