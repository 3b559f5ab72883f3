"""The application: routes behind the guard, processes that answer, and every error as problem details."""

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import Any

from fastapi import FastAPI, Request, Response
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException

from fitcheck.refusals import sentence
from fitcheck.service.bench import Bench
from fitcheck.service.documents import describe
from fitcheck.service.guard import Guard
from fitcheck.service.page.routes import page_of
from fitcheck.service.problems import MEDIA_TYPE, RefusedError, places, problem_json
from fitcheck.service.routes import router
from fitcheck.service.settings import Settings
from fitcheck.trees import InputError

_MOST_TOLD = 50
_NOWHERE = "nothing is answered at this path; /api/openapi.json lists what can be asked"


def create_app(settings: Settings) -> FastAPI:
    """Return the application for some settings.

    Raises:
        SettingsError: they would let strangers in, or hold what cannot be.
    """
    settings = settings.checked()
    page, desk = page_of(settings)

    @asynccontextmanager
    async def life(app: FastAPI) -> AsyncIterator[None]:
        bench = Bench(settings)
        await bench.start()
        app.state.bench = bench
        if desk is not None:
            desk.bench = bench
        warming = asyncio.create_task(desk.warm()) if desk is not None else None
        try:
            yield
        finally:
            if warming is not None:
                warming.cancel()
            await bench.stop()
            if desk is not None:
                desk.history.close()

    app = FastAPI(
        title="fitcheck",
        docs_url=None,  # its page loads scripts from elsewhere
        redoc_url=None,
        openapi_url="/api/openapi.json",
        lifespan=life,
    )
    app.include_router(router(settings))
    app.include_router(page)
    _tell_errors(app)
    describe(app, settings)
    app.add_middleware(Guard, settings=settings)
    return app


def from_environment() -> FastAPI:
    """Return the application for the settings that this process was handed: what each server process runs."""
    return create_app(Settings.from_environment())


def _tell_errors(app: FastAPI) -> None:
    @app.exception_handler(RefusedError)
    async def refused(request: Request, error: RefusedError) -> Response:
        return Response(error.body(), error.status, error.headers, MEDIA_TYPE)

    @app.exception_handler(InputError)
    async def unusable(request: Request, error: InputError) -> Response:
        body = problem_json("input", str(error.problems[0]), problems=places(error.problems))
        return Response(body, 422, media_type=MEDIA_TYPE)

    @app.exception_handler(RequestValidationError)
    async def invalid(request: Request, error: RequestValidationError) -> Response:
        return _invalid(error)

    @app.exception_handler(HTTPException)
    async def other(request: Request, error: HTTPException) -> Response:
        kind = {400: "body", 404: "not-found", 405: "method"}.get(error.status_code, "other")
        headers = dict(error.headers or {})
        if "GET" in headers.get("Allow", ""):
            headers["Allow"] += ", HEAD"  # the guard hands it on as GET
        detail = {404: _NOWHERE, 405: f"expected {headers.get('Allow', 'another method')}, got {request.method}"}
        body = problem_json(kind, detail.get(error.status_code, str(error.detail)), status=error.status_code)
        return Response(body, error.status_code, headers, MEDIA_TYPE)


def _invalid(error: RequestValidationError) -> Response:
    """Return what is wrong with a request, in our own sentences and without what was sent."""
    found = list(error.errors())
    if any(each["type"] == "json_invalid" for each in found):
        return Response(problem_json("body", "the body of the request is not JSON"), 400, media_type=MEDIA_TYPE)
    told = [{"at": list(each["loc"]), "message": _message(each)} for each in found[:_MOST_TOLD]]
    where = ".".join(map(str, told[0]["at"]))
    detail = f"{where}: {told[0]['message']}"
    if len(found) > 1:
        detail = f"{len(found)} problems, the first: {detail}"
    return Response(problem_json("request", detail, problems=told), 422, media_type=MEDIA_TYPE)


def _message(each: dict[str, Any]) -> str:
    kind = each["type"]
    if kind == "missing":
        return "this is needed"
    if kind == "extra_forbidden":
        return "nothing of this name is known here"
    return sentence(kind, each.get("input"), each.get("ctx") or {})
