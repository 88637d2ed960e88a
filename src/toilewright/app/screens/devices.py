"""Which devices may come in, and the door to the home network; only this machine's own browsers change anything."""

from __future__ import annotations

import datetime
import io

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from toilewright.app.doors import is_local
from toilewright.app.pages import go, page
from toilewright.app.words import say
from toilewright.errors import ToilewrightError
from toilewright.workroom.days import minute

HERE = "/devices"


def _page(request: Request) -> Response:
    doors, home = request.app.state.doors, request.app.state.home
    local = is_local(request.scope)
    code = home.code if local and home.is_open and doors.is_good(home.code) else ""
    return page(request, "devices.html", devices=doors.devices, own=request.state.device_id, local=local,
                open=home.is_open, address=f"http://{home.host}/", code=code, when=_when)


def _when(moment: str) -> str:
    return minute(datetime.datetime.fromisoformat(moment))


def _code(request: Request) -> Response:
    """The pairing address to be photographed; black on white in any theme, for cameras."""
    import segno

    home = request.app.state.home
    _must_be_local(request)
    if not (home.is_open and home.code):
        raise HTTPException(404, say("common.no_page"))
    out = io.BytesIO()
    segno.make(f"http://{home.host}/in?key={home.code}", error="m", micro=False).save(
        out, kind="svg", scale=6, border=4, dark="black", light="white", xmldecl=False)
    return Response(out.getvalue(), media_type="image/svg+xml")


async def _change(request: Request) -> Response:
    """What the buttons of the page do."""
    doors, home = request.app.state.doors, request.app.state.home
    way = request.path_params["way"]
    _must_be_local(request)
    async with request.form() as form:
        device = str(form.get("device", ""))
        name = str(form.get("name", ""))
    if way == "open":
        await home.open()
        home.code = doors.new_code()
    elif way == "close":
        doors.forget_key(home.code)
        await home.close()
    elif way == "code" and home.is_open:
        doors.forget_key(home.code)
        home.code = doors.new_code()
    elif way == "rename":
        await run_in_threadpool(doors.rename, device, name)
    elif way == "show-out" and device != request.state.device_id:
        await run_in_threadpool(doors.show_out, device)
    return go(HERE)


def _must_be_local(request: Request) -> None:
    if not is_local(request.scope):
        raise DoorError(say("devices.only_here"))


class DoorError(ToilewrightError):
    """Asked for by a device that may not do it."""


ROUTES = [
    Route(HERE, _page),
    Route(f"{HERE}/code.svg", _code),
    Route(f"{HERE}/{{way}}", _change, methods=["POST"]),
]
