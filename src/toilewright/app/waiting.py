"""The page of a step that cannot be shown yet: what stops it, and the step where that is put right."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response

from toilewright.app.allowance_forms import allowance_rows
from toilewright.app.corner_forms import corner_rows
from toilewright.app.extra_pieces import shown
from toilewright.app.pages import page
from toilewright.app.steps import Place
from toilewright.app.table import NotReadYet, Table
from toilewright.errors import AlterationError, ToilewrightError


def waiting(request: Request, table: Table, place: Place, title: str, problem: ToilewrightError) -> Response:
    """In the place of a step's own page.

    Args:
        title: its phrase in the catalogue.
        problem: what stops the step.
    """
    step = mended_in(place, problem)
    return page(request, "step_waits.html", place=place, thing=table.make(place.make_id), title=title,
                text=str(problem), step=step, garment=None, extras=shown(place.make, None),
                allowances=allowance_rows(place.make, None), corners=corner_rows(place.make),
                stuck=step == "size" and bool(place.make.extras or place.make.allowances or place.make.corners),
                unread=place.make.pattern if isinstance(problem, NotReadYet) else "")


def mended_in(place: Place, problem: ToilewrightError) -> str:
    """The step, before this one, in which what stops it is put right."""
    if not place.make.body:
        return "measure"
    if not place.make.pattern or isinstance(problem, NotReadYet):
        return "pattern"
    if place.here == "size":
        return "measure"
    return "alter" if isinstance(problem, AlterationError) and place.here != "alter" else "size"
