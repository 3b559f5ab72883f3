"""`air-trap`: a hump in a line, or a stub above the master cylinder, that holds air.

What it finds
-------------
Places where lines rise more than 25 mm above every way by which air gets out again: to a bleed screw, or back to the
master cylinder; a hump may go over several lines and what joins them. It says how much air stays there. Then
switches, gauges, plugs and caps on a pressure circuit that stand higher than every outlet of it. Lines without corner
points, parts without a place, and hoses with slack enough for such a hump (nobody states how one hangs) are not
checked; a hump with a hose on one side counts as open there, since a hose can be held up while bleeding.

Why it matters
--------------
Air rises and stays at the top of a hump or a dead stub. Bleeding does not move it, and the pedal stays soft.

Example
-------
Fails::

    build: 1
    components:
      joiner_1: {part: union-m10x1-bubble, at: [0, 0, 300]}
      joiner_2: {part: union-m10x1-bubble, at: [0, 900, 300]}
      stop_1: {part: plug-m10x1-bubble}
      stop_2: {part: plug-m10x1-bubble}
    joints:
      - [stop_1.end, joiner_1.a]
      - [stop_2.end, joiner_2.b]
    lines:
      over_axle:
        from: joiner_1.b
        to: joiner_2.a
        tube: tube-3-16-cuni
        route: [[0, 200, 300], [0, 400, 450], [0, 600, 300]]

Passes::

    build: 1
    components:
      joiner_1: {part: union-m10x1-bubble, at: [0, 0, 300]}
      joiner_2: {part: union-m10x1-bubble, at: [0, 900, 300]}
      stop_1: {part: plug-m10x1-bubble}
      stop_2: {part: plug-m10x1-bubble}
    joints:
      - [stop_1.end, joiner_1.a]
      - [stop_2.end, joiner_2.b]
    lines:
      over_axle:
        from: joiner_1.b
        to: joiner_2.a
        tube: tube-3-16-cuni
        route: [[0, 200, 300], [200, 400, 300], [0, 600, 300]]

Source
------
Common practice, no source, the 25 mm with it: avoid tall loops of line, as over a rear axle (trade article on residual
valves). That a switch branch above the master cylinder can hold air is known from the inspection of kit cars. Volumes
are derived from the centre-line.
"""

from collections.abc import Iterator
from math import sqrt

from fitcheck.build.circuits import Network
from fitcheck.build.graph import Fitted
from fitcheck.build.hose_reach import Reach
from fitcheck.build.positions import corner_points, end_position, place_field
from fitcheck.build.trapped_air import STUBS, Trap, traps
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Finding, Looked, Said, Unchecked
from fitcheck.measures import exact

RULE = "air-trap"
HUMP_MM = 25.0
"""How far a line may rise above where its air gets out. Common practice, no source."""
_SOURCE = "common practice, no source"


def find(context: Context) -> Iterator[Said]:
    """Yield every hump of lines that holds air, and every stub above all outlets of its circuit."""
    for tag in context.file.lines:
        yield from _line(context, tag)
    for reach in context.reaches:
        if reach.part.kind == "hose":
            yield _hose(reach)
    for trap in traps(context.graph, context.circuits, context.runs):
        if trap.rise_mm > HUMP_MM:
            yield _hump(context, trap)
    yield from _stubs(context)


def _stubs(context: Context) -> Iterator[Said]:
    """Yield every stub of a pressure circuit: whether it stands above all outlets."""
    tops: dict[int, float | str] = {}
    for item in context.graph.fitted.values():
        if item.part is None or item.part.kind not in STUBS:
            continue
        for port in item.part.fluid_ports():
            network = context.circuits.of(f"{item.tag}.{port.name}")
            if network is not None and network.pressurised:
                if id(network) not in tops:
                    tops[id(network)] = _highest_outlet(context, network)
                yield _stub(context, item, f"{item.tag}.{port.name}", network, tops[id(network)])


def _line(context: Context, tag: str) -> Iterator[Said]:
    """Yield whether it is known where a line runs."""
    corners = corner_points(context.graph, tag)
    if corners is None:
        yield Unchecked(RULE, (tag,), f"lines.{tag}.route")
        return
    refs = [f"{tag}.{name}" for name in ("from", "to")] if corners else []
    unknown = [ref for ref in refs if end_position(context.graph, ref) is None]
    for ref in unknown:
        yield Unchecked(RULE, (tag, ref), place_field(context.graph, ref))
    if not unknown:
        yield Looked()


def _hose(reach: Reach) -> Said:
    """Return whether a hose is too short to rise so far: the highest point of an ellipse about its level ends."""
    chord = reach.near.chord_mm if reach.near is not None else None
    length = reach.length_mm
    if chord is not None and length is not None and sqrt(max(0.0, length**2 - chord**2)) / 2.0 <= HUMP_MM:
        return Looked()
    return Unchecked(RULE, (reach.tag,), f"how {reach.tag} hangs between its ends")


def _hump(context: Context, trap: Trap) -> Finding:
    verb, path = ("rises", ("lines", trap.at, "route", trap.node)) if trap.node is not None else ("stands", None)
    holds = f"; {trap.mm3 / 1000.0:.2f} cm3 of it stay" if trap.mm3 is not None else ""
    message = f"{trap.at} {verb} {exact(round(trap.rise_mm, 1), context.unit)} above every way out for air{holds}"
    evidence = {
        "top_mm": trap.top,
        "way_out_mm": trap.lip_mm,
        "air_mm3": trap.mm3,
        "lines": trap.lines,
        "allowed_mm": HUMP_MM,
        "source": _SOURCE,
    }
    return context.finding(RULE, "warning", message, (trap.at,), path or context.graph.path_of(trap.at), evidence)


def _highest_outlet(context: Context, network: Network) -> float | str:
    """Return the height of the highest outlet in mm, or the field that would say where one of them is."""
    highest: float | None = None
    for ref in network.outlets:
        position = end_position(context.graph, ref)
        if position is None:
            return place_field(context.graph, ref)
        highest = position[2] if highest is None else max(highest, position[2])
    return highest if highest is not None else "outlets"


def _stub(context: Context, item: Fitted, ref: str, network: Network, top: float | str) -> Said:
    position = end_position(context.graph, ref)
    if position is None:
        return Unchecked(RULE, (item.tag,), f"components.{item.tag}.at")
    if isinstance(top, str):
        return Unchecked(RULE, (item.tag,), top)
    if position[2] <= top:
        return Looked()
    message = f"{item.tag} stands {exact(position[2] - top, context.unit)} above {network.outlets[0]}"
    evidence = {
        "stub_mm": position,
        "outlets": network.outlets,
        "highest_outlet_z_mm": top,
        "source": _SOURCE,
    }
    return context.finding(RULE, "warning", message, (item.tag,), item.path, evidence)
