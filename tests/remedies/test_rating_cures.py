"""A stronger part for one that is too weak, and a residual valve that suits the brakes behind it."""

from pathlib import Path

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.checks.context import Context
from fitcheck.checks.run import check_context
from fitcheck.remedies.choose import with_remedies
from tests.checks.circuit.cars import context_of
from tests.checks.circuit.test_residual_pressure import BRAKE, WITHOUT, car

PORT = "ports: {inlet: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}}"
CATALOG = f"""\
catalog: 1
parts:
  pump:
    kind: master cylinder
    ports: {{outlet: {{thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}}}}
    outlets: [outlet]
    bore: 16 mm
    reservoir_volume: 200 cm3
  weak: {{kind: caliper, {PORT}, bleeder: M10x1, displacement: 10 cm3, max_pressure: 7 MPa}}
  hardly: {{kind: caliper, {PORT}, bleeder: M10x1, displacement: 10 cm3, max_pressure: 11 MPa}}
  strong: {{kind: caliper, {PORT}, bleeder: M10x1, displacement: 10 cm3, max_pressure: 14 MPa}}
  unrated: {{kind: caliper, {PORT}, bleeder: M10x1, displacement: 10 cm3}}
"""
BUILD = """\
build: 1
catalogs: [parts.yaml]
components: {mc: {part: pump}, disc: {part: weak}}
lines:
  run: {from: mc.outlet, to: disc.inlet, tube: tube-3-16-cuni}
pedal: {force: 400 N, ratio: 5}
"""


def remedies(context: Context, rule: str) -> list[tuple[str, ...]]:
    """Return the parts that each remedy of the rule's findings brings in."""
    report = with_remedies(context, check_context(context))
    return [each.remedy.parts for one in report.findings if one.rule == rule for each in one.remedies]


def build_of(folder: Path, catalog: str = CATALOG) -> Context:
    """Return the build with a catalog."""
    (folder / "parts.yaml").write_text(catalog)
    (folder / "build.yaml").write_text(BUILD)
    return Context(assemble(load(folder)))


def test_only_what_is_rated_high_enough_is_fitted(tmp_path: Path) -> None:
    """9.95 MPa: 14 MPa is enough, 11 MPa is within a tenth of it, and what nobody rates is no cure."""
    assert remedies(build_of(tmp_path), "pressure-over-rating") == [("strong",)]


def test_without_a_stronger_part_there_is_no_remedy(tmp_path: Path) -> None:
    """Nothing is offered where no catalog has a stronger part; least of all a smaller force."""
    weaker = "".join(line for line in CATALOG.splitlines(keepends=True) if "strong:" not in line)
    assert remedies(build_of(tmp_path, weaker), "pressure-over-rating") == []


def test_a_valve_for_discs_in_place_of_one_for_drums() -> None:
    """10 psi on discs is cured by the 2 psi valve of the same ports."""
    (found, *_) = remedies(context_of(car(BRAKE, 90, psi="10")), "residual-pressure")
    assert found == ("residual-valve-2-psi",)


def test_a_valve_that_is_not_there_is_left_to_the_builder() -> None:
    """Where to cut the line open, or whether to move the reservoir, the file does not say."""
    assert remedies(context_of(car(WITHOUT, 90)), "residual-pressure") == []
