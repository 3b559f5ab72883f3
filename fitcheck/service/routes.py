"""The routes of the API: each question of posted texts and of the served folder."""

from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import Annotated, Any, Final, cast

from fastapi import APIRouter, Query, Request, Response
from pydantic import BaseModel, Field, create_model
from starlette.concurrency import run_in_threadpool

from fitcheck.files import SUFFIXES, Fence
from fitcheck.service import asked
from fitcheck.service.bench import Bench, Told
from fitcheck.service.documents import answered, refused
from fitcheck.service.folder import Folder
from fitcheck.service.questions import QUESTIONS, RULES, Question
from fitcheck.service.settings import Settings

CODE: Final = "Fitcheck-Code"
"""The header with the exit code that the command line would give: 0 well, 1 an answer that is not the good one."""
_WHERE: Final = frozenset(asked.Posted.model_fields) | frozenset(asked.Served.model_fields)


class Written(asked.Asked):
    """A new text for a file of the served folder that is still what it was when it was read."""

    path: asked.FileName = Field(description="The file, by its path in the served folder.")
    text: asked.Text = Field(description="Its new text.")
    was: str = Field(pattern="^[0-9a-f]{64}$", description="The SHA-256 of what it held when it was read.")


class FileText(BaseModel):
    """A file of the served folder."""

    path: str = Field(description="The file, by its path in the served folder.")
    text: str
    sha256: str = Field(description="The SHA-256 of its bytes.")


class ServedFiles(BaseModel):
    """What is served."""

    build: str = Field(description="The build file that is meant if none is named.")
    files: list[str] = Field(description="It and the files that it names and that are there.")


def router(settings: Settings) -> APIRouter:
    """Return the routes for some settings; those of the served folder only if one is served."""
    routes = APIRouter(prefix="/api")
    for question in QUESTIONS.values():
        _add(routes, question, None)
    _add_rules(routes)
    if settings.folder is not None:
        folder = Folder(Fence(Path(settings.folder), SUFFIXES), settings.build)
        for question in QUESTIONS.values():
            if question.build != "none":
                _add(routes, question, folder)
        _add_files(routes, folder)
    return routes


def _add(routes: APIRouter, question: Question, folder: Folder | None) -> None:
    """Add the route of one question: by GET if it is of no build, else by POST."""
    model = _model(question, folder)

    async def answer(request: Request, said: Any) -> Response:
        return await _ask(request, question.path, _place(said, folder), _options(question, said))

    by_get = question.build == "none"
    answer.__annotations__["said"] = Annotated[model, Query()] if by_get else model
    routes.add_api_route(
        f"/{'served/' if folder is not None else ''}{question.path}",
        cast("Callable[..., Awaitable[Response]]", answer),
        methods=["GET" if by_get else "POST"],
        operation_id=f"{'served_' if folder is not None else ''}{question.name}",
        summary=question.about,
        tags=["served folder" if folder is not None else "posted texts"],
        response_class=Response,
        responses=answered(question),
    )


def _model(question: Question, folder: Folder | None) -> type[BaseModel]:
    """Return the model of a request: where the build is, and the options."""
    if question.build == "none":
        return question.options
    where = asked.Served if folder is not None else asked.Posted if question.build == "needed" else asked.MaybePosted
    name = f"{'Served' if folder is not None else ''}{question.name.title().replace('_', '')}"
    made: type[BaseModel] = create_model(name, __base__=(where, question.options), __doc__=question.about)
    return made


def _place(said: BaseModel, folder: Folder | None) -> dict[str, Any]:
    """Return where the build of a request is, for the process that answers."""
    if isinstance(said, asked.Served) and folder is not None:
        return {"folder": str(folder.fence.top), "path": said.path or folder.build, "variant": said.variant}
    if not isinstance(said, asked.Posted):
        return {}
    if said.build is None:  # of a question that may be of a build
        return {"texts": said.files, "path": None, "variant": said.variant}
    return {"texts": {**said.files, said.name: said.build}, "path": said.name, "variant": said.variant}


def _options(question: Question, said: BaseModel) -> dict[str, Any]:
    return {name: getattr(said, name) for name in question.options.model_fields}


async def _ask(request: Request, path: str, place: dict[str, Any], options: dict[str, Any]) -> Response:
    bench: Bench = request.app.state.bench
    return _response(await bench.ask({"ask": path, **place, "options": options}, request.is_disconnected))


def _response(told: Told) -> Response:
    code = {CODE: str(told.code)} if told.code is not None else {}
    return Response(told.body, told.status, code, told.media)


def _add_rules(routes: APIRouter) -> None:
    @routes.get("/rules", tags=["rules"], summary="Every rule and its page", responses=answered(RULES))
    async def rules(request: Request) -> Response:
        return await _ask(request, "rules", {}, {"name": None})

    @routes.get("/rules/{name}", tags=["rules"], summary="One rule's page", responses=answered(RULES))
    async def rule(request: Request, name: str) -> Response:
        return await _ask(request, "rules", {}, {"name": name})


def _add_files(routes: APIRouter, folder: Folder) -> None:
    """Add what reads and writes the files of the served folder."""

    @routes.get("/served", tags=["served folder"], summary="The served build and its files", responses=refused())
    async def served() -> ServedFiles:
        return ServedFiles(build=folder.build, files=list(await run_in_threadpool(folder.names)))

    @routes.get("/served/file", tags=["served folder"], summary="One file's text", responses=refused())
    async def file(path: Annotated[asked.FileName, Query()]) -> FileText:
        return FileText(**(await run_in_threadpool(folder.text, path))._asdict())

    @routes.put("/served/file", tags=["served folder"], summary="A file's new text", responses=refused())
    async def write(said: Written) -> FileText:
        return FileText(**(await run_in_threadpool(folder.write, said.path, said.text, said.was))._asdict())
