"""The whole site: every screen's routes, the files they need, and one sentence for every error."""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules

import msgspec
from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from toilewright.app import changes, long_work, screens
from toilewright.app.pages import THEMES, UNITS, page, unit_of
from toilewright.app.table import Table
from toilewright.app.words import catalogue_script, on_page, say
from toilewright.errors import InputError, NameUnknown, ToilewrightError
from toilewright.workroom.store import Workroom

STATIC = Path(__file__).parent / "static"


class _Look(msgspec.Struct, frozen=True):
    unit: str | None = None
    theme: str | None = None


def create_app(room: Workroom, fill: Callable[[Workroom], object] | None = None) -> Starlette:
    """The site over a store; whoever serves it puts the safety measures round it.

    Args:
        fill: puts an example into the store while it is empty.
    """
    routes = [Route("/catalogue.js", _words), Route("/look", _look, methods=["POST"]), *changes.ROUTES,
              *long_work.ROUTES]
    for module in iter_modules(screens.__path__):
        routes += import_module(f"{screens.__name__}.{module.name}").ROUTES
    app = Starlette(routes=[*routes, Mount("/static", StaticFiles(directory=STATIC))],
                    exception_handlers={ToilewrightError: _said, HTTPException: _http})
    app.state.table, app.state.fill = Table(room), fill
    return app


def wants_json(request: Request) -> bool:
    """Was it asked by a script of ours, and not by the browser for a page?"""
    return "application/json" in request.headers.get("accept", "")


async def _said(request: Request, problem: Exception) -> Response:
    """One of our own errors, as its sentence."""
    status = 404 if isinstance(problem, NameUnknown) else 422
    if isinstance(problem, changes.ConflictError):
        return await run_in_threadpool(changes.conflict, request, problem)
    if wants_json(request):
        text = on_page(str(problem), unit_of(request))
        return JSONResponse({"error": {"kind": type(problem).__name__, "text": text}}, status)
    return await run_in_threadpool(page, request, "sorry.html", status, text=str(problem))


async def _http(request: Request, problem: Exception) -> Response:
    assert isinstance(problem, HTTPException)
    text = say("common.no_page") if problem.status_code == 404 else problem.detail
    if wants_json(request):
        return JSONResponse({"error": {"kind": "http", "text": text}}, problem.status_code)
    return await run_in_threadpool(page, request, "sorry.html", problem.status_code, text=text)


def _words(request: Request) -> Response:
    return Response(catalogue_script(), media_type="text/javascript", headers={"cache-control": "no-cache"})


async def _look(request: Request) -> Response:
    """Keep this device's unit or theme."""
    asked = await changes.asked_for(request, _Look)
    answer = JSONResponse({})
    for name, chosen, known in (("unit", asked.unit, UNITS), ("theme", asked.theme, THEMES)):
        if chosen is not None:
            if chosen not in known:
                raise InputError(f'"{chosen}" is no {name} known here; choose one of {", ".join(known)}.')
            if name == "unit":
                await run_in_threadpool(request.app.state.table.room.set_setting, name, chosen)
            answer.set_cookie(name, chosen, max_age=10 * 365 * 86400, samesite="strict", httponly=True)
    return answer
