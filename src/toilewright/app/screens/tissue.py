"""A pattern on tissue, without a file: its lengths, taken with a tape number by number."""

from __future__ import annotations

from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from toilewright.app.pages import fragment, page, unit_of
from toilewright.app.tissue import chart_to_fill, covers, kinds, rows_of, shown, standing
from toilewright.errors import InputError
from toilewright.workroom.documents import Kind
from toilewright.workroom.store import Thing


def tissue_page(request: Request, thing: Thing, **more: Any) -> Response:
    """The page of a pattern that goes by the tape."""
    tissue, unit, place = thing.document.tissue, unit_of(request), more.get("place")
    groups = rows_of(tissue)
    named = {row.name for _, rows in groups for row in rows}
    return page(request, "tissue.html", thing=thing, doc=thing.document, tissue=tissue, groups=groups, kinds=kinds(),
                shown=shown, others=[n for n in tissue.lengths if n not in named],
                chart=chart_to_fill(tissue, unit), today=request.app.state.table.room.today(),
                state=_state_of(request, thing, place.make_id if place else ""), **more)


def _state_of(request: Request, thing: Thing, make_id: str) -> dict[str, Any]:
    """Everything that an entry may have changed."""
    table, unit, doc = request.app.state.table, unit_of(request), thing.document
    found = standing(table, doc, unit)
    html = fragment(request, "parts/tissue_state.html", s=found, doc=doc,
                    covers=covers(table, make_id, unit) if make_id and found.ready else ())
    return {"rows": {name: shown(name, mm, unit) for name, mm in doc.tissue.lengths.items()}, "ready": found.ready,
            "asked": [{"about": a.about, "text": a.text, "kind": a.kind, "key": a.key} for a in found.asked],
            "html": html}


async def _state(request: Request) -> Response:
    def seen() -> dict[str, Any]:
        thing = request.app.state.table.room.get(request.path_params["id"], kind=Kind.PATTERN)
        if thing.document.tissue is None:
            raise InputError(f'"{thing.document.name}" is read from its file, not by the tape.')
        return _state_of(request, thing, request.query_params.get("make", ""))

    return JSONResponse(await run_in_threadpool(seen))


ROUTES = [Route("/pattern/{id}/tissue", _state)]
