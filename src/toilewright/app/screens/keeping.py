"""Keeping: everything as a file, back-ups, and the way to whatever was put away or changed."""

from __future__ import annotations

import msgspec
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from toilewright.app.changes import asked_for
from toilewright.app.pages import page
from toilewright.app.printing import saved_name
from toilewright.app.words import say
from toilewright.errors import InputError
from toilewright.workroom.days import minute
from toilewright.workroom.documents import Kind, name_of
from toilewright.workroom.packing import export_all, export_make, import_file
from toilewright.workroom.store import Workroom

_SHOWN = (("make", Kind.MAKE), ("body", Kind.BODY), ("pattern", Kind.PATTERN), ("cloth", Kind.CLOTH))


class _Which(msgspec.Struct, frozen=True):
    name: str


def _page(request: Request) -> Response:
    from toilewright.workroom.backups import backups

    room: Workroom = request.app.state.table.room
    kept = backups(room.folder) if room.folder else ()
    return page(
        request, "keeping.html", folder=room.folder, trouble=room.trouble, name_of=name_of,
        makes=room.things(Kind.MAKE),
        backups=[(one.name, minute(one.made), _size(one.size)) for one in kept],
        things=[(key, room.things(kind), room.things(kind, removed=True)) for key, kind in _SHOWN])


def _size(size: int) -> str:
    return say("keeping.megabytes", n=f"{max(size / 1e6, 0.1):.1f}")


def _export(request: Request) -> Response:
    """One make with all it needs, or everything, as one file to save."""
    room, thing_id = request.app.state.table.room, request.path_params["id"]
    day = room.today()
    if thing_id == "all":
        data, name = export_all(room), f"toilewright-{day}.zip"
    else:
        data = export_make(room, thing_id)
        name = saved_name(request.app.state.table.make(thing_id).document.title, f"{day}.zip")
    return Response(data, media_type="application/zip",
                    headers={"content-disposition": f'attachment; filename="{name}"'})


async def _import(request: Request) -> Response:
    """Take such a file in; the answer says what became of everything in it."""
    async with request.form(max_files=1, max_fields=1) as form:
        file = form.get("file")
        if not isinstance(file, UploadFile):
            raise InputError(say("keeping.no_file"))
        data = await file.read()
    report = await run_in_threadpool(import_file, request.app.state.table.room, data)
    return JSONResponse({"text": report.text, "things": [
        {"id": one.id, "kind": one.kind.value, "name": one.name, "how": one.how.value} for one in report.things]})


def _back_up(request: Request) -> Response:
    from toilewright.workroom.backups import back_up

    made = back_up(request.app.state.table.room)
    return JSONResponse({"text": say("keeping.did_back_up", size=_size(made.size))})


async def _restore(request: Request) -> Response:
    """Put a back-up in the place of the store; what was there is set aside."""
    from toilewright.workroom.backups import restore

    room: Workroom = request.app.state.table.room
    asked = await asked_for(request, _Which)
    if room.folder is None:
        raise InputError(say("keeping.on_server"))
    aside = await run_in_threadpool(restore, room.folder, asked.name)
    return JSONResponse({"text": say("keeping.did_restore", aside=aside.name if aside else "")})


ROUTES = [
    Route("/keeping", _page),
    Route("/keeping/export/{id}", _export),
    Route("/keeping/import", _import, methods=["POST"]),
    Route("/keeping/back-up", _back_up, methods=["POST"]),
    Route("/keeping/restore", _restore, methods=["POST"]),
]
