"""The pieces at true scale on a screen, or thrown by a projector on the cutting mat."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from toilewright.app.pages import page, unit_of


def _page(request: Request) -> Response:
    table, make_id = request.app.state.table, request.path_params["id"]
    place = table.place(make_id, "print")
    outcome = table.outcome(make_id, unit=unit_of(request))
    return page(request, "true_scale.html", place=place, thing=table.make(make_id),
                pieces=[p.name for p in outcome.altered.garment.pieces])


ROUTES = [Route("/make/{id}/true-scale", _page)]
