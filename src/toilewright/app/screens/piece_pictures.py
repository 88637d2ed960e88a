"""Pictures for scripts: the pieces of a make, and one of its seams to be walked."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from toilewright.app.pages import unit_of
from toilewright.app.pictures import garment_picture
from toilewright.app.rolling import seam_picture
from toilewright.errors import NameUnknown


def _pieces(request: Request) -> Response:
    """The altered pieces over the bought ones."""
    outcome = request.app.state.table.outcome(request.path_params["id"], unit=unit_of(request))
    return JSONResponse(garment_picture(outcome.altered.garment, outcome.altered.bought, unit_of(request)))


def _seam(request: Request) -> Response:
    """Both sides of one seam."""
    outcome = request.app.state.table.outcome(request.path_params["id"], unit=unit_of(request))
    name = request.query_params.get("seam", "")
    walk = next((one for one in outcome.walks if one.seam == name), None)
    if walk is None:
        raise NameUnknown.among("seam", name, [one.seam for one in outcome.walks])
    return JSONResponse(seam_picture(outcome.altered.garment, walk))


ROUTES = [Route("/make/{id}/pieces", _pieces), Route("/make/{id}/seam", _seam)]
