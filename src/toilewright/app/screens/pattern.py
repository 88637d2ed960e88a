"""Patterns: the list of them, a new one brought in, and one of them looked through."""

from __future__ import annotations

from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import Route

from toilewright.app.changes import device
from toilewright.app.pages import page, unit_of
from toilewright.app.pattern_chart import chart_table
from toilewright.app.pattern_facts import facts, middle_size, seam_sides, seams_at, usual_names
from toilewright.app.patterns import bring, is_read, lay_under, small_picture, start_reading
from toilewright.app.safety import UPLOAD
from toilewright.app.screens.tissue import tissue_page
from toilewright.app.sheet_map import sheet_map
from toilewright.app.tissue import kinds
from toilewright.app.words import say
from toilewright.errors import InputError
from toilewright.make.reading import Reading
from toilewright.workroom.documents import Kind
from toilewright.workroom.store import Thing

LARGEST = UPLOAD - 10_000
"""bytes of a pattern file; the form round it takes a little more."""


def _list(request: Request) -> Response:
    return page(request, "patterns.html", thing=None, make_id="", **_choice(request))


def _choice(request: Request) -> dict[str, Any]:
    """Every pattern with what is made from it."""
    room = request.app.state.table.room
    makes = room.things(Kind.MAKE)
    rows = [(thing, is_read(request.app.state.table, thing.document),
             [m for m in makes if m.document.pattern == thing.id]) for thing in room.things(Kind.PATTERN)]
    return {"rows": rows, "removed": room.things(Kind.PATTERN, removed=True), "most": LARGEST,
            "kinds": kinds()}


def _alone(request: Request) -> Response:
    table = request.app.state.table
    thing = table.room.get(request.path_params["id"], kind=Kind.PATTERN)
    return _page(request, thing)


def _step(request: Request) -> Response:
    """The pattern of a make; one is chosen first."""
    table, make_id = request.app.state.table, request.path_params["id"]
    place, make = table.place(make_id, "pattern"), table.make(make_id)
    if not make.document.pattern or "choose" in request.query_params:
        return page(request, "patterns.html", place=place, thing=make, make_id=make_id, **_choice(request))
    return _page(request, table.room.get(make.document.pattern, kind=Kind.PATTERN), place=place, make=make)


def _page(request: Request, thing: Thing, **more: Any) -> Response:
    table = request.app.state.table
    more = {"place": None, "make": None} | more
    if thing.document.tissue is not None:
        return tissue_page(request, thing, **more)
    if not is_read(table, thing.document):
        return page(request, "pattern_waits.html", thing=thing, most=LARGEST, **more)
    return page(request, "pattern.html", thing=thing, **_shown(table.reading_of(thing.document), request), **more)


def _shown(reading: Reading, request: Request) -> dict[str, Any]:
    """Everything that the page of a pattern shows."""
    unit, middle = unit_of(request), middle_size(reading)
    return {"reading": reading, "facts": facts(reading, unit), "middle": middle, "usual": usual_names(),
            "at_edges": seams_at(reading.labels),
            "sides": seam_sides(reading.pattern.at(middle), unit), "chart": chart_table(reading, unit),
            "map": sheet_map(reading), "today": request.app.state.table.room.today()}


async def _bring(request: Request) -> Response:
    """A pattern file; answers with its pattern and with the job that reads it."""
    async with request.form(max_files=1, max_fields=2) as form:
        file, make_id = form.get("file"), form.get("make") or ""
        if not isinstance(file, UploadFile) or not isinstance(make_id, str):
            raise InputError(say("pattern.no_file"))
        data, name = await file.read(), file.filename or ""

    def kept() -> dict[str, str]:
        table, by = request.app.state.table, device(request)
        thing = bring(table, data, name, make_id, by)
        return {"pattern": thing.id, "job": start_reading(table, thing, by)}

    return JSONResponse(await run_in_threadpool(kept))


async def _read(request: Request) -> Response:
    """Read a pattern under its present names, where that was not done yet."""
    def begun() -> dict[str, str]:
        table = request.app.state.table
        thing = table.room.get(request.path_params["id"], kind=Kind.PATTERN)
        return {"job": start_reading(table, thing, device(request))}

    return JSONResponse(await run_in_threadpool(begun))


async def _choose(request: Request) -> Response:
    """Make a make from one of the patterns."""
    def chosen() -> dict[str, str]:
        table = request.app.state.table
        thing = table.room.get(request.path_params["pattern"], kind=Kind.PATTERN)
        lay_under(table, request.path_params["id"], thing, device(request))
        return {}

    return JSONResponse(await run_in_threadpool(chosen))


def _picture(request: Request) -> Response:
    table = request.app.state.table
    return HTMLResponse(small_picture(table, table.room.get(request.path_params["id"], kind=Kind.PATTERN)))


ROUTES = [
    Route("/patterns", _list),
    Route("/patterns/new", _bring, methods=["POST"]),
    Route("/pattern/{id}", _alone),
    Route("/pattern/{id}/read", _read, methods=["POST"]),
    Route("/pattern/{id}/picture", _picture),
    Route("/make/{id}/pattern", _step),
    Route("/make/{id}/pattern/{pattern}", _choose, methods=["POST"]),
]
