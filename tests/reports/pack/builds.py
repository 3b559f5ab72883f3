"""Builds that packs are made of: the demo, one with somebody else's words in every field, one that says nothing."""

from datetime import date
from pathlib import Path

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.checks.context import Context
from fitcheck.checks.run import check_context
from fitcheck.reports.pack.gather import gather
from fitcheck.reports.pack.record import Pack, revision

ROOT = Path(__file__).parents[3]
DEMO = ROOT / "demo_vehicle"
ON = date(2026, 12, 1)
NAME = "<script>name()</script> αβ Жук 漢 ]]> <para> %s {x} &amp; \"q\" 'a'"
"""The hostile build's name."""
WORDS = {
    "note": "</svg><img src=x onerror=note()> http://n.example \u202eabc",
    "description": "Tee </td><script>description()</script> Ω",
    "source": "<b>source</b> @import url(//s.example)",
    "supplier": "Shop <i>supplier</i> Ж",
    "supplier note": "<img src=http://e.example/supplier>",
    "number": "<u>number</u>",
    "offer note": "<style>*{display:none}</style>offer",
    "why": "<a href=http://w.example>why</a>",
}
"""What stands in its other fields, each told apart by a word of its own."""
_BUILD = f"""\
build: 1
name: {NAME!r}
note: {WORDS["note"]!r}
fluid: DOT 4
catalogs: [parts.yaml]
offers: [offers.yaml]
components:
  tank: {{part: reservoir-2-outlet}}
  mc_front: {{part: mc-3-8-24-inverted}}
  mc_rear: {{part: mc-m10x1-bubble}}
  tee_x: {{part: tee-x}}
  caliper_fl: {{part: caliper-m10x1-washer}}
  ωμέγα: {{part: caliper-m10x1-washer}}
lines:
  front: {{from: mc_front.outlet, to: tee_x.top, tube: tube-3-16-cuni, length: 1240 mm}}
  лево_漢: {{from: mc_rear.outlet, to: ωμέγα.inlet, tube: tube-3-16-cuni}}
hoses:
  hose_fl:
    part: hose-braided-350-3-8-24-inverted-male-banjo-10mm
    from: tee_x.left
    to: caliper_fl.inlet
  feed_f: {{part: feed-hose-8mm, from: tank.front, to: mc_front.feed, length: 200 mm}}
circuits:
  回路: {{from: mc_front.outlet, feeds: [caliper_fl.inlet]}}
accept:
  - {{rule: dead-end, at: tee_x, why: {WORDS["why"]!r}}}
"""
_PARTS = f"""\
catalog: 1
parts:
  tee-x:
    kind: tee
    description: {WORDS["description"]!r}
    ports:
      left: {{thread: 3/8-24 UNF, gender: internal, seat: inverted-flare, tube: 3/16 in}}
      right: {{same as: left}}
      top: {{same as: left}}
    source: {WORDS["source"]!r}
"""
_OFFERS = f"""\
offers: 1
suppliers:
  shop: {{name: {WORDS["supplier"]!r}, currency: GBP, note: {WORDS["supplier note"]!r}, lead_time: 2 d}}
prices:
  - {{part: tee-x, supplier: shop, price: 4.00 GBP, number: {WORDS["number"]!r}, note: {WORDS["offer note"]!r}}}
"""


def write_hostile(folder: Path) -> Path:
    """Write the hostile build with its catalog and offers, and return its file."""
    for name, text in (("build.yaml", _BUILD), ("parts.yaml", _PARTS), ("offers.yaml", _OFFERS)):
        quoted = text.replace(repr(NAME), _quoted(NAME))
        for words in WORDS.values():
            quoted = quoted.replace(repr(words), _quoted(words))
        (folder / name).write_text(quoted, encoding="utf-8")
    return folder / "build.yaml"


def _quoted(words: str) -> str:
    """Return words as a YAML text in double quotes."""
    shown = words.replace("\\", "\\\\").replace('"', '\\"').replace("\u202e", "\\u202e")
    return f'"{shown}"'


def pack_of(path: Path, variant: str | None = None, paper: str = "a4") -> Pack:
    """Return the pack of a build file."""
    context = Context(assemble(load(path, variant)))
    stamp = revision([("build.yaml", path.read_bytes())], ON, variant)
    return gather(context, check_context(context), stamp, paper)
