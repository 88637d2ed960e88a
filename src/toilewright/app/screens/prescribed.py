"""What a body asks of a pattern, for the step in which she alters it."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from toilewright.app.pages import unit_of
from toilewright.app.prescribing import short_list


def _prescribed(request: Request) -> Response:
    table, make_id, unit = request.app.state.table, request.path_params["id"], unit_of(request)
    return JSONResponse(short_list(table.fitted(make_id, unit=unit), table.make(make_id).document, unit))


ROUTES = [Route("/make/{id}/alter/prescribed", _prescribed)]
