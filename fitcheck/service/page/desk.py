"""What the page knows and does: answers of one snapshot, asked once; changes written if nobody else has written."""

import asyncio
import json
from collections import OrderedDict
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
WARM: Final = ("core", "drawing", "remedies", "bill", "sheets", "pedal")
"""What a page always shows."""


class Said(NamedTuple):
    """An answer: its value (HTML is text), or why there is none, with the places in files that are to blame."""

    value: Any = None
    why: str = ""
    problems: tuple[dict[str, Any], ...] = ()

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


class Desk:
    """One served folder, for one server process."""

    def __init__(self, folder: Folder) -> None:
        self.folder = folder
        self.history = History()
        self.bench: Bench | None = None
        self._kept: OrderedDict[tuple[str, ...], Told] = OrderedDict()
        self._bytes = 0
        self._asked: dict[tuple[str, ...], asyncio.Future[Told]] = {}

    async def now(self) -> Snapshot:
        """Return what is in the served files now.

        Raises:
            RefusedError: the build file is not there, or is not UTF-8.
        """
        return await run_in_threadpool(snapshot.take, self.folder)

    async def ask(self, now: Snapshot, question: str, **options: Any) -> Said:
        """Return the answer to a question of the page about one snapshot."""
        key = (now.key, date.today().isoformat(), question, json.dumps(options, sort_keys=True))
        try:
            told = await self._told(key, now, question, options)
        except RefusedError as refusal:
            return Said(why=refusal.detail)
        if told.status != 200:
            problem = json.loads(told.body)
            return Said(why=problem["detail"], problems=tuple(problem.get("problems", ())))
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
                "folder": str(self.folder.fence.top),
                "options": options if "/" in question else {"key": now.key, **options},
            }
            assert self.bench is not None
            task = asyncio.ensure_future(self.bench.ask(said))
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

    async def write(self, file: str, text: str, was: str, words: str) -> None:
        """Write a version of a file, and note it so that it can be undone.

        Raises:
            ChangedError: the file is not `was` any more; nothing was written.
            InputError: it cannot be written.
            RefusedError: there is no such file any more.
        """
        before = await self._written(file, text, was)
        self.history.did(file, before, text, words)

    async def move(self, back: bool) -> Step | None:
        """Undo the last change, or do the last undone one again; None if there is none.

        Raises:
            ChangedError: the file is not what that change, or its undoing, made of it; nothing was written.
            InputError: it cannot be written.
            RefusedError: there is no such file any more.
        """
        step = self.history.last(back)
        if step is None:
            return None
        was, name = (step.after, step.before) if back else (step.before, step.after)
        text = self.history.version(name)
        if text is None:
            raise RefusedError("not-found", "that version of the file is not kept any more")
        await self._written(step.file, text, was)
        self.history.moved(step, back)
        return step

    async def _written(self, file: str, text: str, was: str) -> str:
        """Put a text into a file that is still `was`, and return what it was."""
        there = await run_in_threadpool(self.folder.text, file)
        if there.sha256 != was:
            raise ChangedError(file, there.text, there.sha256)
        try:
            await run_in_threadpool(self.folder.write, file, text, was)
        except RefusedError as refusal:
            if refusal.kind != "changed":
                raise
            found = refusal.more["there"]
            raise ChangedError(file, found["text"], found["sha256"]) from None
        return there.text
