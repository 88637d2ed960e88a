"""The shelf: every cloth with what it is, how much is there, and which makes are of it."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from toilewright.app.pages import page, unit_of
from toilewright.app.words import say
from toilewright.units import show_length
from toilewright.workroom.documents import ClothDoc, Kind

DRAPES = ("stiff", "crisp", "soft", "fluid", "stretchy")
"""How a cloth hangs, in a word; what each means stands in the catalogue."""

GRAMS_PER_OUNCE = 28.349523125 / (0.9144 * 0.9144)
"""g/m² in one oz/yd² (exact, by definition of pound and yard)."""


def _page(request: Request) -> Response:
    room, unit = request.app.state.table.room, unit_of(request)
    makes = room.things(Kind.MAKE)
    rows = [(thing, facts(thing.document, unit), [m for m in makes if thing.id in m.document.cloths])
            for thing in room.things(Kind.CLOTH)]
    return page(request, "shelf.html", rows=rows, removed=room.things(Kind.CLOTH, removed=True), drapes=DRAPES,
                long_unit="yd" if unit == "in" else "m", shown=fields, grams=GRAMS_PER_OUNCE if unit == "in" else 1.0,
                today=room.today())


def facts(cloth: ClothDoc, unit: str) -> list[str]:
    """What is known of a cloth, in a few words each."""
    long = "yd" if unit == "in" else "m"
    found = [cloth.fibre]
    if cloth.width is not None:
        found.append(say("shelf.fact_width", width=show_length(cloth.width, unit)))
    if cloth.length is not None:
        found.append(say("shelf.fact_length", length=show_length(cloth.length, long)))
    if cloth.weight is not None:
        found.append(say("shelf.fact_weight_" + unit, weight=weight_shown(cloth.weight, unit)))
    if cloth.drape in DRAPES:
        found.append(say("shelf.drape_" + cloth.drape))
    elif cloth.drape:
        found.append(cloth.drape)
    found.append(say("shelf.washed" if cloth.washed else "shelf.not_washed"))
    return [words for words in found if words]


def fields(cloth: ClothDoc, unit: str) -> dict[str, str]:
    """Lengths and weight as they stand in the fields, without their unit."""
    long = "yd" if unit == "in" else "m"
    return {"width": "" if cloth.width is None else show_length(cloth.width, unit).rpartition(" ")[0],
            "length": "" if cloth.length is None else show_length(cloth.length, long).rpartition(" ")[0],
            "weight": "" if cloth.weight is None else weight_shown(cloth.weight, unit)}


def weight_shown(grams: float, unit: str) -> str:
    """Grams per square metre, or ounces per square yard, as a number."""
    return f"{grams / GRAMS_PER_OUNCE:.1f}" if unit == "in" else f"{grams:.0f}"


ROUTES = [Route("/shelf", _page)]
