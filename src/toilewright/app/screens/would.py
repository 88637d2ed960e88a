"""What a change would do further on, told before it is done."""

from __future__ import annotations

from typing import Any

import msgspec
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from toilewright.app.changes import Rows, as_changed, asked_for
from toilewright.app.pages import unit_of
from toilewright.app.table import Table
from toilewright.app.words import say
from toilewright.errors import InputError, ToilewrightError
from toilewright.make.compare import Difference, compare, compare_sizes
from toilewright.make.outcome import Outcome, Sized

Given = dict[str, Any]
Reached = tuple[Outcome | Sized | None, str]


class Asked(msgspec.Struct, frozen=True):
    """A change that is not made yet: rows as for saving, of the make itself or of its body or pattern (`thing`)."""

    set: Rows
    thing: str = ""


def with_changes(table: Table, make_id: str, asked: Asked) -> Given:
    """The documents of a make as they would be, as arguments of :meth:`Table.sized`.

    Raises:
        InputError: a change that leads nowhere, or a thing that the make does not rest on.
    """
    make, thing = table.make(make_id), table.room.get(asked.thing or make_id)
    if thing.id not in (make.id, make.document.body, make.document.pattern):
        raise InputError("A make changes only with its body, its pattern and its own entries; ask for one of them.")
    return {"make" if thing.id == make.id else "instead": as_changed(thing, asked.set)}


def would(table: Table, make_id: str, after: Given, unit: str) -> dict[str, Any]:
    """The differences as plain values, with one sentence about steps that cannot be worked out."""
    return compared(reached(table, make_id, {}, unit), reached(table, make_id, after, unit))


def compared(old: Reached, new: Reached) -> dict[str, Any]:
    """As :func:`would`, of two states of a make that are worked out already."""
    found: tuple[Difference, ...] = ()
    if isinstance(old[0], Outcome) and isinstance(new[0], Outcome):
        found = compare(old[0], new[0])
    elif old[0] is not None and new[0] is not None:
        found = compare_sizes(_sized(old[0]), _sized(new[0]))
    return {"differences": [{"kind": d.kind, "text": d.text, "about": d.about, "worse": d.worse} for d in found],
            **_remark(old[1], new[1])}


def reached(table: Table, make_id: str, given: Given, unit: str) -> Reached:
    """As far as the make can be worked out, and what stopped it."""
    sized = None
    try:
        sized = table.sized(make_id, **given, unit=unit)
        return table.outcome(make_id, **given, unit=unit), ""
    except ToilewrightError as problem:
        return sized, str(problem)


def _sized(found: Outcome | Sized) -> Sized:
    return found.sized if isinstance(found, Outcome) else found


def _remark(old: str, new: str) -> dict[str, Any]:
    if new:
        return {"remark": say("parts.not_reached" if old else "parts.after_stuck", why=new), "stuck": not old}
    return {"remark": say("parts.before_stuck") if old else "", "stuck": False}


async def _would(request: Request) -> Response:
    table, make_id = request.app.state.table, request.path_params["id"]
    asked = await asked_for(request, Asked)
    unit = unit_of(request)
    return JSONResponse(await run_in_threadpool(
        lambda: would(table, make_id, with_changes(table, make_id, asked), unit)))


ROUTES = [Route("/make/{id}/would", _would, methods=["POST"])]
