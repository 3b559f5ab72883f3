"""Builds of any size for benchmarks: many small cars in one file, made of generic parts only."""

_COMPONENTS = """\
  tank_{n}: {{part: reservoir-2-outlet}}
  mc_f_{n}: {{part: mc-3-8-24-inverted}}
  mc_r_{n}: {{part: mc-m10x1-bubble}}
  tee_f_{n}: {{part: tee-3-16-inverted}}
  tee_r_{n}: {{part: tee-m10x1-bubble}}
  fl_{n}: {{part: caliper-m10x1-washer}}
  fr_{n}: {{part: caliper-m10x1-washer}}
  rl_{n}: {{part: wheel-cylinder-m10x1-bubble}}
  rr_{n}: {{part: wheel-cylinder-m10x1-bubble}}
  joint_{n}: {{part: union-3-16-inverted}}
"""
_LINES = """\
  feed_f_{n}: {{from: mc_f_{n}.outlet, to: joint_{n}.a, tube: tube-3-16-cuni, length: 400 mm}}
  run_f_{n}: {{from: joint_{n}.b, to: tee_f_{n}.left, tube: tube-3-16-cuni, length: 900 mm}}
  feed_r_{n}: {{from: mc_r_{n}.outlet, to: tee_r_{n}.top, tube: tube-3-16-cuni, length: 2400 mm}}
  line_rl_{n}: {{from: tee_r_{n}.left, to: rl_{n}.inlet, tube: tube-3-16-cuni, length: 600 mm}}
  line_rr_{n}: {{from: tee_r_{n}.right, to: rr_{n}.inlet, tube: tube-3-16-cuni, length: 600 mm}}
"""
_HOSE = "hose-braided-350-3-8-24-inverted-male-banjo-10mm"
_HOSES = f"""\
  feed_1_{{n}}: {{{{part: feed-hose-8mm, from: tank_{{n}}.front, to: mc_f_{{n}}.feed, length: 300 mm}}}}
  feed_2_{{n}}: {{{{part: feed-hose-8mm, from: tank_{{n}}.rear, to: mc_r_{{n}}.feed, length: 300 mm}}}}
  hose_l_{{n}}: {{{{part: {_HOSE}, from: tee_f_{{n}}.right, to: fl_{{n}}.inlet}}}}
  hose_r_{{n}}: {{{{part: {_HOSE}, from: tee_f_{{n}}.top, to: fr_{{n}}.inlet}}}}
"""
_PEDAL = "pedal: {ratio: 5, force: 400 N, travel: 120 mm}\n"
_PLACES = {
    "tank": (200, 500, 800),
    "mc_f": (300, 500, 600),
    "mc_r": (300, 400, 600),
    "joint": (200, 300, 500),
    "tee_f": (0, 0, 400),
    "tee_r": (2500, 0, 400),
    "fl": (0, 700, 300),
    "fr": (0, -700, 300),
    "rl": (2500, 700, 300),
    "rr": (2500, -700, 300),
}
"""Where in its car each component sits [mm]."""
_APART = 3000
"""How far apart the cars stand [mm]."""
PER_CAR = 10
"""Components in one car."""


def fleet(components: int, *, placed: bool = False) -> str:
    """Return the text of a sound build with about `components` components.

    With `placed` it says where each of them is and how the pedal is pressed, so that the rules of place and of pressure
    have something to look at; not all of it is sound then.
    """
    cars = range(max(1, components // PER_CAR))
    sections = {"components": _COMPONENTS, "lines": _LINES, "hoses": _HOSES}
    text = [f"build: 1\nname: fleet\nfluid: DOT 4\n{_PEDAL if placed else ''}"]
    for name, template in sections.items():
        text.append(f"{name}:\n")
        told = (template.format(n=n) for n in cars)
        text.extend(map(_placed, told, cars) if placed and name == "components" else told)
    return "".join(text)


def _placed(text: str, car: int) -> str:
    """Return the components of one car with their places."""
    for tag, (x, y, z) in _PLACES.items():
        head, part, rest = text.partition(f"  {tag}_{car}: {{part: ")
        text = head + part + rest.replace("}", f", at: [{x}, {y + _APART * car}, {z}]}}", 1)
    return text


def chain(tees: int) -> str:
    """Return the text of a build in which one outlet feeds so many tees in a row, each with a wheel cylinder."""
    numbers = range(tees)
    components = [f"  tee_{n}: {{part: tee-m10x1-bubble}}\n  wheel_{n}: {{part: {_WHEEL}}}\n" for n in numbers]
    feeding = ["mc.outlet", *(f"tee_{n}.right" for n in numbers)]
    lines = [
        f"  run_{n}: {{from: {feeding[n]}, to: tee_{n}.top, {_TUBE}}}\n"
        f"  branch_{n}: {{from: tee_{n}.left, to: wheel_{n}.inlet, {_TUBE}}}\n"
        for n in numbers
    ]
    head = f"build: 1\nfluid: DOT 4\n{_PEDAL}components:\n  mc: {{part: mc-m10x1-bubble}}\n"
    return "".join((head, *components, "lines:\n", *lines))


_WHEEL = "wheel-cylinder-m10x1-bubble"
_TUBE = "tube: tube-3-16-cuni, length: 600 mm"
