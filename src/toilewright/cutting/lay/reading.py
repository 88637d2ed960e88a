"""What is read off a lay by those who check it: where a piece lies on the open cloth, which hand it is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from toilewright.cutting.lay.plan import Laid, Lay, Layer

if TYPE_CHECKING:
    from shapely.geometry import Polygon

TOUCH = 0.01
"""mm; outlines may come so far into each other, or out of the cloth, by the arithmetic (a thread is 0.2 mm)."""


def other_hand(laid: Laid) -> bool:
    """Does the cut piece come out as the mirror image of the drawn one? The lower of two layers is the other hand of
    the upper; an even piece has no hands."""
    if laid.piece.even or laid.piece.on_fold:
        return False
    return laid.pose.mirrored != (laid.layer is Layer.LOWER)


def unfolded(laid: Laid, lay: Lay) -> Polygon:
    """Where a piece comes to lie once the cloth is opened out (shapely; x along, y from the near selvedge)."""
    from shapely import union_all
    from shapely.geometry import Polygon

    depth = lay.sections[laid.section].fold_depth
    if depth is None:
        return Polygon([(p.real, p.imag) for p in laid.outline])
    flap = Polygon([(p.real, depth - p.imag) for p in laid.outline])
    below = Polygon([(p.real, depth + p.imag) for p in laid.outline])
    if laid.layer is Layer.BOTH:
        return union_all([flap, below])
    return flap if laid.layer is Layer.UPPER else below


def where(one: Laid, mark: str, lay: Lay) -> tuple[float, float]:
    """A mark of a piece on the open cloth."""
    at = next(m.at for m in one.piece.marks if m.name == mark)
    p = one.pose.of(at) + one.at
    depth = lay.sections[one.section].fold_depth
    y = p.imag if depth is None else (depth - p.imag if one.layer is Layer.UPPER else depth + p.imag)
    return p.real, y


def by_piece(lay: Lay) -> dict[tuple[str, str], list[Laid]]:
    """All copies of each piece, by make and name."""
    found: dict[tuple[str, str], list[Laid]] = {}
    for one in lay.laid:
        found.setdefault((one.piece.make, one.piece.name), []).append(one)
    return found


def called(one: Laid) -> str:
    """What a sentence calls one copy of a piece."""
    whose = f" of {one.piece.make}" if one.piece.make else ""
    return f'"{one.piece.name}"{whose} (copy {one.copy})'
