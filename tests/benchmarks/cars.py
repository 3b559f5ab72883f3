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
PER_CAR = 10
"""Components in one car."""


def fleet(components: int) -> str:
    """Return the text of a sound build with about `components` components."""
    cars = range(max(1, components // PER_CAR))
    sections = {"components": _COMPONENTS, "lines": _LINES, "hoses": _HOSES}
    text = ["build: 1\nname: fleet\nfluid: DOT 4\n"]
    for name, template in sections.items():
        text.append(f"{name}:\n")
        text.extend(template.format(n=n) for n in cars)
    return "".join(text)
