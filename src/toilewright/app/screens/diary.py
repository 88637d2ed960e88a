"""The diary of a make: what was made, what worked, what to change next time, how often it is worn, of which cloth."""

from __future__ import annotations

from dataclasses import replace
from itertools import groupby

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from toilewright.app.making import reminders
from toilewright.app.pages import page
from toilewright.workroom.documents import Kind

WRITTEN = ("note", "made", "worked", "change")
"""Kinds of entries that are written; the other kind, worn, is one press."""


def _page(request: Request) -> Response:
    table, make_id = request.app.state.table, request.path_params["id"]
    place, thing = table.place(make_id, "diary"), table.make(make_id)
    room, make = table.room, place.make
    # A file that was brought in may know other kinds; what was written is shown all the same.
    rows = sorted((r if r.kind in WRITTEN else replace(r, kind=WRITTEN[0]) for r in make.diary if r.kind != "worn"),
                  key=lambda r: r.date, reverse=True)
    wearings = sorted((r for r in make.diary if r.kind == "worn"), key=lambda r: r.date, reverse=True)
    gone = [t for t in room.things(Kind.CLOTH, removed=True) if t.id in make.cloths]
    return page(
        request, "diary.html", place=place, thing=thing, kinds=WRITTEN, today=room.today(),
        days=[(day, list(found)) for day, found in groupby(rows, key=lambda r: r.date)],
        worn=len(wearings), wearings=wearings,
        cloths=(*room.things(Kind.CLOTH), *gone), started=_started_from(request, make.started_from),
        reminders=reminders(room.things(Kind.MAKE), make.body, make.pattern, but=make_id))


def _started_from(request: Request, make_id: str) -> tuple[str, str] | None:
    """The make from which this one was begun: (id, title)."""
    if not make_id:
        return None
    return make_id, request.app.state.table.make(make_id).document.title


ROUTES = [Route("/make/{id}/diary", _page)]
