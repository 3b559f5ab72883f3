"""What a page is asked to show, as its address says it, and addresses that say it."""

from collections.abc import Mapping
from typing import Final, NamedTuple
from urllib.parse import urlencode

from fitcheck.service.page.drawn import VIEWS
from fitcheck.service.page.snapshot import Snapshot

MOST: Final = 400
PARTS: Final = (
    "head", "notice", "drawing", "findings", "unchecked", "joints", "bill", "sheets", "pedal", "panel", "editor",
)  # fmt: skip
"""The parts of a page that can be fetched by themselves, in their order."""
QUICK: Final = "quick"
"""Among the parts that are asked for: leave out what takes long."""


class Wanted(NamedTuple):
    """What to show: `view` of the drawing, what is looked `at`, which `file` is edited, a change that is `tried`.

    A change is another `part` for a `tag`, or the `changes` of a remedy, which `act` says in words. `words` search for
    parts of the kind `act`, or of `every` kind. `said` is what was just done: `done`, `undone` or `redone`.
    """

    view: str = "circuit"
    at: str = ""
    file: str = ""
    tag: str = ""
    part: str = ""
    changes: str = ""
    act: str = ""
    words: str = ""
    every: str = ""
    said: str = ""

    @staticmethod
    def of(said: Mapping[str, str]) -> "Wanted":
        """Return what an address or a form says; what makes no sense is left out."""
        found = {name: said.get(name, "") for name in Wanted._fields}
        most = {name: value if len(value) <= MOST or name == "changes" else "" for name, value in found.items()}
        if most["view"] not in VIEWS:
            most["view"] = VIEWS[0]
        return Wanted(**most)

    @property
    def tries(self) -> bool:
        """Whether a change is to be seen before it is made."""
        return bool((self.tag and self.part) or self.changes)

    @property
    def change(self) -> dict[str, object]:
        """The change that is tried, as the questions of the page take it."""
        return {"changes": self.changes} if self.changes else {"swaps": {self.tag: self.part}}

    def tried(self, now: Snapshot, **change: object) -> dict[str, object]:
        """Return what goes with the question what a change brings: this one, or another `change`."""
        return {"hashes": now.hashes, "view": self.view, **(change or self.change)}

    @property
    def act_words(self) -> str:
        """The change that is tried, in words."""
        return self.act if self.changes else f"exchange {self.tag} for {self.part}"

    def link(self, anchor: str = "", **more: str) -> str:
        """Return the address of this page with something else to show; the view and the file stay."""
        said = {"view": self.view if self.view != VIEWS[0] else "", "file": self.file, **more}
        query = urlencode({name: value for name, value in said.items() if value})
        return f"/{f'?{query}' if query else ''}{f'#{anchor}' if anchor else ''}"


def parts_of(header: str | None) -> tuple[str, ...]:
    """Return the parts that a script asks for by themselves; none of them means a whole page."""
    named = {word.strip() for word in (header or "").split(",")}
    return tuple(part for part in (*PARTS, QUICK) if part in named)
