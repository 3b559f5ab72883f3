"""`fitcheck bridge`: whole texts, exit codes, what is refused and why, requests that cannot be answered."""

import json
from pathlib import Path

import pytest

from fitcheck.cli.main import main

BUILD = """\
build: 1
name: Wren
fluid: DOT 4
catalogs: [own.yaml]
offers: [offers.yaml]
components:
  mc: {part: mc-3-8-24-inverted}
  rear: {part: wheel-cylinder-m10x1-bubble}
  pedals: {part: pedal-box-single}
  gone: {part: nobody-has-it}
lines:
  run: {from: mc.outlet, to: rear.inlet, tube: tube-3-16-cuni}
joints:
  - [gone.port, rear.inlet]
variants:
  metric:
    swap: {mc: mc-m10x1-bubble}
"""
PORTS = """\
    ports:
      a: {thread: 3/8-24 UNF, gender: external, seat: inverted-flare, tube: 3/16 in}
      b: {thread: M10x1, gender: external, seat: bubble, tube: %s}
"""
OWN = f"""\
catalog: 1
parts:
  own-adapter:
    kind: adapter
    description: Steel adapter
    max_pressure: 20 MPa
{PORTS % "4.75 mm"}
  own-weak:
    kind: adapter
    description: Brass adapter
    max_pressure: 7 MPa
{PORTS % "4.75 mm"}
  own-oil:
    kind: adapter
    description: Adapter with a rubber ring
    fluid_families: [mineral]
{PORTS % "4.75 mm"}
  own-wide:
    kind: adapter
    description: Adapter for 6 mm tube
{PORTS % "6 mm"}
"""
OFFERS = """\
offers: 1
suppliers:
  shop: {name: A shop, currency: GBP}
  abroad: {name: Another shop, currency: EUR}
prices:
  - {part: own-adapter, supplier: shop, price: 6.40 GBP}
  - {part: own-weak, supplier: shop, price: 5.00 GBP, pack: 2}
  - {part: own-oil, supplier: shop, price: 0.90 GBP}
  - {part: own-wide, supplier: shop, price: 1.10 GBP}
  - {part: adapter-3-8-24-inverted-male-m10x1-bubble-male, supplier: abroad, price: 1.00 EUR}
"""
CAUTION = """
Brakes hurt people when they fail. This answer rests on the data given; it
replaces neither a test nor a licensed engineer nor your local code. A joint
that passes on paper is still leak-tested under pressure before the car moves.
"""
EXPLAINED = """\
FROM  mc.outlet: 3/8-24 UNF internal, inverted-flare, 3/16 in tube
TO    rear.inlet: M10x1 internal, bubble, 4.75 mm tube
DUTY  at least 10 MPa, glycol fluid, seats fit for brake pressure

They do not join as they are: rear.inlet and mc.outlet are both internal.

Without any adapter a line of 3/16 in tube joins them: double-45 at mc.outlet,
bubble at rear.inlet.

2 chains, best first: fewest added joints, then price, then pressure rating,
then fewest new forms.

1. adds 1 joint, each a place that can leak; 6.40 GBP; rated 20 MPa
   (1) own-adapter
     Steel adapter
     6.40 GBP at shop; rated 20 MPa
   - mc.outlet (3/8-24 UNF internal, inverted-flare, 3/16 in tube) with a of (1)
     (3/8-24 UNF external, inverted-flare, 3/16 in tube)
   - b of (1) (M10x1 external, bubble, 4.75 mm tube) with rear.inlet (M10x1
     internal, bubble, 4.75 mm tube)

2. adds 1 joint, each a place that can leak; price not known; rating not known,
   so nothing says that it stands 10 MPa
   (1) adapter-3-8-24-inverted-male-m10x1-bubble-male
     Adapter, 3/8-24 inverted flare male to M10x1 bubble flare male
     1.00 EUR at abroad; in another currency, so not compared; rating not known
   - mc.outlet (3/8-24 UNF internal, inverted-flare, 3/16 in tube) with a of (1)
     (3/8-24 UNF external, inverted-flare, 3/16 in tube)
   - b of (1) (M10x1 external, bubble, 4.75 mm tube) with rear.inlet (M10x1
     internal, bubble, 4.75 mm tube)

Prices are of the adapters alone: nuts, bolts and washers come on top.

REFUSED (3)
- own-oil
  own-oil: made for mineral fluid, not for glycol
- own-wide
  tube 6 mm at own-wide.b, 4.75 mm at rear.inlet
- own-weak
  own-weak: rated 7 MPa, 10 MPa asked for
"""
DIRECT = """\
FROM  M10x1 internal bubble 4.75 mm: M10x1 internal, bubble, 4.75 mm tube
TO    3/16 in tube: end of 3/16 in tube
DUTY  seats fit for brake pressure

They join as they are: no adapter is needed.
   - M10x1 internal bubble 4.75 mm with 3/16 in tube: bubble flare,
     nut-m10x1-bubble
"""
NONE = """\
FROM  mc.outlet: 3/8-24 UNF internal, inverted-flare, 3/16 in tube
TO    hose 8 mm: no thread internal, push-on, 8 mm hose
DUTY  glycol fluid

They do not join as they are: hose 8 mm and mc.outlet are both internal.

No chain of up to 1 adapter joins them (100 forms of port looked at).
"""


@pytest.fixture
def car(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Write the build with its catalog and offers, and go there."""
    for name, text in (("build.yaml", BUILD), ("own.yaml", OWN), ("offers.yaml", OFFERS)):
        (tmp_path / name).write_text(text)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "80")
    return tmp_path


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    """Return exit code, standard output and standard error of one command line."""
    code = main(("bridge", *words))
    out = capsys.readouterr()
    return code, out.out, out.err


@pytest.mark.usefixtures("car")
def test_the_whole_answer(capsys: pytest.CaptureFixture[str]) -> None:
    """Two ports of the build here: chains by price, the refused with pressure, fluid and size, the caution."""
    words = ("mc.outlet", "rear.inlet", "--pressure", "10 MPa", "--explain", "--most", "2")
    assert run(capsys, *words) == (0, EXPLAINED + CAUTION, "")


@pytest.mark.usefixtures("car")
def test_the_same_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    """JSON says the same: parts with the ports that face either end, price, rating, joints, reasons."""
    words = ("mc.outlet", "rear.inlet", "--pressure", "10 MPa", "--explain", "--most", "1", "--format", "json")
    code, out, err = run(capsys, *words)
    value = json.loads(out)
    assert (code, err) == (0, "")
    assert value["duty"] == {"pressure": 10.0, "family": "glycol", "pressurised": True}
    (chain,) = value["chains"]
    assert chain["parts"] == [
        {
            "part": "own-adapter",
            "description": "Steel adapter",
            "near": "a",
            "far": "b",
            "max_pressure": 20.0,
            "offer": {"price": 6.4, "currency": "GBP", "supplier": "shop"},
        }
    ]
    assert {key: chain[key] for key in ("added_joints", "price", "unpriced", "max_pressure", "new_forms")} == {
        "added_joints": 1, "price": "6.40 GBP", "unpriced": 0, "max_pressure": 20.0, "new_forms": 0,
    }  # fmt: skip
    assert [joint["ends"] for joint in chain["joints"]] == [
        ["mc.outlet", "own-adapter.a"],
        ["own-adapter.b", "rear.inlet"],
    ]
    assert value["line"] == {"tube": 4.7625, "flares": ["double-45", "bubble"]}
    assert [refused["parts"] for refused in value["refused"]] == [["own-oil"], ["own-wide"], ["own-weak"]]
    assert value["more_refused"] is False


def test_ends_that_join_as_they_are(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Without any build two descriptions are enough; a direct joint is a good answer and names its nut."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "80")
    assert run(capsys, "M10x1 internal bubble 4.75 mm", "3/16 in tube") == (0, DIRECT + CAUTION, "")


@pytest.mark.usefixtures("car")
def test_nothing_joins_them(capsys: pytest.CaptureFixture[str]) -> None:
    """Where no chain is short enough the answer says how far was looked, and the exit code is 1."""
    assert run(capsys, "mc.outlet", "hose 8 mm", "--longest", "1") == (1, NONE + CAUTION, "")


@pytest.mark.usefixtures("car")
def test_a_variant_and_a_named_build(car: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`--variant` exchanges the part that an end belongs to; `--build` names the build from anywhere."""
    for words in (("--variant", "metric"), ("--variant", "metric", "--build", str(car))):
        code, out, _ = run(capsys, "mc.outlet", "rear.inlet", *words)
        assert code == 0
        assert out.startswith("FROM  mc.outlet: M10x1 internal, bubble, 4.75 mm tube\n")


@pytest.mark.usefixtures("car")
def test_what_an_end_does_not_say_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    """A described tube has no wall: the joint that would judge it says so instead of passing in silence."""
    code, out, _ = run(capsys, "3/16 in tube", "M10x1 internal bubble 4.75 mm washer", "--most", "1")
    assert code == 2
    code, out, _ = run(capsys, "3/16 in tube", "3/16 in tube", "--most", "1", "--fluid", "DOT 4")
    assert code == 0
    assert "     flare-mismatch not checked: 3/16 in tube does not say its wall\n" in out


EXAMPLES = "'M10x1 internal bubble 4.75 mm', '3/16 in tube' or 'hose 8 mm'"
REFUSED = [
    (("mc.outlt", "run.to"), "'mc.outlt': mc has no port outlt; nearest is 'outlet'; it has outlet, feed, pushrod"),
    (("mcc.outlet", "run.to"), "'mcc.outlet': nothing here has the tag mcc; nearest is 'mc'"),
    (("pedals.rod_1", "run.to"), "'pedals.rod_1': it carries force, not fluid"),
    (("gone.port", "run.to"), "'gone.port': no catalog has its part, nobody-has-it"),
    (
        ("M10x1 male bubl", "run.to"),
        f"'M10x1 male bubl': 'bubl' is not understood; nearest is 'bubble'; expected words such as {EXAMPLES}",
    ),
    (("mc.outlet", "run.to", "--most", "0"), "--most: expected a whole number from 1 to 100, got 0"),
    (("mc.outlet", "run.to", "--longest", "9"), "--longest: expected a whole number from 1 to 8, got 9"),
    (
        ("mc.outlet", "run.to", "--pressure", "10"),
        "--pressure: a bare number where a pressure is needed: write '7 MPa' or '1000 psi'",
    ),
    (
        ("mc.outlet", "hose 8 mm", "--pressure", "10 MPa"),
        "--pressure: hose 8 mm is a push-on end, which is not fit for brake pressure",
    ),
]


@pytest.mark.usefixtures("car")
@pytest.mark.parametrize(("words", "message"), REFUSED)
def test_asked_wrongly(words: tuple[str, ...], message: str, capsys: pytest.CaptureFixture[str]) -> None:
    """A request that cannot be answered ends with 2 and one sentence that says what was expected."""
    assert run(capsys, *words) == (2, "", f"fitcheck: {message}\n")


def test_a_port_without_a_build(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A port, or a variant, needs a build to be looked up in."""
    monkeypatch.chdir(tmp_path)
    code, out, err = run(capsys, "mc.outlet", "hose 8 mm")
    assert (code, out) == (2, "")
    assert err == (
        "fitcheck: 'mc.outlet': there is no build to look for it in: name one with --build, or describe the end, "
        f"such as {EXAMPLES}\n"
    )
    code, out, err = run(capsys, "3/16 in tube", "hose 8 mm", "--variant", "metric")
    assert (code, out) == (2, "")
    assert err == "fitcheck: --variant needs a build: there is no build.yaml here, name one with --build\n"
