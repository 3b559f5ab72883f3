"""A page put together: what each of its parts needs is asked for, all at once, and set into the templates."""

import asyncio
from collections.abc import Mapping, Sequence
from functools import lru_cache
from hashlib import sha256
from pathlib import Path
from typing import Any, Final

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup, escape

from fitcheck.reports.caution import CAUTION
from fitcheck.reports.plain import count_of, visible
from fitcheck.service.page.desk import Desk, Said
from fitcheck.service.page.doors import seal_of
from fitcheck.service.page.drawn import VIEWS, colours
from fitcheck.service.page.snapshot import Snapshot
from fitcheck.service.page.wanted import PARTS, QUICK, Wanted
from fitcheck.service.settings import Settings

STATIC: Final = Path(__file__).with_name("static")
_NEEDS: Final[Mapping[str, tuple[str, ...]]] = {
    "head": ("core",),
    "drawing": ("core", "drawing"),
    "findings": ("core", "remedies"),
    "unchecked": ("core",),
    "joints": ("core",),
    "bill": ("bill",),
    "sheets": ("sheets",),
    "pedal": ("pedal",),
    "panel": ("about", "tried", "tried_pedals", "parts/search"),
    "editor": ("core",),
}
"""What each part is made from."""


@lru_cache(maxsize=1)
def static_files() -> dict[str, tuple[str, bytes]]:
    """Return the style and the script by names that change with what is in them, each with its media type."""
    style = f"{(STATIC / 'style.css').read_text(encoding='utf-8')}\n{colours()}\n"
    script = (STATIC / "script.js").read_text(encoding="utf-8")
    made = {}
    for stem, end, media, text in (("style", "css", "text/css", style), ("script", "js", "text/javascript", script)):
        data = text.encode()
        made[f"{stem}-{sha256(data).hexdigest()[:12]}.{end}"] = (f"{media}; charset=utf-8", data)
    return made


@lru_cache(maxsize=1)
def _environment() -> Environment:
    """Return the templates: every text is escaped, and what would not be seen in it is made visible."""
    made = Environment(
        loader=PackageLoader("fitcheck.service.page"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=lambda value: visible(value) if type(value) is str else value,
    )
    made.filters["exactly"] = lambda text: Markup("\n") + escape(text)  # a first line end is no part of a text area
    made.filters["made"] = Markup  # HTML of our own reports, in which every word of users is escaped
    made.globals.update(count_of=count_of, caution=CAUTION, views=VIEWS)
    return made


class Sheet:
    """Makes pages of one desk."""

    def __init__(self, desk: Desk, settings: Settings) -> None:
        self.desk = desk
        self.settings = settings

    @staticmethod
    def door(wrong: bool) -> str:
        """Return the page where the token is entered; `wrong` if another one was."""
        return _environment().get_template("door.html").render(wrong=wrong, statics=list(static_files()))

    async def html(self, now: Snapshot, wanted: Wanted, parts: Sequence[str], **more: Any) -> str:
        """Return a page, or only those `parts` of it; `more` is shown beside what is asked for."""
        if wanted.file not in now.files:
            wanted = wanted._replace(file="")
        needed = dict.fromkeys(need for part in (parts or PARTS) for need in _NEEDS.get(part, ()))
        if QUICK in parts:
            needed.pop("remedies", None)
        said = await self._answers(now, wanted, tuple(needed))
        template = "parts.html" if parts else "page.html"
        values = {
            "now": now,
            "wanted": wanted,
            "file": wanted.file or now.build,
            "parts": parts or PARTS,
            "quick": QUICK in parts,
            "seal": seal_of(self.settings.token),
            "history": self.desk.history,
            "one_process": self.settings.workers == 1,
            "typed": None,
            "conflict": None,
            "statics": list(static_files()),
        }
        return _environment().get_template(template).render({**values, **said, **more})

    async def _answers(self, now: Snapshot, wanted: Wanted, needed: Sequence[str]) -> dict[str, Said | None]:
        """Return the answers by their names; None where nothing is asked."""
        found: dict[str, Said | None] = dict.fromkeys(_name(need) for needs in _NEEDS.values() for need in needs)
        asked = [(need, options) for need in needed if (options := self._options(need, now, wanted)) is not None]
        answers = await asyncio.gather(*(self.desk.ask(now, need, **options) for need, options in asked))
        return {**found, **{_name(need): said for (need, _), said in zip(asked, answers, strict=True)}}

    def _options(self, need: str, now: Snapshot, wanted: Wanted) -> dict[str, Any] | None:
        """Return what goes with a question; None if it is not to be asked."""
        if need == "drawing":
            return {"view": wanted.view}
        if need == "about":
            return {"at": wanted.at} if wanted.at and not wanted.tries else None
        if need in ("tried", "tried_pedals"):
            return wanted.tried(now) if wanted.tries else None
        if need == "parts/search":
            return _search(wanted) if wanted.words else None
        return {}


def _search(wanted: Wanted) -> dict[str, Any]:
    """Return a search of the catalogs, as the API takes it."""
    kind = None if wanted.every else wanted.act or None
    words = wanted.words.split()[:12]
    return {"words": words, "kind": kind, "thread": None, "seat": None, "tube": None, "most": 12}


def _name(need: str) -> str:
    """Return what an answer is called in the templates."""
    return need.rpartition("/")[2]
