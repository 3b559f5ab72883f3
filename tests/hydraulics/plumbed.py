"""An invented trailer with one brake, cars with two, and a clutch, in which every figure is stated or left out."""

from pathlib import Path
from typing import NamedTuple

from fitcheck.build.assemble import assemble
from fitcheck.build.circuits import Circuits
from fitcheck.build.graph import PortGraph
from fitcheck.build.load import load
from fitcheck.build.model import BuildFile
from fitcheck.hydraulics.budget import Budget, budget
from fitcheck.hydraulics.displacement import Displacement, displacement
from fitcheck.hydraulics.outlets import Outlets, outlets
from fitcheck.hydraulics.record import Drives, Take

PORT = "{thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}"
CATALOG = f"""\
catalog: 1
parts:
  pump:
    kind: master cylinder
    ports: {{out: {PORT}}}
    outlets: [out]
    bore: 20 mm
    stroke: 30 mm
    cut_off: 1 mm
    give: 1 mm3/bar
  pair:
    kind: master cylinder
    ports: {{one: {PORT}, two: {PORT}}}
    outlets: [one, two]
    bore: 20 mm
    chambers: [14 mm, 16 mm]
    cut_off: 1 mm
    give: 1 mm3/bar
  disc:
    kind: caliper
    ports: {{in: {PORT}}}
    pistons: [40 mm, 40 mm]
    style: fixed
    give: 10 mm3/bar
    volume: 20 cm3
  slave:
    kind: slave cylinder
    ports: {{in: {PORT}}}
    bore: 25 mm
    give: 1 mm3/bar
    volume: 5 cm3
  meter:
    kind: proportioning valve
    ports: {{in: {PORT}, out: {PORT}}}
    one_way: [in, out]
    setting: 2 MPa
    slope: 0.5
  holder:
    kind: residual valve
    ports: {{in: {PORT}, out: {PORT}}}
    one_way: [in, out]
    setting: 0.5 MPa
  flex:
    kind: hose
    ports:
      from: {{thread: M10x1, gender: external, seat: bubble, tube: 4.75 mm}}
      to: {{thread: M10x1, gender: external, seat: bubble, tube: 4.75 mm}}
    length: 300 mm
    inside: 3.2 mm
    expansion: [{{at: 70 bar, swelling: 0.5 cm3/m}}]
  wire:
    kind: tube
    od: 4.75 mm
    wall: 0.7 mm
    material: steel
"""
TRAILER = """\
build: 1
name: Redshank
fluid: DOT 4
catalogs: [parts.yaml]
components: {mc: {part: pump}, brake: {part: disc}}
lines: {run: {from: mc.out, to: hose.from, tube: wire, length: 2000 mm}}
hoses: {hose: {part: flex, to: brake.in}}
pedal: {force: 400 N, ratio: 5, travel: 150 mm, free_play: 5 mm, efficiency: 1}
brakes: {brake: {gap: 0.1 mm, knock_back: 0 mm}}
"""
TWO = """\
build: 1
name: Greenshank
fluid: DOT 4
catalogs: [parts.yaml]
components: {one: {part: pump}, two: {part: pump}, front: {part: disc}, rear: {part: disc}}
lines:
  a: {from: one.out, to: front.in, tube: wire, length: 1000 mm}
  b: {from: two.out, to: rear.in, tube: wire, length: 3000 mm}
pedal: {force: 500 N, ratio: 5, balance: 0.6, travel: 200 mm, free_play: 5 mm, efficiency: 1}
brakes: {front: {axle: front, gap: 0.1 mm}, rear: {axle: rear, gap: 0.2 mm}}
"""
TANDEM = TWO.replace("one: {part: pump}, two: {part: pump}", "mc: {part: pair}").replace("balance: 0.6, ", "")
TANDEM = TANDEM.replace("one.out", "mc.one").replace("two.out", "mc.two")
CLUTCH = """\
build: 1
name: Dunlin
fluid: DOT 4
catalogs: [parts.yaml]
components: {mc: {part: pump}, slave: {part: slave}}
lines: {run: {from: mc.out, to: slave.in, tube: wire, length: 1500 mm}}
clutch: {force: 150 N, ratio: 5, travel: 120 mm, free_play: 5 mm, efficiency: 1, needs_travel: 12 mm,
  needs_force: 900 N}
"""


class Read(NamedTuple):
    """A build read, with the outlets that a pedal presses."""

    graph: PortGraph
    circuits: Circuits
    found: Outlets

    @property
    def file(self) -> BuildFile:
        """The build file."""
        return self.graph.build.file

    def budgets(self) -> dict[str, Budget]:
        """Return the budget of each outlet."""
        return {outlet.ref: budget(self.graph, self.circuits, outlet) for outlet in self.found.outlets}

    def moved(self, drives: Drives = "brake", foot_n: float | None = None) -> Displacement:
        """Return what a pedal moves."""
        return displacement(self.graph, self.circuits, self.found, drives, foot_n)


def read(folder: Path, text: str = TRAILER, catalog: str = CATALOG) -> Read:
    """Return a build of which this is the text."""
    (folder / "parts.yaml").write_text(catalog, encoding="utf-8")
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    graph = assemble(load(folder / "build.yaml"))
    circuits = Circuits(graph)
    return Read(graph, circuits, outlets(graph, circuits))


def by_cause(takes: tuple[Take, ...]) -> dict[tuple[str, str], Take]:
    """Return takes by tag and cause; each pair stands once."""
    found = {(take.tag, take.cause): take for take in takes}
    assert len(found) == len(takes)
    return found
