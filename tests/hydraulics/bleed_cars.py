"""An invented car for tests of bleeding: two circuits, lengths and volumes as a test wants them."""

from pathlib import Path

from fitcheck.build.assemble import assemble
from fitcheck.build.graph import PortGraph
from fitcheck.build.load import load

CATALOG = """\
catalog: 1
parts:
  pump:
    kind: master cylinder
    ports:
      out: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      feed: {seat: push-on, gender: external, hose: 8 mm}
    outlets: [out]
    feeds: [feed]
    bore: 20 mm
    stroke: 30 mm
    cut_off: 2 mm
    max_pressure: 16 MPa
  disc:
    kind: caliper
    ports: {inlet: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}}
    bleeder: M8x1.25
    bleed_screws: 2
    volume: 20 cm3
    max_pressure: 14 MPa
  drum:
    kind: wheel cylinder
    ports: {inlet: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}}
    bleeder: M7x1
    volume: 2 cm3
    max_pressure: 12 MPa
  plain:
    kind: wheel cylinder
    ports: {inlet: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}}
    bleeder: none
    volume: 2 cm3
  tee:
    kind: tee
    ports:
      a: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      b: {same as: a}
      c: {same as: a}
    max_pressure: 20 MPa
  pipe:
    kind: tube
    od: 4.75 mm
    wall: 0.7 mm
    material: copper-nickel
  tank:
    kind: reservoir
    ports: {front: {seat: push-on, gender: external, hose: 8 mm}, rear: {same as: front}, clutch: {same as: front}}
    reservoir_volume: 200 cm3
  slave:
    kind: slave cylinder
    ports: {inlet: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}}
    bleeder: M8x1.25
    volume: 5 cm3
"""
BUILD = """\
build: 1
name: Redshank
fluid: DOT 4
catalogs: [house.yaml]
components:
  tank: {{part: tank}}
  mc_front: {{part: pump}}
  mc_rear: {{part: pump}}
  mc_clutch: {{part: pump}}
  tee_front: {{part: tee}}
  tee_rear: {{part: tee}}
  fl: {{part: disc}}
  fr: {{part: disc}}
  rl: {{part: {rear}}}
  rr: {{part: {rear}}}
  slave: {{part: slave}}
lines:
  front: {{from: mc_front.out, to: tee_front.a, tube: pipe, length: {lengths[0]} mm}}
  to_fl: {{from: tee_front.b, to: fl.inlet, tube: pipe, length: {lengths[1]} mm}}
  to_fr: {{from: tee_front.c, to: fr.inlet, tube: pipe, length: {lengths[2]} mm}}
  rear: {{from: mc_rear.out, to: tee_rear.a, tube: pipe, length: {lengths[3]} mm}}
  to_rl: {{from: tee_rear.b, to: rl.inlet, tube: pipe, length: {lengths[4]} mm}}
  to_rr: {{from: tee_rear.c, to: rr.inlet, tube: pipe, length: {lengths[5]} mm}}
  clutch: {{from: mc_clutch.out, to: slave.inlet, tube: pipe, length: {lengths[6]} mm}}
hoses:
  feed_f: {{part: feed-hose-8mm, from: tank.front, to: mc_front.feed, length: 200 mm}}
  feed_r: {{part: feed-hose-8mm, from: tank.rear, to: mc_rear.feed, length: 200 mm}}
  feed_c: {{part: feed-hose-8mm, from: tank.clutch, to: mc_clutch.feed, length: 200 mm}}
circuits:
  front: {{from: mc_front.out, feeds: [fl.inlet, fr.inlet]}}
  rear: {{from: mc_rear.out, feeds: [rl.inlet, rr.inlet]}}
  clutch: {{from: mc_clutch.out, feeds: [slave.inlet]}}
"""
LENGTHS = (800, 500, 1400, 2600, 300, 900, 1000)
TAGS = ("front", "to_fl", "to_fr", "rear", "to_rl", "to_rr", "clutch")
PEDAL = """\
pedal: {force: 400 N, ratio: 5, balance: 0.6, travel: 120 mm, free_play: 5 mm}
clutch: {force: 100 N, ratio: 5}
brakes: {fl: {axle: front}, fr: {axle: front}, rl: {axle: rear}, rr: {axle: rear}}
"""


def car(
    folder: Path,
    more: str = "",
    rear: str = "drum",
    lengths: tuple[int, ...] = LENGTHS,
    swaps: tuple[str, str] = ("", ""),
) -> PortGraph:
    """Return the car; `swaps` replaces one text of its file or catalog by another."""
    catalog = CATALOG.replace(*swaps) if swaps[0] in CATALOG else CATALOG
    text = BUILD.format(rear=rear, lengths=lengths)
    text = text.replace(*swaps) if swaps[0] in text and swaps[0] not in CATALOG else text
    (folder / "house.yaml").write_text(catalog, encoding="utf-8")
    (folder / "build.yaml").write_text(text + more, encoding="utf-8")
    return assemble(load(folder))
