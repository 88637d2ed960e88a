"""The toile: foretold before it is sewn, looked at afterwards, read into the pattern."""

from __future__ import annotations

import msgspec
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from toilewright.app.changes import asked_for, device, plain
from toilewright.app.pages import page, unit_of
from toilewright.app.toiling import beside, foretold, learned_rows, looked, rooms
from toilewright.app.waiting import waiting
from toilewright.app.words import say
from toilewright.errors import InputError, NameUnknown, ToilewrightError
from toilewright.fit.toile.observations import Observation
from toilewright.units import parse_length
from toilewright.workroom.documents import Kind
from toilewright.workroom.learning import learned_of, make_standing, teach


class _Seen(msgspec.Struct, frozen=True):
    """One thing that she saw; `amount` as she wrote it, "" when it was not measured."""

    sign: str
    amount: str = ""
    unit: str = "cm"
    side: str = "both"
    fresh: bool = False


class _Named(msgspec.Struct, frozen=True):
    name: str
    options: dict[str, str] = {}


def _page(request: Request) -> Response:
    table, make_id, unit = request.app.state.table, request.path_params["id"], unit_of(request)
    place, thing = table.place(make_id, "toile"), table.make(make_id)
    try:
        sized = table.sized(make_id, unit=unit)
        told = foretold(sized, unit)
        toiles = looked(sized, place.make, unit)
    except ToilewrightError as problem:
        return waiting(request, table, place, "toile.before_this", problem)
    return page(request, "toile.html", place=place, thing=thing, foretold=told, toiles=toiles, beside=beside(toiles),
                rooms=rooms(), number=len(place.make.toiles), body=place.body,
                learned=learned_rows(learned_of(place.body), unit),
                always=[(row.name, dict(row.options)) for row in place.body.alterations if row.makes])


async def _see(request: Request) -> Response:
    """Keep one thing that was seen, on the last toile or on a new one."""
    table, make_id = request.app.state.table, request.path_params["id"]
    asked = await asked_for(request, _Seen)
    thing = await run_in_threadpool(_kept, table, make_id, asked, device(request))
    return JSONResponse(plain(thing))


def _kept(table, make_id: str, asked: _Seen, by: str):
    seen = Observation(asked.sign, parse_length(asked.amount, asked.unit) if asked.amount.strip() else None, asked.side)
    thing = table.make(make_id)
    if asked.fresh or not thing.document.toiles:
        fresh = {"date": table.room.today(), "seen": []}
        thing = table.room.change(make_id, thing.revision, [(("toiles", "+"), fresh)],
                                  say("toile.said_new", n=len(thing.document.toiles) + 1), by=by)
    toile = thing.document.toiles[-1]
    if any(row.sign == seen.sign and row.side == seen.side for row in toile.seen):
        raise InputError(f'"{seen.sign}" is noted for this toile already; take it out there to note it anew.')
    row = {"sign": seen.sign, "amount": seen.amount, "side": seen.side}
    return table.room.change(make_id, thing.revision, [(("toiles", toile.id, "seen", "+"), row)],
                             say("toile.said_seen", what=seen.sign), by=by)


def _teach(request: Request) -> Response:
    """Keep with the body what the toiles of this make ended in."""
    return JSONResponse(plain(teach(request.app.state.table.room, request.path_params["id"], device(request))))


async def _always(request: Request) -> Response:
    """From now on make always what several makes taught."""
    table, asked = request.app.state.table, await asked_for(request, _Named)

    def act():
        body = table.room.get(table.make(request.path_params["id"]).document.body, kind=Kind.BODY)
        for one in learned_of(body.document):
            if one.name == asked.name and dict(one.options) == asked.options:
                return make_standing(table.room, body.id, one, device(request))
        raise NameUnknown.among("alteration that makes have taught", asked.name,
                                [one.name for one in learned_of(body.document)])

    return JSONResponse(plain(await run_in_threadpool(act)))


ROUTES = [
    Route("/make/{id}/toile", _page),
    Route("/make/{id}/toile/seen", _see, methods=["POST"]),
    Route("/make/{id}/toile/learn", _teach, methods=["POST"]),
    Route("/make/{id}/toile/always", _always, methods=["POST"]),
]
