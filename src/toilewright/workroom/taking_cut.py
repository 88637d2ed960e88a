"""What a make file says of cloth and cutting, as rows of the store; lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from toilewright.cutting.cloth import Cloth, Fold
from toilewright.cutting.extra import find_kind
from toilewright.cutting.extra.kinds import Asks, Value
from toilewright.cutting.requirement import SQUARING
from toilewright.make.cloth_wish import ClothWish
from toilewright.make.recipe import Make
from toilewright.make.recipe_extra import ExtraWish
from toilewright.units import show_length
from toilewright.workroom.cut_rows import AllowanceRow, CornerRow, ExtraRow, LayRow
from toilewright.workroom.documents import ClothDoc, FlawRow, Kind, new_id
from toilewright.workroom.store import Workroom

SQUARE = 1000.0
"""mm; the side of the washed square that stands for a shrinkage given as a part."""


def cutting_rows(make: Make) -> dict[str, Any]:
    """Allowances, corners, notches, extra pieces and the gap of a make file, as entries of a
    :class:`~toilewright.workroom.documents.MakeDoc`."""
    return {
        "allowances": tuple(AllowanceRow(new_id(), one.at, one.amount) for one in make.allowances),
        "corners": tuple(CornerRow(new_id(), one.piece, "/".join(one.edges), one.cut.value, one.first)
                         for one in make.corners),
        "notches": "" if make.notches is None else make.notches.value,
        "extras": tuple(ExtraRow(new_id(), one.kind, dict(_written(one))) for one in make.extras),
        "lay_gap": make.lay.gap,
    }


def cloth_rows(room: Workroom, make: Make) -> dict[str, Any]:
    """The cloths of a make file, as entries of a MakeDoc; what says more than a width goes onto the shelf."""
    lays = []
    for wish in make.cloths:
        doc = _on_the_shelf(wish, f"{make.title}: {wish.use}", make.unit)
        cloth = "" if doc is None else _kept(room, doc)
        lays.append(_row(wish, cloth))
    return {"lays": tuple(lays), "cloths": tuple(dict.fromkeys(row.cloth for row in lays if row.cloth))}


def _written(wish: ExtraWish) -> Iterator[tuple[str, str]]:
    """Its options as words; a usual value is left out."""
    kind = find_kind(wish.kind)
    for name, value in wish.options:
        option = kind.option(name, wish.kind)
        if value != option.default:
            yield name, _words(option.asks, value)


def _words(asks: Asks, value: Value) -> str:
    if isinstance(value, tuple):
        return " + ".join(f"{one:g} mm" for one in value)
    if isinstance(value, str):
        return value
    return f"{value:g} mm" if asks in (Asks.LENGTH, Asks.LENGTHS) else f"{value:g}"


def _row(wish: ClothWish, cloth: str) -> LayRow:
    return LayRow(new_id(), wish.use, cloth, None if cloth else wish.bought_width,
                  "" if wish.fold is None else wish.fold.value,
                  wish.cloth.fold_depth if wish.fold is Fold.DEPTH else None, wish.match, wish.pieces,
                  {f"{width:.0f}": length for width, length in wish.envelope},
                  {f"{width:.0f}": price for width, price in wish.prices if width})


def _kept(room: Workroom, doc: ClothDoc) -> str:
    """The id of a cloth on the shelf; the same one is not put there twice."""
    def plain(one: ClothDoc) -> ClothDoc:
        return replace(one, flaws=tuple(replace(flaw, id="") for flaw in one.flaws))

    same = next((t for t in room.things(Kind.CLOTH) if plain(t.document) == plain(doc)), None)
    return (same or room.add(Kind.CLOTH, doc, "taken from a make file")).id


def _on_the_shelf(wish: ClothWish, name: str, unit: str) -> ClothDoc | None:
    """The cloth itself; None where nothing is said but how wide it is sold, or what it costs by width."""
    cloth = wish.cloth
    price = next((price for width, price in wish.prices if not width), None)
    square = {} if cloth.shrinks_along == cloth.shrinks_across == 0.0 else {
        "before": SQUARE, "along": SQUARE * (1 - cloth.shrinks_along), "across": SQUARE * (1 - cloth.shrinks_across)}
    doc = ClothDoc(
        name, length=wish.bought_length, weight=cloth.weight, washed=wish.washed, square=square,
        note=_also(wish, unit), stretch_along=cloth.stretch_along or None, stretch_across=cloth.stretch_across or None,
        one_way=cloth.one_way, sided=cloth.sided, repeat_along=cloth.repeat.along, repeat_across=cloth.repeat.across,
        first_along=cloth.repeat.first_along, first_across=cloth.repeat.first_across, border=cloth.border,
        flaws=tuple(_flaw(cloth, number) for number in range(len(cloth.flaws))),
        outline=tuple((p.real, p.imag) for p in cloth.outline or ()), price=price)
    if doc == ClothDoc(name):
        return None
    return doc if wish.bought_width is None else replace(doc, width=wish.bought_width - 2 * wish.selvedge)


def _flaw(cloth: Cloth, number: int) -> FlawRow:
    """The rectangle round a flaw."""
    x, y = [p.real for p in cloth.flaws[number]], [p.imag for p in cloth.flaws[number]]
    return FlawRow(new_id(), min(x), min(y), max(x) - min(x), max(y) - min(y))


def _also(wish: ClothWish, unit: str) -> str:
    """What a make file may say and the shelf has no place for, in words."""
    said = []
    if wish.squaring != (SQUARING if wish.cloth.outline is None else 0.0):
        said.append(f"{show_length(wish.squaring, unit or 'cm')} to square each end")
    if wish.margin:
        said.append(f"{show_length(wish.margin, unit or 'cm')} for mishaps")
    if wish.cloth.grain_tolerance:
        said.append(f"the grain may be turned by {wish.cloth.grain_tolerance:g} degrees")
    if wish.overhang is not None:
        said.append(f"a strip of it bent over the edge of a table at {show_length(wish.overhang, unit or 'cm')}")
    return f"The make file also says: {'; '.join(said)}." if said else ""
