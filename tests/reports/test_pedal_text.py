"""The answer of `fitcheck pedal` as text: whole, in parts, in any width, and what is wrong in it."""

import re
from pathlib import Path

import pytest

from fitcheck.hydraulics.answer import answer
from fitcheck.hydraulics.record import Answer, Required
from fitcheck.reports.pedal_concerns import Concern, concerns, wrong
from fitcheck.reports.pedal_text import pedal_text
from fitcheck.reports.plain import columns
from tests.hydraulics import plumbed
from tests.hydraulics.test_answer import RULED, bar, graph_of, trailer
from tests.reports.samples import CAUTION_LINES

WHOLE = """\
Redshank: pedal to caliper, 400 N on the brake pedal

LOOK AT (1)

  warning: mc.out lost: nothing is left to brake with

PRESSURE

  circuit    outlet      share    piston    pressure
  ---------  --------  -------  --------  ----------
  no name    mc.out      100 %    2000 N    6.37 MPa
  400 N on the brake pedal, ratio 5: 2000 N on rods

AT THE WHEELS

  brake    axle         pressure    clamp     torque      tread
  -------  ---------  ----------  -------  ---------  ---------
  brake    not known    6.37 MPa   8000 N  not known  not known
  clamp: push on one pad or shoe; tread: asked of the tyre

FLUID TAKEN FROM mc.out at 6.37 MPa, mm3

  what takes it                                   takes       from to    of all
  --------------------------------------------  -------  ------------  --------
  mc: cut-off 314, give 64, fluid squeezed 33,      411    408 to 671      26 %
    free air in all of it 0
  brake: gap 251, give 637, fluid squeezed 71       959    952 to 994      61 %
  run, 2000 mm: stretch 3.5, fluid squeezed 62       66      60 to 97       4 %
  hose, 300 mm: swelling 136, fluid squeezed        145    144 to 149       9 %
    8.5
  together                                         1581  1563 to 1912     100 %

HOSES AND HARD LINES

  mc.out: 300 mm of hose take 145 mm3 (9.2 %), 2000 mm of rigid line 66 mm3 (4.2
    %); rigid line in place of the hoses, where nothing moves, would save 135
    mm3: 0.4 mm of stroke, 2.1 mm at the foot

STROKE

  piston of      goes    over all assumptions    its stroke    left
  -----------  ------  ----------------------  ------------  ------
  mc.out         5 mm             5 to 6.1 mm         30 mm  83.2 %

PEDAL TRAVEL AT THE FOOT

  brake pedal, 400 N: 30.2 mm (29.9 to 35.4 mm over all assumptions); floor at
    150 mm, 79.9 % left
  at -40 degC brake follows the foot most slowly: six tenths of the pressure
    after 0.21 s, lines and hoses alone, DOT 4 as thick as allowed, 1800 mm2/s
    (49 CFR 571.116 (FMVSS 116); encyclopedia article on DOT 5.1 (2017)
    (viscosity))

  on the brake pedal      mc.out    travel
  --------------------  --------  --------
  0 N                      0 MPa     14 mm
  120 N                 1.91 MPa   18.8 mm
  240 N                 3.82 MPa   23.7 mm
  360 N                 5.73 MPa   28.5 mm
  480 N                 7.64 MPa   33.4 mm
  570 N                 9.07 MPa     37 mm

ONE CIRCUIT LOST, A LEAK ANYWHERE IN IT

  mc.out: nothing is left to brake with

ASSUMED, OR KNOWN WITHIN LIMITS (5): state these for a better answer

  fluid: dissolved air: 0.05 (0.03 to 0.07); air dissolved in glycol fluid when
    full of it, takes no stroke until it comes out; SAE J1705 appendix A by a
    fluid maker's page
  fluid: 1800 MPa (1200 to 2000); bulk modulus of glycol fluid, 100 to 20 degC;
    from memory
  parts.wire.material: 205000 MPa (195000 to 210000); Young's modulus of steel;
    from memory
  parts.wire.material: Poisson's ratio: 0.29 (0.27 to 0.3); Poisson's ratio of
    steel; from memory
  free air in mc.out, share of the fluid: 0 (0 to 0.005); common practice, no
    source
  11 further figures are stated; --format json lists them all

NOT COMPUTED (5): what is missing

  brakes.brake.axle: for brake
  brakes.brake.friction: for brake
  brakes.brake.radius: for brake
  brakes.brake.tyre: for brake
  car: for car

LIMITS: Quasi-static, one stop from cold: no heat, fade, wear or vacuum is
computed. What no standard gives of stiffness is assumed, each with its range.
"""


def parts(text: str) -> dict[str, str]:
    """Return the sections of a report by the first words of their headings."""
    pieces = re.split(r"\n\n(?=[A-Z][A-Z ,()0-9]+)", text)
    return {re.match(r"[A-Z ]*[A-Z]", piece)[0]: piece for piece in pieces[1:]}  # type: ignore[index]


def test_whole_text(tmp_path: Path) -> None:
    """The text of a small build says what is computed, where the fluid goes, what is assumed, what is missing."""
    assert pedal_text(trailer(tmp_path)) == WHOLE + CAUTION_LINES


@pytest.mark.parametrize("width", [40, 60, 80, 120])
def test_no_line_is_wider_than_asked(tmp_path: Path, width: int) -> None:
    """Names of circuits and tags as long as a line, and wide characters, are wrapped."""
    text = plumbed.TRAILER.replace("brake:", "b" * 45 + ":").replace("brake.", "b" * 45 + ".")
    text += "circuits: {" + "\u8eca" * 30 + ": {from: mc.out, feeds: [" + "b" * 45 + ".in]}}\n"
    for found in (trailer(tmp_path, text), bar(tmp_path)):
        lines = pedal_text(found, width=width).splitlines()
        assert [line for line in lines if columns(line) > width] == []


def test_hostile_names_are_made_visible(tmp_path: Path) -> None:
    """A name that would drive a terminal is shown as its escapes."""
    found = trailer(tmp_path)._replace(build="\x1b[2J\u202e")
    assert pedal_text(found).startswith("\\x1b[2J\\u202e: pedal to caliper, 400 N on the brake pedal\n")


def test_pounds_and_inches(tmp_path: Path) -> None:
    """A push in pounds brings psi and pound feet, coordinates in inches lengths in inches."""
    text = plumbed.TRAILER.replace("400 N", "90 lbf").replace("build: 1", "build: 1\ncoordinates: in")
    text = text.replace("knock_back: 0 mm", "knock_back: 0 mm, friction: 0.4, radius: 100 mm, axle: front")
    told = parts(pedal_text(trailer(tmp_path, text)))
    assert "  no name    mc.out      100 %   450 lbf     924 psi\n" in told["PRESSURE"]
    assert "  brake    front      924 psi  1800 lbf  472.4 lbf.ft  not known\n" in told["AT THE WHEELS"]
    assert "1.19 in (1.18 to 1.4 in over all assumptions); floor at\n    5.91 in" in told["PEDAL TRAVEL AT THE FOOT"]
    assert "\n  48 lbf                 493 psi   0.8" in told["PEDAL TRAVEL AT THE FOOT"]


def test_balance_with_its_bar(tmp_path: Path) -> None:
    """The whole adjustment of the bar and the setting that is right are told, and whether the bar reaches it."""
    bars = RULED.replace("balance: 0.6", "bar: {front: 28 mm, rear: 42 mm, adjust: 10 mm}")
    assert parts(pedal_text(bar(tmp_path, bars)))["BALANCE"].startswith("""\
BALANCE

  front share of the brake force: 78.8 %, 58 % to 81.7 % over the whole
    adjustment of the bar
  first to slide as the foot pushes harder: the front axle, at 0.74 g
  both slide together with 46.1 % of the push to the front, its pivot 37.7 mm
    from the front rod: within its reach
""")
    short = bars.replace("adjust: 10 mm", "adjust: 1 mm")
    assert "from the front rod: OUT OF ITS REACH" in parts(pedal_text(bar(tmp_path, short)))["BALANCE"]


def test_a_hose_by_its_limit_is_an_upper_bound(tmp_path: Path) -> None:
    """What rests on the limit of a hose is starred, and the star is explained; so is what the limit lets save."""
    catalog = plumbed.CATALOG.replace("    expansion: [{at: 70 bar, swelling: 0.5 cm3/m}]\n", "")
    text = pedal_text(answer(graph_of(tmp_path, plumbed.TRAILER, catalog)))
    assert "  * with an upper bound in it: not a figure of the hose but the limit it is made\n" in text
    assert re.search(r"hose, 300 mm: swelling \d+, fluid .*\*\d+", text)
    assert (
        "\n    would save at most 653 mm3: 2.1 mm of stroke, 10.4 mm at the foot" in parts(text)["HOSES AND HARD LINES"]
    )


def test_clutch_section(tmp_path: Path) -> None:
    """The clutch is told with what it needs."""
    told = parts(pedal_text(answer(graph_of(tmp_path, plumbed.CLUTCH))))
    assert (
        told["CLUTCH"]
        == """\
CLUTCH, PEDAL RIGHT DOWN

  slave: travels 13.9 mm (13.7 to 14 mm over all assumptions), needs 12 mm; can
    push 1172 N, needs 900 N"""
    )


def test_nothing_wrong(tmp_path: Path) -> None:
    """The trailer has one thing to look at, no error, so it is not wrong."""
    found = trailer(tmp_path)
    assert concerns(found) == (Concern("warning", "mc.out lost: nothing is left to brake with"),)
    assert not wrong(found)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (("travel: 150 mm", "travel: 20 mm"), "the pedal needs 30.2 mm, its way to the floor is 20 mm"),
        (("gap: 0.1 mm", "gap: 9 mm"), "the piston behind mc.out needs 76.2 mm, its stroke is 30 mm"),
    ],
)
def test_a_way_that_is_too_short_is_an_error(tmp_path: Path, text: tuple[str, str], words: str) -> None:
    """A pedal on its floor and a piston at its end are told first, in the words of the rule, and make it wrong."""
    found = trailer(tmp_path, plumbed.TRAILER.replace(*text))
    assert concerns(found)[0] == Concern("error", words)
    assert wrong(found)
    assert f"  error: {words}\n" in pedal_text(found)


def test_a_clause_that_is_not_met(tmp_path: Path) -> None:
    """A clause that is not met is an error, of the service brake and of what is left; one not known is none."""
    found = bar(tmp_path)
    asked = found.service[0]
    assert not any("2.1.1" in each.words for each in concerns(found))
    assert Concern(
        "error", "ece-r13h, Annex 3, 2.1.1 (service brake), asks 0.66 g at 500 N: 0.50 g, not met"
    ) in concerns(with_service(found, asked._replace(reached_g=0.5, met=False)))
    unknown = with_service(found, asked._replace(reached_g=None, met=None))
    assert concerns(unknown) == concerns(found)
    assert wrong(found)
    assert concerns(found)[0].words.startswith("mc_front.out lost: ece-r13h, Annex 3, 2.2 (one circuit lost), asks")


def with_service(found: Answer, asked: Required) -> Answer:
    """Return an answer with another clause for the service brake."""
    return found._replace(service=(asked,))


def test_the_floor_with_a_circuit_lost(tmp_path: Path) -> None:
    """A pedal that reaches its floor with a circuit lost is an error: what is left cannot be had."""
    found = bar(tmp_path, RULED.replace("ratio: 5,", "ratio: 5, travel: 60 mm,"))
    words = [each.words for each in concerns(found) if each.level == "error"]
    assert "mc_rear.out lost: pedal or piston comes to its end before the rest brakes as told" in words
    assert "and PEDAL OR PISTON COMES TO ITS END" in " ".join(pedal_text(found).split())


def test_rear_first_is_a_warning(tmp_path: Path) -> None:
    """A car whose rear wheels slide first is warned of."""
    found = bar(tmp_path, RULED.replace("balance: 0.6", "balance: 0.2"))
    assert [each.level for each in concerns(found) if "the rear wheels slide first" in each.words] == ["warning"]
