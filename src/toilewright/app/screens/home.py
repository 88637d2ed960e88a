"""The first page: which makes lie on the table, and a new one."""

from __future__ import annotations

import datetime
import hashlib

import msgspec
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import Route

from toilewright import __version__
from toilewright.app.changes import asked_for, device
from toilewright.app.long_work import Progress
from toilewright.app.making import begun, on_table, reminders
from toilewright.app.pages import page, unit_of
from toilewright.app.steps import stamp
from toilewright.app.table import Table
from toilewright.app.words import say
from toilewright.errors import InputError, ToilewrightError
from toilewright.workroom.documents import BodyDoc, Kind, TapeSheet, new_id

_ROOM = (300.0, 300.0)
"""px; of the small picture of a make."""


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
        today = datetime.date.today().isoformat()
        doc = BodyDoc(asked.new_body.strip(), unit_of(request), sheets=(TapeSheet(new_id(), today),))
        body = room.add(Kind.BODY, doc, say("home.did_body", name=doc.name), by=by).id
    last = room.get(asked.started_from, kind=Kind.MAKE) if asked.started_from else None
    for thing_id, kind in ((body, Kind.BODY), (asked.pattern, Kind.PATTERN)):
        if thing_id:
            room.get(thing_id, kind=kind)
    words = say("home.did_begin_from", last=last.document.title) if last else say("home.did_begin")
    return room.add(Kind.MAKE, begun(title, body, asked.pattern, last, unit_of(request)), words, by=by).id


async def _demo(request: Request) -> Response:
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
    """Drawn once, then kept until something that the alterations rest on changes."""
    place = table.place(make_id, "alter")
    resting = stamp("alter", place.make, place.body, place.pattern)
    key = hashlib.sha256(f"picture {make_id} {resting} {__version__}".encode()).hexdigest()
    kept = table.room.kept(key)
    if kept is not None:
        return kept.decode()
    drawn = _drawn(table, make_id, place.make.title)
    if drawn:
        table.room.keep(key, drawn.encode())
    return drawn


def _drawn(table: Table, make_id: str, title: str) -> str:
    from toilewright.app.figures import pieces_svg
    from toilewright.output.layout import rows_of

    try:
        outcome = table.outcome(make_id)
    except ToilewrightError:
        return ""
    bought, pieces = outcome.sized.before, outcome.altered.garment.pieces
    boxes = [p.outline.bounds for p in pieces]
    wide = max(1150.0, max(b[2] - b[0] for b in boxes) + 60)
    shifts, width, height = rows_of(boxes, wide, 40.0)
    lines = [(p.outline.moved(shift), "pen-as-bought") for one, shift in zip(pieces, shifts, strict=True)
             if bought.has(one.name) and (p := bought.piece(one.name)) != one]
    lines += [(p.outline.moved(shift), "pen-as-altered") for p, shift in zip(pieces, shifts, strict=True)]
    return pieces_svg(lines, (0.0, 0.0, width, height), _ROOM, say("home.picture", title=title))


ROUTES = [
    Route("/", _home),
    Route("/makes", _begin, methods=["POST"]),
    Route("/demo", _demo, methods=["POST"]),
    Route("/make/{id}/picture", _picture),
]
