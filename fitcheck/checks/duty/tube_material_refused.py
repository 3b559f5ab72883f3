"""`tube-material-refused`: tube of a material that is not used under brake pressure.

What it finds
-------------
Rigid lines on a pressure circuit whose tube is plain copper, aluminium or plastic. Copper-nickel, coated or
double-wall steel and annealed stainless pass. A tube whose material the catalog does not state is not checked.
Where your local code allows plain copper, accept the finding and say so.

Why it matters
--------------
Plain copper is strong enough when new. It hardens with vibration and cracks at the flare without warning.

Example
-------
Fails::

    build: 1
    components:
      mc: {part: mc-m10x1-bubble}
      tank: {part: reservoir-1-outlet}
      slave: {part: slave-m10x1-bubble}
    lines:
      run: {from: mc.outlet, to: slave.inlet, tube: tube-3-16-copper}
    hoses:
      feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed}

Passes::

    build: 1
    components:
      mc: {part: mc-m10x1-bubble}
      tank: {part: reservoir-1-outlet}
      slave: {part: slave-m10x1-bubble}
    lines:
      run: {from: mc.outlet, to: slave.inlet, tube: tube-3-16-cuni}
    hoses:
      feed: {part: feed-hose-8mm, from: tank.outlet, to: mc.feed}

Source
------
SAE J526, SAE J527 and ISO 4038 for steel; ASTM B466 and SAE J1650 for copper-nickel (from memory). Sources
disagree on plain copper: most of the trade refuses it, BN-90 3617-09 and one maker's workshop manual allow it.
"""

from collections.abc import Iterator

from fitcheck.checks.context import Context
from fitcheck.checks.findings import Looked, Said, Unchecked
from fitcheck.standards.materials import material

RULE = "tube-material-refused"


def find(context: Context) -> Iterator[Said]:
    """Yield every line under pressure whose tube is of a refused material."""
    for tag, item in context.graph.fitted.items():
        if item.section != "lines" or item.part is None:
            continue
        network = context.circuits.of(f"{tag}.from")
        if network is None or not network.pressurised:
            continue
        if item.part.material is None:
            yield Unchecked(RULE, (tag,), f"parts.{item.part_id}.material")
            continue
        known = material(item.part.material)
        yield Looked()
        if not known.brake_pressure:
            message = f"{tag} is {_plain(known.name)} tube under pressure"
            evidence = {"material": known.name, "reason": known.reason, "source": known.mark}
            yield context.finding(RULE, "error", message, (tag,), ("lines", tag, "tube"), evidence)


def _plain(name: str) -> str:
    """Return the material as the trade says it: copper alone is plain copper, to tell it from copper-nickel."""
    return f"plain {name}" if name == "copper" else name
