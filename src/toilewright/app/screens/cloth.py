"""The cloth step: which cloth, how it is laid, how much to buy, and in which order to cut."""

from __future__ import annotations

from typing import Any

import msgspec
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import Route

from toilewright.app import allowance_forms, corner_forms, extra_pieces, laying, narrow
from toilewright.app.changes import Rows, asked_for, device, plain
from toilewright.app.cutting_out import FOLDS, SELF, USES, other_makes, uses_of
from toilewright.app.pages import fragment, page, unit_of
from toilewright.app.printing import KINDS, saved_name
from toilewright.app.screens.extras import answered
from toilewright.app.screens.extras import kept as kept_when_cut
from toilewright.app.shelving import METRES_PER_YARD
from toilewright.app.steps import Place
from toilewright.app.table import Table
from toilewright.app.waiting import waiting
from toilewright.app.words import say
from toilewright.cutting.extra.joins import JOIN
from toilewright.errors import InputError, NameUnknown, ToilewrightError
from toilewright.make.outcome import Outcome
from toilewright.units import parse_length, show_length
from toilewright.workroom.cloths import wishes_of
from toilewright.workroom.documents import Kind

LONGEST = float(max(laying.SECONDS))

FILES = ("lay.pdf", "lay.svg", "cloth.pdf")
"""What she can take along."""


class _Search(msgspec.Struct, frozen=True):
    """For how long to search (seconds)."""

    seconds: float = 10.0


class _Shop(msgspec.Struct, frozen=True):
    """What envelope and shop say of one width, as she wrote it; without both it is taken out.

    Attributes:
        row: id of the row of the cloth, or "" where nothing is kept of it yet.
        key: of a row that is taken out, its width in whole mm.
    """

    use: str
    row: str = ""
    width: str = ""
    envelope: str = ""
    price: str = ""
    key: str = ""


def _page(request: Request) -> Response:
    table, make_id, unit = request.app.state.table, request.path_params["id"], unit_of(request)
    place, thing = table.place(make_id, "cloth"), table.make(make_id)
    try:
        outcome = table.outcome(make_id, unit=unit)
    except ToilewrightError as problem:
        return waiting(request, table, place, "cloth.before_this", problem)
    from toilewright.make.deliver import stops_of

    return page(request, "cloth.html", place=place, thing=thing, stops=stops_of(outcome),
                by_tape=outcome.sized.reading.by_tape, uses=uses_of(table, place, outcome, unit), folds=FOLDS,
                known_uses=USES, self_use=SELF, shelf=table.room.things(Kind.CLOTH), others=other_makes(table, place),
                gap=_gap(place, unit), garment=outcome.altered.garment, long_unit="yd" if unit == "in" else "m",
                corners=corner_forms.corner_rows(place.make), corner_offers=corner_forms.corner_offers(outcome),
                extras=extra_pieces.shown(place.make, outcome), kinds=extra_pieces.kinds(),
                edges=extra_pieces.edges_of(outcome.altered.garment),
                allowance_places=allowance_forms.allowance_offers(outcome),
                allowances=allowance_forms.allowance_rows(place.make, outcome), seconds=laying.SECONDS,
                lay=_lay_part(request, place, outcome), buying=_buy_part(request, place),
                jobs={what: table.running(make_id, what) for what in ("lay", "buy")})


def _gap(place: Place, unit: str) -> str:
    gap = place.make.lay_gap
    return "" if gap is None else show_length(gap, unit).rpartition(" ")[0]


# -- the lay ----------------------------------------------------------------------------------------


def _lay(request: Request) -> Response:
    """The lay as it stands on the page."""
    table, make_id = request.app.state.table, request.path_params["id"]
    outcome = table.outcome(make_id, unit=unit_of(request))
    return HTMLResponse(_lay_part(request, table.place(make_id, "cloth"), outcome))


def _lay_part(request: Request, place: Place, outcome: Outcome) -> str:
    from toilewright.app.lay_shown import shown_lay

    table, unit = request.app.state.table, unit_of(request)
    kept = laying.kept_lay(table, place.make_id)
    shown: list[Any] = []
    if kept is not None:
        uses = {use.row.use: use for use in uses_of(table, place, outcome, unit)}
        wishes = _wishes(table, place, unit)
        shown = [shown_lay(lay, wishes.get(lay.cloth.name), uses.get(lay.cloth.name), unit) for lay in kept.lays]
    return fragment(request, "parts/lay.html", kept=kept, lays=shown, make_id=place.make_id,
                    narrow=narrow.too_narrow(table, place.make_id, unit),
                    old=kept is not None and kept.stamp != laying.lay_stamp(table, place.make_id))


def _wishes(table: Table, place: Place, unit: str) -> dict[str, Any]:
    """What she wants of each cloth; nothing of one whose entries cannot be used, which the search says."""
    try:
        return {wish.use: wish for wish in wishes_of(place.make, place.cloths, unit)}
    except InputError:
        return {}


async def _start_lay(request: Request) -> Response:
    """Begin to search; answers with the job."""
    asked = await asked_for(request, _Search)
    if not 0.0 <= asked.seconds <= LONGEST:
        raise InputError(say("cloth.no_seconds"))
    return await run_in_threadpool(_start, request, "lay", asked.seconds)


async def _start_buy(request: Request) -> Response:
    """Begin to compare the widths; answers with the job."""
    asked = await asked_for(request, _Search)
    if not 0.0 <= asked.seconds <= LONGEST:
        raise InputError(say("cloth.no_seconds"))
    return await run_in_threadpool(_start, request, "buy", asked.seconds)


def _start(request: Request, what: str, seconds: float) -> Response:
    table, make_id, unit = request.app.state.table, request.path_params["id"], unit_of(request)
    search = laying.search_lay if what == "lay" else laying.search_widths
    if not (job := table.running(make_id, what)):
        title = say("cloth.job_" + what, title=table.make(make_id).document.title)
        job = table.work.start(title, lambda progress: {"stopped": search(table, make_id, unit, seconds, progress)})
        table.runs(make_id, what, job)
    return JSONResponse({"job": job})


async def _join(request: Request) -> Response:
    """Divide the pieces for which the cloth is too narrow."""
    return await answered(request, _joined, None)


def _joined(table: Table, make_id: str, asked: None, unit: str, by: str) -> Any:
    joins = narrow.own_joins(table, make_id, unit)
    if not joins:
        raise InputError(say("cloth.nothing_to_join"))
    rows: Rows = [(["extras", "+"], {"kind": JOIN.name, "options": {"piece": join.piece, "parts": str(join.parts)}})
                  for join in joins]
    words = say("cloth.said_joins", what="; ".join(join.words for join in joins))
    return kept_when_cut(table, make_id, rows, words, unit, by)


def _file(request: Request) -> Response:
    """A drawing of the lay, or the shopping list, to print and to keep."""
    table, make_id, name = request.app.state.table, request.path_params["id"], request.path_params["name"]
    if name not in FILES:
        raise NameUnknown.among("file", name, FILES)
    saved = saved_name(table.make(make_id).document.title, name)
    return Response(laying.lay_file(table, make_id, unit_of(request), name), media_type=KINDS[name[-3:]],
                    headers={"content-disposition": f'attachment; filename="{saved}"'})


# -- what to buy ------------------------------------------------------------------------------------


def _buy(request: Request) -> Response:
    """The widths as they stand on the page."""
    return HTMLResponse(_buy_part(request, request.app.state.table.place(request.path_params["id"], "cloth")))


def _buy_part(request: Request, place: Place) -> str:
    from toilewright.app.lay_shown import shown_widths

    table, unit = request.app.state.table, unit_of(request)
    kept = laying.kept_buying(table, place.make_id)
    rows = {row.use: row for row in place.make.lays}
    return fragment(request, "parts/widths.html", kept=kept, make_id=place.make_id, rows=rows,
                    widths=shown_widths(kept.buying, unit) if kept else (),
                    old=kept is not None and kept.stamp != laying.lay_stamp(table, place.make_id))


async def _shop(request: Request) -> Response:
    """Keep what envelope and shop say of one width, or take it out."""
    asked = await asked_for(request, _Shop)
    thing = await run_in_threadpool(_shopped, request.app.state.table, request.path_params["id"], asked,
                                    unit_of(request), device(request))
    return JSONResponse(plain(thing))


def _shopped(table: Table, make_id: str, asked: _Shop, unit: str, by: str) -> Any:
    thing = table.make(make_id)
    if asked.key:
        rows = [(("lays", asked.row, name, asked.key), None) for name in ("envelope", "prices")]
        words = say("cloth.said_shop_out", width=show_length(float(asked.key), unit))
        return table.room.change(make_id, thing.revision, rows, words, by=by)
    if not asked.width.strip() or not (asked.envelope.strip() or asked.price.strip()):
        raise InputError(say("cloth.shop_missing"))
    width = parse_length(asked.width, unit)
    key = f"{width:.0f}"
    said: dict[str, dict[str, float]] = {}
    if asked.envelope.strip():
        said["envelope"] = {key: parse_length(asked.envelope, "yd" if unit == "in" else "m")}
    if asked.price.strip():
        said["prices"] = {key: _price(asked.price, unit)}
    if asked.row:
        rows = [(("lays", asked.row, name, key), value[key]) for name, value in said.items()]
    else:
        rows = [(("lays", "+"), {"use": asked.use, **said})]
    return table.room.change(make_id, thing.revision, rows, say("cloth.said_shop", width=show_length(width, unit)),
                             by=by)


def _price(text: str, unit: str) -> float:
    """Of one metre, from what she wrote of one metre or one yard."""
    try:
        price = float(text.strip().replace(",", "."))
    except ValueError:
        price = -1.0
    if not 0.0 <= price < 1e6:
        raise InputError(say("cloth.shop_price_wrong"))
    return price / METRES_PER_YARD if unit == "in" else price


ROUTES = [
    Route("/make/{id}/cloth", _page),
    Route("/make/{id}/cloth/lay", _lay),
    Route("/make/{id}/cloth/lay", _start_lay, methods=["POST"]),
    Route("/make/{id}/cloth/widths", _buy),
    Route("/make/{id}/cloth/widths", _start_buy, methods=["POST"]),
    Route("/make/{id}/cloth/joins", _join, methods=["POST"]),
    Route("/make/{id}/cloth/files/{name}", _file),
    Route("/make/{id}/cloth/shop", _shop, methods=["POST"]),
]
