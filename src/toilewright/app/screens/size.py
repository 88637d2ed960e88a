"""Size and ease: which size to cut, straight or blended, and whether the room in it is the room she wants."""

from __future__ import annotations

from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from toilewright.app.changes import asked_for
from toilewright.app.pages import fragment, page, unit_of
from toilewright.app.screens.would import Asked, with_changes, would
from toilewright.app.sizing import around, sizes_by_place, strips, table_rows
from toilewright.app.waiting import waiting
from toilewright.errors import ToilewrightError
from toilewright.fit.size import PLACES, SizeAdvice
from toilewright.make.outcome import Sized
from toilewright.make.recipe import AUTO


def _page(request: Request) -> Response:
    table, make_id = request.app.state.table, request.path_params["id"]
    place, unit = table.place(make_id, "size"), unit_of(request)
    try:
        sized = table.sized(make_id, unit=unit)
    except ToilewrightError as problem:
        return waiting(request, table, place, "size.before_this", problem)
    found = strips(sized)
    return page(
        request, "size.html", place=place, thing=table.make(make_id), sized=sized, strips=found, places=PLACES,
        way=_way(sized), choices={s.row.place: s.choices for s in found}, cut=sizes_by_place(sized),
        missing=[s.row.place for s in found if s.state == "unknown"],
        all_sizes=_offered(sized), **_numbers(sized))


def _way(sized: Sized) -> str:
    if sized.make.size == AUTO:
        return AUTO
    return "blend" if sized.make.sizes else "one"


def _offered(sized: Sized) -> tuple[str, ...]:
    """The pattern's sizes, and one between them that the make has already."""
    names = sized.reading.pattern.sizes
    return (*names, *dict.fromkeys(s for _, s in sized.sizes if s not in names))


def _numbers(sized: Sized) -> dict[str, Any]:
    near = around(sized)
    advised = set(sized.advice.by_place.values()) if sized.advice else set()
    return {"rows": table_rows(sized, near), "near": near, "advised": advised,
            "advised_size": _in_words(sized.advice) if sized.advice else ""}


def _in_words(advice: SizeAdvice) -> str:
    return ", ".join(f"{place} {size}" for place, size in advice.blend) or advice.size


async def _look(request: Request) -> Response:
    """How everything would be: the drawings anew, and what else changes."""
    table, make_id, unit = request.app.state.table, request.path_params["id"], unit_of(request)
    asked = await asked_for(request, Asked)

    def seen() -> dict[str, Any]:
        given = with_changes(table, make_id, asked)
        sized = table.sized(make_id, **given, unit=unit)
        found = strips(sized)
        return {**would(table, make_id, given, unit), "cut": sizes_by_place(sized), "size": sized.size_name,
                "strips": {s.row.place: fragment(request, "parts/strip.html", s=s) for s in found},
                "choices": {s.row.place: s.choices for s in found}}

    return JSONResponse(await run_in_threadpool(seen))


ROUTES = [Route("/make/{id}/size", _page), Route("/make/{id}/size/look", _look, methods=["POST"])]
