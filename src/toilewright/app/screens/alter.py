"""Alterations: which, how much, and what they do to the pieces while she looks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import msgspec
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from toilewright.app.altering import FINE, STEPS, listed, plain_list, tried
from toilewright.app.changes import asked_for, plain
from toilewright.app.choosing import alteration, choices, offered, told, ways
from toilewright.app.pages import page, unit_of
from toilewright.app.table import Table
from toilewright.app.waiting import waiting
from toilewright.body.tape import Wish
from toilewright.errors import InputError, ToilewrightError
from toilewright.units import parse_length
from toilewright.workroom.days import day
from toilewright.workroom.documents import Kind, MakeDoc, WishRow


class _Written(msgspec.Struct, frozen=True):
    """An amount as she wrote it; `sign` is -1 for the alteration's other way."""

    length: str
    unit: str
    sign: int = 1


class _Row(msgspec.Struct, frozen=True):
    id: str
    name: str
    amount: float | _Written | None = None
    options: dict[str, str] = {}
    on: bool = True
    standing: bool = False


class _Try(msgspec.Struct, frozen=True):
    rows: list[_Row] | None
    known: dict[str, str] = {}
    chosen: str = ""


@dataclass(frozen=True, slots=True)
class Earlier:
    """An earlier make of the same body, from which alterations can be taken over."""

    id: str
    title: str
    day: str
    rows: tuple[WishRow, ...]
    notes: tuple[str, ...]


def _page(request: Request) -> Response:
    table, make_id = request.app.state.table, request.path_params["id"]
    place, unit, thing = table.place(make_id, "alter"), unit_of(request), table.make(make_id)
    try:
        sized = table.sized(make_id, unit=unit)
        rows = listed(place.make, place.body)
        first = tried(sized, [(one.id, _wish(one.row), one.standing) for one in rows if one.row.on], {}, unit, {})
    except ToilewrightError as problem:
        return waiting(request, table, place, "alter.before_this", problem)
    body = table.room.get(place.make.body)
    return page(request, "alter.html", place=place, thing=thing, start={
        "make": plain(thing), "body": plain(body), "first": first, "unit": unit, "ways": ways(),
        "step": STEPS[unit], "fine": FINE[unit], "list": plain_list(place.make, place.body),
        "touched": _touched(table, make_id, place.make)},
        rooms=offered(sized.before, unit), told=told, earlier=_earlier(table, make_id, place.make))


def _wish(row: WishRow) -> Wish:
    return Wish(row.name, row.amount, dict(row.options))


def _earlier(table: Table, make_id: str, make: MakeDoc) -> tuple[Earlier, ...]:
    """Earlier makes of the same body that have something to take over."""
    found = []
    for thing in table.room.things(Kind.MAKE):
        doc = thing.document
        if thing.id == make_id or doc.body != make.body:
            continue
        notes = tuple(row.text for row in doc.diary if row.kind == "change" and row.text)
        rows = tuple(row for row in doc.alterations if row.on)
        if rows or notes:
            found.append(Earlier(thing.id, doc.title, day(thing.changed), rows, notes))
    return tuple(found)


def _touched(table: Table, make_id: str, make: MakeDoc) -> list[str]:
    """Titles of the other makes that take over what this body always needs."""
    return [thing.document.title for thing in table.room.things(Kind.MAKE)
            if thing.id != make_id and thing.document.body == make.body and thing.document.standing]


async def _try(request: Request) -> Response:
    """What would be, saved nowhere."""
    table, make_id, unit = request.app.state.table, request.path_params["id"], unit_of(request)
    asked = await asked_for(request, _Try)

    def seen() -> dict[str, Any]:
        sized = table.sized(make_id, unit=unit)
        if asked.rows is not None:
            rows, refused = _read(asked.rows)
            return tried(sized, rows, refused, unit, asked.known, asked.chosen)
        place = table.place(make_id, "alter")
        kept = [(one.id, _wish(one.row), one.standing) for one in listed(place.make, place.body) if one.row.on]
        return {**tried(sized, kept, {}, unit, asked.known, asked.chosen), "list": plain_list(place.make, place.body)}

    return JSONResponse(await run_in_threadpool(seen))


def _read(asked: list[_Row]) -> tuple[list[tuple[str, Wish, bool]], dict[str, str]]:
    """Wishes of the rows that are on, and what could not be read."""
    rows, refused = [], {}
    for row in asked:
        if not row.on:
            continue
        try:
            alteration(row.name)
            rows.append((row.id, Wish(row.name, _amount(row.amount), row.options), row.standing))
        except InputError as problem:
            refused[row.id] = str(problem)
    return rows, refused


def _amount(written: float | _Written | None) -> float | None:
    if isinstance(written, _Written):
        return parse_length(written.length, written.unit) * written.sign
    return written


def _choices(request: Request) -> Response:
    """What one alteration can be told further."""
    table, make_id = request.app.state.table, request.path_params["id"]
    sized = table.sized(make_id, unit=unit_of(request))
    return JSONResponse(choices(sized.before, request.query_params.get("name", "")))


ROUTES = [
    Route("/make/{id}/alter", _page),
    Route("/make/{id}/alter/try", _try, methods=["POST"]),
    Route("/make/{id}/alter/choices", _choices),
]
