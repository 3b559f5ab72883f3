"""Small reports, rule pages and bills that the report tests share."""

from decimal import Decimal
from fractions import Fraction

from fitcheck.bom.record import Bom, Length, NotCounted, Piece, Price, Row
from fitcheck.build.load import Place
from fitcheck.catalog.money import Money
from fitcheck.changes import Append, Put
from fitcheck.checks.findings import Finding, Report, Unchecked
from fitcheck.checks.register import Page
from fitcheck.remedies.proof import Proven, Witness
from fitcheck.remedies.remedy import Remedy

THREADS = Finding(
    rule="thread-mismatch",
    level="error",
    message="3/8-24 UNF of tail.end runs in loose and strips in M10x1 of tee.left",
    at=("tail.end", "tee.left"),
    place=Place("build.yaml", 12, 5),
    evidence={
        "external": "3/8-24 UNF",
        "internal": "M10x1",
        "verdict": "runs-in-loose",
        "clearance_mm": (0.54123456, 0.788),
        "overlap_percent": (15.2, 54.4),
        "free_turns": (5.4, float("inf")),
        "reason": "goes home with 15 to 54 % of the thread height and strips when tightened",
        "source": "derived",
    },
    remedies=(
        Proven(
            Remedy(
                "adapters",
                (
                    Put(("components", "adapter_1"), {"part": "adapter-a"}),
                    Put(("components", "adapter_2"), {"part": "adapter-b"}),
                    Append(("joints",), ["adapter_1.b", "adapter_2.a"]),
                ),
                parts=("adapter-a", "adapter-b"),
                added_joints=2,
            ),
            Witness((), ()),
        ),
    ),
)
SEATS = Finding(
    rule="seat-mismatch",
    level="error",
    message="bubble of feed.from against inverted-flare of mc.out",
    at=("feed.from", "mc.out"),
    place=Place("build.yaml", 31, 5),
    evidence={
        "seats": ("bubble", "inverted-flare"),
        "outcome": "the cone bottoms out and weeps",
        "source": "common practice, no source",
    },
)
LOOP = Finding(
    rule="circuit-looped",
    level="warning",
    message="tee, b and 9 more form a circle",
    at=("tee", "b"),
    place=Place("build.yaml", 40, 3),
    evidence={"path": tuple(f"p{number}.a" for number in range(11))},
)
ACCEPTED = Finding(
    rule="single-circuit",
    level="note",
    message="clutch has one circuit",
    at=("clutch",),
    place=Place("build.yaml", 50, 3),
    accepted="clutch only",
)
UNCHECKED = (
    Unchecked("air-trap", ("a",), "lines.a.route"),
    Unchecked("air-trap", ("b",), "lines.b.route"),
    Unchecked("fluid-unsuitable", ("mc", "mc.out"), "fluid"),
    Unchecked("near-heat", (), "not in this version"),
    Unchecked("hose-short", (), "not in this version"),
)
REPORT = Report(
    build="Plover",
    findings=(THREADS, SEATS, LOOP),
    accepted=(ACCEPTED,),
    unchecked=UNCHECKED,
    checked={"thread-mismatch": 31, "seat-mismatch": 30},
)
EMPTY = Report(build="Plover", findings=(), accepted=(), unchecked=(), checked={})


def page(name: str, family: str = "joint") -> Page:
    """Return an invented rule page."""
    sections = {"What it finds": f"What {name}\nfinds.", "Why it matters": "It leaks."}
    text = f"`{name}`: about {name}\n\nWhat it finds\n-------------\nWhat {name}\nfinds.\n"
    return Page(name, family, f"about {name}", text, sections, "", "", "")


PAGES = tuple(page(name) for name in ("thread-mismatch", "seat-mismatch", "circuit-looped", "single-circuit"))

NUT_PRICE = Price(Fraction(1, 3), "GBP", "hall", "N-1", 3, Money(Decimal("1.00"), "GBP"), None)
TUBE_PRICE = Price(Fraction(1, 100), "GBP", "shed", None, 1, Money(Decimal("10.00"), "GBP"), 1000.0)
ROWS = (
    Row("pump", "master cylinder", "Pump, 16 mm", 1, "each", ("mc",)),
    Row("pipe-nut", "nut", "Pipe nut", 2, "each", ("feed.from", "feed.to"), price=NUT_PRICE),
    Row(
        "pipe",
        "tube",
        "Pipe",
        None,
        "mm",
        ("feed", "rear"),
        (
            Piece("rear", Length(None, "lines.rear.route is not given")),
            Piece("feed", Length(199.961945, None, 193.561945, 6.4, "route; flares")),
        ),
        199.961945,
        price=TUBE_PRICE,
    ),
    Row("pmp", "", "no catalog has a part 'pmp'", 1, "each", ("mc_2",), unknown=True),
    Row(None, "nut", "M10x1 external nut, bubble, for 1/2 in tube", 1, "each", ("big.to",)),
)
NOT_COUNTED = (NotCounted(("mc_2.out", "rear.from"), "no catalog has what mc_2 is: pmp"),)
BOM = Bom("Plover", ROWS, NOT_COUNTED, True, (Money(Decimal("0.67"), "GBP"),))
PLAIN_BOM = Bom("Plover", (Row("pump", "master cylinder", "Pump, 16 mm", 1, "each", ("mc",)),))

CAUTION_LINES = """
Brakes hurt people when they fail. This answer rests on the data given; it
replaces neither a test nor a licensed engineer nor your local code. A joint
that passes on paper is still leak-tested under pressure before the car moves."""
