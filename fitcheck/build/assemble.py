"""From a build file and its catalogs to the port graph."""

from collections.abc import Callable, Iterable, Iterator
from typing import Final, NamedTuple

from fitcheck.build.graph import (
    End,
    Fitted,
    Joint,
    JointKind,
    Path,
    PortGraph,
    Section,
    UnknownPart,
    UnknownRef,
)
from fitcheck.build.load import Build
from fitcheck.build.model import BanjoJoint, Line, PairJoint
from fitcheck.build.refs import port_of, tag_of
from fitcheck.catalog.part import RIDES, Part
from fitcheck.naming import in_order, nearest

_MOST_HINTS: Final = 20
"""Looking for the nearest of n names costs time n: past this many bad names no more are looked up."""
_NEVER_FITTED: Final = {
    "nut": "nuts are chosen for the ends of lines",
    "sleeve": "sleeves are chosen for the ends of lines",
    "banjo bolt": "banjo bolts belong to a joint's `bolt`",
    "tube": "tube belongs to a line",
    "spring guard": "spring guards belong to a line's `slides`",
}


class _Stated(NamedTuple):
    """A joint as the file states it: references, not yet looked up."""

    refs: tuple[str, ...]
    paths: tuple[Path, ...]
    path: Path
    banjo: bool = False
    bolt: str | None = None
    washers: int | None = None


def assemble(build: Build) -> PortGraph:
    """Return the graph of `build`. Never raises: what the catalogs lack is kept for the file rules."""
    return _Assembly(build).graph()


class _Assembly:
    def __init__(self, build: Build) -> None:
        self.build = build
        self.fitted: dict[str, Fitted] = {}
        self.ends: dict[str, End] = {}
        self.unknown_parts: list[UnknownPart] = []
        self.unknown_refs: list[UnknownRef] = []
        self.excused: set[str] = set()
        self.hints = 0

    def graph(self) -> PortGraph:
        self._fit_all()
        self._open_ports()
        stated = _without_repeats(list(self._stated()))
        resolved, assumed = self._resolve(stated)
        joints = tuple(self._joint(joint, resolved, assumed) for joint in stated)
        self._check_circuit_refs()
        return PortGraph(
            self.build,
            self.fitted,
            self.ends,
            tuple(joint for joint in joints if joint is not None),
            tuple(self.unknown_parts),
            tuple(self.unknown_refs),
            frozenset(self.excused),
        )

    def _fit_all(self) -> None:
        file = self.build.file
        for tag, component in file.components.items():
            self._fit(tag, "components", component.part, "part", _component_fault)
        for tag, line in file.lines.items():
            self._fit(tag, "lines", line.tube, "tube", _tube_fault)
        for tag, hose in file.hoses.items():
            self._fit(tag, "hoses", hose.part, "part", _hose_fault)
        for tag, line in file.lines.items():
            self._stated_on_line(tag, line)
        for tag, panel in file.panels.items():
            self._stated_fixing(tag, panel.grommet, "grommet", ("panels", tag, "grommet"))
        for index, joint in enumerate(file.joints):
            if isinstance(joint, BanjoJoint):
                self._stated_fixing(joint.port, joint.bolt, "banjo bolt", ("joints", index, "bolt"))

    def _stated_fixing(self, ref: str, part_id: str | None, kind: str, path: Path) -> None:
        if part_id is None:
            return
        part = self.build.shelf.get(part_id)
        if part is None:
            self.unknown_parts.append(UnknownPart(ref, part_id, self._no_part(part_id), path))
        elif part.kind != kind:
            reason = f"{part_id} is a {part.kind}, not a {kind}"
            self.unknown_parts.append(UnknownPart(ref, part_id, reason, path))

    def _stated_on_line(self, tag: str, line: Line) -> None:
        for name, end in (("from", line.ends.from_), ("to", line.ends.to)) if line.ends else ():
            if end is not None:
                self._stated_fixing(f"{tag}.{name}", end.nut, "nut", ("lines", tag, "ends", name, "nut"))
                self._stated_fixing(f"{tag}.{name}", end.sleeve, "sleeve", ("lines", tag, "ends", name, "sleeve"))
        for index, part_id in enumerate(line.slides):
            self._stated_ride(tag, part_id, ("lines", tag, "slides", index))

    def _stated_ride(self, tag: str, part_id: str, path: Path) -> None:
        part = self.build.shelf.get(part_id)
        if part is None:
            self.unknown_parts.append(UnknownPart(tag, part_id, self._no_part(part_id), path))
        elif part.kind not in RIDES:
            reason = f"{part_id} is a {part.kind}, not a thing that slides onto a tube"
            self.unknown_parts.append(UnknownPart(tag, part_id, reason, path))

    def _fit(self, tag: str, section: Section, part_id: str, key: str, fault: Callable[[Part], str | None]) -> None:
        part = self.build.shelf.get(part_id)
        reason = self._no_part(part_id) if part is None else fault(part)
        if reason is not None:
            part = None
            self.unknown_parts.append(UnknownPart(tag, part_id, reason, (section, tag, key)))
        self.fitted[tag] = Fitted(tag, section, part_id, part, (section, tag))

    def _no_part(self, part_id: str) -> str:
        return f"no catalog has a part {part_id!r}{self._hint(part_id, self.build.shelf.ids())}"

    def _hint(self, word: str, known: Iterable[str]) -> str:
        match = self._nearest(word, known)
        return f"; nearest is {match}" if match else ""

    def _nearest(self, word: str, known: Iterable[str]) -> str | None:
        self.hints += 1
        return nearest(word, known) if self.hints <= _MOST_HINTS else None

    def _open_ports(self) -> None:
        for item in self.fitted.values():
            if item.section == "lines":
                line = self.build.file.lines[item.tag]
                for name, stated in (
                    ("from", line.ends.from_ if line.ends else None),
                    ("to", line.ends.to if line.ends else None),
                ):
                    ref = f"{item.tag}.{name}"
                    self.ends[ref] = End(ref, item, None, True, stated)
            elif item.part is not None:
                for name, port in item.part.ports.items():
                    ref = f"{item.tag}.{name}"
                    self.ends[ref] = End(ref, item, port)

    def _stated(self) -> Iterator[_Stated]:
        file = self.build.file
        for index, entry in enumerate(file.joints):
            yield _stated_joint(entry, ("joints", index))
        for tag, line in file.lines.items():
            yield _stated_end(f"{tag}.from", line.from_, ("lines", tag, "from"))
            yield _stated_end(f"{tag}.to", line.to, ("lines", tag, "to"))
        for tag, hose in file.hoses.items():
            if hose.from_ is not None:
                yield _stated_end(f"{tag}.from", hose.from_, ("hoses", tag, "from"))
            if hose.to is not None:
                yield _stated_end(f"{tag}.to", hose.to, ("hoses", tag, "to"))

    def _resolve(self, stated: list[_Stated]) -> tuple[dict[Path, str], set[Path]]:
        """Return what each reference means, by its place in the file, and which of them are guesses."""
        resolved: dict[Path, str] = {}
        unclear: list[tuple[str, Path]] = []
        for joint in stated:
            for ref, path in zip(joint.refs, joint.paths, strict=True):
                if self._exists(ref):
                    resolved[path] = ref
                else:
                    unclear.append((ref, path))
        taken = set(resolved.values())
        for ref, path in unclear:
            reason, guess = self._explain(ref, taken)
            if guess is not None:
                resolved[path] = guess
                taken.add(guess)
            self.unknown_refs.append(UnknownRef(ref, reason, path, guess))
        return resolved, {path for _, path in unclear}

    def _exists(self, ref: str) -> bool:
        """Return whether `ref` is an end; a port of an unknown part is taken on trust and becomes one."""
        if ref in self.ends:
            return True
        item = self.fitted.get(tag_of(ref))
        if item is None or item.part is not None or item.section == "lines":
            return False
        self.ends[ref] = End(ref, item, None)
        return True

    def _explain(self, ref: str, taken: set[str]) -> tuple[str, str | None]:
        tag, port = tag_of(ref), port_of(ref)
        guess_tag = tag
        if tag not in self.fitted:
            match = self._nearest(tag, self.fitted)
            reason = f"nothing here has the tag {tag}" + (f"; nearest is {match}" if match else "")
            if match is None:
                return reason, None
            guess_tag = match
        names = self._port_names(guess_tag)
        match = port if port in names else self._nearest(port, names)
        if guess_tag == tag:
            known = ", ".join(names) or "none"
            reason = f"{tag} has no port {port}; it has {known}"
        free = [f"{guess_tag}.{name}" for name in names if f"{guess_tag}.{name}" not in taken]
        if match is not None and f"{guess_tag}.{match}" in free:
            return reason, f"{guess_tag}.{match}"
        return reason, free[0] if len(free) == 1 else None

    def _port_names(self, tag: str) -> tuple[str, ...]:
        item = self.fitted[tag]
        if item.section == "lines":
            return ("from", "to")
        return tuple(item.part.ports) if item.part is not None else ()

    def _joint(self, stated: _Stated, resolved: dict[Path, str], unclear: set[Path]) -> Joint | None:
        refs = [resolved[path] for path in stated.paths if path in resolved]
        if len(refs) < len(stated.refs) and len(refs) < 2:
            self.excused.update(refs)
            return None
        ends = tuple(self.ends[ref] for ref in refs)
        assumed = any(path in unclear for path in stated.paths)
        return brought_together(
            ends, stated.banjo, Joint(ends, "pair", stated.path, stated.bolt, stated.washers, assumed)
        )

    def _check_circuit_refs(self) -> None:
        for tag, circuit in self.build.file.circuits.items():
            stated: list[tuple[str, Path]] = [(circuit.from_, ("circuits", tag, "from"))]
            stated += [(ref, ("circuits", tag, "feeds", i)) for i, ref in enumerate(circuit.feeds)]
            for ref, path in stated:
                if not self._exists(ref):
                    reason, _ = self._explain(ref, set())
                    self.unknown_refs.append(UnknownRef(ref, reason, path, None))


def brought_together(ends: tuple[End, ...], banjo: bool, like: Joint) -> Joint:
    """Return the joint of `ends`, its kind and order made out from what they are; all else is as in `like`.

    `banjo` is True if the file names one of them as a port and the others as eyes on its bolt.
    """
    kind = _kind(ends, banjo)
    if kind == "banjo":
        ends = _threaded_first(ends)
        ends = (ends[0], *sorted(ends[1:], key=lambda end: in_order(end.ref)))
    if kind == "tube" and ends[0].tube_end:
        ends = (ends[1], ends[0])
    if kind in ("pair", "tubes", "mechanical"):
        ends = tuple(sorted(ends, key=_outer_first))
    return Joint(ends, kind, like.path, like.bolt, like.washers, like.assumed)


def _stated_joint(entry: list[str] | PairJoint | BanjoJoint, path: Path) -> _Stated:
    if isinstance(entry, BanjoJoint):
        paths = ((*path, "port"), *((*path, "eyes", i) for i in range(len(entry.eyes))))
        return _Stated((entry.port, *entry.eyes), paths, path, True, entry.bolt, entry.washers)
    if isinstance(entry, PairJoint):
        pair, washers, base = tuple(entry.ports), entry.washers, (*path, "ports")
    else:
        pair, washers, base = tuple(entry), None, path
    return _Stated(pair, ((*base, 0), (*base, 1)), path, washers=washers)


def _stated_end(own: str, other: str, path: Path) -> _Stated:
    """Return the joint of a line's or hose's own end, which exists by itself, to what the file names."""
    return _Stated((own, other), ((*path[:2], path[2], "own"), path), path)


def _without_repeats(stated: list[_Stated]) -> list[_Stated]:
    """Drop joints that say again what another says: the same pair, or an eye already on its port.

    Of two the one stays that states fixings, or else the earlier one.
    """
    seen: set[frozenset[str]] = set()
    kept: list[int] = []
    for index in sorted(range(len(stated)), key=lambda i: stated[i].bolt is None and stated[i].washers is None):
        port, *others = stated[index].refs
        pairs = {frozenset((port, other)) for other in others}
        if not pairs <= seen:
            seen |= pairs
            kept.append(index)
    return [stated[index] for index in sorted(kept)]


def _outer_first(end: End) -> tuple[bool, tuple[str | int, ...]]:
    """Return what the two equal sides of a joint are sorted by: what goes into the other comes first."""
    return end.port is None or end.port.gender != "external", in_order(end.ref)


def _threaded_first(ends: tuple[End, ...]) -> tuple[End, ...]:
    """Return the ends of a banjo joint with the one that is no eye in front, if there is just one such."""
    eyeless = [end for end in ends if end.port is not None and end.port.eye is None]
    return (eyeless[0], *(end for end in ends if end is not eyeless[0])) if len(eyeless) == 1 else ends


def _kind(ends: tuple[End, ...], banjo: bool) -> JointKind:
    ports = [end.port for end in ends if end.port is not None]
    tubes = sum(end.tube_end for end in ends)
    if tubes == 2:
        return "tubes"
    if tubes == 1:
        return "tube"
    if any(port.mechanical for port in ports):
        return "mechanical"
    if banjo or any(port.eye is not None for port in ports):
        return "banjo"
    return "pair"


def _component_fault(part: Part) -> str | None:
    reason = _NEVER_FITTED.get(part.kind)
    return f"{part.id} is a {part.kind}, not a component: {reason}" if reason else None


def _tube_fault(part: Part) -> str | None:
    return None if part.kind == "tube" else f"{part.id} is a {part.kind}, not a tube"


def _hose_fault(part: Part) -> str | None:
    return None if part.kind in ("hose", "feed hose") else f"{part.id} is a {part.kind}, not a hose"
