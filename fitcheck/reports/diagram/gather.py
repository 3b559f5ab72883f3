"""From the graph of a build to the nodes and wires of its diagram."""

from collections.abc import Iterator
from typing import Final

from fitcheck.build.graph import End, Fitted, PortGraph
from fitcheck.build.refs import port_of
from fitcheck.checks.context import Context
from fitcheck.reports.circuit_looks import circuit_looks
from fitcheck.reports.diagram.marks import Marks
from fitcheck.reports.diagram.record import Node, Pin, Scheme, Wire
from fitcheck.reports.diagram.words import clipped, end_texts, hose_texts, joint_told, port_text, port_told, tube_text

_PIN_MM: Final = 24.0
_END_MM: Final = 17.0
HUB: Final = "joint"
"""The kind of a node that stands for a joint of more than two ends."""


def gather(context: Context, marks: Marks) -> Scheme:
    """Return what the diagram of a build shows: every component, line and hose, and every joint once."""
    return _Gathering(context, marks).scheme()


class _Gathering:
    def __init__(self, context: Context, marks: Marks) -> None:
        self.context = context
        self.graph: PortGraph = context.graph
        self.marks = marks
        self.at: dict[str, list[int]] = {}
        for index, joint in enumerate(self.graph.joints):
            for ref in dict.fromkeys(joint.refs):
                self.at.setdefault(ref, []).append(index)
        self.ends: dict[str, list[End]] = {}
        for end in self.graph.ends.values():
            self.ends.setdefault(end.tag, []).append(end)
        self.colours, self.circuit = _circuits(context)

    def scheme(self) -> Scheme:
        """Return all nodes and wires."""
        nodes = [node for item in self.graph.fitted.values() for node in self._nodes(item)]
        where: dict[int, list[tuple[int, int]]] = {}
        for place, node in enumerate(nodes):
            for index, pin in enumerate(node.pins):
                if pin.joint is not None:
                    where.setdefault(pin.joint, []).append((place, index))
        wires: list[Wire] = []
        for joint, places in sorted(where.items()):
            if len(places) == 2 and places[0][0] != places[1][0]:
                wires.append(Wire(joint, *places[0], *places[1]))
                continue
            wires += [Wire(joint, *place, len(nodes), arm) for arm, place in enumerate(places)]
            nodes.append(self._hub(joint, len(places)))
        told = tuple(joint_told(joint, self.context.fixings(joint)) for joint in self.graph.joints)
        return Scheme(tuple(nodes), tuple(wires), tuple(joint.refs for joint in self.graph.joints), told)

    def _hub(self, joint: int, arms: int) -> Node:
        """Return the dot at which the arms of a joint meet."""
        ref = self.graph.joints[joint].refs[0]
        pin = Pin(ref, joint, "", "", "", colour=self.colours.get(ref, "ink"))
        return Node("", "joints", HUB, (), "", (pin,) * arms)

    def _nodes(self, item: Fitted) -> Iterator[Node]:
        """Yield a node for an item, or one for each joined outlet of a reservoir."""
        pins = [pin for end in self.ends.get(item.tag, ()) for pin in self._pins(item, end)]
        joined = [pin for pin in pins if pin.joint is not None]
        marks = tuple(self.marks.tags.get(item.tag, ()))
        if item.part is None or item.part.kind != "reservoir" or len(joined) < 2:
            yield self._node(item, pins, marks)
            return
        shared = len(item.part.passages) < len(item.part.fluid_ports())
        for index, pin in enumerate(joined):
            rest = [pin for pin in pins if pin.joint is None] if index == len(joined) - 1 else []
            part_of = f"{'one chamber' if shared else 'chamber'}, {index + 1} of {len(joined)}"
            yield self._node(item, [pin, *rest], () if index else marks, part_of)

    def _node(self, item: Fitted, pins: list[Pin], marks: tuple[int, ...], part_of: str = "") -> Node:
        kind = item.part.kind if item.part is not None else "not known"
        size = [tube_text(self.ends[item.tag][0])] if item.section == "lines" and item.part is not None else []
        words = (item.tag, *size, item.part_id, *([part_of] if part_of else []))
        about = item.part.description if item.part is not None else "in no catalog"
        told = f"{kind} {item.tag}: {item.part_id}{f', {about}' if about else ''}"
        return Node(item.tag, item.section, kind, words, told, tuple(pins), item.part, marks)

    def _pins(self, item: Fitted, end: End) -> Iterator[Pin]:
        """Yield the pins of an end: one for each of its joints, one that is open if it has none."""
        name = port_of(end.ref)
        if end.ref in self.circuit:
            name = f"{name}: {self.circuit[end.ref]}"
        mechanical = end.port is not None and end.port.mechanical
        for joint in self.at.get(end.ref) or (None,):
            if end.tube_end:
                fixed = self.context.fixings(self.graph.joints[joint]) if joint is not None else None
                above, below = end_texts(fixed)
            elif item.section == "hoses":
                above, below = hose_texts(end.port)
            else:
                above, below = name, port_text(end.port)
            room = _PIN_MM if item.section == "components" else _END_MM
            yield Pin(
                end.ref,
                joint,
                clipped(above, room),
                clipped(below, room),
                port_told(end),
                tuple(self.marks.pins.get((end.ref, joint), ())),
                mechanical,
                self.colours.get(end.ref, "ink"),
            )


def _circuits(context: Context) -> tuple[dict[str, str], dict[str, str]]:
    """Return the colour of every end under pressure, and the name of the circuit that begins or ends at it.

    Brakes of a circuit that the build does not name are told the outlets that press them, where there are several
    circuits: so no circuit is known by its colour alone.
    """
    colours = {ref: look.colour for ref, look in circuit_looks(context.circuits).items()}
    names: dict[str, str] = {}
    pressurised = context.circuits.pressurised()
    for network in pressurised:
        name = context.circuits.name_of(network)
        names |= dict.fromkeys(network.outlets, name) if name is not None else {}
        if len(pressurised) > 1:
            names |= dict.fromkeys(network.consumers, name or ", ".join(network.outlets))
    return colours, names
