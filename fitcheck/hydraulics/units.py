"""What the user of a build measures forces, pressures and lengths in, and figures written so."""

from fitcheck.build.model import BuildFile
from fitcheck.hydraulics.record import Units
from fitcheck.quantities import render

_MM_PER_IN = 25.4


def units_of(file: BuildFile, foot: float | None = None) -> Units:
    """Return what the user measures in: pounds of force go with pounds per square inch.

    `foot` is the push that is asked about, as written; that of the build's pedal or clutch if left out.
    """
    for pedal in (file.pedal, file.clutch):
        if foot is None and pedal is not None:
            foot = pedal.force
    like = getattr(foot, "text", None) or "1 N"
    pounds = render(1.0, "force", like).endswith("lbf")
    return Units("in" if file.coordinates == "in" else "mm", like, "1 psi" if pounds else "1 MPa")


def length_text(mm: float, units: Units) -> str:
    """Return a length [mm] to a tenth of a mm, or to a hundredth of an inch."""
    return f"{mm:.1f} mm" if units.length == "mm" else f"{mm / _MM_PER_IN:.2f} in"


def force_text(newton: float, units: Units) -> str:
    """Return a force [N], whole in newtons, as finely as usual in other units."""
    return render(round(newton) if units.force.endswith(" N") else round(newton, 2), "force", units.force)


def pressure_text(mpa: float, units: Units) -> str:
    """Return a pressure [MPa] to three figures, or in whole psi."""
    return render(mpa, "pressure", "1 psi") if "psi" in units.pressure else f"{mpa:.3g} MPa"
