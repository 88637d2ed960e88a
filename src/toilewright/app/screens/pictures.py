"""Photographs and drawings she keeps with something: brought in, and shown again."""

from __future__ import annotations

import msgspec
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from toilewright.app.words import say
from toilewright.errors import InputError

_BEGINNINGS = ((b"\xff\xd8\xff", "image/jpeg"), (b"\x89PNG\r\n\x1a\n", "image/png"), (b"GIF8", "image/gif"))
"""The first bytes of pictures that a browser can show; what a file calls itself is not asked."""


def picture_kind(data: bytes) -> str:
    """The media type of a picture, by its first bytes; "" when it is none that can be shown."""
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return "image/webp"
    return next((kind for beginning, kind in _BEGINNINGS if data.startswith(beginning)), "")


async def _bring(request: Request) -> Response:
    """Keep a picture; answers with what a thing keeps of it."""
    async with request.form(max_files=1, max_fields=1) as form:
        file = form.get("file")
        if not isinstance(file, UploadFile):
            raise InputError(say("pictures.none"))
        data, name = await file.read(), file.filename or ""
    kind = picture_kind(data)
    if not kind:
        raise InputError(say("pictures.unknown", name=name))
    ref = await run_in_threadpool(request.app.state.table.room.add_file, data, name, kind)
    return JSONResponse(msgspec.to_builtins(ref))


def _show(request: Request) -> Response:
    """A picture; other files of the store are not shown here."""
    data = request.app.state.table.room.file(request.path_params["sha"])
    kind = picture_kind(data)
    if not kind:
        raise InputError(say("pictures.no_picture"))
    return Response(data, media_type=kind, headers={"cache-control": "private, max-age=31536000, immutable"})


ROUTES = [Route("/pictures", _bring, methods=["POST"]), Route("/pictures/{sha}", _show)]
