"""An invented catalog and a small build for tests of what could replace a part."""

from pathlib import Path

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.checks.context import Context
from fitcheck.remedies.replacements import Replacement, replacements

CATALOG = """\
catalog: 1
parts:
  pump:
    kind: master cylinder
    description: Pump
    ports:
      out: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      feed: {seat: push-on, gender: external, hose: 8 mm}
    outlets: [out]
    feeds: [feed]
    bore: 16 mm
    stroke: 30 mm
    max_pressure: 14 MPa
  pump-turned:
    kind: master cylinder
    description: Pump with its outlet called in
    ports:
      in: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      out: {seat: push-on, gender: external, hose: 8 mm}
    outlets: [in]
    feeds: [out]
    bore: 15.99 mm
    stroke: 30 mm
    max_pressure: 14 MPa
  pump-bigger:
    kind: master cylinder
    description: Bigger pump
    ports:
      out: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      feed: {seat: push-on, gender: external, hose: 8 mm}
    outlets: [out]
    feeds: [feed]
    bore: 19 mm
    stroke: 30 mm
    max_pressure: 14 MPa
  pump-blind:
    kind: master cylinder
    description: Pump without a feed
    ports:
      out: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
    outlets: [out]
    bore: 16 mm
    stroke: 30 mm
    max_pressure: 14 MPa
  pump-double:
    kind: master cylinder
    description: Pump with two outlets
    ports:
      out: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      two: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      feed: {seat: push-on, gender: external, hose: 8 mm}
    outlets: [out, two]
    feeds: [feed]
    bore: 16 mm
    stroke: 30 mm
    max_pressure: 14 MPa
"""
_BRAKE = """\
  {id}:
    kind: caliper
    description: Brake {id}
    ports:
      in: {{thread: {thread}, gender: internal, seat: bubble, tube: 4.75 mm}}
{more}
"""
_ALL = "bleeder: M8x1.25, displacement: 18 cm3, bore: 44 mm, max_pressure: 14 MPa"
BRAKES = {
    "brake": ("M10x1", _ALL),
    "brake-twin": ("M10x1", _ALL),
    "brake-weak": ("M10x1", _ALL.replace("14 MPa", "9 MPa")),
    "brake-unrated": ("M10x1", _ALL.replace(", max_pressure: 14 MPa", "")),
    "brake-dry": ("M10x1", _ALL.replace("M8x1.25", "none")),
    "brake-unsaid": ("M10x1", _ALL.replace("displacement: 18 cm3, ", "")),
    "brake-small": ("M10x1", _ALL.replace("18 cm3", "12 cm3")),
    "brake-coarse": ("M12x1", _ALL),
}
_REST = """\
  barb-tank:
    kind: reservoir
    description: Tank
    ports:
      outlet: {seat: push-on, gender: external, hose: 8 mm}
  joiner:
    kind: union
    description: Joiner
    ports:
      a: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      b: {same as: a}
  joiner-air:
    kind: union
    description: Joiner for air
    ports:
      a: {thread: 3/8-24 UNF, gender: external, seat: cone-45, tube: 3/16 in}
      b: {same as: a}
  joiner-named:
    kind: union
    description: Joiner with other names
    ports:
      left: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      right: {same as: left}
  joiner-short:
    kind: union
    description: Joiner with too little thread
    material: steel
    ports:
      a: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm, depth: 1 mm}
      b: {same as: a}
  air-nut:
    kind: nut
    description: Nut for air
    ports:
      nut: {thread: 3/8-24 UNF, gender: internal, seat: cone-45, tube: 3/16 in}
  short-nut:
    kind: nut
    description: Nut
    material: steel
    ports:
      nut: {thread: M10x1, gender: external, seat: bubble, tube: 4.75 mm, length: 9 mm}
  valve:
    kind: residual valve
    description: Valve
    one_way: [in, out]
    equivalent_to: [valve-same]
    ports:
      in: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      out: {same as: in}
  valve-same:
    kind: residual valve
    description: The same valve
    one_way: [in, out]
    ports:
      in: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      out: {same as: in}
  valve-other:
    kind: residual valve
    description: Another valve
    one_way: [in, out]
    ports:
      in: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      out: {same as: in}
  valve-turned:
    kind: residual valve
    description: The valve, its names turned
    one_way: [out, in]
    equivalent_to: [valve]
    ports:
      in: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      out: {same as: in}
"""
CAR = """\
build: 1
name: Plover
fluid: DOT 4
catalogs: [house.yaml]
components:
  tank: {part: barb-tank}
  mc: {part: pump}
  mid: {part: joiner}
  keep: {part: valve}
  fl: {part: brake}
lines:
  one: {from: mc.out, to: mid.a, tube: tube-4-75mm-cuni, length: 300 mm, ends: {to: {nut: short-nut}}}
  two: {from: mid.b, to: keep.in, tube: tube-4-75mm-cuni, length: 300 mm}
  three: {from: keep.out, to: fl.in, tube: tube-4-75mm-cuni, length: 300 mm}
hoses:
  feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed, length: 200 mm}
"""


def catalog() -> str:
    """Return the text of the catalog."""
    brakes = (
        _BRAKE.format(id=name, thread=thread, more="\n".join(f"    {line}" for line in more.split(", ")))
        for name, (thread, more) in BRAKES.items()
    )
    return CATALOG + "".join(brakes) + _REST


def context_of(folder: Path, car: str = CAR, more: str = "") -> Context:
    """Write a build with the house catalog, `more` parts in it, and return it ready to be asked."""
    (folder / "house.yaml").write_text(catalog() + more, encoding="utf-8")
    (folder / "build.yaml").write_text(car, encoding="utf-8")
    return Context(assemble(load(folder)))


def by_id(context: Context, tag: str) -> dict[str, Replacement]:
    """Return what could replace the tag, by part, best first."""
    return {found.part.id: found for found in replacements(context, tag)}
