"""The walk: does every seam sew, and may it be printed?"""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from toilewright.app.pages import page, unit_of
from toilewright.app.waiting import waiting
from toilewright.app.walking import seam_rows
from toilewright.errors import ToilewrightError


def _page(request: Request) -> Response:
    from toilewright.make.deliver import stops_of

    table, make_id = request.app.state.table, request.path_params["id"]
    place, thing = table.place(make_id, "walk"), table.make(make_id)
    try:
        outcome = table.outcome(make_id, unit=unit_of(request))
    except ToilewrightError as problem:
        return waiting(request, table, place, "walk.before_this", problem)
    rows = seam_rows(outcome, make_id)
    others = [f for f in stops_of(outcome) if f.code != "does-not-sew"]
    return page(request, "walk.html", place=place, thing=thing, rows=rows, stops=others,
                off=sum(r.state == "stop" for r in rows), looks=sum(r.state == "look" for r in rows),
                broken=bool(stops_of(outcome)), altered=bool(outcome.altered.done))


ROUTES = [Route("/make/{id}/walk", _page)]
