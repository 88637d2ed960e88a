"""The first page: which makes lie on the table, and a new one."""

from __future__ import annotations

import msgspec
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import Route

from toilewright.app.changes import asked_for, device
from toilewright.app.long_work import Progress
from toilewright.app.making import begun, on_table, reminders
from toilewright.app.pages import page, unit_of
from toilewright.app.small_pictures import drawn_once, small_pieces
from toilewright.app.steps import stamp
from toilewright.app.table import Table
from toilewright.app.words import say
from toilewright.errors import InputError, ToilewrightError
from toilewright.workroom.documents import BodyDoc, Kind, TapeSheet, new_id


class _Begin(msgspec.Struct, frozen=True):
    title: str
    body: str = ""
    new_body: str = ""
    pattern: str = ""
    started_from: str = ""


def _home(request: Request) -> Response:
    room = request.app.state.table.room
    makes = on_table(room)
    things = [one.thing for one in makes]
    bodies, patterns = room.things(Kind.BODY), room.things(Kind.PATTERN)
    removed = room.things(Kind.MAKE, removed=True)
    notes = [{"make": r.make_id, "title": r.title, "body": r.body, "pattern": r.pattern, "text": r.row.text}
             for r in reminders(things)]
    if not (makes or bodies or patterns or removed):
        return page(request, "welcome.html")
    return page(request, "home.html", makes=makes, bodies=bodies, patterns=patterns, removed=removed, notes=notes,
                whom=request.query_params.get("for", ""), made_from=request.query_params.get("from", ""))


async def _begin(request: Request) -> Response:
    """A new make, and with it a new person where she is not there yet."""
    asked = await asked_for(request, _Begin)
    thing_id = await run_in_threadpool(_begun, request, asked)
    return JSONResponse({"id": thing_id})


def _begun(request: Request, asked: _Begin) -> str:
    room, by = request.app.state.table.room, device(request)
    title = asked.title.strip() or say("home.no_title")
    body = asked.body
    if not body and asked.new_body.strip():
        doc = BodyDoc(asked.new_body.strip(), unit_of(request), sheets=(TapeSheet(new_id(), room.today()),))
        body = room.add(Kind.BODY, doc, say("home.did_body", name=doc.name), by=by).id
    last = room.get(asked.started_from, kind=Kind.MAKE) if asked.started_from else None
    for thing_id, kind in ((body, Kind.BODY), (asked.pattern, Kind.PATTERN)):
        if thing_id:
            room.get(thing_id, kind=kind)
    words = say("home.did_begin_from", last=last.document.title) if last else say("home.did_begin")
    return room.add(Kind.MAKE, begun(title, body, asked.pattern, last, unit_of(request)), words, by=by).id


def _demo(request: Request) -> Response:
    """Lay out the example, on an empty table only; answers with the job."""
    table, fill = request.app.state.table, request.app.state.fill
    if fill is None or any(table.room.things(kind) for kind in Kind):
        raise InputError(say("home.no_demo"))

    def work(progress: Progress) -> dict[str, str]:
        progress(say("home.demo_working"))
        fill(table.room)
        return {}

    return JSONResponse({"job": table.work.start(say("home.demo_job"), work)})


def _picture(request: Request) -> Response:
    """The altered pieces of a make, small; nothing where there are none yet."""
    return HTMLResponse(_pieces(request.app.state.table, request.path_params["id"]))


def _pieces(table: Table, make_id: str) -> str:
    place = table.place(make_id, "alter")
    resting = stamp("walk", *place.rests)
    return drawn_once(table.room, f"{make_id} {resting} {place.make.title}",
                      lambda: _drawn(table, make_id, place.make.title))


def _drawn(table: Table, make_id: str, title: str) -> str:
    try:
        outcome = table.outcome(make_id)
    except ToilewrightError:
        return ""
    return small_pieces(outcome.altered.garment.pieces, say("home.picture", title=title), outcome.altered.bought)


ROUTES = [
    Route("/", _home),
    Route("/makes", _begin, methods=["POST"]),
    Route("/demo", _demo, methods=["POST"]),
    Route("/make/{id}/picture", _picture),
]
