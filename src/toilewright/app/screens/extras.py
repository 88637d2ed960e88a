"""Strips, extra pieces and allowances on the cloth step: written, left aside, taken out, each tried on the pieces."""

from __future__ import annotations

from typing import Any

import msgspec
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import Route

from toilewright.app.allowance_forms import without_effect
from toilewright.app.changes import Revision, Rows, as_changed, asked_for, device, plain
from toilewright.app.corner_forms import corner_name
from toilewright.app.extra_pieces import carried, fields, kinds, measure, on_form, written
from toilewright.app.pages import fragment, unit_of
from toilewright.app.table import Table
from toilewright.app.words import say
from toilewright.cutting.extra import find_kind
from toilewright.errors import InputError, ToilewrightError
from toilewright.units import parse_length, show_length
from toilewright.workroom.changes import ConflictError
from toilewright.workroom.documents import AllowanceRow, CornerRow, ExtraRow, MakeDoc
from toilewright.workroom.store import Thing

LISTS = ("extras", "allowances", "corners")
"""What has rows here."""


class _Extra(msgspec.Struct, frozen=True):
    """A piece to be added; options as she wrote them."""

    kind: str
    options: dict[str, str] = {}


class _Change(msgspec.Struct, frozen=True):
    """A piece that is there, with its options as she wrote them now.

    Attributes:
        base: the revision that she saw.
        kind: what it is to be; "" for what it was.
    """

    id: str
    base: Revision
    kind: str = ""
    options: dict[str, str] = {}


class _Allowance(msgspec.Struct, frozen=True):
    """What is to be cut beyond an edge, or a kind of edge, as she wrote it."""

    edge: str
    amount: str


class _Out(msgspec.Struct, frozen=True):
    """A row that is taken out of `among`, extras or allowances."""

    among: str
    id: str


class _Aside(msgspec.Struct, frozen=True):
    """A row that is left aside, or put back.

    Attributes:
        on: is it put back?
    """

    among: str
    id: str
    on: bool


def _fields(request: Request) -> Response:
    """What one kind asks, filled in with what she said of another before and that holds for both."""
    asked = request.query_params
    kind, said = find_kind(asked.get("kind", "")), {}
    if asked.get("was"):
        said = carried(_said(asked.get("said", "{}")), find_kind(asked["was"]), kind)
    return HTMLResponse(fragment(request, "parts/extra_fields.html", kind=kind, row=asked.get("row", ""),
                                 fields=fields(kind, unit_of(request), said)))


def _said(text: str) -> dict[str, str]:
    try:
        return msgspec.json.decode(text, type=dict[str, str])
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError) as problem:
        raise InputError(f"The page sent something that cannot be used ({problem}); load the page again.") from None


def _open(request: Request) -> Response:
    """The same of a piece that is there, filled in."""
    thing = request.app.state.table.make(request.path_params["id"])
    row = _row(thing.document, "extras", request.query_params.get("row", ""))
    kind = find_kind(row.kind)
    return HTMLResponse(fragment(request, "parts/extra_change.html", kind=kind, row=row.id, base=thing.revision,
                                 kinds=kinds(), fields=fields(kind, unit_of(request), row.options)))


def _row(document: MakeDoc, among: str, row_id: str) -> Any:
    rows = getattr(document, among) if among in LISTS else ()
    row = next((one for one in rows if one.id == row_id), None)
    if row is None:
        raise InputError(say("extras.gone"))
    return row


def _called(row: ExtraRow | AllowanceRow | CornerRow) -> str:
    if isinstance(row, CornerRow):
        return corner_name(row.piece, row.at)
    return row.edge if isinstance(row, AllowanceRow) else row.options.get("name") or row.kind


async def _add(request: Request) -> Response:
    """Keep an extra piece that can be made on these pieces."""
    asked = await asked_for(request, _Extra)
    return await answered(request, _added, asked)


def _added(table: Table, make_id: str, asked: _Extra, unit: str, by: str) -> Thing:
    if not asked.kind.strip():
        raise InputError(say("extras.no_kind"))
    kind, options = written(asked.kind, asked.options, unit)
    rows: Rows = [(["extras", "+"], {"kind": kind.name, "options": options})]
    return kept(table, make_id, rows, say("extras.said_extra", what=options.get("name") or kind.name), unit, by)


async def _change(request: Request) -> Response:
    """Keep a piece as it is to be now, of another kind too; its place in the list, and what is sewn to it, stay."""
    asked = await asked_for(request, _Change)
    return await answered(request, _changed, asked)


def _changed(table: Table, make_id: str, asked: _Change, unit: str, by: str) -> Thing:
    row = _row(table.make(make_id).document, "extras", asked.id)
    kind, options = written(asked.kind or row.kind, asked.options, unit)
    rows: Rows = [(["extras", row.id, "options"], options)]
    words = say("extras.said_changed", what=options.get("name") or kind.name)
    other = row.kind not in (kind.name, *kind.aliases)
    if other:
        rows.append((["extras", row.id, "kind"], kind.name))
        words = say("extras.said_kind", what=_called(row), kind=kind.name)
    try:
        return kept(table, make_id, rows, words, unit, by, _works(table, make_id, unit), asked.base)
    except ConflictError:
        raise
    except ToilewrightError:
        if other and _does_alone(table, make_id, row, rows, unit):
            raise InputError(say("extras.kind_used", kind=kind.name)) from None
        if not other and _only_renamed(table, make_id, row, options, unit):
            raise InputError(say("extras.name_used")) from None
        raise


def _only_renamed(table: Table, make_id: str, row: ExtraRow, options: dict[str, str], unit: str) -> bool:
    """Would it do under the name that it had, and under the new one too but for what comes behind it?"""
    before = {"name": row.options["name"]} if "name" in row.options else {}
    old = {name: text for name, text in options.items() if name != "name"} | before
    path = ["extras", row.id, "options"]
    return old != options and _works(table, make_id, unit, as_changed(table.make(make_id), [(path, old)])) and \
        _does_alone(table, make_id, row, [(path, options)], unit)


def _does_alone(table: Table, make_id: str, row: ExtraRow, rows: Rows, unit: str) -> bool:
    """Would a changed piece do, but for those that come behind it?"""
    thing = table.make(make_id)
    behind: Rows = [(["extras", one.id], None) for one in thing.document.extras[thing.document.extras.index(row) + 1:]]
    return _works(table, make_id, unit, as_changed(thing, [*rows, *behind]))


async def _allow(request: Request) -> Response:
    """Keep an allowance; one that is there for the same edge becomes the new amount."""
    asked = await asked_for(request, _Allowance)
    return await answered(request, _allowed, asked)


def _allowed(table: Table, make_id: str, asked: _Allowance, unit: str, by: str) -> Thing:
    edge = " ".join(asked.edge.split())
    if not edge or not asked.amount.strip():
        raise InputError(say("extras.allowance_missing"))
    amount = parse_length(measure(asked.amount.strip(), unit))
    if _works(table, make_id, unit) and (why := without_effect(table.outcome(make_id, unit=unit), edge)):
        raise InputError(why)
    there = next((row for row in table.make(make_id).document.allowances if row.edge.lower() == edge.lower()), None)
    rows: Rows = ([(["allowances", there.id, "amount"], amount), (["allowances", there.id, "on"], True)] if there
                  else [(["allowances", "+"], {"edge": edge, "amount": amount})])
    words = say("extras.said_allowance", edge=edge, amount=show_length(amount, unit))
    return kept(table, make_id, rows, words, unit, by)


async def _take_out(request: Request) -> Response:
    """Take out an extra piece or an allowance."""
    asked = await asked_for(request, _Out)
    return await answered(request, _out, asked)


def _out(table: Table, make_id: str, asked: _Out, unit: str, by: str) -> Thing:
    row = _row(table.make(make_id).document, asked.among, asked.id)
    return kept(table, make_id, [([asked.among, row.id], None)], say("extras.said_out", what=_called(row)), unit, by,
                 must=_works(table, make_id, unit))


async def _leave_aside(request: Request) -> Response:
    """Leave an extra piece or an allowance aside without losing it, or put it back."""
    asked = await asked_for(request, _Aside)
    return await answered(request, _left, asked)


def _left(table: Table, make_id: str, asked: _Aside, unit: str, by: str) -> Thing:
    row = _row(table.make(make_id).document, asked.among, asked.id)
    words = say("extras.said_back" if asked.on else "extras.said_aside", what=_called(row))
    return kept(table, make_id, [([asked.among, row.id, "on"], asked.on)], words, unit, by,
                 must=_works(table, make_id, unit))


def _works(table: Table, make_id: str, unit: str, document: MakeDoc | None = None) -> bool:
    """Can the make be worked out as it is? Where it cannot, taking something out may be what mends it.

    Args:
        document: None for the make as it is kept.
    """
    try:
        table.outcome(make_id, document, unit=unit)
    except ToilewrightError:
        return False
    return True


def kept(table: Table, make_id: str, rows: Rows, words: str, unit: str, by: str, must: bool = True,
          base: int | None = None) -> Thing:
    """Change the make once the pieces can be cut so.

    Args:
        must: the make must be one that can be worked out.
        base: the revision that she saw; None where the change holds whatever was done since.

    Raises:
        ConflictError: it was changed elsewhere since `base`.
        ToilewrightError: they cannot be cut so; nothing is changed.
    """
    thing = table.make(make_id)
    if must:
        try:
            table.outcome(make_id, as_changed(thing, rows), unit=unit)
        except ToilewrightError as problem:
            raise type(problem)(on_form(str(problem))) from None
    seen = thing.revision if base is None else base
    return table.room.change(make_id, seen, [(tuple(path), value) for path, value in rows], words, by=by)


async def answered(request: Request, act: Any, asked: Any) -> Response:
    """The make after `act` has changed it as she asked."""
    thing = await run_in_threadpool(act, request.app.state.table, request.path_params["id"], asked, unit_of(request),
                                    device(request))
    return JSONResponse(plain(thing))


ROUTES = [
    Route("/make/{id}/extras/fields", _fields),
    Route("/make/{id}/extras", _add, methods=["POST"]),
    Route("/make/{id}/extras/change", _open),
    Route("/make/{id}/extras/change", _change, methods=["POST"]),
    Route("/make/{id}/extras/allowance", _allow, methods=["POST"]),
    Route("/make/{id}/extras/aside", _leave_aside, methods=["POST"]),
    Route("/make/{id}/extras/out", _take_out, methods=["POST"]),
]
