"""A remedy: the change of the file that puts a finding right, and what it brings in. Values only, no words."""

from collections.abc import Iterable
from typing import NamedTuple

from fitcheck.build.load import Build
from fitcheck.changes import Change


class Remedy(NamedTuple):
    """One way to put a finding right.

    `kind` says which sort it is: `adapters`, `part`, `flare`, `nut` and so on, see `remedies.cures`. `changes` are the
    edits of the build file. `parts` are the ids of the parts that they bring in, in order; `tags` the things of the
    build whose part is exchanged or that go. `added_joints` counts the joints, and so the leak paths, that come on top;
    below zero if some go. `notes` say what has to be looked at by hand because the files do not tell.
    """

    kind: str
    changes: tuple[Change, ...]
    parts: tuple[str, ...] = ()
    tags: tuple[str, ...] = ()
    added_joints: int = 0
    notes: tuple[str, ...] = ()


def fresh_tag(build: Build, word: str, ref: str, also: Iterable[str] = ()) -> str:
    """Return a tag for something new that the build, and `also`, do not have: `adapter_hose_fr_from`.

    It is made from the place, so that remedies for different places never take the same one.
    """
    taken = {*build.file.components, *build.file.lines, *build.file.hoses, *also}
    tag = f"{word}_{ref.replace('.', '_')}"
    number = 2
    found = tag
    while found in taken:
        found, number = f"{tag}_{number}", number + 1
    return found
