"""A build file as a person keeps it: a comment above each entry, and others at the ends of lines."""

import re
from typing import Any

import yaml

from tests.properties.editing import refs_of
from tests.properties.growing import Plan
from tests.properties.recheck import LOADER

_SECTION = re.compile(r"^(\w+):$")
_ENTRY = re.compile(r"^  (\w+):")
_OF_PART = re.compile(r"^    (part|tube): ")


def commented(text: str) -> str:
    """Return a file of `text_of` with a line above every entry of a section that says which it is, and more.

    Above the item of a list stands its first words; after the parts of components, and the tubes, where each came from.
    """
    section, entry, number = "", "", 0
    lines: list[str] = []
    for line in text.splitlines():
        if match := _SECTION.match(line):
            section, number = match[1], 0
            lines.append(f"# all {section}")
        elif section in ("components", "lines", "hoses") and (match := _ENTRY.match(line)):
            entry = match[1]
            lines.append(f"  # about {section} {entry}")
        elif section == "joints" and line.startswith("- "):
            lines.append(f"# about joints {number}")
            number += 1
        elif section in ("components", "lines", "hoses") and _OF_PART.match(line):
            line += f"  # bought for {section} {entry}"
        lines.append(line)
    return "\n".join(lines) + "\n"


def comments(text: str) -> list[str]:
    """Return every comment of a file written by `commented`, in order, without the number sign."""
    return [line.partition("# ")[2] for line in text.splitlines() if "# " in line]


def lost_comments(before: str, after: str) -> list[str]:
    """Return the comments that are gone though what they speak of is still there, or that have changed places."""
    old, new = comments(before), comments(after)
    there: Plan = yaml.load(after, LOADER)
    told: Plan = yaml.load(before, LOADER)
    lost = [comment for comment in old if comment not in new and _stays(comment, told, there)]
    order = [old.index(comment) for comment in new if comment in old]
    return lost + [f"{comment} is new" for comment in new if comment not in old] + ["order"] * (order != sorted(order))


def _stays(comment: str, told: Plan, there: Plan) -> bool:
    words = comment.split()
    if words[0] == "all":
        return words[1] in there
    if words[1] == "joints":
        return _joint(told["joints"][int(words[2])]) in [_joint(joint) for joint in there.get("joints", [])]
    return words[2] in there.get(words[1], {})


def _joint(joint: Any) -> tuple[str, ...]:
    """Return what a joint brings together: its bolt and washers may change while its comment stays."""
    return tuple(refs_of(joint))
