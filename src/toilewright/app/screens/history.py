"""The history of one thing: every change, how it was then, and the way back."""

from __future__ import annotations

from functools import partial
from itertools import groupby

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from toilewright.app.differences import differences, name_in
from toilewright.app.pages import page, unit_of
from toilewright.app.words import say
from toilewright.errors import InputError
from toilewright.workroom.days import day, minute
from toilewright.workroom.documents import Kind, name_of
from toilewright.workroom.store import Revision

_PLACES = {Kind.BODY: "/body/{id}", Kind.PATTERN: "/pattern/{id}", Kind.CLOTH: "/shelf", Kind.MAKE: "/make/{id}"}


def _page(request: Request) -> Response:
    room, thing_id = request.app.state.table.room, request.path_params["id"]
    thing, rows = room.get(thing_id), room.history(thing_id)
    at = _asked(request.query_params.get("at", ""))
    then = room.get(thing_id, at) if at else None
    shown = differences(thing.document, then.document, unit_of(request), partial(name_in, room)) if then else ()
    return page(
        request, "history.html", thing=thing, name=name_of(thing.document), then=then, shown=shown,
        then_words=next((_words(r) for r in rows if r.number == at), ""), at=at, local=lambda one: minute(one.changed),
        back=_PLACES[thing.kind].format(id=thing_id), newest=rows[0].number,
        days=[(date, [(r, _words(r)) for r in found])
              for date, found in groupby(rows, key=lambda r: day(r.at))])


def _asked(text: str) -> int:
    if text and not (text.isdecimal() and len(text) < 10):
        raise InputError(f'"{text}" is no number of a revision; choose one from the list.')
    return int(text or 0)


def _words(revision: Revision) -> str:
    return say("history.way_" + revision.way.value.replace(" ", "_"), words=revision.words)


ROUTES = [Route("/thing/{id}/history", _page)]
