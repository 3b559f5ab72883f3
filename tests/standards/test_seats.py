"""The nine sealing forms, and what goes wrong between unlike ones."""

import pytest

from fitcheck.standards.flares import FLARE_NAMES, flares
from fitcheck.standards.seats import SEAT_NAMES, UnknownSeatError, pair, pair_notes, seat
from fitcheck.standards.tables import load

UNLIKE = [(a, b) for a in SEAT_NAMES for b in SEAT_NAMES if a != b]


def test_the_words_in_the_code_are_those_of_the_table() -> None:
    """The tuple kept for speed and the table hold the same seats in the same order."""
    assert tuple(load("seats")["seats"]) == SEAT_NAMES


@pytest.mark.parametrize("name", SEAT_NAMES)
def test_a_seat_agrees_with_itself(name: str) -> None:
    """A seat for flared tubes has flare and nut, others have neither; the nut's thread is opposite to the port's."""
    one = seat(name)
    assert one.name == name
    assert one.tube_end == (one.flare is not None) == (one.nut_gender is not None)
    assert one.flare is None or one.flare in FLARE_NAMES
    assert one.nut_gender not in one.port_genders
    assert not one.sleeve or one.tube_end
    assert (one.nut_lead is not None) == (one.nut_gender == "external")
    assert one.pressure == (one.refusal is None)
    assert not one.tube_end or one.needs_tube


def test_the_seat_table_of_the_standards_is_kept() -> None:
    """Inverted flare, SAE J512 and J533: internal port, double 45 degree flare, external nut threaded to its end."""
    one = seat("inverted-flare")
    assert (one.port_genders, one.flare, one.nut_gender, one.nut_lead) == (
        ("internal",),
        "double-45",
        "external",
        "threaded",
    )
    assert one.standard == "SAE J512 and J533; metric twin ISO 13486-1, JASO F402"


def test_a_bubble_nut_has_a_plain_lead() -> None:
    """ISO 4038: the nut ends in an unthreaded lead."""
    assert seat("bubble").nut_lead == "plain"


def test_only_the_37_degree_cone_takes_a_sleeve() -> None:
    """SAE J514: the 37 degree flare is clamped by nut and sleeve; no other form has one."""
    assert [name for name in SEAT_NAMES if seat(name).sleeve] == ["cone-37"]


def test_three_seats_are_refused_under_brake_pressure_with_a_reason() -> None:
    """45 degree cones, barbs and ferrules are refused, each for its own reason, told in full."""
    assert {name: seat(name).refusal for name in SEAT_NAMES if not seat(name).pressure} == {
        "cone-45": "a single flare on steel tube splits under brake pressure, and the fitting belongs to "
        "low-pressure and refrigeration lines",
        "push-on": "nothing but a clamp holds the hose, and it has no pressure rating; it is for the reservoir's feed",
        "ferrule": "the ring holds the tube by friction alone; inspection rules refuse separate ferrules on "
        "hydraulic brake pressure lines",
    }


def test_flares_and_seats_name_each_other() -> None:
    """A seat's flare lists that seat, and a flare's seats take that flare."""
    by_seat = {name: seat(name).flare for name in SEAT_NAMES if seat(name).flare}
    by_flare = {name: flare.name for flare in flares().values() for name in flare.seats}
    assert by_seat == by_flare


def test_an_unknown_seat_is_refused_with_the_nearest() -> None:
    """The message shows the word, the nearest seat and all of them; the fields are kept."""
    with pytest.raises(UnknownSeatError) as caught:
        seat("bubbel")
    assert str(caught.value) == (
        "'bubbel' is no seat; nearest is 'bubble'; known: inverted-flare, bubble, cone-37, cone-45, "
        "washer-face, o-ring, taper, push-on, ferrule"
    )
    assert (caught.value.name, caught.value.known) == ("bubbel", SEAT_NAMES)


def test_a_long_word_is_cut_in_the_message() -> None:
    """A word of a million letters makes a message of one line."""
    with pytest.raises(UnknownSeatError) as caught:
        seat("x" * 1_000_000)
    assert str(caught.value).startswith(f"'{'x' * 80}...' is no seat; known: inverted-flare")
    assert len(str(caught.value)) < 250


@pytest.mark.parametrize(("end", "port"), UNLIKE)
def test_every_unlike_pair_has_a_note(end: str, port: str) -> None:
    """No unlike pair is passed over in silence, and its note speaks of just these two seats."""
    note = pair(end, port)
    assert note is not None
    assert {note.end, note.port} == {end, port}
    assert note.outcome


@pytest.mark.parametrize("name", SEAT_NAMES)
def test_like_seats_have_no_note(name: str) -> None:
    """Nothing goes wrong between two sides of one seat on the seat's account."""
    assert pair(name, name) is None


def test_a_note_tells_which_side_came() -> None:
    """A double flare in a bubble port fails otherwise than a bubble in a port for double flares."""
    there, back = pair("inverted-flare", "bubble"), pair("bubble", "inverted-flare")
    assert there is not None
    assert back is not None
    assert there.outcome == (
        "the open rim of the double flare meets a hollow cone and touches on a ring only; the nut comes up "
        "tight, the flare crushes, the joint weeps"
    )
    assert back.outcome == (
        "the bulb sits on the tip of the raised cone and dents it; the joint leaks, and the port is spoiled "
        "for the flare it was made for"
    )


def test_no_pair_is_noted_twice() -> None:
    """Each way round stands in the table at most once."""
    ways = [(note.end, note.port) for note in pair_notes()]
    assert len(ways) == len(set(ways))


def test_a_pair_with_an_unknown_seat_is_refused() -> None:
    """`pair` refuses a word that is no seat, on either side."""
    for ends in (("bubble", "flat"), ("flat", "bubble")):
        with pytest.raises(UnknownSeatError):
            pair(*ends)
