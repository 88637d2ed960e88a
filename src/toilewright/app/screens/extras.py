"""Strips, extra pieces and seam allowances on the cloth step: added, taken out, each tried on the pieces first."""

from __future__ import annotations

from typing import Any

import msgspec
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import Route

from toilewright.app.changes import Rows, as_changed, asked_for, device, plain
from toilewright.app.extra_pieces import fields, measure, on_form, written
from toilewright.app.pages import fragment, unit_of
from toilewright.app.table import Table
from toilewright.app.words import say
from toilewright.cutting.extra import find_kind
from toilewright.errors import InputError, ToilewrightError
from toilewright.units import parse_length, show_length
from toilewright.workroom.store import Thing


class _Extra(msgspec.Struct, frozen=True):
    """A piece to be added; options as she wrote them."""

    kind: str
    options: dict[str, str] = {}


class _Allowance(msgspec.Struct, frozen=True):
    """What is to be cut beyond an edge, or a kind of edge, as she wrote it."""

    edge: str
    amount: str


class _Out(msgspec.Struct, frozen=True):
    """A row that is taken out of `among`, extras or allowances."""

    among: str
    id: str


def _fields(request: Request) -> Response:
    """What one kind asks."""
    kind = find_kind(request.query_params.get("kind", ""))
    return HTMLResponse(fragment(request, "parts/extra_fields.html", kind=kind, fields=fields(kind, unit_of(request))))


async def _add(request: Request) -> Response:
    """Keep an extra piece that can be made on these pieces."""
    asked = await asked_for(request, _Extra)
    return await _answer(request, _added, asked)


def _added(table: Table, make_id: str, asked: _Extra, unit: str, by: str) -> Thing:
    if not asked.kind.strip():
        raise InputError(say("extras.no_kind"))
    kind, options = written(asked.kind, asked.options, unit)
    rows: Rows = [(["extras", "+"], {"kind": kind.name, "options": options})]
    return _kept(table, make_id, rows, say("extras.said_extra", what=options.get("name") or kind.name), unit, by)


async def _allow(request: Request) -> Response:
    """Keep an allowance; one that is there for the same edge becomes the new amount."""
    asked = await asked_for(request, _Allowance)
    return await _answer(request, _allowed, asked)


def _allowed(table: Table, make_id: str, asked: _Allowance, unit: str, by: str) -> Thing:
    edge = " ".join(asked.edge.split())
    if not edge or not asked.amount.strip():
        raise InputError(say("extras.allowance_missing"))
    amount = parse_length(measure(asked.amount.strip(), unit))
    there = next((row for row in table.make(make_id).document.allowances if row.edge.lower() == edge.lower()), None)
    rows: Rows = ([(["allowances", there.id, "amount"], amount)] if there
                  else [(["allowances", "+"], {"edge": edge, "amount": amount})])
    words = say("extras.said_allowance", edge=edge, amount=show_length(amount, unit))
    return _kept(table, make_id, rows, words, unit, by)


async def _take_out(request: Request) -> Response:
    """Take out an extra piece or an allowance."""
    asked = await asked_for(request, _Out)
    return await _answer(request, _out, asked)


def _out(table: Table, make_id: str, asked: _Out, unit: str, by: str) -> Thing:
    document = table.make(make_id).document
    among = {"extras": document.extras, "allowances": document.allowances}.get(asked.among, ())
    row = next((one for one in among if one.id == asked.id), None)
    if row is None:
        raise InputError(say("extras.gone"))
    what = row.edge if asked.among == "allowances" else row.options.get("name") or row.kind
    return _kept(table, make_id, [([asked.among, row.id], None)], say("extras.said_out", what=what), unit, by,
                 must=_works(table, make_id, unit))


def _works(table: Table, make_id: str, unit: str) -> bool:
    """Can the make be worked out as it is? Where it cannot, taking something out may be what mends it."""
    try:
        table.outcome(make_id, unit=unit)
    except ToilewrightError:
        return False
    return True


def _kept(table: Table, make_id: str, rows: Rows, words: str, unit: str, by: str, must: bool = True) -> Thing:
    """Change the make once the pieces can be cut so.

    Args:
        must: the make must be one that can be worked out.

    Raises:
        ToilewrightError: they cannot; nothing is changed.
    """
    thing = table.make(make_id)
    if must:
        try:
            table.outcome(make_id, as_changed(thing, rows), unit=unit)
        except ToilewrightError as problem:
            raise type(problem)(on_form(str(problem))) from None
    return table.room.change(make_id, thing.revision, [(tuple(path), value) for path, value in rows], words, by=by)


async def _answer(request: Request, act: Any, asked: Any) -> Response:
    thing = await run_in_threadpool(act, request.app.state.table, request.path_params["id"], asked, unit_of(request),
                                    device(request))
    return JSONResponse(plain(thing))


ROUTES = [
    Route("/make/{id}/extras/fields", _fields),
    Route("/make/{id}/extras", _add, methods=["POST"]),
    Route("/make/{id}/extras/allowance", _allow, methods=["POST"]),
    Route("/make/{id}/extras/out", _take_out, methods=["POST"]),
]
