"""Free text read into ports: what is understood, what is not, and that no thread is ever made up."""

import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitcheck.catalog.part import Part
from fitcheck.catalog.shelf import Shelf
from fitcheck.catalog.take_in.tokens import LONGEST
from fitcheck.catalog.take_in.wording import Reading, read_wording
from fitcheck.quantities import parse as parse_quantity
from fitcheck.standards.sizes import same_tube
from fitcheck.standards.threads import parse as parse_thread
from tests.catalog.take_in.lists import wording_of

THREADED = [part for part in map(Shelf.generic().get, Shelf.generic().ids()) if part is not None]
THREADED = [part for part in THREADED if any(port.thread for port in part.ports.values())]
UNION_3 = {"thread": "3/8-24 UNF", "gender": "internal", "seat": "inverted-flare", "tube": "3/16 in"}
BUBBLE = {"thread": "M10x1", "gender": "external", "seat": "bubble", "tube": "4.75 mm"}
AN3 = {"thread": "3/8-24 UNF", "gender": "external", "seat": "cone-37", "tube": "3/16 in"}
NPT = {"thread": "1/8-27 NPT", "gender": "external", "seat": "taper"}
READ = [
    ("Tee 3/8-24 UNF inverted flare female for 3/16", "tee", dict.fromkeys(("left", "right", "top"), UNION_3)),
    ("Bremsleitungsverschraubung M10x1 aussen Boerdel F 4,75", "nut", {"nut": BUBBLE}),
    ("BREMSLEITUNGSVERSCHRAUBUNG, M10 × 1 AUSSEN, BÖRDEL F, FÜR ROHR 4,75 MM", "nut", {"nut": BUBBLE}),  # noqa: RUF001
    ("1/8 NPT male to AN-3 male adapter", "adapter", {"a": NPT, "b": AN3}),
    ('Adaptor -3 JIC male x NPT 1/8" male', "adapter", {"a": AN3, "b": NPT}),
    ("T-Stück 3x M10x1 außen F-Bördel 4,75 mm", "tee", dict.fromkeys(("left", "right", "top"), BUBBLE)),
    ("Plug M10 x 1.0 bubble flare for 4.75 mm tube, SW 11", "plug", {"end": BUBBLE}),
    ("Elbow 90° 3/8 UNF inverted flare female 3/16 in tube brass", "elbow", dict.fromkeys("ab", UNION_3)),
    ("Union 3/8 x 24 TPI inverted flare, female, 3/16 pipe", "union", dict.fromkeys("ab", UNION_3)),
]


@pytest.mark.parametrize(("text", "kind", "ports"), READ, ids=[text for text, _, _ in READ])
def test_understood_to_the_last_word(text: str, kind: str, ports: object) -> None:
    """Wording in English and German gives kind, threads, sides, seats and tubes with high confidence."""
    found = read_wording(text)
    assert (found.confidence, found.kind, found.ports, found.reasons) == ("high", kind, ports, ())


FIGURES = [
    ("Tube, steel, 3/16 in x 0.028 in wall", {"material": "steel", "od": "3/16 in", "wall": "0.028 in"}),
    (
        "Bremsleitung Kupfer-Nickel 4,75 x 0,9 mm 5 m",
        {"material": "copper-nickel", "od": "4.75 mm", "wall": "0.9 mm", "length": "5 m"},
    ),
    ("Kupferdichtring 10x14x1", {"inside": "10 mm", "outside": "14 mm", "thickness": "1 mm"}),
    ("Hose AN-3 female to banjo 10 mm, 400 mm", {"length": "400 mm"}),
    ("Hose AN-3 female to 3/8 in banjo, 14 in (356 mm)", {"length": "14 in"}),
    ("Hose AN-3 female to banjo 8 mm (5/16 in), 360 mm (14 in)", {"length": "360 mm"}),
    (
        "Tube steel 3/16 in (4.76 mm) x 0.7 mm, 25' (7.62 m)",
        {"material": "steel", "od": "3/16 in", "wall": "0.7 mm", "length": "25 ft"},
    ),
    (
        "Tube steel 3/16″ x 0.7 mm, 25′",  # noqa: RUF001
        {"material": "steel", "od": "3/16 in", "wall": "0.7 mm", "length": "25 ft"},
    ),
    ("Banjo bolt M10x1 double", {"eyes": "2"}),
]


@pytest.mark.parametrize(("text", "fields"), FIGURES, ids=[text for text, _ in FIGURES])
def test_figures_of_tube_washer_and_hose(text: str, fields: object) -> None:
    """Sizes of goods without threads are read with their units, decimal commas included."""
    found = read_wording(text)
    assert (found.confidence, found.fields) == ("high", fields)


LIKELY = [
    ("Tee 3/8-24 UNF inverted flare for 3/16", "whether an end is external or internal is not said"),
    ("Tube nut M10x1 bubble male", "the tube size is not said"),
    ("Plug G1/8", "the seat is not said"),
    ("Tube nut M10x1 bubble male 4.75 mm xylophone", "the word 'xylophone' is not understood"),
    ("Tube nut M10x1 bubble male for 6 mm tube", "no table has M10x1 bubble for 6 mm tube"),
    (
        "Tube nut M12x1,5 bubble male for 6 mm tube",
        "nothing in the list shows that the comma in 'm12x1,5' stands before decimals",
    ),
    ("Plug 3/8-20 UN washer face", "3/8-20 UN is not among the threads of the trade"),
    ("Hose AN-3 female to banjo 10 mm", "the length of the hose is not said"),
    ("Bremsleitung 4,75 x 0,9 mm", "the material of the tube is not said"),
]


@pytest.mark.parametrize(("text", "reason"), LIKELY, ids=[text for text, _ in LIKELY])
def test_understood_in_part(text: str, reason: str) -> None:
    """Something unsaid, or a word nobody knows, makes the confidence medium and is named."""
    found = read_wording(text)
    assert found.confidence == "medium"
    assert found.reasons[0] == reason


UNREAD = [
    ("", "it names no kind of part that is known"),
    ("x" * (LONGEST + 1), f"the description is longer than {LONGEST} characters"),
    ("Caliper M10x1", "'caliper': such a part has figures that wording does not give; write it by hand"),
    ("Adapter union M10x1", "it names two kinds of part: adapter and union"),
    ("Tube nut M10 bubble male 4.75 mm", "an end has no thread"),
    ("Tube nut M10x1 bubble male 4.75 mm LH", "'lh' is left-hand thread"),
    ("Tube nut 3/8 BSF male", "'bsf' is a thread of another standard"),
    ("Tube nut M10x1 or M12x1 bubble male", "'or' is an alternative"),
    ("Union ohne M10x1 bubble female 4.75", "'ohne' is a negation"),
    ("Nut kit M10x1 bubble male 4.75", "'kit' is several parts in one"),
    ("Tap M10x1 for nut", "'tap' is something to make threads or flares with"),
    ("Banjo bolt M10x1 25", "what '25' measures is not said"),
    ("Adapter M10x1 bubble female", "an adapter has 2 ends; the wording gives 1"),
    ("Tube nut M10x1 bubble female 4.75 mm", "the nut of bubble is external, not internal"),
    ("Tube nut 1/8 NPT male", "taper takes no tube nut, not external"),
    ("Union M10x1 bubble male 4.75 mm", "a union whose bubble end is external may be a nut"),
    ("Plug M10x1 taper", "M10x1 is no taper thread"),
    ("Plug M10x1 washer face bubble 4.75", "one end has two seats: bubble and washer-face"),
    ("Plug M10x1 M12x1 washer face", "one end has two threads: M10x1 and M12x1"),
    ("Plug M10x1 male female washer face", "one end is both external and internal"),
    ("Cap male M10x1 bubble 4.75", "one end is both external and internal"),
    ("Plug M10x7 washer face", "'m10x7' is not a thread designation: 7 mm is no pitch of M10; nearest is M10x1.5"),
    ("Elbow 45° AN-3 male", "what '45°' is the angle of is not said"),
    ("Union 2x 3/8-24 UNF x 1/8 NPT", "what '2x' counts is not understood"),
    ("Adapter 8 mm barb female to AN-3 male", "a barb is never internal"),
    ("Adapter barb to AN-3 male", "how large the barb is is not said"),
    ("Adapter 10 mm banjo 12 mm to AN-3 male", "how large the eye is is said twice: '10 mm' and '12 mm'"),
    ("Adapter 10 mm banjo (3/8 in) to AN-3 male", "how large the eye is is said twice: '10 mm' and '3/8 in'"),
    ("Adapter 50 mm banjo to AN-3 male", "how large the eye is is not said"),
    ("Hose AN-3 female to 3/8 in banjo, 14'", '"14\'" is no length of a brake hose: from 80 to 3000 mm'),
    ("Hose AN-3 female to 3/8 in banjo, 14 in, 400 mm", "the hose has more than one length: '14 in' and '400 mm'"),
    ("Hose AN-3 female to 3/8 in banjo, 1 ft 2 in", "what '2 in' measures is not said"),
    ("Adapter banjo 10 mm M10x1 to AN-3 male", "an eye and something else are in one end"),
    ("Plug 1/8 NPT for 3/16 tube", "a tube size at a taper end"),
    ("Sleeve JIC", "the tube size is not said"),
    ("Plug AN-3 for 1/4 tube", "one end has two tube sizes"),
    ("Plug M10x1 for 3/4 tube", "3/4 in tube does not go through M10x1"),
    ("Banjo bolt M10x1 single double", "it is for one eye and for two"),
    ("Tube steel", "a tube is read from its outside diameter x wall, such as 4.75 x 0.9 mm, and a length"),
    ("Tube steel 4.75 x 9 mm", "4.75 mm x 9 mm is no size of brake tube"),
    ("Tube steel 4.75 x 0.9 mm 12 mm", "what '12 mm' measures is not said"),
    ("Tube copper-nickel 1/4\" OD x 25'", "how thick the wall is is not said; 25 ft is a length"),
    ("Tube steel 3/16 in x 0.028 in, 5 ft 3 in", "the tube has more than one length: '5 ft' and '3 in'"),
    ("Tube brass 4.75 x 0.9 mm", "brass is no material of brake tube"),
    ("Copper washer 10 mm", "a washer is read from inside x outside x thickness, such as 10 x 14 x 1 mm"),
    ("Copper washer 14x10x1", "14 mm x 10 mm x 1 mm is no washer"),
]


@pytest.mark.parametrize(("text", "reason"), UNREAD, ids=[text[:60] for text, _ in UNREAD])
def test_not_understood(text: str, reason: str) -> None:
    """What cannot be read, or contradicts itself, gives no ports at all and says why."""
    found = read_wording(text)
    assert (found.confidence, found.ports) == ("low", {})
    assert reason in found.reasons


TRAPS = ["M10x1-25", "M10x1x20", "M10x1 x 20", "M10x1, 25", "M10x1/M12x1", "M10x1.255", "3/8-24-18", "3/8-24/7/16-20",
    "AN3-4", "AN-3/8", "AN816-3", "M10", "1/8", "1/8-27", "3/8", "an 3", "1/4 BSP"]  # fmt: skip


@pytest.mark.parametrize("thread", TRAPS)
def test_no_thread_is_read_out_of_a_longer_one(thread: str) -> None:
    """A designation that goes on, or that names no thread, is never cut down to one that looks like it."""
    assert read_wording(f"Plug {thread} washer face").confidence == "low"


def test_a_comma_is_read_as_the_list_writes_it() -> None:
    """M12x1,5 is sure in a list of decimal commas, and refused in one of decimal points."""
    text = "Tube nut M12x1,5 bubble male for 6 mm tube"
    assert read_wording("Plug M12x1,5 washer face", "comma").confidence == "high"
    assert read_wording(text, "comma").ports["nut"]["thread"] == "M12x1.5"
    refused = read_wording(text, "point")
    assert (refused.confidence, refused.reasons[0]) == (
        "low",
        "'m12x1,5' has a comma in a list that writes decimal points",
    )


UNREAD_SO = [
    ("Hose AN-3 female to 3/8 in banjo, 14 in (356 mm), 2 in", ("what '2 in' measures is not said",)),
    ("Hose AN-3 female to 3/8 in banjo, 14'", ('"14\'" is no length of a brake hose: from 80 to 3000 mm',)),
    ("Hose AN-3 female to 3/8 in banjo, 14 in, 400 mm", ("the hose has more than one length: '14 in' and '400 mm'",)),
    ("Tube steel 1/4\" x 25'", ("how thick the wall is is not said; 25 ft is a length",)),
]


@pytest.mark.parametrize(("text", "reasons"), UNREAD_SO, ids=[text for text, _ in UNREAD_SO])
def test_a_size_too_many_is_the_only_reason(text: str, reasons: tuple[str, ...]) -> None:
    """What is said rightly is never told as unsaid because of another size that is not understood."""
    assert read_wording(text, "point").reasons == reasons


def test_a_thousand_is_no_eye() -> None:
    """The length of a hose with its thousands marked is read in a list of points, the eye beside it too."""
    found = read_wording("Hose AN-3 female to 3/8 in banjo, 1,250 mm", "point")
    assert (found.confidence, found.fields, found.ports["to"]["eye"]) == ("high", {"length": "1250 mm"}, "3/8 in")


def test_the_letter_of_a_taper_thread_is_never_made_up() -> None:
    """BSPT is cut on both sides: R or Rc follows from the side that is said, and no side from BSPT."""
    for side, thread, gender in (("male", "R1/8", "external"), ("female", "Rc1/8", "internal")):
        port = read_wording(f"Elbow 1/8 BSPT {side}").ports["a"]
        assert (port["thread"], port["gender"]) == (thread, gender)
    unsaid = read_wording("Elbow 1/8 BSPT")
    assert (unsaid.confidence, unsaid.reasons) == ("medium", ("whether an end is external or internal is not said",))
    assert read_wording("Elbow R1/8").ports["a"]["gender"] == "external"
    assert read_wording("Elbow R1/8 female").confidence == "low"


def never_wrong(part: Part, found: Reading) -> bool:
    """Return whether every port of a part that was read is the part's own."""
    for name, port in part.ports.items():
        read = found.ports[name]
        thread = parse_thread(read["thread"]).key if "thread" in read else None
        if thread != (port.thread.key if port.thread else None):
            return False
        if (read.get("gender"), read.get("seat")) != (port.gender, port.seat):
            return False
        tube = parse_quantity(read["tube"], "length") if "tube" in read else None
        if tube is not None and (port.tube is None or not same_tube(tube, port.tube)):
            return False
    return len(found.ports) == len(part.ports)


@pytest.mark.parametrize("kind", sorted({part.kind for part in THREADED}))
def test_the_generic_catalog_is_read_back(kind: str) -> None:
    """Each shipped part with threads, worded from its ports, is read back the same or is not taken as sure."""
    found = [(part, read_wording(wording_of(part), "point")) for part in THREADED if part.kind == kind]
    wrong = [part.id for part, reading in found if reading.confidence == "high" and not never_wrong(part, reading)]
    assert wrong == []
    assert [
        part.id for part, reading in found if reading.confidence == "medium" and not never_wrong(part, reading)
    ] == []
    if kind in ("nut", "elbow", "banjo bolt", "plug", "cap", "bulkhead union"):
        assert {reading.confidence for _, reading in found} == {"high"}


def test_the_shipped_descriptions_are_never_read_wrongly() -> None:
    """The descriptions of the generic catalog itself give its own ports or are not taken as sure."""
    found = [(part, read_wording(part.description)) for part in THREADED]
    sure = [(part, reading) for part, reading in found if reading.confidence == "high"]
    assert [part.id for part, reading in sure if not never_wrong(part, reading)] == []
    assert len(sure) > 100


NOISE = st.lists(
    st.sampled_from(
        [
            "x",
            "to",
            "25",
            "M12x1.5",
            "-",
            "/",
            "3/16",
            "1/8",
            "NPT",
            "UNF",
            "24",
            "LH",
            ",",
            "m",
            "or",
            "steel",
            "AN",
            "3",
        ]
    ),
    max_size=3,
)


@given(st.sampled_from(THREADED), NOISE, st.integers(0, 60))
def test_noise_never_turns_one_thread_into_another(part: Part, noise: list[str], at: int) -> None:
    """Words strewn into a right description leave it right, make it unsure, or name a thread they spell themselves."""
    words = wording_of(part).split()
    at = min(at, len(words))
    text = " ".join([*words[:at], *noise, *words[at:]])
    found = read_wording(text)
    if found.confidence != "high":
        return
    spelled = {port.thread.key for port in part.ports.values() if port.thread}
    if "M12x1.5" in noise:
        spelled.add(parse_thread("M12x1.5").key)
    if "AN" in noise and "3" in noise:
        spelled.add(parse_thread("AN-3").key)
    if "NPT" in noise and "1/8" in noise:
        spelled.add(parse_thread("1/8 NPT").key)
    read = {parse_thread(port["thread"]).key for port in found.ports.values() if "thread" in port}
    assert read <= spelled


def test_hostile_wording_is_answered_at_once() -> None:
    """A description made to keep patterns trying is answered in a moment: its length is bounded."""
    start = time.perf_counter()
    for piece in (
        "1 ",
        "1/1 ",
        "1-1/",
        "m1",
        "m1x",
        "1/8-",
        "an-",
        "37 deg ",
        "3 x ",
        "1,1",
        "x 1 ",
        "tube ",
        "- ",
        "0" * 9,
    ):
        read_wording(f"plug {piece * (250 // len(piece))}")
    assert time.perf_counter() - start < 5


@given(st.text(max_size=80))
def test_any_text_is_answered(text: str) -> None:
    """No text is too strange to be given a confidence."""
    assert read_wording(text).confidence in ("high", "medium", "low")
