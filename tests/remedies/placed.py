"""Cures of rules of place, tried on small builds: what is proposed, what it costs, and what is left after it."""

from pathlib import Path

from fitcheck.build.assemble import assemble
from fitcheck.build.load import load
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding
from fitcheck.checks.run import check_context
from fitcheck.remedies.choose import with_remedies
from fitcheck.remedies.cure import Cured, cure
from fitcheck.remedies.proof import standing
from fitcheck.reports.remedy_words import cost_of, remedy_text

MADE_OF = "tube: tube-3-16-cuni"
PRICES = """\
offers: 1
suppliers: {shop: {name: Shop (invented), currency: GBP, lead_time: 1 d}}
prices:
  - {part: tube-3-16-cuni, supplier: shop, price: 10.00 GBP, per: 1 m, to_length: yes}
  - {part: union-3-16-inverted, supplier: shop, price: 3.00 GBP}
  - {part: plug-3-8-24-inverted, supplier: shop, price: 1.00 GBP}
  - {part: nut-3-8-24-inverted, supplier: shop, price: 0.50 GBP}
  - {part: grommet-3-16, supplier: shop, price: 0.35 GBP}
  - {part: grommet-1-4, supplier: shop, price: 0.45 GBP}
  - {part: clip-3-16, supplier: shop, price: 0.30 GBP}
"""


def placed(line: str, more: str = "", end: str = "[400, 300, 0]", components: str = "", head: str = "") -> str:
    """Return a build with one line `run` from the origin to `end`, between two closed unions."""
    return f"""\
build: 1
offers: [offers.yaml]
{head}components:
  near: {{part: union-3-16-inverted, at: [0, 0, 0]}}
  stop_a: {{part: plug-3-8-24-inverted}}
  far: {{part: union-3-16-inverted, at: {end}}}
  stop_b: {{part: plug-3-8-24-inverted}}
{components}joints: [[stop_a.end, near.a], [stop_b.end, far.b]]
lines:
  run: {{from: near.b, to: far.a, {MADE_OF}, {line}}}
{more}"""


def context_of(text: str, folder: Path, prices: str = PRICES) -> Context:
    """Return the context of a build with its offers beside it."""
    (folder / "offers.yaml").write_text(prices, encoding="utf-8")
    (folder / "build.yaml").write_text(text, encoding="utf-8")
    return Context(assemble(load(folder)))


def faults(context: Context) -> list[str]:
    """Return the rules that have an error or a warning to tell."""
    return [finding.rule for finding in standing(check_context(context))]


def proposed(text: str, rule: str, folder: Path, most: int = 4) -> list[str]:
    """Return the acts proposed for the first finding of a rule."""
    finding = _first(text, rule, folder, most)
    return [remedy_text(proven) for proven in finding.remedies]


def cost(text: str, rule: str, folder: Path) -> str | None:
    """Return what the first remedy of the first finding of a rule costs, in words."""
    finding = _first(text, rule, folder, 1)
    return cost_of(finding.remedies[0].witness)


def _first(text: str, rule: str, folder: Path, most: int) -> Finding:
    context = context_of(text, folder)
    report = with_remedies(context, check_context(context), most)
    return next(finding for finding in report.findings if finding.rule == rule)


def healed(text: str, rule: str, folder: Path) -> Cured:
    """Return the cure of a build whose fault is of one rule; the text that it writes, read afresh, has no fault left.

    The rule's own findings have to be all that is wrong before.
    """
    context = context_of(text, folder)
    assert set(faults(context)) == {rule}
    done = cure(context, check_context(context))
    assert faults(context_of(done.text, folder)) == []
    assert done.left == ()
    return done
