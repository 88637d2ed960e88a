"""The measuring screen: one person's numbers today, each with a picture of where the tape goes."""

from __future__ import annotations

import msgspec
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from toilewright.app.changes import asked_for, device
from toilewright.app.measuring import as_body, copied, count_words, groups, sheet_of, state
from toilewright.app.pages import page, unit_of
from toilewright.app.steps import Place
from toilewright.app.words import say
from toilewright.body.tape import WAISTS
from toilewright.fit.alterations import ALTERATIONS
from toilewright.fit.amounts import USES
from toilewright.workroom.documents import BodyDoc, Kind, MakeDoc, TapeSheet, new_id
from toilewright.workroom.store import Thing, Workroom


class _Named(msgspec.Struct, frozen=True):
    name: str


def _bodies(request: Request) -> Response:
    room = request.app.state.table.room
    rows = [(thing, sheet_of(thing.document), _makes_for(room, thing.id)) for thing in room.things(Kind.BODY)]
    return page(request, "bodies.html", rows=rows, removed=room.things(Kind.BODY, removed=True))


async def _new_body(request: Request) -> Response:
    """A new person, with an empty sheet of today."""
    name = (await asked_for(request, _Named)).name.strip() or say("measure.no_name")
    room = request.app.state.table.room
    doc = BodyDoc(name, unit_of(request), sheets=(TapeSheet(new_id(), room.today()),))
    thing = await run_in_threadpool(room.add, Kind.BODY, doc, say("measure.did_body", name=name), by=device(request))
    return JSONResponse({"id": thing.id})


def _body(request: Request) -> Response:
    thing = request.app.state.table.room.get(request.path_params["id"], kind=Kind.BODY)
    return _sheet_page(request, thing, request.query_params.get("sheet", ""))


def _step(request: Request) -> Response:
    """The first step of a make: whose it is, and her sheet."""
    table, make_id = request.app.state.table, request.path_params["id"]
    place = table.place(make_id, "measure")
    if not place.make.body:
        return page(request, "whose.html", place=place, thing=table.make(make_id), rows=table.room.things(Kind.BODY))
    thing = table.room.get(place.make.body, kind=Kind.BODY)
    return _sheet_page(request, thing, request.query_params.get("sheet", place.make.sheet), place)


def _sheet_page(request: Request, thing: Thing, sheet_id: str, place: Place | None = None) -> Response:
    from toilewright.output.tape_markup import body_markup, picture_markup
    from toilewright.output.tape_pictures import tape_pictures, waist_pictures

    table = request.app.state.table
    today = table.room.today()
    doc, sheet = thing.document, sheet_of(thing.document, sheet_id)
    unit = unit_of(request)
    found = groups(doc, sheet, unit, _wanted(doc, place and place.make))
    pictures = {name: picture_markup(p, say("measure.picture", name=name), _place_name)
                for name, p in tape_pictures().items()}
    waists = [(name, words, picture_markup(waist_pictures()[name], say("measure.picture", name=words), _place_name))
              for name, words in WAISTS.items()]
    return page(
        request, "measure.html", thing=thing, doc=doc, sheet=sheet, groups=found, place=place, waists=waists,
        bodies=body_markup(), pictures=pictures, counts={g.key: count_words(g) for g in found}, today=today,
        alterations=ALTERATIONS, uses=USES, lacking=_lacking(doc, sheet, unit), fresh=copied(sheet, today),
        state=state(doc, sheet, unit, _wanted(doc, place and place.make), today),
        people=table.room.things(Kind.BODY) if place else ())


def _state(request: Request) -> Response:
    """Everything that an entry may have changed."""
    table = request.app.state.table
    doc = table.room.get(request.path_params["id"], kind=Kind.BODY).document
    make_id = request.query_params.get("make", "")
    make = table.make(make_id).document if make_id else None
    sheet = sheet_of(doc, request.query_params.get("sheet", ""))
    return JSONResponse(state(doc, sheet, unit_of(request), _wanted(doc, make), table.room.today()))


def _wanted(doc: BodyDoc, make: MakeDoc | None) -> tuple[str, ...]:
    """Names of the alterations she always needs, and of those of this make."""
    rows = (*doc.alterations, *(make.alterations if make else ()))
    return tuple(dict.fromkeys(row.name for row in rows))


def _lacking(doc: BodyDoc, sheet: TapeSheet, unit: str) -> dict[str, list[str]]:
    """By alteration, the measures that its amount needs and that were not taken."""
    body = as_body(doc, sheet, unit)
    return {name: [m for m in needed if body.get(m) is None] for name, needed in USES.items()}


def _makes_for(room: Workroom, body_id: str) -> list[Thing]:
    return [thing for thing in room.things(Kind.MAKE) if thing.document.body == body_id]


def _place_name(name: str) -> str:
    return say(f"measure.place_{name.replace(' ', '_')}")


ROUTES = [
    Route("/bodies", _bodies),
    Route("/bodies", _new_body, methods=["POST"]),
    Route("/body/{id}", _body),
    Route("/body/{id}/state", _state),
    Route("/make/{id}/measure", _step),
]
