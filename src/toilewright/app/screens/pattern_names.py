"""The names of a pattern: put right one by one, written out as a file, taken from one; and its pieces as pictures."""

from __future__ import annotations

import re
from typing import Any

import msgspec
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from toilewright.app.changes import asked_for, device
from toilewright.app.nest import nest
from toilewright.app.pages import unit_of
from toilewright.app.pattern_facts import middle_size
from toilewright.app.patterns import labels_of, start_taking
from toilewright.app.pictures import garment_picture
from toilewright.app.relabel import as_toml, read_toml, rows_for
from toilewright.app.words import say
from toilewright.errors import InputError
from toilewright.make.keeping import plain_labels
from toilewright.workroom.documents import Kind
from toilewright.workroom.store import Thing


class _Asked(msgspec.Struct, frozen=True):
    rows: list[tuple[list[str], Any]]


def _pattern(request: Request) -> Thing:
    return request.app.state.table.room.get(request.path_params["id"], kind=Kind.PATTERN)


async def _rows(request: Request) -> Response:
    """What has to be changed in the document for a change of names; refused where they could not be used."""
    asked = await asked_for(request, _Asked)

    def found() -> list[Any]:
        table, thing = request.app.state.table, _pattern(request)
        rows = rows_for(thing.document, labels_of(table, thing.document), [(tuple(p), v) for p, v in asked.rows])
        return [(list(path), value) for path, value in rows]

    return JSONResponse({"set": await run_in_threadpool(found)})


def _pieces(request: Request) -> Response:
    """The pieces of one size, as bought, and those of the other sizes as lines."""
    reading, unit = request.app.state.table.reading_of(_pattern(request).document), unit_of(request)
    size = request.query_params.get("size") or middle_size(reading)
    return JSONResponse({**garment_picture(reading.pattern.at(size), None, unit), "nest": nest(reading.pattern, size)})


def _as_file(request: Request) -> Response:
    thing = _pattern(request)
    data = as_toml(labels_of(request.app.state.table, thing.document))
    return _download(data, _plain(thing.document.name) + "-labels.toml", "application/toml")


def _original(request: Request) -> Response:
    """The file as it came."""
    thing = _pattern(request)
    if thing.document.file is None:
        raise InputError(say("pattern.no_file_here", name=thing.document.name))
    data = request.app.state.table.room.file(thing.document.file.sha)
    stem, _, end = thing.document.file.name.rpartition(".")
    return _download(data, f"{_plain(stem)}.{_plain(end)}", "application/octet-stream")


def _download(data: bytes, name: str, kind: str) -> Response:
    return Response(data, media_type=kind, headers={"content-disposition": f'attachment; filename="{name}"'})


def _plain(name: str) -> str:
    """A name that any system takes for a file."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or "pattern"


async def _take(request: Request) -> Response:
    """A labels file; answers with the job that reads the pattern under its names, and saves them when they fit."""
    async with request.form(max_files=1, max_fields=1) as form:
        file = form.get("file")
        if not isinstance(file, UploadFile):
            raise InputError(say("pattern.no_file"))
        data, name = await file.read(), _plain((file.filename or "").rpartition(".")[0]) + ".toml"

    def begun() -> str:
        labels = plain_labels(read_toml(data, name))
        return start_taking(request.app.state.table, _pattern(request), labels, name, device(request))

    return JSONResponse({"job": await run_in_threadpool(begun)})


ROUTES = [
    Route("/pattern/{id}/rows", _rows, methods=["POST"]),
    Route("/pattern/{id}/pieces", _pieces),
    Route("/pattern/{id}/labels.toml", _as_file),
    Route("/pattern/{id}/file", _original),
    Route("/pattern/{id}/labels", _take, methods=["POST"]),
]
