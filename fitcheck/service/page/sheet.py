"""A page put together: what each of its parts needs is asked for, all at once, and set into the templates."""

import asyncio
from collections.abc import Mapping, Sequence
from datetime import date, datetime
from functools import lru_cache
from hashlib import sha256
from pathlib import Path, PurePath
from typing import Any, Final

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup, escape
from starlette.concurrency import run_in_threadpool

from fitcheck.reports.caution import CAUTION
from fitcheck.reports.diagram.legend import READ
from fitcheck.reports.plain import count_of, visible
from fitcheck.service.asked import OrderOptions
from fitcheck.service.page.desk import Desk, Said
from fitcheck.service.page.doors import seal_of
from fitcheck.service.page.drawn import VIEWS, colours
from fitcheck.service.page.keys import MARK
from fitcheck.service.page.paper import ON_PAPER, foot_address, revision_of, tiles
from fitcheck.service.page.snapshot import Snapshot
from fitcheck.service.page.wanted import AIMS, PARTS, QUICK, Wanted
from fitcheck.service.settings import Settings

STATIC: Final = Path(__file__).with_name("static")
_STYLE: Final = "style"
_NEEDS: Final[Mapping[str, tuple[str, ...]]] = {
    "head": ("core",),
    "drawing": ("core", "drawing"),
    "findings": ("core", "remedies"),
    "unchecked": ("core",),
    "joints": ("core",),
    "bill": ("bill",),
    "purchase": ("core", "purchase"),
    "sheets": ("sheets",),
    "pedal": ("pedal", "plots"),
    "panel": ("about", "tried", "tried_pedals", "parts/search"),
    "editor": ("core",),
}
"""What each part is made from."""


@lru_cache(maxsize=1)
def static_files() -> dict[str, tuple[str, bytes]]:
    """Return the style and the scripts by names that change with what is in them, each with its media type.

    The scripts import each other by their own names, so they share a folder, which is named by what is in all of them.
    """
    style = f"{(STATIC / 'style.css').read_text(encoding='utf-8')}\n{colours()}\n".encode()
    scripts = {path.name: path.read_bytes() for path in sorted(STATIC.glob("*.js"))}
    folder = _short(b"".join(name.encode() + data for name, data in scripts.items()))
    made = {f"{_STYLE}-{_short(style)}.css": ("text/css; charset=utf-8", style)}
    return made | {f"{folder}/{name}": ("text/javascript; charset=utf-8", data) for name, data in scripts.items()}


def _short(data: bytes) -> str:
    return sha256(data).hexdigest()[:12]


def _addresses() -> dict[str, str]:
    """Return where the style and the scripts are, by their names without ends."""
    return {PurePath(name).stem.partition("-")[0]: f"/page/static/{name}" for name in static_files()}


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
    made.filters["sentence"] = _sentence
    made.filters["made"] = Markup  # HTML of our own reports, in which every word of users is escaped
    made.filters["tiles"] = tiles
    made.globals.update(count_of=count_of, caution=CAUTION, views=VIEWS, aims=AIMS.items())
    made.globals.update(on_paper=ON_PAPER, foot=foot_address, read=READ, static=_addresses())
    return made


def _lack(core: Said | None, now: Snapshot) -> str:
    """Return why there is nothing to show of the build, where there is nothing."""
    if core is not None and core.unanswered:
        return "the server did not answer"
    if now.variant and now.variant not in now.variants:
        return f"the build has no variant {now.variant}"
    return "the build cannot be read"


def _sentence(text: str) -> str:
    """Return words as a sentence; the name of a file at their beginning stays as it is."""
    named = "." in text.split(" ", 1)[0]
    return f"{text[:1] if named else text[:1].upper()}{text[1:].rstrip('.')}."


class Sheet:
    """Makes pages of one desk."""

    def __init__(self, desk: Desk, settings: Settings) -> None:
        self.desk = desk
        self.settings = settings

    @staticmethod
    def door(wrong: bool, to: str) -> str:
        """Return the page where the token is entered; `wrong` if another one was; `to` is what to look at then."""
        return _environment().get_template("door.html").render(wrong=wrong, to=to)

    @staticmethod
    def gone(build: str, why: str, problems: Sequence[Any], typed: str) -> str:
        """Return what is shown where there is no build to show: what is wrong, and what was typed, if anything."""
        values = {"build": build, "why": why, "problems": problems, "typed": typed}
        return _environment().get_template("gone.html").render(values)

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
            "steps": await run_in_threadpool(self.desk.history.steps),
            "stale": wanted.finding and bool(wanted.of) and not now.key.startswith(wanted.of),
            "of": now.key[:MARK],
            "heard": None,
            "typed": None,
            "conflict": None,
            "revision": revision_of(now, date.today()),
        }
        values["lack"] = _lack(said["core"], now)
        return _environment().get_template(template).render({**values, **said, **more})

    @staticmethod
    def once_accepted(wanted: Wanted) -> dict[str, dict[str, Any]]:
        """Return what is asked for first once a change that is tried is accepted, with what goes with each question."""
        at = "" if wanted.finding else wanted.at or wanted.tag
        return {"core": {}, "drawing": {"view": wanted.view}, **({"about": {"at": at}} if at else {})}

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
        if need == "plots":
            return {} if wanted.plots else None
        if need == "purchase":
            return _purchase(wanted) if wanted.aim else None
        if need == "parts/search":
            return _search(wanted) if wanted.words else None
        return {}


def _search(wanted: Wanted) -> dict[str, Any]:
    """Return a search of the catalogs, as the API takes it."""
    kind = None if wanted.every else wanted.act or None
    words = wanted.words.split()[:12]
    return {"words": words, "kind": kind, "thread": None, "seat": None, "tube": None, "most": 12}


def _purchase(wanted: Wanted) -> dict[str, Any]:
    """Return a purchase to be planned, as the API takes it. Orders go out at the minute in which this is asked."""
    on = datetime.now().strftime("%Y-%m-%dT%H:%M")
    asked = OrderOptions.model_validate(
        {"aim": wanted.aim, "by": wanted.by or None, "on": on, "with_remedies": bool(wanted.cured)}
    )
    return asked.model_dump()


def _name(need: str) -> str:
    """Return what an answer is called in the templates."""
    return need.rpartition("/")[2]
