"""Files as people write them: a tree drawn by chance, and its text in a mixture of styles with comments between."""

import json
from random import Random
from typing import Any, NamedTuple

from fitcheck.changes import Append, Change, ConflictError, Drop, Put, merged
from fitcheck.trees import Path

Tree = dict[str, Any]
VALUES = [
    "x",
    "3/16 in",
    "p, q",
    "it's",
    "a: b",
    "# no",
    "a #b",
    "null",
    "",
    "é😀",
    "- x",
    "[",
    "yes",
    "10",
    "a:",
    "?",
    "ü:b",
    "two\nlines",
    "two\nlines\n",
]
KEYS = ["part", "on", "note", "from", "to", "at", "two words", "k: v", "#", "~"]
NEW = ("new_1", "new_2", "a b", "- c")


class Line(NamedTuple):
    """A line of a file, the entry it belongs to, and whether it is a comment or blank, standing between entries."""

    owner: Path
    text: str
    between: bool = False


class Writer:
    """Draws a tree and writes it."""

    def __init__(self, random: Random, nulls: bool = False) -> None:
        self.random = random
        self.nulls = nulls
        self.lines: list[Line] = []
        self.pad = random.choice(["", "", " "])
        self.indent = random.choice([2, 2, 4, 1])

    def chance(self, one_in: int) -> bool:
        """Return True once in so many cases."""
        return self.random.randrange(one_in) == 0

    def file(self) -> Tree:
        """Write a whole file into `lines` and return its tree."""
        tree: Tree = {}
        if self.chance(4):
            self.lines.append(Line((), "---", True))
        for name in self.random.sample(["name", "components", "joints", "lines", "pedal"], self.random.randint(1, 5)):
            self.between((), 0)
            tree[name] = self.section(name)
        self.between((), 0)
        if self.chance(6):
            self.lines.append(Line((), "...", True))
        return tree

    def between(self, owner: Path, column: int) -> None:
        """Write comments and blank lines, now and then."""
        while self.chance(3):
            number = len(self.lines)
            self.lines.append(Line(owner, self.random.choice(["", " " * column + f"# comment {number}, {{}}"]), True))

    def section(self, name: str) -> Any:
        """Write one section and return its value."""
        value: Any
        start = len(self.lines)
        if name == "name":
            value = self.random.choice(VALUES)
            self.inner((name,), 0, name, value)
        elif name == "joints":
            value = [self.joint() for _ in range(self.random.randint(0, 4))]
            self.collection((name,), 0, name, value)
        elif name == "pedal":
            value = self.entry()
            self.collection((name,), 0, name, value)
        else:
            value = {f"{name[0]}{number}": self.entry() for number in range(self.random.randint(0, 4))}
            self.collection((name,), 0, name, value)
        if self.nulls and self.chance(8):
            value = None
            self.lines[start:] = [Line((name,), f"{name}:{self.trail()}")]
        return value

    def joint(self) -> Any:
        """Return an item of a list: two references, or a mapping."""
        if self.chance(3):
            return self.entry()
        return [self.random.choice(VALUES) for _ in range(self.random.randint(1, 3))]

    def entry(self) -> Tree:
        """Return an entry of a section."""
        keys = self.random.sample(KEYS, self.random.randint(0, 4))
        nulls = [None, None] if self.nulls else []
        return {key: self.random.choice([*VALUES, *nulls, ["1", "2"], [["1", "2"], ["3"]], {"k": "v"}]) for key in keys}

    def collection(self, owner: Path, column: int, key: str, value: Any) -> None:
        """Write `key: value` with the value in brackets or on lines of its own."""
        if not value and self.chance(2):
            value.clear()
            return self.line(owner, column, key, self.random.choice(["{}", "{ }"]) if isinstance(value, dict) else "[]")
        if not value or self.chance(3):
            return self.brackets(owner, column, f"{self.key(key, False)}: ", value)
        self.lines.append(Line(owner, f"{' ' * column}{self.key(key, False)}:{self.trail()}"))
        listed = isinstance(value, list)
        inner = column + (self.random.choice([0, self.indent]) if listed and not column else self.indent)
        for step, one in enumerate(value) if listed else value.items():
            self.between(owner, max(inner, 1) if inner > column else 0)
            self.inner((*owner, step), inner, step, one)
        return None

    def inner(self, owner: Path, column: int, step: Any, value: Any) -> None:
        """Write one entry of a collection that is written on lines of its own."""
        if isinstance(step, int):
            if isinstance(value, dict) and value and self.chance(2):
                return self.dashed(owner, column, value)
            gap = self.random.choice([" ", "   "])
            return self.brackets(owner, column, f"-{gap}", value)
        if isinstance(value, (dict, list)):
            return self.collection(owner, column, step, value)
        if isinstance(value, str) and "\n" in value and self.chance(2):
            header = "|" if value.endswith("\n") else "|-"
            self.lines.append(Line(owner, f"{' ' * column}{self.key(step, False)}: {header}{self.trail()}"))
            return self.lines.extend(Line(owner, f"{' ' * (column + 2)}{line}") for line in value.splitlines())
        return self.line(owner, column, step, self.scalar(value, False))

    def dashed(self, owner: Path, column: int, value: Tree) -> None:
        """Write an item that is a mapping whose first key stands on the line of the dash."""
        start = len(self.lines)
        for step, one in value.items():
            self.inner((*owner, step), column + 2, step, one)
        first = self.lines[start]
        self.lines[start] = Line(owner, " " * column + "- " + first.text[column + 2 :])

    def brackets(self, owner: Path, column: int, lead: str, value: Any) -> None:
        """Write a value in brackets, on one line or on several."""
        if value and isinstance(value, (dict, list)) and self.chance(4):
            pieces = self.pieces(value)
            opening, closing = "{}" if isinstance(value, dict) else "[]"
            self.lines.append(Line(owner, f"{' ' * column}{lead}{opening}{self.trail()}"))
            for number, piece in enumerate(pieces):
                comma = "," if number < len(pieces) - 1 or self.chance(2) else ""
                self.lines.append(Line(owner, f"{' ' * (column + 3)}{piece}{comma}{self.trail()}"))
            self.lines.append(Line(owner, f"{' ' * (column + 1)}{closing}{self.trail()}"))
        else:
            self.lines.append(Line(owner, f"{' ' * column}{lead}{self.flow(value)}{self.trail()}"))

    def pieces(self, value: Any) -> list[str]:
        """Return the entries of a collection as they stand in brackets."""
        if isinstance(value, dict):
            return [f"{self.key(key, True)}: {self.flow(one)}" for key, one in value.items()]
        return [self.flow(one) for one in value]

    def flow(self, value: Any) -> str:
        """Return a value as it stands in brackets."""
        if not isinstance(value, (dict, list)):
            return self.scalar(value, True)
        inner = self.random.choice([", ", ",", " , "]).join(self.pieces(value))
        opening, closing = "{}" if isinstance(value, dict) else "[]"
        return f"{opening}{self.pad}{inner}{self.pad}{closing}"

    def line(self, owner: Path, column: int, key: str, value: str) -> None:
        """Write `key: value`."""
        gap = " " * self.random.choice([1, 1, 3])
        self.lines.append(Line(owner, f"{' ' * column}{self.key(key, False)}:{gap}{value}{self.trail()}"))

    def trail(self) -> str:
        """Return a comment for the end of a line, now and then."""
        return f"  # trail {len(self.lines)}" if self.chance(4) else ""

    def key(self, key: str, flow: bool) -> str:
        """Return a key, quoted or plain."""
        return self.scalar(key, flow)

    def scalar(self, text: str | None, flow: bool) -> str:
        """Return a text, quoted in one of two ways, or plain where that is sure to be right."""
        way = self.random.randrange(4)
        if text is None:
            return ["", "~", "null", "null"][way]
        if way == 0 and "\n" not in text:
            return "'" + text.replace("'", "''") + "'"
        if way > 1 and text.isalnum() and text != "null":
            return text
        return json.dumps(text, ensure_ascii=False)


def some_changes(random: Random, tree: Tree) -> tuple[Change, ...]:
    """Return a few changes that can be made together."""
    chosen: tuple[Change, ...] = ()
    for _ in range(random.randint(1, 6)):
        try:
            chosen = merged((*chosen, _change(random, tree)))
        except ConflictError:
            continue
    return chosen


def _change(random: Random, tree: Tree) -> Change:
    writer = Writer(random)
    section = random.choice(["components", "lines", "joints", "joints", "pedal", "name", "accept"])
    if section == "name":
        return Put((section,), random.choice(VALUES))
    if section in tree and random.randrange(12) == 0:
        return Drop((section,)) if random.randrange(2) else Put((section,), writer.section(section))
    if section in ("joints", "accept"):
        return _list_change(random, writer, (section,), tree.get(section) or [])
    if section == "pedal":
        return _key_change(random, writer, (section,), tree.get(section) or {})
    tags = list(tree.get(section) or ())
    if not tags or random.randrange(3) == 0:
        return Put((section, random.choice(NEW)), writer.entry())
    tag = random.choice(tags)
    if random.randrange(3) == 0:
        return Drop((section, tag)) if random.randrange(2) else Put((section, tag), writer.entry())
    return _key_change(random, writer, (section, tag), tree[section][tag] or {})


def _key_change(random: Random, writer: Writer, path: Path, entry: Tree) -> Change:
    if entry and random.randrange(3) == 0:
        return Drop((*path, random.choice(list(entry))))
    key = random.choice([*entry, *NEW])
    value: Any = random.choice([random.choice(VALUES), ["7", "8"], writer.entry()])
    old = entry.get(key)
    if isinstance(old, list) and random.randrange(2):
        return _list_change(random, writer, (*path, key), old)
    return Put((*path, key), value)


def _list_change(random: Random, writer: Writer, path: Path, items: list[Any]) -> Change:
    if not items or random.randrange(3) == 0:
        return Append(path, writer.joint())
    index = random.randrange(len(items))
    item = items[index]
    if random.randrange(2):
        return Drop((*path, index)) if random.randrange(2) else Put((*path, index), writer.joint())
    if isinstance(item, dict):
        return _key_change(random, writer, (*path, index), item)
    if isinstance(item, list):
        return Put((*path, index, random.randrange(len(item))), random.choice(VALUES))
    return Put((*path, index), random.choice(VALUES))
