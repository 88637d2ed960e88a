"""Saving: every change that any screen makes comes through here."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Annotated, Any

import msgspec
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from toilewright.app.differences import entry, name_in
from toilewright.app.pages import unit_of
from toilewright.app.words import say
from toilewright.errors import InputError
from toilewright.units import parse_length
from toilewright.workroom import checks
from toilewright.workroom.changes import Change, ConflictError, applied
from toilewright.workroom.checks import checked, encoded
from toilewright.workroom.documents import DOCUMENTS, Document, Kind
from toilewright.workroom.store import Thing

Rows = list[tuple[list[str], Any]]
"""Changes as pages send them: paths with their values."""


Revision = Annotated[int, msgspec.Meta(ge=0, le=2**31 - 1)]
"""Number of a revision, as large as any store can count."""


class _Asked(msgspec.Struct, frozen=True):
    base: Revision
    set: Rows
    words: str


class _Step(msgspec.Struct, frozen=True):
    base: Revision
    revision: Revision = 0


class _New(msgspec.Struct, frozen=True):
    kind: Kind
    document: dict[str, Any]
    words: str


def plain(thing: Thing) -> dict[str, Any]:
    """A thing as the browser sees it."""
    return {"id": thing.id, "kind": thing.kind.value, "revision": thing.revision, "undo": thing.undo,
            "redo": thing.redo, "document": msgspec.to_builtins(thing.document)}


async def asked_for(request: Request, kind: type[Any]) -> Any:
    """The body of a request, checked.

    Raises:
        InputError: it is not what that request sends.
    """
    try:
        return msgspec.json.decode(await request.body(), type=kind)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError) as problem:
        raise InputError(f"The page sent something that cannot be used ({problem}); load the page again.") from None


def measured(value: Any) -> Any:
    """A value as sent, lengths in mm: ``{"length": "95,5", "unit": "cm"}`` is read as she wrote it.

    A ``sign`` beside them turns it round; such a length may also stand in a row, or be one of a list.
    """
    if isinstance(value, list):
        return [measured(one) for one in value]
    if _is_length(value):
        return parse_length(value["length"], str(value["unit"])) * (-1 if value.get("sign") == -1 else 1)
    if isinstance(value, dict):
        return {name: measured(one) if _is_length(one) else one for name, one in value.items()}
    return value


def _is_length(value: Any) -> bool:
    return isinstance(value, dict) and {"length", "unit"} <= set(value) <= {"length", "unit", "sign"}


def rows_of(sent: Rows) -> list[Change]:
    """Changes as sent, as the store takes them."""
    return [(tuple(path), measured(value)) for path, value in sent]


def as_changed(thing: Thing, sent: Rows) -> Document:
    """The document of a thing as it would be.

    Raises:
        InputError: a change that leads nowhere, or a value that cannot be kept.
    """
    return checked(thing.kind, applied(rows_of(sent), checks.plain(encoded(thing.document))))


def conflict(request: Request, problem: ConflictError) -> Response:
    """Two changed the same thing: both values, for her to choose, in her words and her unit."""
    document, names = problem.thing.document, partial(name_in, request.app.state.table.room)
    where, mine = entry(document, problem.path, problem.mine, unit_of(request), names)
    _, theirs = entry(document, problem.path, problem.theirs, unit_of(request), names)
    text = say("common.conflict_text", what=where) if problem.path else str(problem)
    return JSONResponse({"error": {"kind": "conflict", "text": text},
                         "conflict": {"path": list(problem.path), "mine": mine, "theirs": theirs,
                                      "thing": plain(problem.thing)}}, 409)


async def _change(request: Request) -> Response:
    asked = await asked_for(request, _Asked)
    room = request.app.state.table.room
    await run_in_threadpool(_one_row_each, room.get, request.path_params["id"], asked.set)
    thing = await run_in_threadpool(room.change, request.path_params["id"], asked.base, rows_of(asked.set), asked.words,
                                    by=device(request))
    return JSONResponse(plain(thing))


def _one_row_each(get: Callable[[str], Thing], thing_id: str, sent: Rows) -> None:
    """A page that does not know yet that another device wrote down a cloth must not write it down a second time.

    Raises:
        InputError: there is a row for that use.
    """
    new = [value.get("use") for path, value in sent if list(path) == ["lays", "+"] and isinstance(value, dict)]
    there = {row.use for row in getattr(get(thing_id).document, "lays", ())} if new else set()
    for use in new:
        if use in there:
            raise InputError(say("cloth.written_elsewhere"))


async def _add(request: Request) -> Response:
    asked = await asked_for(request, _New)
    try:
        document = msgspec.convert(asked.document, DOCUMENTS[asked.kind])
    except msgspec.ValidationError as problem:
        raise InputError(f"This {asked.kind} cannot be kept ({problem}); load the page again.") from None
    room = request.app.state.table.room
    return JSONResponse(plain(await run_in_threadpool(room.add, asked.kind, document, asked.words, by=device(request))))


async def _step(request: Request) -> Response:
    """Undo, redo, or go back to an older revision."""
    asked = await asked_for(request, _Step)
    room, thing_id, way = request.app.state.table.room, request.path_params["id"], _way(request)
    if way == "back":
        thing = await run_in_threadpool(room.go_back, thing_id, asked.base, asked.revision, by=device(request))
    else:
        thing = await run_in_threadpool(room.undo if way == "undo" else room.redo, thing_id, asked.base,
                                        by=device(request))
    return JSONResponse(plain(thing))


def _remove(request: Request) -> Response:
    room, thing_id = request.app.state.table.room, request.path_params["id"]
    act = room.remove if _way(request) == "remove" else room.bring_back
    return JSONResponse(plain(act(thing_id, by=device(request))))


def _show(request: Request) -> Response:
    return JSONResponse(plain(request.app.state.table.room.get(request.path_params["id"])))


def _way(request: Request) -> str:
    return request.url.path.rpartition("/")[2]


def device(request: Request) -> str:
    """The name of the device that asks, for the history."""
    return getattr(request.state, "device", "")


ROUTES = [
    Route("/things", _add, methods=["POST"]),
    Route("/things/{id}", _show),
    Route("/things/{id}/change", _change, methods=["POST"]),
    *(Route(f"/things/{{id}}/{way}", _step, methods=["POST"], name=way) for way in ("undo", "redo", "back")),
    *(Route(f"/things/{{id}}/{way}", _remove, methods=["POST"], name=way) for way in ("remove", "bring-back")),
]
