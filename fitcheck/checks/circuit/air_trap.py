"""`air-trap`: a hump in a line, or a stub above the master cylinder, that holds air.

What it finds
-------------
Lines whose route rises more than 25 mm above both of its ends, and switches, gauges, plugs and caps on a pressure
circuit that stand higher than every outlet of it. Lines without corner points and parts without a place are listed
as not checked; hoses are not looked at.

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
Common practice, no source, the 25 mm with it. That a switch branch above the master cylinder can hold air is known
from the inspection of kit cars.
"""

from collections.abc import Iterator

from fitcheck.build.circuits import Network
from fitcheck.build.graph import Fitted
from fitcheck.build.positions import corner_points, end_position, place_field
from fitcheck.checks.context import Context
from fitcheck.checks.findings import Looked, Said, Unchecked
from fitcheck.checks.joint_words import mm

RULE = "air-trap"
HUMP_MM = 25.0
"""How far a line may rise above both its ends. Common practice, no source."""
_STUBS = frozenset({"pressure switch", "gauge", "plug", "cap"})


def find(context: Context) -> Iterator[Said]:
    """Yield every line that rises above both its ends, and every stub above all outlets of its circuit."""
    for tag in context.file.lines:
        yield from _line(context, tag)
    tops: dict[int, float | str] = {}
    for item in context.graph.fitted.values():
        if item.part is None or item.part.kind not in _STUBS:
            continue
        for port in item.part.fluid_ports():
            network = context.circuits.of(f"{item.tag}.{port.name}")
            if network is not None and network.pressurised:
                if id(network) not in tops:
                    tops[id(network)] = _highest_outlet(context, network)
                yield _stub(context, item, f"{item.tag}.{port.name}", network, tops[id(network)])


def _line(context: Context, tag: str) -> Iterator[Said]:
    corners = corner_points(context.graph, tag)
    if corners is None:
        yield Unchecked(RULE, (tag,), f"lines.{tag}.route")
        return
    if not corners:
        yield Looked()
        return
    heights: list[float] = []
    for ref in (f"{tag}.from", f"{tag}.to"):
        position = end_position(context.graph, ref)
        if position is None:
            yield Unchecked(RULE, (tag, ref), place_field(context.graph, ref))
        else:
            heights.append(position[2])
    if len(heights) < 2:
        return
    yield Looked()
    top = max(range(len(corners)), key=lambda index: corners[index][2])
    rise = corners[top][2] - max(heights)
    if rise > HUMP_MM:
        message = f"{tag} rises {mm(rise)} above both its ends"
        evidence = {
            "ends_mm": heights,
            "top_mm": corners[top],
            "allowed_mm": HUMP_MM,
            "source": "common practice, no source",
        }
        yield context.finding(RULE, "warning", message, (tag,), ("lines", tag, "route", top), evidence)


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
    message = f"{item.tag} stands {mm(position[2] - top)} above {network.outlets[0]}"
    evidence = {
        "stub_mm": position,
        "outlets": network.outlets,
        "highest_outlet_z_mm": top,
        "source": "common practice, no source",
    }
    return context.finding(RULE, "warning", message, (item.tag,), item.path, evidence)
