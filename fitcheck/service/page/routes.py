"""The routes of the page: what it shows, what it changes, what it is drawn with."""

import asyncio
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import Any, Final

from fastapi import APIRouter, Request, Response
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse
from starlette.concurrency import run_in_threadpool

from fitcheck.files import SUFFIXES, Fence
from fitcheck.service.folder import FileText, Folder
from fitcheck.service.page.desk import ChangedError, Desk, OtherError
from fitcheck.service.page.doors import COOKIE, ENTER, key_of, same
from fitcheck.service.page.forms import fields_of
from fitcheck.service.page.heard import heard, say, told
from fitcheck.service.page.history import Step
from fitcheck.service.page.lines import as_written, compared
from fitcheck.service.page.paper import FOOT, foot_style
from fitcheck.service.page.sheet import Sheet, static_files
from fitcheck.service.page.snapshot import GoneError, Snapshot
from fitcheck.service.page.wanted import Wanted, parts_of
from fitcheck.service.problems import RefusedError
from fitcheck.service.settings import Settings
from fitcheck.trees import InputError

HEADERS: Final = {"Referrer-Policy": "same-origin"}
"""With the stricter policy of the API browsers would not name the origin of a form that is sent without the script."""
_YEAR: Final = 365 * 24 * 3600
_FOR_EVER: Final = {"Cache-Control": f"private, max-age={_YEAR}, immutable"}


def page_of(settings: Settings) -> tuple[APIRouter, Desk | None]:
    """Return the routes of the page for some settings, and the desk behind them; no desk if no folder is served."""
    routes = APIRouter(include_in_schema=False, default_response_class=HTMLResponse)
    _add_static(routes)
    if settings.token:
        _add_door(routes, settings)
    if settings.folder is None:
        return routes, None
    page = _Page(Desk(Folder(Fence(Path(settings.folder), SUFFIXES), settings.build), settings.journal), settings)
    routes.add_api_route("/", _while_there(page.show), methods=["GET"])
    routes.add_api_route("/page/state", page.state, methods=["GET"])
    routes.add_api_route("/page/look", page.look, methods=["POST"])
    for name in ("text", "accept", "undo", "redo"):
        routes.add_api_route(f"/page/{name}", _while_there(getattr(page, name)), methods=["POST"])
    return routes, page.desk


def _while_there(act: Callable[[Request], Awaitable[Response]]) -> Callable[[Request], Awaitable[Response]]:
    """Return what a route does; where the build is gone it shows a page that says so, and what was typed meanwhile."""

    async def answer(request: Request) -> Response:
        try:
            return await act(request)
        except GoneError as gone:
            if "fitcheck-parts" in request.headers:
                raise  # the script keeps the page that is open
            typed = (await fields_of(request, None)).get("text", "") if request.method == "POST" else ""
            html = Sheet.gone(gone.build, gone.detail, gone.more.get("problems", ()), typed)
            return HTMLResponse(html, gone.status, HEADERS)

    return answer


def _add_static(routes: APIRouter) -> None:
    @routes.get("/page/static/{name:path}")
    async def static(name: str) -> Response:
        found = static_files().get(name)
        if found is None:
            raise RefusedError("not-found", "there is no such file")
        media, data = found
        return Response(data, headers=_FOR_EVER, media_type=media)

    @routes.get(FOOT)
    async def foot(says: str = "") -> Response:
        return Response(foot_style(says), headers=_FOR_EVER, media_type="text/css; charset=utf-8")


def _add_door(routes: APIRouter, settings: Settings) -> None:
    """Add the way in: the token is entered once, and the browser keeps what was made from it."""

    @routes.get(ENTER)
    async def ask(to: str = "") -> Response:
        return HTMLResponse(Sheet.door(False, to), headers=HEADERS)

    @routes.post(ENTER)
    async def enter(request: Request) -> Response:
        fields = await fields_of(request, None)
        to = fields.get("to", "")
        if not same(fields.get("token", ""), settings.token):
            return HTMLResponse(Sheet.door(True, to), 401, HEADERS)
        found = RedirectResponse(f"/?{to}" if to else "/", 303)
        found.set_cookie(COOKIE, key_of(settings.token), httponly=True, samesite="strict")
        return found


class _Page:
    """What the routes of one served build do."""

    def __init__(self, desk: Desk, settings: Settings) -> None:
        self.desk = desk
        self.settings = settings
        self.sheet = Sheet(desk, settings)

    async def show(self, request: Request) -> Response:
        """Answer with the page, or with the parts of it that a script asks for."""
        wanted, said = Wanted.read(request.query_params), heard(request)
        now = await self.desk.now(wanted.variant)
        answer = await self._shown(request, now, wanted, heard=said)
        if wanted.tries:  # while the reader looks at it
            self.desk.prepare(now, wanted.change, **self.sheet.once_accepted(wanted))
        return told(answer) if said is not None and b'<div id="notice"' in answer.body else answer

    async def state(self) -> Response:
        """Answer with a hash over the served files: another one if something was written, none if the build is gone."""
        try:
            now = await self.desk.now()
        except GoneError as gone:
            return JSONResponse({"key": "", "gone": gone.detail})
        return JSONResponse({"key": now.key})

    async def look(self, request: Request) -> Response:
        """Answer with what is wrong with a text that is being written, each with its line and column."""
        fields = await fields_of(request, self.settings.token)
        now = await self.desk.now(Wanted.read(fields).variant)
        file = _file(now, fields)
        typed = as_written(fields.get("text", ""), now.files[file].text)
        said = await self.desk.ask(now.with_text(file, typed), "look", file=file)
        if said.good:
            return JSONResponse({"problems": [], **said.value})
        return JSONResponse({"headline": said.why, "marks": [], "problems": said.problems})

    async def text(self, request: Request) -> Response:
        """Show what a text changes, or write it."""
        now, wanted, fields = await self._asked(request)
        file = _file(now, fields)
        typed = as_written(fields.get("text", ""), now.files[file].text)
        if fields.get("do") != "save":
            asked = wanted.tried(now, file=file, text=typed)
            tried, pedals = await asyncio.gather(
                *(self.desk.ask(now, question, **asked) for question in ("tried", "tried_pedals"))
            )
            more: dict[str, Any] = {
                "tried": tried,
                "tried_pedals": pedals,
                "typed": typed,
                "was": fields.get("was", ""),
            }
            return await self._shown(request, now, wanted, **more)
        return await self._write(request, wanted, file, typed, fields.get("was", ""), f"edit {file}")

    async def accept(self, request: Request) -> Response:
        """Write a change that was seen."""
        now, wanted, fields = await self._asked(request)
        was = fields.get("was", "")
        there = now.files[now.build]
        if there.sha256 != was:
            before = self.desk.history.version(was)
            if before is not None and await self._made(now.with_text(now.build, before), wanted) == there.text:
                return self._already(wanted, there)
            error = ChangedError(now.build, there.text, there.sha256)
            return await self._conflict(request, error, wanted, before)
        if fields.get("key", now.key) != now.key:  # what was seen was of other catalogs, offers or stock
            return await self._shown(request, now, wanted, status=409, again=True)
        changed = await self.desk.ask(now, "changed", **wanted.change)
        if not changed.good:
            status = 503 if changed.unanswered else 422
            return await self._shown(request, now, wanted, status=status, unwritten=changed.why)
        text = changed.value["text"]
        return await self._write(request, wanted, now.build, text, was, wanted.act_words)

    async def undo(self, request: Request) -> Response:
        """Undo the last accepted change."""
        return await self._move(request, back=True)

    async def redo(self, request: Request) -> Response:
        """Make the last undone change again."""
        return await self._move(request, back=False)

    async def _asked(self, request: Request) -> tuple[Snapshot, Wanted, dict[str, str]]:
        """Return the files now, what is to be shown and the fields of a form."""
        fields = await fields_of(request, self.settings.token)
        wanted = Wanted.read(fields)
        return await self.desk.now(wanted.variant), wanted, fields

    async def _move(self, request: Request, back: bool) -> Response:
        now, wanted, fields = await self._asked(request)
        step = self.desk.history.steps().last(back)
        try:
            moved = await self.desk.move(back, fields.get("back" if back else "on"))
        except OtherError:
            other = "undone" if back else "done again"
            return await self._shown(request, now, wanted, status=409, other=other)
        except ChangedError as error:
            assert step is not None
            mine = self.desk.history.version(step.before if back else step.after) or ""
            return await self._conflict(request, error, wanted, mine, mine)
        except (InputError, RefusedError) as error:
            return await self._unwritten(request, wanted, error)
        answer = _back(wanted)
        return say(answer, "undone" if back else "redone", moved.name) if moved is not None else answer

    async def _write(self, request: Request, wanted: Wanted, file: str, text: str, was: str, words: str) -> Response:
        typed = {"typed": text, "was": was} if words == f"edit {file}" else {}
        try:
            step = await self.desk.write(file, text, was, words)
        except ChangedError as error:
            if error.there == text:
                return self._already(wanted, FileText(file, text, error.sha256))
            return await self._conflict(request, error, wanted, self.desk.history.version(was), text, **typed)
        except (InputError, RefusedError) as error:
            return await self._unwritten(request, wanted, error, **typed)
        return _done(wanted, step)

    async def _made(self, before: Snapshot, wanted: Wanted) -> str | None:
        """Return what a change makes of the build file; None if it makes nothing of it."""
        changed = await self.desk.ask(before, "changed", **wanted.change)
        return changed.value["text"] if changed.good else None

    def _already(self, wanted: Wanted, there: FileText) -> Response:
        """Say that a file is what was to be made of it: a button was pressed twice, or another page did the same."""
        last = self.desk.history.steps().last(True)
        same = last is not None and (last.file, last.after) == (there.path, there.sha256)
        return _done(wanted, last if same else None)

    async def _unwritten(
        self, request: Request, wanted: Wanted, error: InputError | RefusedError, **more: Any
    ) -> Response:
        """Say that nothing was written, and why; what was typed stays in the text."""
        why = error.detail if isinstance(error, RefusedError) else str(error.problems[0])
        return await self._shown(
            request, await self.desk.now(wanted.variant), wanted, status=422, unwritten=why, **more
        )

    async def _conflict(
        self,
        request: Request,
        error: ChangedError,
        wanted: Wanted,
        base: str | None,
        mine: str | None = None,
        **more: Any,
    ) -> Response:
        """Say that a file was changed meanwhile, show both versions and let the reader choose."""
        conflict = {
            "file": error.file,
            "now": error.sha256,
            "mine": mine,
            "theirs": compared(base, error.there) if base is not None and mine != base else None,
            "rows": compared(error.there, mine) if mine is not None else None,
        }
        now = await self.desk.now(wanted.variant)
        return await self._shown(request, now, wanted, status=409, conflict=conflict, **more)

    async def _shown(self, request: Request, now: Snapshot, wanted: Wanted, status: int = 200, **more: Any) -> Response:
        await run_in_threadpool(self._keep, now)
        parts = parts_of(request.headers.get("fitcheck-parts"))
        html = await self.sheet.html(now, wanted, parts, **more)
        return HTMLResponse(html, status, HEADERS)

    def _keep(self, now: Snapshot) -> None:
        for file in now.files.values():  # what a page has shown can be compared with what comes later
            self.desk.history.keep(file.text)


def _file(now: Snapshot, fields: dict[str, str]) -> str:
    """Return the file that a form is of.

    Raises:
        RefusedError: it is none of the served build's.
    """
    file = fields.get("file") or now.build
    if file not in now.files:
        raise RefusedError("not-found", "the build names no such file, or it is not there")
    return file


def _done(wanted: Wanted, step: Step | None) -> Response:
    """Return the way back after a change; None if there was nothing to write."""
    shown = wanted if not wanted.finding else wanted._replace(at="", of="")
    return say(_back(shown), "done", step.name if step is not None else "")


def _back(wanted: Wanted) -> Response:
    """Return the way back to the page, where what was done is told once."""
    return RedirectResponse(wanted.link("notice", at=wanted.at), 303, HEADERS)
