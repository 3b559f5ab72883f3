"""The two ends of a bridge as people name them: an end of the build, or a description in words.

`mc_front.outlet`, `front_feed.from`; `M10x1 internal bubble 4.75 mm`, `1/8 NPT female`, `-3 AN male`, `3/16 in tube`,
`hose 8 mm`, `barb 8 mm`, `banjo eye 10 mm`. Words are read in the spelling of the parts search.
"""

import re
from collections.abc import Iterator
from typing import Final, NamedTuple

from fitcheck import naming
from fitcheck.build.graph import End, Fitted, PortGraph
from fitcheck.build.refs import port_of, tag_of
from fitcheck.catalog.part import Part, Port
from fitcheck.catalog.search_words import query_words
from fitcheck.errors import FitcheckError
from fitcheck.quantities import parse as parse_quantity
from fitcheck.standards.seats import SEAT_NAMES
from fitcheck.standards.threads import Thread, ThreadDesignationError
from fitcheck.standards.threads import parse as parse_thread
from fitcheck.standards.threads.every import has_member
from fitcheck.trees import short

EXAMPLES: Final = "'M10x1 internal bubble 4.75 mm', '3/16 in tube' or 'hose 8 mm'"
_REF: Final = re.compile(r"[\w-]{1,80}\.[\w-]{1,80}")
_METRIC: Final = re.compile(r"mj?[0-9.]+(?:x[0-9.]+)?", re.IGNORECASE)
_COMMA: Final = re.compile(r"[,;:](?=\s|$)")
_INCHES: Final = re.compile(r"(?<![\w./-])([0-9]{0,4}\.[0-9]{1,6}) *(?:inch(?:es)?|in|\"|″|”)(?!\w)")
_MM: Final = re.compile(r"[0-9]{1,5}(?:\.[0-9]{1,6})?mm")
_FRACTION: Final = re.compile(r"[0-9]{1,3}/[0-9]{1,3}")
_BARE: Final = re.compile(r"[0-9]{1,6}(?:\.[0-9]{1,6})?")
_DASH: Final = re.compile(r"an([0-9]{1,2})")
_THREADLIKE: Final = re.compile(r"(?:mj?|g|rc?|rp|an|#)?[0-9].*")
_LONGEST: Final = 120
_GENDERS: Final = {
    "internal": "internal", "female": "internal", "int": "internal", "inside": "internal",
    "external": "external", "male": "external", "ext": "external", "outside": "external",
}  # fmt: skip
_SEATS: Final = {
    **{name: name for name in SEAT_NAMES},
    "inverted flare": "inverted-flare", "inverted": "inverted-flare", "double flare": "inverted-flare",
    "bubble flare": "bubble", "37 degree": "cone-37", "37 degrees": "cone-37", "37 deg": "cone-37", "jic": "cone-37",
    "an": "cone-37", "45 degree": "cone-45", "45 degrees": "cone-45", "45 deg": "cone-45", "cone 37": "cone-37",
    "cone 45": "cone-45", "washer face": "washer-face", "washer": "washer-face", "crush washer": "washer-face",
    "copper washer": "washer-face", "o ring": "o-ring", "oring": "o-ring", "push on": "push-on", "barb": "push-on",
    "compression": "ferrule",
}  # fmt: skip
"""What the counter says for each seat: common practice, no source."""
_ROLES: Final = {"tube": "tube", "pipe": "tube", "line": "tube", "hose": "hose", "barb": "hose", "eye": "eye"}
_IDLE: Final = frozenset(
    {
        *("port", "thread", "threaded", "flare", "flared", "fitting", "end", "seat", "size", "banjo", "rigid", "brake"),
        *("feed", "for", "with", "a", "the", "of", "no"),
    }
)
_TAPER: Final = ("NPT", "BSPT")
_SIXTEENTH: Final = 25.4 / 16
"""A dash size is the tube's outside diameter in sixteenths of an inch (SAE J514)."""


class EndError(FitcheckError, ValueError):
    """Text that names no end. `text` is what was given, `reason` what is wrong with it."""

    def __init__(self, text: str, reason: str) -> None:
        self.text = text
        self.reason = reason
        super().__init__(text, reason)

    def __str__(self) -> str:
        return f"{short(self.text)}: {self.reason}"


def read_end(text: str, graph: PortGraph, built: bool = True) -> End:
    """Return the end that `text` means: an end of the build, else what it describes.

    `built` is False if the graph is of no build of the user's, so that no reference can mean anything.

    Raises:
        EndError: it means neither, or an end that carries no fluid; the message says what was expected.
    """
    text = text.strip()
    if built and text in graph.ends:
        return _flowing(text, graph.ends[text])
    if _REF.fullmatch(text) and not _METRIC.fullmatch(text):
        raise EndError(text, _no_such_end(text, graph, built))
    return _described(text)


def _flowing(text: str, end: End) -> End:
    if not end.known:
        raise EndError(text, f"no catalog has its part, {end.fitted.part_id}")
    if end.port is not None and end.port.mechanical:
        raise EndError(text, "it carries force, not fluid")
    return end


def _no_such_end(text: str, graph: PortGraph, built: bool) -> str:
    if not built:
        return f"there is no build to look for it in: name one with --build, or describe the end, such as {EXAMPLES}"
    tag, port = tag_of(text), port_of(text)
    if tag not in graph.fitted:
        return f"nothing here has the tag {tag}{naming.hint(tag, graph.fitted)}"
    ports = [port_of(ref) for ref in graph.ends if tag_of(ref) == tag]
    return f"{tag} has no port {port}{naming.hint(port, ports)}; it has {', '.join(ports) or 'none'}"


class _Words(NamedTuple):
    """What a description says. Lengths in mm."""

    thread: Thread | None = None
    gender: str | None = None
    seat: str | None = None
    tube: float | None = None
    hose: float | None = None
    eye: float | None = None
    roles: frozenset[str] = frozenset()


def _described(text: str) -> End:
    if len(text) > _LONGEST:
        raise EndError(text, f"longer than {_LONGEST} characters")
    words = _read(text)
    port = _port(text, words)
    if port is None:
        tube = Part(text, "tube", "", {}, (), od=words.tube)
        return End(text, Fitted(text, "lines", text, tube, ()), None, tube_end=True)
    part = Part(text, "hose", "", {port.name: port}, ())
    return End(text, Fitted(text, "components", text, part, ()), port)


def _port(text: str, words: _Words) -> Port | None:
    """Return the port that is described, None for a tube's end.

    Raises:
        EndError: something is left out that decides what joins it.
    """
    if words.eye is not None:
        return Port("port", seat="washer-face", eye=words.eye)
    if words.thread is None:
        return _threadless(text, words)
    thread = words.thread
    gender = words.gender or {"R": "external", "Rp": "internal", "Rc": "internal"}.get(thread.series)
    if gender is None:
        raise EndError(text, "say whether its thread is internal or external")
    if not has_member(thread, gender == "internal"):
        raise EndError(text, f"{thread.designation} is never {gender}")
    seat = words.seat or ("taper" if thread.family in _TAPER else None)
    if seat is None:
        raise EndError(text, f"say how it seals: {', '.join(SEAT_NAMES)}")
    return Port("port", thread, gender, seat, words.tube, words.hose)


def _threadless(text: str, words: _Words) -> Port | None:
    if words.seat == "push-on" or words.hose is not None or "hose" in words.roles:
        size = words.hose or words.tube
        if size is None:
            raise EndError(text, "say for what hose: a size such as 8 mm")
        return Port(
            "port", gender=words.gender or ("external" if words.seat else "internal"), seat="push-on", hose=size
        )
    if words.seat is not None or words.gender is not None:
        raise EndError(text, "say its thread, such as M10x1 or 3/8-24 UNF")
    if words.tube is None:
        raise EndError(text, f"expected an end such as {EXAMPLES}, or a port of the build")
    return None


def _read(text: str) -> _Words:
    """Return what the words of a description say.

    Raises:
        EndError: a word means nothing here, or the same thing is said twice.
    """
    plain = _INCHES.sub(lambda match: f"{float(match[1]) * 25.4:.4f}mm", _COMMA.sub(" ", text))
    said: dict[str, object] = {}
    roles: set[str] = set()
    for what, value in _facts(text, [word.typed for word in query_words(plain.split())]):
        if what == "role":
            roles.add(str(value))
        elif said.setdefault(what, value) != value:
            raise EndError(text, f"it says two things of its {what}")
    return _Words(**said, roles=frozenset(roles))  # type: ignore[arg-type]  # keys are the fields


def _facts(text: str, words: list[str]) -> Iterator[tuple[str, object]]:
    """Yield what each word, or a few in a row, says: field and value."""
    at, role = 0, None
    while at < len(words):
        word = words[at]
        many, thread = _thread_at(words, at)
        phrase = next((n for n in (2, 1) if " ".join(words[at : at + n]) in _SEATS), 0)
        if thread is not None:
            yield "thread", thread
            dash = _DASH.fullmatch(word)
            if dash:
                yield "seat", "cone-37"
                yield "tube", int(dash[1]) * _SIXTEENTH
            at += many
        elif phrase:
            seat = _SEATS[" ".join(words[at : at + phrase])]
            yield "seat", seat
            role = "hose" if seat == "push-on" else role
            at += phrase
        elif _MM.fullmatch(word) or _FRACTION.fullmatch(word):
            after = _ROLES.get(words[at + 1]) if at + 1 < len(words) else None
            yield after or role or "tube", _size(text, word)
            role = None
            at += 1
        elif word in _ROLES:
            role = _ROLES[word]
            yield "role", role
            at += 1
        elif word in _GENDERS:
            yield "gender", _GENDERS[word]
            at += 1
        elif word in _IDLE:
            at += 1
        else:
            raise EndError(text, _not_understood(words, at))


def _thread_at(words: list[str], at: int) -> tuple[int, Thread | None]:
    """Return how many words from here on are a thread, and which, looking for the longest first."""
    for many in (3, 2, 1):
        if at + many <= len(words) and any(map(str.isdigit, words[at])) and not _MM.fullmatch(words[at]):
            try:
                return many, parse_thread(" ".join(words[at : at + many]))
            except ThreadDesignationError:
                continue
    return 0, None


def _size(text: str, word: str) -> float:
    try:
        return parse_quantity(word if word.endswith("mm") else f"{word} in", "length")
    except FitcheckError as error:
        raise EndError(text, str(error)) from None


def _not_understood(words: list[str], at: int) -> str:
    """Return what is wrong with a word that means nothing: a bare number, no such thread, or the nearest word."""
    word = words[at]
    if _BARE.fullmatch(word):
        return f"a bare number, {word}: write {word} mm, or inches as 3/16 in"
    if _THREADLIKE.fullmatch(word):
        try:
            parse_thread(word)
        except ThreadDesignationError as error:
            return str(error)
    known = {*_GENDERS, *_SEATS, *_ROLES}
    return f"{short(word)} is not understood{naming.hint(word, known)}; expected words such as {EXAMPLES}"
