"""Named what-ifs: a variant applied to the file's own tree, so that every value keeps its place in the file.

A variant swaps parts, sets single values, adds to sections and drops entries, in this order: drop, swap,
set, add. Dropping a component also drops the joints that name it: the plug goes with its joint.
"""

from collections.abc import Iterable, Mapping
from typing import Any

from fitcheck.build.model import Variant
from fitcheck.build.refs import tag_of
from fitcheck.naming import hint
from fitcheck.sources import Document, InputError, Problem
from fitcheck.sources import Mapping as Tree
from fitcheck.sources import Sequence as Series
from fitcheck.validation import validate

_FITTED = ("components", "lines", "hoses")
_TOP = ("name", "note", "fluid", "coordinates")


def chosen_variant(document: Document, name: str) -> Document:
    """Return the document with its variant `name` applied.

    Raises:
        InputError: there is no such variant, or it names something the build lacks.
    """
    known = _section(document, "variants")
    if name not in known:
        names = ", ".join(known) or "none"
        raise _error(document, ("variants",), f"no variant is called {name!r}{hint(name, known)}; known: {names}")
    path = ("variants", name)
    variant = validate(Variant, document, base=path, node=known[name])
    changed = _Change(document)
    for index, target in enumerate(variant.drop):
        changed.drop(target, (*path, "drop", index))
    for tag in variant.swap:
        changed.swap(tag, known[name]["swap"], (*path, "swap", tag))
    for target in variant.set:
        changed.set(target, known[name]["set"], (*path, "set", target))
    if variant.add:
        changed.add(known[name]["add"], (*path, "add"))
    return changed.document


def with_swaps(document: Document, swaps: Mapping[str, str]) -> Document:
    """Return the document with other parts fitted: tag to part id.

    The new part stands at the place of the one it replaces.

    Raises:
        InputError: a tag is neither component, line nor hose.
    """
    changed = _Change(document)
    for tag, part in swaps.items():
        section, key = changed.find(tag, ())
        changed.root[section] = changed.root[section].copy()
        changed.root[section][tag] = entry = changed.root[section][tag].copy()
        entry[key] = part
    return changed.document


def swap_path(document: Document, tag: str) -> tuple[str, str, str]:
    """Return the path of the value that a swap of `tag` replaces: its part, or a line's tube.

    Raises:
        InputError: nothing here has that tag.
    """
    section, key = _Change(document).find(tag, ())
    return section, tag, key


def swapped_document(document: Document, swaps: Mapping[str, str]) -> Document:
    """Return a build file with other parts in it; every other byte of its text is as it was.

    Raises:
        InputError: nothing here has one of the tags.
    """
    from fitcheck.edits import replace_scalar
    from fitcheck.sources import parse

    for tag, part in swaps.items():
        document = parse(replace_scalar(document, swap_path(document, tag), part), document.name)
    return document


def _section(document: Document, name: str) -> Any:
    root = document.root
    section = root.get(name) if isinstance(root, Tree) else None
    return section if isinstance(section, Tree) else {}


def _error(document: Document, path: tuple[str | int, ...], message: str) -> InputError:
    mark = document.mark(path)
    return InputError((Problem(document.name, mark.line, mark.column, message),))


class _Change:
    """A copy of the document's tree, deep enough to change what a variant changes."""

    def __init__(self, document: Document) -> None:
        if not isinstance(document.root, Tree):
            raise _error(document, (), "expected a mapping with the keys of a build")
        self.root = document.root.copy()
        self.document = document.with_root(self.root)

    def find(self, tag: str, path: tuple[str | int, ...]) -> tuple[str, str]:
        for section in _FITTED:
            entries = self.root.get(section)
            if isinstance(entries, Tree) and isinstance(entries.get(tag), Tree):
                return section, "tube" if section == "lines" else "part"
        tags = [tag for section in _FITTED for tag in _section(self.document, section)]
        raise _error(self.document, path, f"nothing here has the tag {tag!r}{hint(tag, tags)}")

    def swap(self, tag: str, source: Tree, path: tuple[str | int, ...]) -> None:
        section, key = self.find(tag, path)
        entry = self._mapping((section, tag), path)
        entry.take(key, source, tag)

    def set(self, target: str, source: Tree, path: tuple[str | int, ...]) -> None:
        *parents, last = target.split(".")
        if not parents and last not in _TOP:
            raise _error(self.document, path, f"expected a dotted path such as lines.feed.tube, got {target!r}")
        holder = self._open(tuple(parents), path, create=len(parents) > 2)
        if isinstance(holder, Tree):
            holder.take(last, source, target)
        else:
            index = self._index(holder, last, target, path)
            holder[index], holder.spots[index] = source[target], source.spots[target]

    def drop(self, target: str, path: tuple[str | int, ...]) -> None:
        *parents, last = target.split(".")
        holder = self._mapping(tuple(parents), path)
        if last not in holder:
            known = hint(last, holder)
            raise _error(self.document, path, f"{target!r} is not in this build{known}")
        del holder[last]
        if parents and parents[0] in _FITTED and len(parents) == 1:
            self._drop_joints(last)

    def add(self, extra: Any, path: tuple[str | int, ...]) -> None:
        for section, entries in extra.items():
            here = (*path, section)
            present = self.root.get(section)
            if present is None:
                self.root.take(section, extra, section)
            elif isinstance(present, Tree) and isinstance(entries, Tree):
                holder = self._mapping((section,), here)
                for key in entries:
                    if key in holder:
                        raise _error(self.document, (*here, key), f"{section} has {key!r} already; use `set`")
                    holder.take(key, entries, key)
            elif isinstance(present, Series) and isinstance(entries, Series):
                self.root[section] = present.joined(entries)
            else:
                raise _error(self.document, here, f"cannot be added to {section}")

    def _open(self, keys: tuple[str, ...], path: tuple[str | int, ...], create: bool = False) -> Tree | Series:
        """Return what stands at `keys`, copied on the way down so that the original stays as it was.

        An entry of a list goes by its number, counted from 0.
        """
        node: Tree | Series = self.root
        for depth, key in enumerate(keys):
            where = ".".join(keys[: depth + 1])
            if isinstance(node, Series):
                index = self._index(node, key, where, path)
                child = node[index]
            else:
                child = node.get(key)
                if child is None and create and depth >= 2:
                    child = node.empty_child()
            if not isinstance(child, (Tree, Series)):
                known = hint(key, node) if isinstance(node, Tree) else ""
                raise _error(self.document, path, f"{where!r} is not in this build{known}")
            copy = child.copy()
            if isinstance(node, Series):
                node[index] = copy
            else:
                node[key] = copy
            node = copy
        return node

    def _index(self, series: Series, key: str, where: str, path: tuple[str | int, ...]) -> int:
        if not (key.isascii() and key.isdigit() and len(key) < 7 and int(key) < len(series)):
            message = f"{where!r} is not in this build; that list has entries 0 to {len(series) - 1}"
            raise _error(self.document, path, message)
        return int(key)

    def _mapping(self, keys: tuple[str, ...], path: tuple[str | int, ...]) -> Tree:
        found = self._open(keys, path)
        if not isinstance(found, Tree):
            raise _error(self.document, path, f"{'.'.join(keys)!r} is a list")
        return found

    def _drop_joints(self, tag: str) -> None:
        joints = self.root.get("joints")
        if isinstance(joints, Series):
            self.root["joints"] = joints.keeping(lambda joint: tag not in map(tag_of, _refs(joint)))


def _refs(joint: Any) -> Iterable[str]:
    if isinstance(joint, Series):
        return [ref for ref in joint if isinstance(ref, str)]
    if isinstance(joint, Tree):
        stated = [joint.get("port"), *(joint.get("ports") or ()), *(joint.get("eyes") or ())]
        return [ref for ref in stated if isinstance(ref, str)]
    return []
