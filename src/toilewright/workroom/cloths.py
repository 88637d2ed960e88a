"""The cloth of a make, from what the shelf says and what she chose, as the recipe has it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from toilewright.cutting.requirement import LEAST_SHRINKAGE, MOST_SHRINKAGE, SELVEDGE, SoldBy
from toilewright.errors import InputError
from toilewright.make.cloth_row import read_row
from toilewright.make.cloth_wish import ClothWish, LayWish
from toilewright.workroom.documents import ClothDoc, LayRow, MakeDoc


def shrinkage(cloth: ClothDoc) -> tuple[float | None, float | None]:
    """What washing takes of length and width, as a part; None where no square was measured.

    Raises:
        InputError: a square that grew or shrank more than cloth does.

    >>> shrinkage(ClothDoc("lawn", square={"before": 500.0, "along": 485.0, "across": 495.0}))
    (0.03, 0.01)
    """
    before = cloth.square.get("before")
    if not before:
        return None, None
    along, across = (None if side is None else round(1.0 - side / before, 6)
                     for side in (cloth.square.get("along"), cloth.square.get("across")))
    for part, way in ((along, "lengthways"), (across, "across")):
        if part is not None and not LEAST_SHRINKAGE <= part <= MOST_SHRINKAGE:
            did = f"lost {100 * part:.0f} %" if part > 0 else f"grew by {-100 * part:.0f} %"
            raise InputError(f'The washed square of "{cloth.name}" {did} {way}; no cloth that is sewn does that, so '
                             "measure both sides again, pressed flat and not stretched.")
    return along, across


def wishes_of(make: MakeDoc, shelf: Mapping[str, ClothDoc], unit: str = "cm") -> tuple[ClothWish, ...]:
    """The cloths of a make as its recipe has them.

    Args:
        shelf: cloths by their id; one that is not there is taken for cloth that is still to be bought.
        unit: ``cm`` or ``in``: where lengths are in inches, cloth is sold by the yard.

    Raises:
        InputError: what the shelf or the make says of a cloth cannot be.
    """
    return tuple(wish_of(row, shelf.get(row.cloth), unit) for row in make.lays)


def wish_of(row: LayRow, doc: ClothDoc | None, unit: str = "cm") -> ClothWish:
    """One cloth of a make; as :func:`wishes_of`."""
    said = _entries(row, SoldBy.YARD if unit == "in" else SoldBy.METRE)
    if doc is not None:
        said |= _on_the_shelf(doc, SoldBy(said["sold_by"]), priced="prices" in said)
    elif row.width is not None:
        said["width"] = _mm(row.width)
    return read_row(said, unit, f'cloth "{doc.name if doc else row.use}"', row.use)


def lay_wish(make: MakeDoc) -> LayWish:
    """How the pieces of a make are to be laid."""
    return LayWish(gap=make.lay_gap)


def _entries(row: LayRow, sold_by: SoldBy) -> dict[str, Any]:
    """What the make says, as the row of a make file."""
    said: dict[str, Any] = {"sold_by": sold_by.value, "match": list(row.match),
                            "pieces": list(row.pieces)}
    if row.fold == "depth" and row.depth is not None:
        said["fold"] = _mm(row.depth)
    elif row.fold == "depth":
        raise InputError(f'The cloth "{row.use}" is to be folded to a depth, but it does not say how deep; write it, '
                         "such as 30 cm.")
    elif row.fold:
        said["fold"] = row.fold
    if row.prices:
        said["prices"] = {_mm(float(width)): price * sold_by.whole / 1000.0 for width, price in row.prices.items()}
    if row.envelope:
        said["envelope"] = {_mm(float(width)): _mm(length) for width, length in row.envelope.items()}
    return said


def _on_the_shelf(doc: ClothDoc, sold_by: SoldBy, priced: bool) -> dict[str, Any]:
    """What the shelf says, as entries of the row of a make file."""
    said: dict[str, Any] = {"washed": doc.washed, "one_way": doc.one_way, "sided": doc.sided,
                            "border": _mm(doc.border)}
    if doc.outline:
        said["outline"] = [[_mm(x), _mm(y)] for x, y in doc.outline]
    else:
        if doc.width is not None:
            said["width"] = _mm(doc.width + 2 * SELVEDGE)
        if doc.length is not None:
            said["length"] = _mm(doc.length)
    if not doc.washed:
        said["shrinkage"] = [_part(part) for part in shrinkage(doc)]
    said["stretch"] = [_part(doc.stretch_along), _part(doc.stretch_across)]
    if doc.weight is not None:
        said["weight"] = doc.weight
    said["repeat"] = {name: _mm(mm) for name, mm in (
        ("along", doc.repeat_along), ("across", doc.repeat_across),
        ("first_along", doc.repeat_along and doc.first_along),
        ("first_across", doc.repeat_across and doc.first_across)) if mm}
    said["flaws"] = [[_mm(f.x), _mm(f.y), _mm(f.along), _mm(f.across)] for f in doc.flaws]
    if doc.price is not None and not priced:
        said["price"] = doc.price * sold_by.whole / 1000.0
    return said


def _mm(length: float) -> str:
    return f"{length:.3f} mm"


def _part(part: float | None) -> str:
    return f"{100 * (part or 0.0):.4f} %"
