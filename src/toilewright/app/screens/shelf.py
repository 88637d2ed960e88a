"""The shelf: every cloth with what it is, how much is there, and which makes are of it."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from toilewright.app import shelving
from toilewright.app.pages import page, unit_of
from toilewright.workroom.documents import Kind, MakeDoc


def _page(request: Request) -> Response:
    room, unit = request.app.state.table.room, unit_of(request)
    makes = room.things(Kind.MAKE)
    rows = [(thing, shelving.facts(thing.document, unit), [m for m in makes if uses(m.document, thing.id)])
            for thing in room.things(Kind.CLOTH)]
    inches = unit == "in"
    return page(request, "shelf.html", rows=rows, removed=room.things(Kind.CLOTH, removed=True),
                drapes=shelving.DRAPES, long_unit="yd" if inches else "m", shown=shelving,
                grams=shelving.GRAMS_PER_OUNCE if inches else 1.0,
                metres=shelving.METRES_PER_YARD if inches else 1.0, today=room.today())


def uses(make: MakeDoc, cloth_id: str) -> bool:
    """Is a make of this cloth?"""
    return cloth_id in make.cloths or any(row.cloth == cloth_id for row in make.lays)


ROUTES = [Route("/shelf", _page)]
