"""Changes to a file, as data: what is set, added and taken out, in its tree or in its text.

A change says where by a path of the file as it is before any change. So a set of changes means the same in every
order, and what two sets want can be put together, or refused where they want two things of one place.
"""

from collections.abc import Iterable
from typing import Any, Final, NamedTuple, TypeAlias

from fitcheck.errors import FitcheckError
from fitcheck.trees import Document, InputError, Mapping, Node, Path, Sequence, Spot, short

Plain: TypeAlias = str | dict[str, "Plain"] | list["Plain"]
"""A value as people write it in YAML. All scalars are text."""


class Put(NamedTuple):
    """Set the key of a mapping, which may be new, or an item that a list has."""

    path: Path
    value: Plain


class Append(NamedTuple):
    """Add an item to the end of the list at `path`."""

    path: Path
    value: Plain


class Drop(NamedTuple):
    """Take out the key of a mapping, or an item of a list."""

    path: Path


Change = Put | Append | Drop


class ConflictError(FitcheckError, ValueError):
    """Two changes that cannot both be made: `first` settles the place that `second` speaks of too."""

    def __init__(self, first: Change, second: Change) -> None:
        super().__init__(first, second)
        self.first = first
        self.second = second

    def __str__(self) -> str:
        return f"{_words(self.first)}, but {_words(self.second)}; take one of the two"


def merged(changes: Iterable[Change]) -> tuple[Change, ...]:
    """Return the changes in their order, equal ones once, and none inside what is taken out anyway.

    Raises:
        ConflictError: two differ on one path, or one sets or adds something inside what another replaces or takes
            out, or one needs a list where another needs a mapping.
    """
    kept: list[Change] = []
    settled: dict[Path, Put | Drop] = {}
    added: dict[Path, list[Append]] = {}
    for change in changes:
        if isinstance(change, Append):
            same = added.setdefault(change.path, [])
            if change not in same:
                same.append(change)
                kept.append(change)
            continue
        other = settled.setdefault(change.path, change)
        if other is change:
            kept.append(change)
        elif type(other) is not type(change) or other != change:
            raise ConflictError(other, change)
    kinds: dict[Path, tuple[type, Change]] = {}
    return tuple(change for change in kept if _stands(change, settled, kinds))


def changed_tree(document: Document, changes: Iterable[Change]) -> Document:
    """Return the document with its tree changed and its text as it was: quick, for looking at what would be.

    Only what lies on the paths is copied; all else is shared, and keeps its position. What is new stands where the
    value that it replaces stands, or else at the nearest parent that the file has.

    Raises:
        ConflictError: as `merged`.
        InputError: a path leads through a single value, or to an item or a dropped key that is not there.
    """
    plan = _Plan()
    for change in merged(changes):
        plan.add(change)
    place = document.root_spot[0]
    return document.with_root(_Gardener(document).changed(document.root, plan, (), place))


def changed_document(document: Document, changes: Iterable[Change]) -> Document:
    """Return the file with the changes made in its text, and read again; its tree is that of `changed_tree`.

    Every character that no change touches stays: comments, quoting, alignment, line ends. A new entry is one line at
    the end of its section. A file whose tree was changed before gets those changes written too.

    Raises:
        ConflictError: as `merged`.
        InputError: as `changed_tree`, or a value cannot be written here, such as a control character.
    """
    from fitcheck.rewriting import rewritten

    return rewritten(document, changed_tree(document, changes).root)


_NOTHING: Final = object()


class _Plan:
    """What is to be done at one place of the tree, and below it."""

    __slots__ = ("added", "dropped", "inner", "value")

    def __init__(self) -> None:
        self.value: Any = _NOTHING
        self.dropped = False
        self.added: list[Plain] = []
        self.inner: dict[str | int, _Plan] = {}

    def add(self, change: Change) -> None:
        plan = self
        for step in change.path:
            plan = plan.inner.setdefault(step, _Plan())
        if isinstance(change, Put):
            plan.value = change.value
        elif isinstance(change, Append):
            plan.added.append(change.value)
        else:
            plan.dropped = True


class _Gardener:
    """Makes the changed tree from the old one, which stays as it was."""

    def __init__(self, document: Document) -> None:
        self.document = document

    def changed(self, node: Node, plan: _Plan, path: Path, place: int) -> Node:
        """Return `node`, which stands at `path`, with the plan carried out; `place` is where new things stand."""
        if not path and (plan.dropped or plan.value is not _NOTHING):
            raise self._error(path, "the whole file cannot be one change")
        if not plan.inner and not plan.added:
            return node
        if node is None:
            node = Sequence(place) if plan.added else Mapping(place)
        if isinstance(node, Mapping):
            return self._mapping(node, plan, path, place)
        if isinstance(node, Sequence):
            return self._sequence(node, plan, path, place)
        kind = "list" if plan.added else "mapping"
        raise self._error(path, f"expected a {kind}, got text {short(node)}")

    def _mapping(self, node: Mapping, plan: _Plan, path: Path, place: int) -> Mapping:
        if plan.added:
            raise self._error(path, "expected a list, got a mapping")
        copy = node.copy()
        for step, inner in plan.inner.items():
            if not isinstance(step, str):
                raise self._error(path, f"expected a list with an item {step}, got a mapping")
            spot = node.spots.get(step, (place, place, place, None))
            if inner.dropped:
                if step not in node:
                    raise self._error((*path, step), f"there is no {_dotted((*path, step))} to take out")
                del copy[step]
                copy.spots.pop(step, None)
            else:
                copy[step], copy.spots[step] = self._entry(node.get(step), inner, (*path, step), spot)
        return copy

    def _sequence(self, node: Sequence, plan: _Plan, path: Path, place: int) -> Sequence:
        copy = _copy(node)
        gone = []
        for step, inner in plan.inner.items():
            if not isinstance(step, int) or not 0 <= step < len(node):
                known = f"the list {_dotted(path)} has the items 0 to {len(node) - 1}" if node else "the list is empty"
                raise self._error(path, f"there is no {_dotted((*path, step))}: {known}")
            if inner.dropped:
                gone.append(step)
            else:
                copy[step], copy.spots[step] = self._entry(node[step], inner, (*path, step), node.spots[step])
        for step in sorted(gone, reverse=True):
            del copy[step], copy.spots[step]
        for value in plan.added:
            copy.append(_planted(value, place))
            copy.spots.append((place, place, place, _style(value)))
        return copy

    def _entry(self, old: Node, plan: _Plan, path: Path, spot: Spot) -> tuple[Node, Spot]:
        key, start, end, style = spot
        new = self.changed(old, plan, path, key) if plan.value is _NOTHING else _planted(plan.value, key)
        if isinstance(new, str):
            return new, (key, start, end, style or "")
        return new, (key, start, start, None)

    def _error(self, path: Path, message: str) -> InputError:
        return InputError((self.document.problem(path, message),))


def _planted(value: Plain, place: int) -> Node:
    """Return a copy of a plain value as a tree of the file, all of it standing at `place`."""
    if isinstance(value, dict):
        mapping = Mapping(place)
        for key, inner in value.items():
            mapping[key] = _planted(inner, place)
            mapping.spots[key] = (place, place, place, _style(inner))
        return mapping
    if isinstance(value, list):
        sequence = Sequence(place)
        for inner in value:
            sequence.append(_planted(inner, place))
            sequence.spots.append((place, place, place, _style(inner)))
        return sequence
    return value


def _style(value: Plain) -> str | None:
    return "" if isinstance(value, str) else None


def _copy(node: Sequence) -> Sequence:
    copy = Sequence(node.start)
    copy.extend(node)
    copy.spots = node.spots.copy()
    return copy


def _stands(change: Change, settled: dict[Path, Put | Drop], kinds: dict[Path, tuple[type, Change]]) -> bool:
    """Return whether a change is to be made, and refuse it if what `settled` says leaves no room for it."""
    path = change.path
    around = [path[:depth] for depth in range(len(path))]
    if isinstance(change, Append):
        around.append(path)
    for outer in around:
        if (other := settled.get(outer)) is not None:
            if isinstance(other, Drop) and isinstance(change, Drop):
                return False
            raise ConflictError(other, change)
    for outer in around:
        kind = type(path[len(outer)]) if len(outer) < len(path) else int
        known, first = kinds.setdefault(outer, (kind, change))
        if known is not kind:
            raise ConflictError(first, change)
    return True


def _words(change: Change) -> str:
    where = _dotted(change.path)
    if isinstance(change, Drop):
        return f"{where} is taken out"
    value = short(change.value) if isinstance(change.value, str) else short(str(change.value))[1:-1]
    return f"{value} is added to {where}" if isinstance(change, Append) else f"{where} is set to {value}"


def _dotted(path: Path) -> str:
    return ".".join(map(str, path)) or "the file"
