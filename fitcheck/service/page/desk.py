"""What the page knows and does: answers of one snapshot, asked once; changes written if nobody else has written."""

import asyncio
import json
import logging
from collections import OrderedDict
from collections.abc import Callable
from datetime import date
from typing import Any, Final, NamedTuple

from starlette.concurrency import run_in_threadpool

from fitcheck.service.bench import Bench, Told
from fitcheck.service.folder import Folder
from fitcheck.service.page import snapshot
from fitcheck.service.page.history import History, Step
from fitcheck.service.page.snapshot import Snapshot
from fitcheck.service.problems import RefusedError

_MOST_BYTES: Final = 16 * 1024 * 1024
_KEPT: Final = frozenset((200, 404, 422))
_FAULT: Final = 500
_LOG: Final = logging.getLogger(__name__)
WARM: Final = ("core", "drawing", "remedies", "bill", "sheets", "pedal")
"""What a page always shows."""


class Said(NamedTuple):
    """An answer: its value (HTML is text), or why there is none, with the places in files that are to blame.

    `unanswered` if the files are not to blame: the server had no time, no room or a fault, and may be asked again.
    """

    value: Any = None
    why: str = ""
    problems: tuple[dict[str, Any], ...] = ()
    unanswered: bool = False

    @property
    def good(self) -> bool:
        """Whether there is an answer."""
        return not self.why


class ChangedError(Exception):
    """A file is not what it was when the page showed it. `there` is what it holds now."""

    def __init__(self, file: str, there: str, sha256: str) -> None:
        super().__init__(file)
        self.file = file
        self.there = there
        self.sha256 = sha256


class OtherError(Exception):
    """The change that would be undone or done again is not the one that was meant."""


class Desk:
    """One served folder, for one server process; `journal` is the folder that it shares with the others, if any."""

    def __init__(self, folder: Folder, journal: str = "") -> None:
        self.folder = folder
        self.history = History(journal)
        self.bench: Bench | None = None
        self._kept: OrderedDict[tuple[str, ...], Told] = OrderedDict()
        self._bytes = 0
        self._asked: dict[tuple[str, ...], asyncio.Future[Told]] = {}
        self._preparing: set[asyncio.Task[None]] = set()

    async def now(self, variant: str = "") -> Snapshot:
        """Return what is in the served files now; what is asked of it is of that variant of the build.

        Raises:
            GoneError: the build file is not there, or is not UTF-8.
        """
        return (await run_in_threadpool(snapshot.take, self.folder))._replace(variant=variant)

    async def ask(self, now: Snapshot, question: str, **options: Any) -> Said:
        """Return the answer to a question of the page about one snapshot."""
        key = (now.key, now.variant, date.today().isoformat(), question, json.dumps(options, sort_keys=True))
        try:
            told = await self._told(key, now, question, options)
        except RefusedError as refusal:
            return Said(why=refusal.detail, unanswered=True)
        except (OSError, TimeoutError, asyncio.IncompleteReadError):
            _LOG.exception("no process could be started to answer")
            return Said(why="no process could be started to answer; the server's log says more", unanswered=True)
        if told.status != 200:
            problem = json.loads(told.body)
            return Said(None, problem["detail"], tuple(problem.get("problems", ())), unanswered=told.status >= _FAULT)
        text = told.body.decode()
        return Said(text if told.media == "text/html" else json.loads(text))

    async def _told(self, key: tuple[str, ...], now: Snapshot, question: str, options: dict[str, Any]) -> Told:
        """Return an answer that is kept, that somebody else has asked for just now, or a new one."""
        if key in self._kept:
            self._kept.move_to_end(key)
            return self._kept[key]
        if key not in self._asked:
            said = {
                "ask": question if "/" in question else f"page/{question}",
                "texts": now.texts,
                "path": now.build,
                "variant": now.variant or None,
                "folder": str(self.folder.fence.top),
                "options": options if "/" in question else {"key": now.key, **options},
            }
            assert self.bench is not None
            task = asyncio.ensure_future(self.bench.ask(said, few=True))
            self._asked[key] = task
            task.add_done_callback(lambda done: self._keep(key, done))
        return await asyncio.shield(self._asked[key])

    def _keep(self, key: tuple[str, ...], done: "asyncio.Future[Told]") -> None:
        self._asked.pop(key, None)
        if done.cancelled() or done.exception() is not None or done.result().status not in _KEPT:
            return
        self._kept[key] = done.result()
        self._bytes += len(done.result().body)
        while self._bytes > _MOST_BYTES:
            self._bytes -= len(self._kept.popitem(last=False)[1].body)

    async def warm(self) -> None:
        """Ask what a page always shows, so that the first one is quick."""
        try:
            now = await self.now()
        except RefusedError:
            return
        for question in WARM:
            await self.ask(now, question, **({"view": "circuit"} if question == "drawing" else {}))

    def prepare(self, now: Snapshot, change: dict[str, object], **asked: dict[str, Any]) -> None:
        """Begin to ask of the build with a change in it what is shown once it is accepted; nobody waits for it.

        `asked` are the questions by their names with what goes with each.
        """
        task = asyncio.create_task(self._prepared(now, change, asked))
        self._preparing.add(task)
        task.add_done_callback(self._preparing.discard)

    async def _prepared(self, now: Snapshot, change: dict[str, object], asked: dict[str, dict[str, Any]]) -> None:
        changed = await self.ask(now, "changed", **change)
        if changed.good:
            then = now.with_text(changed.value["file"], changed.value["text"])
            await asyncio.gather(*(self.ask(then, question, **options) for question, options in asked.items()))

    async def write(self, file: str, text: str, was: str, words: str) -> Step | None:
        """Write a version of a file, and note it so that it can be undone; None if the file says so already.

        Raises:
            ChangedError: the file is not `was` any more; nothing was written.
            InputError: it cannot be written.
            RefusedError: there is no such file any more.
        """

        def written() -> Step | None:
            before = self._written(file, text, was)
            return self.history.did(file, before, text, words)

        return await run_in_threadpool(self._alone, written)

    async def move(self, back: bool, meant: str | None = None) -> Step | None:
        """Undo the last change, or do the last undone one again; None if there is none.

        Raises:
            OtherError: the step is not the one that is `meant`, by its name; nothing was written.
            ChangedError: the file is not what that change, or its undoing, made of it; nothing was written.
            InputError: it cannot be written.
            RefusedError: there is no such file any more, or the version is not kept.
        """

        def moved() -> Step | None:
            step = self.history.steps().last(back)
            if meant is not None and meant != (step.name if step is not None else ""):
                raise OtherError
            if step is None:
                return None
            was, name = (step.after, step.before) if back else (step.before, step.after)
            text = self.history.version(name)
            if text is None:
                raise RefusedError("not-found", f"what {step.file} was then is not kept any more")
            self._written(step.file, text, was)
            self.history.moved(step, back)
            return step

        return await run_in_threadpool(self._alone, moved)

    def _alone(self, act: Callable[[], Step | None]) -> Step | None:
        """Do something while no other request, of this process or another, writes or notes what it wrote."""
        with self.folder.alone():
            return act()

    def _written(self, file: str, text: str, was: str) -> str:
        """Put a text into a file that is still `was`, and return what it was."""
        there = self.folder.text(file)
        if there.sha256 != was:
            raise ChangedError(file, there.text, there.sha256)
        self.folder.put(file, text)
        return there.text
