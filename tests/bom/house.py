"""An invented catalog and small builds for tests of the bill of materials."""

from pathlib import Path

from fitcheck.bom.record import Bom
from fitcheck.bom.take_off import take_off
from fitcheck.build.assemble import assemble
from fitcheck.build.load import load

CATALOG = """\
catalog: 1
parts:
  pump:
    kind: master cylinder
    description: Pump
    ports:
      out: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
    outlets: [out]
  brake:
    kind: caliper
    description: Brake
    ports:
      in: {thread: M10x1, gender: internal, seat: washer-face}
      pipe: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      bare: {thread: M10x1, gender: internal}
  pipe: {kind: tube, description: Pipe, od: 4.75 mm, wall: 0.7 mm, bend_radius: 15 mm}
  plain-pipe: {kind: tube, description: Plain pipe, od: 4.75 mm, wall: 0.7 mm, length: 2 m}
  pipe-nut:
    kind: nut
    description: Pipe nut
    ports:
      nut: {thread: M10x1, gender: external, seat: bubble, tube: 4.75 mm}
  whip:
    kind: hose
    description: Whip
    length: 300 mm
    ports:
      from: {thread: M10x1, gender: external, seat: bubble}
      to: {eye: 10.2 mm, seat: washer-face}
  drip:
    kind: feed hose
    description: Drip
    ports:
      from: {hose: 8 mm, seat: push-on}
      to: {hose: 8 mm, seat: push-on}
  eye-bolt:
    kind: banjo bolt
    description: Eye bolt
    eyes: 2
    ports:
      bolt: {thread: M10x1, gender: external, seat: washer-face}
  ring: {kind: washer, description: Ring, inside: 10.1 mm, outside: 14 mm, thickness: 1 mm}
  rubber: {kind: grommet, description: Rubber}
"""

OFFERS = """\
offers: 1
suppliers:
  shed: {name: Shed, currency: GBP}
  hall: {name: Hall, currency: GBP}
  barn: {name: Barn, currency: EUR}
prices:
"""


def bom_of(tmp_path: Path, body: str, prices: str = "") -> Bom:
    """Write a build with the house catalog and the offers that `prices` lists, and return its bill."""
    (tmp_path / "house.yaml").write_text(CATALOG, encoding="utf-8")
    text = f"build: 1\nname: Plover\ncatalogs: [house.yaml]\n{body}"
    if prices:
        (tmp_path / "offers.yaml").write_text(OFFERS + prices, encoding="utf-8")
        text += "offers: [offers.yaml]\n"
    (tmp_path / "build.yaml").write_text(text, encoding="utf-8")
    return take_off(assemble(load(tmp_path / "build.yaml")))


CAR = """\
components:
  mc: {part: pump, at: [0, 0, 0]}
  fl: {part: brake, at: [100, 0, 100]}
lines:
  feed: {from: mc.out, to: fl.pipe, tube: pipe, route: [[0, 0, 100]]}
"""
