"""`residual-pressure`: valves for discs and drums, held against how high the brakes stand above their fluid."""

from pathlib import Path

import pytest

from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding
from fitcheck.standards.residual import head_mpa
from tests.checks.circuit.cars import context_of, findings, looked, said, told, unchecked

RULE = "residual-pressure"
BRAKE = """\
build: 1
fluid: DOT 4
components:
  tank: {part: reservoir-1-outlet, at: [0, 0, TANK]}
  mc: {part: mc-3-8-24-inverted, at: [0, 0, 100]}
  valve: {part: residual-valve-2-psi}
  tee: {part: tee-3-16-inverted}
  left: {part: BRAKE, at: [900, 500, 330]}
  right: {part: BRAKE, at: [900, -500, 340]}
lines:
  run: {from: mc.outlet, to: valve.in, tube: tube-3-16-cuni}
  on: {from: valve.out, to: tee.left, tube: tube-3-16-cuni}
  l: {from: tee.right, to: left.inlet, tube: tube-3-16-cuni}
  r: {from: tee.top, to: right.inlet, tube: tube-3-16-cuni}
hoses:
  feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed}
"""
WITHOUT = (
    BRAKE.replace("  valve: {part: residual-valve-2-psi}\n", "")
    .replace("to: valve.in, ", "to: tee.left, ")
    .replace("  on: {from: valve.out, to: tee.left, tube: tube-3-16-cuni}\n", "")
)
DISC, DRUM = "caliper-3-8-24-inverted", "wheel-cylinder-3-8-24-inverted"


def car(text: str, tank: int = 250, brake: str = DISC, **swap: str) -> str:
    """Return a circuit with its reservoir at this height and these brakes; `psi` puts another valve in."""
    text = text.replace("TANK", str(tank)).replace("BRAKE", brake)
    return text.replace("valve-2-psi", f"valve-{swap.get('psi', '2')}-psi")


def setting(text: str, psi: str, folder: Path) -> list[tuple[str, str]]:
    """Return level and message of all that the rule finds, notes included, with a valve of some setting."""
    port = "{thread: 3/8-24 UNF, gender: internal, seat: inverted-flare, tube: 3/16 in}"
    entry = f"{{kind: residual valve, ports: {{in: {port}, out: {port}}}, one_way: [in, out]{psi}}}"
    context = context_of(text.replace("residual-valve-2-psi", "own"), f"catalog: 1\nparts:\n  own: {entry}\n", folder)
    return all_told(context)


def all_told(context: Context) -> list[tuple[str, str]]:
    """Return level and message of all that the rule finds, notes included."""
    return [(one.level, one.message) for one in said(context, RULE) if isinstance(one, Finding)]


@pytest.mark.parametrize(("tank", "found"), [(340, False), (339, True), (600, False)])
def test_discs_above_their_fluid_want_a_valve(tank: int, found: bool) -> None:
    """The highest caliper against the reservoir's outlet, to the millimetre; level is enough to do without."""
    wanted = "a residual valve of 2 psi is wanted behind mc.outlet"
    message = f"left and right stand 1 mm above the fluid, which runs back: {wanted}"
    context = context_of(car(WITHOUT, tank))
    assert told(context, RULE) == ([(RULE, "warning", message)] if found else [])
    assert looked(context, RULE) == 1


def test_the_finding_has_its_figures() -> None:
    """The evidence is enough to work the head out again."""
    (finding,) = findings(context_of(car(WITHOUT, 90)), RULE)
    assert finding.at == ("left", "right", "mc.outlet")
    assert finding.evidence["rise_mm"] == 250.0
    assert finding.evidence["head_mpa"] == pytest.approx(head_mpa(250.0, 1060.0))
    assert (finding.evidence["fluid"], finding.evidence["density_kg_m3"]["mark"]) == ("DOT 4", "from memory")


def test_a_two_psi_valve_holds_its_column() -> None:
    """2 psi carries 1.33 m of brake fluid: enough for 250 mm, and not for 1.4 m, which weighs 2.1 psi."""
    assert told(context_of(car(BRAKE, 90)), RULE) == []
    assert told(context_of(car(BRAKE, -1060)), RULE) == [
        (
            RULE,
            "warning",
            "left and right stand 1400 mm above the fluid, which weighs 2.1 psi: valve holds 2 psi",
        )
    ]


def test_the_fluid_that_is_stated_is_weighed() -> None:
    """Silicone weighs less than glycol: 2 psi carries 1.4 m of it."""
    assert told(context_of(car(BRAKE, -1060).replace("DOT 4", "DOT 5")), RULE) == []


def test_a_valve_that_no_height_asks_for_is_a_note() -> None:
    """With the reservoir above the calipers a valve does no work."""
    assert all_told(context_of(car(BRAKE, 600))) == [
        ("note", "valve holds 2 psi on left and right: discs lower than their fluid need none")
    ]


@pytest.mark.parametrize("tank", [90, 600])
def test_a_valve_for_drums_makes_discs_drag(tank: int) -> None:
    """10 psi on discs is an error at any height, at the valve."""
    context = context_of(car(BRAKE, tank, psi="10"))
    assert told(context, RULE) == [(RULE, "error", "valve holds 10 psi on left and right: discs drag")]
    assert findings(context, RULE)[0].at == ("valve", "left", "right")


def test_settings_between(tmp_path: Path) -> None:
    """3 psi is still sold for discs, 4 psi is a warning, 5 psi is for drums."""
    assert setting(car(BRAKE, 90), ", setting: 3 psi", tmp_path) == []
    assert setting(car(BRAKE, 90), ", setting: 4 psi", tmp_path) == [
        ("warning", "valve holds 4 psi on left and right: discs drag")
    ]
    assert setting(car(BRAKE, 90), ", setting: 5 psi", tmp_path) == [
        ("error", "valve holds 5 psi on left and right: discs drag")
    ]


def test_drums(tmp_path: Path) -> None:
    """5 to 12 psi is in order; less or none is a note, more is a warning; heights are not asked for."""
    text = car(BRAKE, 250, DRUM).replace(", at: [0, 0, 250]", "")
    wants = "drums want 5 to 12 psi"
    unless = "unless spring cup expanders keep the cups out"
    assert setting(text, ", setting: 5 psi", tmp_path) == []
    assert setting(text, ", setting: 0.083 MPa", tmp_path) == []
    assert setting(text, ", setting: 15 psi", tmp_path) == [
        ("warning", f"valve holds 15 psi on left and right: {wants}")
    ]
    assert setting(text, ", setting: 2 psi", tmp_path) == [
        ("note", f"valve holds 2 psi on left and right: {wants}, {unless}")
    ]
    assert all_told(context_of(car(WITHOUT, 250, DRUM))) == [
        ("note", f"no residual valve is on the way to left and right: {wants}, {unless}")
    ]


def test_a_valve_of_unknown_setting_is_listed(tmp_path: Path) -> None:
    """What it holds is not known: the rule says so instead of taking it for nothing."""
    assert setting(car(BRAKE, 90), "", tmp_path) == []
    port = "{thread: 3/8-24 UNF, gender: internal, seat: inverted-flare, tube: 3/16 in}"
    catalog = f"catalog: 1\nparts:\n  own: {{kind: residual valve, ports: {{in: {port}, out: {port}}}}}\n"
    context = context_of(car(BRAKE, 90).replace("residual-valve-2-psi", "own"), catalog, tmp_path)
    assert unchecked(context, RULE) == [(RULE, ("valve",), "parts.own.setting")]


def test_unknown_heights_are_listed() -> None:
    """Without the reservoir's place, or a caliper's, nothing is said but what is missing."""
    no_tank = car(WITHOUT, 90).replace(", at: [0, 0, 90]", "")
    assert unchecked(context_of(no_tank), RULE) == [(RULE, ("tank",), "components.tank.at")]
    no_left = car(WITHOUT, 90).replace(", at: [900, 500, 330]", "")
    assert unchecked(context_of(no_left), RULE) == [(RULE, ("left",), "components.left.at")]
    assert told(context_of(no_left), RULE) == []


def test_without_a_reservoir_the_feed_counts() -> None:
    """Where the file has no reservoir the fluid stands at the master cylinder's feed."""
    text = car(WITHOUT, 600).partition("hoses:")[0].replace("  tank: {part: reservoir-1-outlet, at: [0, 0, 600]}\n", "")
    (found,) = findings(context_of(text), RULE)
    assert found.evidence["rise_mm"] == 240.0


def test_a_clutch_is_left_alone() -> None:
    """A slave cylinder above its fluid is none of this rule's business."""
    text = car(WITHOUT, 90, "slave-3-8-24-inverted")
    assert said(context_of(text), RULE) == []
