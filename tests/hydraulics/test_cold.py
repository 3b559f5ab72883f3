"""How brakes follow the foot in deep cold, by hand."""

from math import pi
from pathlib import Path

import pytest

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.hydraulics.answer import answer
from fitcheck.hydraulics.record import Answer
from fitcheck.reports.pedal_text import pedal_text
from tests.hydraulics.house import BAR, DRIVEN, read


def car(folder: Path, *changes: tuple[str, str]) -> Answer:
    """Return the answer for a car with a bar, its lines 900 mm long."""
    text = BAR.replace("DISC", "disc-fixed").replace("VALVE", "holder").replace("REAR", "pump-19") + DRIVEN
    text = text.replace("FRONT", "pump-16").replace("-cuni}", "-cuni, length: 900 mm}")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    read(folder, text)
    return answer(assemble(load(folder)))


def test_a_lag_by_hand(tmp_path: Path) -> None:
    """128 nu rho L / (pi d4) of the two lines on the way times what caliper and lines give for each MPa."""
    found = car(tmp_path)
    front = next(one for one in found.strokes if one.outlet == "mc_front.out")
    causes = ("give", "squeeze", "stretch", "swelling")
    mm3 = sum(one.mm3 for one in front.takes if one.tag in ("disc_l", "l1", "l2") and one.cause in causes)
    bore = 4.7625 - 2 * 0.7112
    each = 128 * 1800e-6 * 1060 * 0.9 / (pi * (bore / 1000) ** 4)  # Pa s/m3
    lag = next(one for one in found.lags if one.tag == "disc_l")
    assert lag.lag_s == pytest.approx(2 * each * mm3 * 1e-9 / (front.pressure_mpa * 1e6), rel=2e-3)
    assert (lag.fluid, lag.viscosity_mm2_s) == ("DOT 4", 1800.0)
    assert [one.tag for one in found.lags] == ["disc_l", "disc_r", "drum_l", "drum_r"]


def test_thinner_fluid_lags_less(tmp_path: Path) -> None:
    """DOT 5.1 may be half as thick as DOT 4, which halves every lag."""
    thick, thin = car(tmp_path).lags, car(tmp_path, ("DOT 4", "DOT 5.1")).lags
    for one, other in zip(thick, thin, strict=True):
        assert other.lag_s == pytest.approx(one.lag_s * 900 / 1800)


def test_what_is_not_known_is_left_out(tmp_path: Path) -> None:
    """A line without a length on the way to one brake leaves that one out; without a fluid all are."""
    short = car(
        tmp_path, ("to: drum_r.in, tube: tube-3-16-cuni, length: 900 mm", "to: drum_r.in, tube: tube-3-16-cuni")
    )
    assert [one.tag for one in short.lags] == ["disc_l", "disc_r", "drum_l"]
    assert car(tmp_path, ("fluid: DOT 4\n", "")).lags == ()


def test_the_slowest_is_told(tmp_path: Path) -> None:
    """The report names the slowest brake, the fluid, its limit and where that is from."""
    found = car(tmp_path)
    slowest = max(found.lags, key=lambda one: one.lag_s)
    told = " ".join(pedal_text(found).split())
    assert (
        f"at -40 degC {slowest.tag} follows the foot most slowly: six tenths of the pressure after"
        f" {slowest.lag_s:.2f} s, lines and hoses alone, DOT 4 as thick as allowed, 1800 mm2/s (49 CFR 571.116"
    ) in told
