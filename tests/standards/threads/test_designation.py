"""What the parser accepts, and the whole text of what it refuses."""

import pickle

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitcheck.errors import FitcheckError
from fitcheck.standards.threads import Thread, ThreadDesignationError, known_threads, known_uses, parse
from fitcheck.standards.threads.series import metric, metric_pitches, pipe, pipe_sizes, unified, unified_sizes

SPELLINGS = {
    "3/8-24 UNF": [
        *['3/8"-24', "3/8 x 24 UNF-2B", "3/8 in - 24 UNF", ".375-24", "0.3750-24 UNF-2A", "3/8-24 NF"],
        *["UNF 3/8-24", "3/8 UNF", "3/8-24 UNF-2A/2B", "3/8\u2033\u201324", "\u215c-24", " 3/8 - 24  unf "],
        *["-3 AN", "AN3", "AN-3", "-3AN", "JIC 3", "JIC-3", "-3 JIC", "-03 AN", "3/8-24 TPI"],
    ],
    "10-32 UNF": ["#10-32", "10-32", ".190-32", "No. 10-32 UNF"],
    "1-64 UNC": ["#1-64"],
    "1-8 UNC": ['1"-8', "1-8"],
    "1 1/8-12 UNF": ["1 1/8-12", "1-1/8-12", "1.125-12 UNF", "1⅛-12"],
    "7/16-24 UNS": ["7/16-24"],
    "5/16-28 UN": ["5/16-28"],
    "7/16-20 UNF": ["-4 AN"],
    "7/8-14 UNF": ["JIC-10"],
    "7/16-20 UNJF": ["7/16 x 20 UNJF", "7/16-20 unjf-3A"],
    "3/8-24 UNF-3A": ["3/8-24-3A", "3/8-24 UNF - 3a"],
    "3/8-24 UNF-3A/3B": ["3/8-24 UNF-3B/3A"],
    "M10x1": ["M10 X 1.0", "M10×1", "m10*1,0", "M10x1 - 6g", "M10-1", "M10x1 mm"],  # noqa: RUF001
    "M10x1.25": ["M10 x 1.25 - 6H"],
    "M10x1.5": ["M10"],
    "M10x1-4H/6h": ["M10x1-4H/6h", "M10 x 1 - 6h/4H"],
    "M10x1-5H6H": ["M10x1 5H6H"],
    "MJ10x1": ["MJ 10 x 1"],
    "1/8-27 NPT": ["1/8 NPT", "NPT 1/8", '1/8" NPT', "1/8-27NPT"],
    "1/8-27 NPTF": ["1/8 NPTF"],
    "G1/8": ["G 1/8 A", "BSPP 1/8", "1/8 BSPP", "G1/8-28"],
    "G1/8 B": ["G 1/8 B"],
    "R1/8": ["R 1/8", "1/8 BSPT"],
    "Rc1/8": ["Rc 1/8", "RC1/8"],
    "Rp1/8": ["Rp 1/8"],
}

REFUSALS = {
    "": "'' is not a thread designation: it is empty",
    "x" * 81: "'" + "x" * 77 + "...' is not a thread designation: it is longer than 80 characters",
    "hello": "'hello' is not a thread designation: it is not spelled like any unified, metric or pipe thread",
    "M10x1x20": "'M10x1x20' is not a thread designation: it is not spelled like any unified, metric or pipe"
    " thread; nearest is M10x1",
    "3/8-23 UNF": "'3/8-23 UNF' is not a thread designation: 23 threads per inch is no series of 3/8;"
    " nearest is 3/8-24 UNF",
    "3/8-24 UNC": "'3/8-24 UNC' is not a thread designation: 3/8-24 is UNF; nearest is 3/8-24 UNF",
    "7/16-24 UNF": "'7/16-24 UNF' is not a thread designation: 7/16-24 is UNS; nearest is 7/16-24 UNS",
    "7/16-20 UNJ": "'7/16-20 UNJ' is not a thread designation: 7/16-20 is UNJF; nearest is 7/16-20 UNJF",
    "13/32-24": "'13/32-24' is not a thread designation: 13/32 is no unified size from #0 to 1 1/2;"
    " nearest is 7/16-24 UNS",
    "#7-32": "'#7-32' is not a thread designation: #7 is no unified size from #0 to 1 1/2; nearest is 8-32 UNC",
    "3/8": "'3/8' is not a thread designation: it does not give the threads per inch; nearest is 3/8-24 UNF",
    "11/16 UNF": "'11/16 UNF' is not a thread designation: 11/16 has no UNF series; nearest is 11/16-12 UN",
    "3/0-24": "'3/0-24' is not a thread designation: 3/0 is no unified size from #0 to 1 1/2",
    "3/8-24 UNF-4B": "'3/8-24 UNF-4B' is not a thread designation: 4B is none of the tolerance classes"
    " 1A, 2A, 3A, 1B, 2B, 3B; nearest is 3/8-24 UNF",
    "M10x1.1": "'M10x1.1' is not a thread designation: 1.1 mm is no pitch of M10; nearest is M10x1",
    "M10.3x1": "'M10.3x1' is not a thread designation: M10.3 is no size of ISO 261 from M1.6 to M36; nearest is M10x1",
    "M13": "'M13' is not a thread designation: M13 has no coarse pitch; nearest is M13x1.5",
    "M10x1-6k": "'M10x1-6k' is not a thread designation: 6k is no tolerance class of ISO 965-1 with position"
    " e, f, g, h, G or H; nearest is M10x1",
    "-7 AN": "'-7 AN' is not a thread designation: there is no 37 degree dash size -7 from -2 to -10;"
    " nearest is 9/16-18 UNF",
    "1/8 BSP": "'1/8 BSP' is not a thread designation: BSP does not say whether it is parallel (G) or taper"
    " (R, Rc); nearest is G1/8",
    "1/7 NPT": "'1/7 NPT' is not a thread designation: 1/7 is no size of NPT; nearest is 1/8-27 NPT",
    "1/8-28 NPT": "'1/8-28 NPT' is not a thread designation: 1/8 NPT has 27 threads per inch, not 28;"
    " nearest is 1/8-27 NPT",
    "R1/8 A": "'R1/8 A' is not a thread designation: R has no class A; nearest is R1/8",
}


def every_standard_thread() -> list[Thread]:
    """Return one thread of each size and pitch that the data files list, in every series."""
    inch = [unified(size, tpi, j) for size in unified_sizes() for tpi in size.series for j in (False, True)]
    metres = [
        metric(size, pitch, j) for size, row in metric_pitches().items() for pitch in row[1] for j in (False, True)
    ]
    pipes = [pipe(name, size) for name in ("NPT", "NPTF", "G", "R", "Rp", "Rc") for size in pipe_sizes(name)]
    return inch + metres + pipes


@pytest.mark.parametrize(
    ("text", "canonical"), [(text, name) for name, texts in SPELLINGS.items() for text in [name, *texts]]
)
def test_spelling_becomes_canonical(text: str, canonical: str) -> None:
    """Each spelling that people write names the thread of one canonical designation."""
    assert parse(text).designation == canonical


@pytest.mark.parametrize(("text", "message"), REFUSALS.items())
def test_refusal_says_why_and_what_is_nearest(text: str, message: str) -> None:
    """Text that names no thread is refused with its reason and the nearest designation, word for word."""
    with pytest.raises(ThreadDesignationError) as caught:
        parse(text)
    assert str(caught.value) == message


def test_refusal_keeps_its_fields_and_bases() -> None:
    """The error keeps text, reason and nearest, is a FitcheckError and ValueError, and survives pickling."""
    with pytest.raises(ThreadDesignationError) as caught:
        parse("M10x1.1")
    error = pickle.loads(pickle.dumps(caught.value))
    assert (error.text, error.reason, error.nearest) == ("M10x1.1", "1.1 mm is no pitch of M10", "M10x1")
    assert isinstance(error, FitcheckError)
    assert isinstance(error, ValueError)


def test_nearest_is_itself_a_designation() -> None:
    """Following the advice of a refusal always leads to a thread."""
    for text in REFUSALS:
        with pytest.raises(ThreadDesignationError) as caught:
            parse(text)
        if caught.value.nearest:
            assert parse(caught.value.nearest).designation == caught.value.nearest


def test_canonical_designation_reads_back_to_the_same_thread() -> None:
    """Every thread that the tables can make is read back, equal, from its own designation."""
    threads = every_standard_thread()
    assert len(threads) > 500
    for thread in threads:
        assert parse(thread.designation) == thread


def test_keys_tell_threads_apart_but_not_their_classes() -> None:
    """Keys are shared only by R and Rc, and by NPT and NPTF; a tolerance class never changes one."""
    plain = [thread for thread in every_standard_thread() if thread.series not in ("Rc", "NPTF")]
    assert len({thread.key for thread in plain}) == len(plain)
    assert parse("R1/8").key == parse("Rc1/8").key != parse("Rp1/8").key
    assert parse("1/8 NPTF").key == parse("1/8 NPT").key
    assert parse("3/8-24 UNF-3A").key == parse("3/8-24").key != parse("3/8-24 UNJF").key
    assert parse("M10x1-6h").key == parse("M10x1").key


def test_fields_of_three_kinds() -> None:
    """Unified, taper pipe and parallel pipe threads carry their own angle, taper and usual classes."""
    assert parse("3/8-24") == Thread("UNF", 9.525, 25.4 / 24, 60.0, 0.0, "3/8-24 UNF", "2A", "2B")
    assert parse("1/8 NPT") == Thread("NPT", 0.405 * 25.4, 25.4 / 27, 60.0, 1 / 16, "1/8-27 NPT", "", "")
    assert parse("G1/8") == Thread("G", 9.728, 25.4 / 28, 55.0, 0.0, "G1/8", "A", "")
    assert str(parse("m10")) == "M10x1.5"


def test_trade_list_is_canonical_and_described() -> None:
    """The trade's list holds each thread once, in canonical spelling, with what it is used for."""
    assert [thread.designation for thread in known_threads()] == list(known_uses())
    assert all(use.strip() for use in known_uses().values())


FRAGMENTS = [
    *"0123456789/.,-xX*#\"' MJUNFCESGRcpPTBIAKHgh\u00d7\u215b\u00bd\u0663\t\n",
    "UNF",
    "NPT",
    "AN",
    "-6H",
]
WRITTEN = [text for name, texts in SPELLINGS.items() for text in [name, *texts]]


@st.composite
def nearly_written(draw: st.DrawFn) -> str:
    """Return a spelling that people write, with a fragment put in place of up to three of its characters."""
    text = draw(st.sampled_from(WRITTEN))
    at = draw(st.integers(0, len(text)))
    fragment = draw(st.sampled_from(FRAGMENTS))
    return f"{text[:at]}{fragment}{text[at + draw(st.integers(0, 3)) :]}"


@given(st.one_of(st.text(max_size=100), st.lists(st.sampled_from(FRAGMENTS)).map("".join), nearly_written()))
@settings(deadline=None, max_examples=500)
def test_any_text_is_a_thread_or_a_refusal(text: str) -> None:
    """Whatever the text, it is a thread that reads back equal, or refused; nothing else escapes."""
    refusal = None
    try:
        thread = parse(text)
    except ThreadDesignationError as error:
        refusal = error
    if refusal is None:
        assert parse(thread.designation) == thread
    else:
        assert refusal.text == text
        assert "is not a thread designation: " in str(refusal)
        assert refusal.nearest is None or parse(refusal.nearest).designation == refusal.nearest


@pytest.mark.parametrize("unit", ["1", "1 ", "1/", "M1", "-", "1-", "UN", "#", "1 1/1-1 UNF ", ".1", "6g/", "\u00bd"])
def test_repetition_is_refused(unit: str) -> None:
    """Repeated fragments, up to the longest text and far over it, are refused; one that backtracks would hang here."""
    for text in [(unit * 80)[:80], (unit * 80)[:79] + "!", unit * 100_000]:
        with pytest.raises(ThreadDesignationError):
            parse(text)


@pytest.mark.parametrize(("text", "meant"), [("1/8-27", "1/8-27 NPT"), ("1/8-28", "G1/8"), ("1/4-18", "1/4-18 NPT")])
def test_pipe_size_without_its_series_is_refused_with_the_pipe_thread(text: str, meant: str) -> None:
    """A size and pitch that only a pipe thread has is not taken for a number size of the unified series."""
    with pytest.raises(ThreadDesignationError) as caught:
        parse(text)
    assert str(caught.value) == (
        f"{text!r} is not a thread designation: a pipe thread needs the name of its series; nearest is {meant}"
    )
