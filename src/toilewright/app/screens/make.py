"""A make as a whole: to its next step, and steps settled."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from toilewright.app.changes import device, plain
from toilewright.app.pages import go
from toilewright.app.steps import STEPS, State, settled_value, tape_of
from toilewright.app.words import say
from toilewright.errors import NameUnknown


def _next(request: Request) -> Response:
    """To the first step that wants something, else to the last."""
    tape = tape_of(request.app.state.table.place(request.path_params["id"], ""))
    return go(next((m.address for m in tape if m.state is not State.SETTLED), tape[-1].address))


def _tape(request: Request) -> Response:
    """How every step stands now."""
    tape = tape_of(request.app.state.table.place(request.path_params["id"], ""))
    return JSONResponse([{"key": m.key, "state": m.state, "name": say(f"common.step_{m.key}"),
                          "words": say(f"common.state_{m.state}")} for m in tape])


def _settle(request: Request) -> Response:
    """Keep that a step is settled, with what it rests on."""
    table, make_id, key = request.app.state.table, request.path_params["id"], request.path_params["step"]
    if key not in {s.key for s in STEPS}:
        raise NameUnknown.among("step", key, [s.key for s in STEPS])
    base, place = table.make(make_id).revision, table.place(make_id, key)
    value = settled_value(key, table.room.today(), *place.rests)
    thing = table.room.change(make_id, base, [(("settled", key), value)],
                              f"{say('common.state_settled')}: {say(f'common.step_{key}')}", by=device(request))
    return JSONResponse(plain(thing))


ROUTES = [
    Route("/make/{id}", _next),
    Route("/make/{id}/tape", _tape),
    Route("/make/{id}/settle/{step}", _settle, methods=["POST"]),
]
