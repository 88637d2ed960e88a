"""The printing screen: is it right to print now, on which paper; and the files."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import FileResponse, HTMLResponse, JSONResponse, Response
from starlette.routing import Route

from toilewright.app.pages import fragment, page, unit_of
from toilewright.app.printing import GROUPS, KINDS, as_zip, file_of, file_words, map_of_pages, print_stamp, saved_name
from toilewright.app.steps import unsettled_before
from toilewright.app.waiting import waiting
from toilewright.app.words import say
from toilewright.errors import NameUnknown, ToilewrightError
from toilewright.make.outcome import Outcome
from toilewright.make.recipe import PAPERS
from toilewright.units import show_length


def _page(request: Request) -> Response:
    table, make_id = request.app.state.table, request.path_params["id"]
    place, thing = table.place(make_id, "print"), table.make(make_id)
    try:
        outcome = table.outcome(make_id, unit=unit_of(request))
    except ToilewrightError as problem:
        return waiting(request, table, place, "print.before_this", problem)
    return page(request, "print.html", place=place, thing=thing, papers=PAPERS, waits=unsettled_before(place),
                files=_files(request, place), **_verdict(outcome))


def _verdict(outcome: Outcome) -> dict[str, Any]:
    """Whether everything sews, seam by seam."""
    from toilewright.make.deliver import stops_of

    looks = [f for f in outcome.findings if f.severity == "look"]
    return {"stops": stops_of(outcome), "looks": looks, "seams": len(outcome.walks),
            "size": outcome.sized.size_name, "alterations": len(outcome.altered.done),
            "by_tape": outcome.sized.reading.by_tape, "cut": _cut_list(outcome)}


def _cut_list(outcome: Outcome) -> list[tuple[str, str, str]]:
    """Every piece, how often it is cut, and of which cloth."""
    from toilewright.output.words import cut_words

    return [(p.name, cut_words(p), p.cut.cloth) for p in outcome.altered.garment.pieces]


def _files(request: Request, place: Any) -> str:
    """The list of files as it stands on the page."""
    printed = request.app.state.table.prints.of(place.make_id, print_stamp(place, unit_of(request)))
    there = {p.name: p.stat().st_size for p in printed.files} if printed else {}
    groups = [(key, [(name, file_words(name), _size(there[name])) for name in names if name in there])
              for key, names in GROUPS]
    return fragment(request, "parts/print_files.html", groups=[g for g in groups if g[1]], make_id=place.make_id,
                    tissue=place.pattern is not None and place.pattern.tissue is not None)


def _size(size: int) -> str:
    return say("print.kilobytes", n=max(1, round(size / 1000)))


def _list(request: Request) -> Response:
    table = request.app.state.table
    return HTMLResponse(_files(request, table.place(request.path_params["id"], "print")))


def _plan(request: Request) -> Response:
    """How many sheets one paper takes, and how they lie."""
    table, paper = request.app.state.table, request.path_params["paper"]
    if paper not in PAPERS:
        raise NameUnknown.among("paper", paper, PAPERS)
    unit = unit_of(request)
    outcome = table.outcome(request.path_params["id"], unit=unit)
    return HTMLResponse(fragment(request, "parts/print_plan.html", **_laid_out(outcome, paper, unit)))


def _laid_out(outcome: Outcome, paper: str, unit: str) -> dict[str, Any]:
    from toilewright.make.deliver import note_on_pieces
    from toilewright.output.sheet import sheet_size
    from toilewright.output.tiled import plan_tiles

    garment, note = outcome.altered.garment, note_on_pieces(outcome.sized)
    if paper == "projector":
        return {"words": say("print.plan_projector", n=len(garment.pieces)), "picture": ""}
    if paper == "sheet":
        wide, tall = sheet_size(garment, note=note, unit=unit)
        long = show_length(tall, "yd") if unit == "in" else show_length(tall, "m")
        return {"words": say("print.plan_sheet", wide=show_length(wide, unit), long=long), "picture": ""}
    plan = plan_tiles(garment, paper, note=note, unit=unit)
    words = say("print.plan_pages", n=len(plan.printed) + 1, rows=plan.grid.rows, columns=plan.grid.columns)
    return {"words": words, "picture": map_of_pages(plan, paper)}


def _start(request: Request) -> Response:
    """Begin to make the files; answers with the job."""
    table, make_id, unit = request.app.state.table, request.path_params["id"], unit_of(request)
    place = table.place(make_id, "print")
    now = print_stamp(place, unit)

    def work(progress: Any) -> dict[str, int]:
        progress(say("print.working_out"))
        printed = table.prints.write(make_id, now, table.outcome(make_id, place.make, unit=unit), progress)
        return {"files": len(printed.files)}

    return JSONResponse({"job": table.work.start(say("print.job", title=place.make.title), work)})


def _file(request: Request) -> Response:
    """One file, to be looked at or saved; or all as one zip."""
    table, name = request.app.state.table, request.path_params["name"]
    place = table.place(request.path_params["id"], "print")
    printed = table.prints.of(place.make_id, print_stamp(place, unit_of(request)))
    saved = saved_name(place.make.title, name)
    if name == "all.zip" and printed:
        return Response(as_zip(printed, place.make.title), media_type="application/zip",
                        headers={"content-disposition": f'attachment; filename="{saved}"'})
    path = file_of(printed, name)
    opened = "open" in request.query_params and path.suffix in (".pdf", ".svg")
    return FileResponse(path, media_type=KINDS[path.suffix[1:]], filename=saved,
                        content_disposition_type="inline" if opened else "attachment")


ROUTES = [
    Route("/make/{id}/print", _page),
    Route("/make/{id}/print", _start, methods=["POST"]),
    Route("/make/{id}/print/files", _list),
    Route("/make/{id}/print/files/{name}", _file),
    Route("/make/{id}/print/plan/{paper}", _plan),
]
