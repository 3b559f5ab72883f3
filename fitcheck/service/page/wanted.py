"""What a page is asked to show, as its address says it, and addresses that say it."""

from collections.abc import Mapping
from typing import Final, NamedTuple
from urllib.parse import urlencode

from fitcheck.service.page.drawn import VIEWS
from fitcheck.service.page.keys import MARK
from fitcheck.service.page.snapshot import Snapshot

MOST: Final = 400
PARTS: Final = (
    "head", "notice", "drawing", "findings", "unchecked", "joints", "bill", "purchase", "sheets", "pedal", "panel",
    "editor",
)  # fmt: skip
"""The parts of a page that can be fetched by themselves, in their order."""
AIMS: Final = {"cheapest": "at the least cost", "soonest": "here first", "trade-off": "a table of what waiting saves"}
"""What a purchase can be planned for, and how the page says it."""
QUICK: Final = "quick"
"""Among the parts that are asked for: leave out what takes long."""


class Wanted(NamedTuple):
    """What to show: `view` of the drawing, which `variant`, what is looked `at`, which `file` is edited, what is tried.

    Which state of the build a finding is looked at in is `of`: the beginning of its key. A change that is tried is
    another `part` for a `tag`, or the `changes` of a remedy, which `act` says in words. `words` search for parts of the
    kind `act`, or of `every` kind. `plots` asks for those of the pedal. A purchase is planned for an `aim`, or not at
    all; all is here `by` a day, if one is said; `cured` asks for the build with its best remedies in it.
    """

    view: str = "circuit"
    variant: str = ""
    at: str = ""
    of: str = ""
    file: str = ""
    tag: str = ""
    part: str = ""
    changes: str = ""
    act: str = ""
    words: str = ""
    every: str = ""
    plots: str = ""
    aim: str = ""
    by: str = ""
    cured: str = ""

    @staticmethod
    def read(said: Mapping[str, str]) -> "Wanted":
        """Return what an address or a form says; what makes no sense is left out."""
        found = {name: said.get(name, "") for name in Wanted._fields}
        most = {name: value if len(value) <= MOST or name == "changes" else "" for name, value in found.items()}
        if most["view"] not in VIEWS:
            most["view"] = VIEWS[0]
        if most["aim"] not in AIMS:
            most["aim"] = ""
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
        words = self.act if self.changes else f"exchange {self.tag} for {self.part}"
        return f"{words}, in the variant {self.variant}" if self.variant else words

    @property
    def finding(self) -> bool:
        """Whether a finding is looked at."""
        return self.at.startswith("finding ")

    def link(self, anchor: str = "", **more: str) -> str:
        """Return the address of this page with something else to show; the view, the variant and the file stay."""
        return _address({"view": self.view, "variant": self.variant, "file": self.file, **more}, anchor)

    def look(self, name: str, key: str) -> str:
        """Return the address of this page with a finding of the build of a key looked at."""
        return self.link("panel", at=f"finding {name}", of=key[:MARK])

    def same(self, anchor: str = "", **more: str) -> str:
        """Return the address of this page as it is but for `more`."""
        return _address({**self._asdict(), **more}, anchor)

    def choose(self, variant: str) -> str:
        """Return the address of this page with another variant shown; empty shows the build itself."""
        at = "" if self.finding else self.at
        return _address({"view": self.view, "file": self.file, "at": at, "variant": variant}, "main")


def _address(said: Mapping[str, str], anchor: str) -> str:
    query = urlencode({name: value for name, value in said.items() if value and (name, value) != ("view", VIEWS[0])})
    return f"/{f'?{query}' if query else ''}{f'#{anchor}' if anchor else ''}"


def parts_of(header: str | None) -> tuple[str, ...]:
    """Return the parts that a script asks for by themselves; none of them means a whole page."""
    named = {word.strip() for word in (header or "").split(",")}
    return tuple(part for part in (*PARTS, QUICK) if part in named)
