"""An invented car with a balance bar, and one with a tandem master cylinder, for tests of pedals, pressure and braking.

Both are written as a builder would. `bar_car` and `tandem_car` take the text of what stands after the plumbing.
"""

from pathlib import Path

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.hydraulics.system import System, system

CATALOG = """\
catalog: 1
parts:
  pump-16:
    kind: master cylinder
    ports:
      out: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      feed: {seat: push-on, gender: external, hose: 8 mm}
    outlets: [out]
    feeds: [feed]
    bore: 16 mm
    stroke: 30 mm
    cut_off: 1 mm
  pump-19:
    kind: master cylinder
    ports:
      out: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      feed: {seat: push-on, gender: external, hose: 8 mm}
    outlets: [out]
    feeds: [feed]
    bore: 19 mm
    stroke: 30 mm
  pump-bare:
    kind: master cylinder
    ports:
      out: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      feed: {seat: push-on, gender: external, hose: 8 mm}
    outlets: [out]
    feeds: [feed]
  pump-series:
    kind: master cylinder
    ports:
      out: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      feed: {same as: out}
    outlets: [out]
    feeds: [feed]
    bore: 16 mm
    stroke: 30 mm
  tandem-20:
    kind: master cylinder
    ports:
      one: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      two: {same as: one}
      feed: {seat: push-on, gender: external, hose: 8 mm}
    outlets: [one, two]
    feeds: [feed]
    bore: 20 mm
    stroke: 32 mm
    chambers: [14 mm, 18 mm]
  disc-fixed:
    kind: caliper
    ports:
      in: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
    pistons: [40 mm, 40 mm]
    style: fixed
  disc-floating:
    kind: caliper
    ports:
      in: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
    pistons: [34 mm]
    style: floating
  disc-both:
    kind: caliper
    ports:
      a: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      b: {same as: a}
    passages: [[a], [b]]
    pistons: [40 mm, 40 mm, 40 mm, 40 mm]
    style: fixed
  disc-bare:
    kind: caliper
    ports:
      in: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
    bore: 40 mm
  drum-20:
    kind: wheel cylinder
    ports:
      in: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
    bore: 20 mm
  slave-22:
    kind: slave cylinder
    ports:
      in: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
    bore: 22 mm
  limiter:
    kind: proportioning valve
    ports:
      in: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      out: {same as: in}
    one_way: [in, out]
    setting: 2 MPa
    slope: 0.4
  limiter-bare:
    kind: proportioning valve
    ports:
      in: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      out: {same as: in}
    one_way: [in, out]
  holder:
    kind: residual valve
    ports:
      in: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      out: {same as: in}
    one_way: [in, out]
    setting: 0.07 MPa
  cross:
    kind: tee
    ports:
      a: {thread: M10x1, gender: internal, seat: bubble, tube: 4.75 mm}
      b: {same as: a}
      c: {same as: a}
"""
BAR = """\
build: 1
name: Whinchat
fluid: DOT 4
catalogs: [parts.yaml]
components:
  mc_front: {part: FRONT}
  mc_rear: {part: REAR}
  mc_clutch: {part: pump-16}
  tee_front: {part: cross}
  tee_rear: {part: cross}
  valve: {part: VALVE}
  disc_l: {part: DISC}
  disc_r: {part: DISC}
  drum_l: {part: drum-20}
  drum_r: {part: drum-20}
  slave: {part: slave-22}
lines:
  l1: {from: mc_front.out, to: tee_front.a, tube: tube-3-16-cuni}
  l2: {from: tee_front.b, to: disc_l.in, tube: tube-3-16-cuni}
  l3: {from: tee_front.c, to: disc_r.in, tube: tube-3-16-cuni}
  l4: {from: mc_rear.out, to: valve.in, tube: tube-3-16-cuni}
  l5: {from: valve.out, to: tee_rear.a, tube: tube-3-16-cuni}
  l6: {from: tee_rear.b, to: drum_l.in, tube: tube-3-16-cuni}
  l7: {from: tee_rear.c, to: drum_r.in, tube: tube-3-16-cuni}
  l8: {from: mc_clutch.out, to: slave.in, tube: tube-3-16-cuni}
"""
TANDEM = """\
build: 1
name: Dotterel
fluid: DOT 4
catalogs: [parts.yaml]
components:
  mc: {part: tandem-20}
  tee_one: {part: cross}
  tee_two: {part: cross}
  fl: {part: DISC}
  fr: {part: DISC}
  rl: {part: drum-20}
  rr: {part: drum-20}
lines:
  l1: {from: mc.one, to: tee_one.a, tube: tube-3-16-cuni}
  l2: {from: mc.two, to: tee_two.a, tube: tube-3-16-cuni}
  l3: {from: tee_one.b, to: ONE_B, tube: tube-3-16-cuni}
  l4: {from: tee_one.c, to: ONE_C, tube: tube-3-16-cuni}
  l5: {from: tee_two.b, to: TWO_B, tube: tube-3-16-cuni}
  l6: {from: tee_two.c, to: TWO_C, tube: tube-3-16-cuni}
"""
PEDAL = """\
pedal: {force: 400 N, ratio: 5, balance: 0.6}
clutch: {force: 100 N, ratio: 6}
"""
BAR_BRAKES = """\
brakes:
  disc_l: {axle: front, friction: 0.4, radius: 110 mm, tyre: 300 mm}
  disc_r: {axle: front, friction: 0.4, radius: 110 mm, tyre: 300 mm}
  drum_l: {axle: rear, factor: 2, radius: 100 mm, tyre: 300 mm}
  drum_r: {axle: rear, factor: 2, radius: 100 mm, tyre: 300 mm}
"""
TANDEM_BRAKES = (
    BAR_BRAKES.replace("disc_l", "fl").replace("disc_r", "fr").replace("drum_l", "rl").replace("drum_r", "rr")
)
CAR = """\
car: {mass: 800 kg, wheelbase: 2400 mm, cg_height: 480 mm, cg_behind_front: 1200 mm, tyre_friction: 0.9}
"""
DRIVEN = PEDAL + BAR_BRAKES + CAR


def bar_car(
    folder: Path,
    rest: str = DRIVEN,
    *,
    front: str = "pump-16",
    rear: str = "pump-19",
    valve: str = "holder",
    disc: str = "disc-fixed",
) -> System:
    """Return a car with two master cylinders on a balance bar, discs in front and drums behind, and a clutch."""
    text = BAR.replace("FRONT", front).replace("REAR", rear).replace("VALVE", valve).replace("DISC", disc)
    return read(folder, text + rest)


def tandem_car(
    folder: Path,
    rest: str = "pedal: {force: 400 N, ratio: 5}\n" + TANDEM_BRAKES + CAR,
    *,
    split: str = "axles",
    chambers: bool = True,
) -> System:
    """Return a car with a tandem master cylinder, split by `axles`, `diagonals`, or `twice`: fronts only."""
    disc = "disc-both" if split == "twice" else "disc-fixed"
    ends = {
        "axles": ("fl.in", "fr.in", "rl.in", "rr.in"),
        "diagonals": ("fl.in", "rr.in", "fr.in", "rl.in"),
        "twice": ("fl.a", "fr.a", "fl.b", "fr.b"),
    }[split]
    text = TANDEM.replace("DISC", disc)
    for name, end in zip(("ONE_B", "ONE_C", "TWO_B", "TWO_C"), ends, strict=True):
        text = text.replace(name, end)
    if split == "twice":
        text = "".join(line for line in text.splitlines(keepends=True) if not line.startswith(("  rl:", "  rr:")))
        rest = "".join(line for line in rest.splitlines(keepends=True) if not line.startswith(("  rl:", "  rr:")))
    catalog = CATALOG if chambers else CATALOG.replace("    chambers: [14 mm, 18 mm]\n", "")
    return read(folder, text + rest, catalog)


def read(folder: Path, text: str, catalog: str = CATALOG) -> System:
    """Return the pressure side of a build of which this is the text."""
    (folder / "parts.yaml").write_text(catalog)
    (folder / "build.yaml").write_text(text)
    return system(assemble(load(folder)))
