"""How a cloth lies on the table, folded or open, and what may not be used of it there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from toilewright.cutting.cloth import Cloth, Fold
from toilewright.errors import InputError
from toilewright.geometry.point import Point
from toilewright.packing.problem import Outline
from toilewright.units import show_both

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

SLIVER = 0.01
"""mm; what is left of a flaw or of a remnant's edge and is nowhere as wide is noise of the arithmetic."""

THREAD = 0.2
"""mm; a flaw that is nowhere as wide is taken to be a pulled thread, and as wide as one."""

_FAR = 10_000.0  # mm beyond any end of the cloth


@dataclass(frozen=True, slots=True)
class Spread:
    """A cloth as it lies.

    Attributes:
        height: from y = 0 to the far edge (mm).
        depth: how deep it is folded (mm), the doubled band being y from 0 to here; None where it lies open.
    """

    height: float
    depth: float | None = None

    def on_cloth(self, y: float, upper: bool) -> float:
        """Where y on the table is on the open cloth, measured from the near selvedge (mm)."""
        if self.depth is None:
            return y
        return self.depth - y if upper else self.depth + y


def spread(cloth: Cloth, fold: Fold) -> Spread:
    """A cloth laid in one of the four ways (a part-folded one: its folded part).

    A cloth with stripes along it is folded on a main stripe, the one at or just before the middle, so that both
    layers show the same; the rest beside it stays single.

    Raises:
        InputError: the depth of the fold does not go with the width.
    """
    if fold is Fold.OPEN:
        return Spread(cloth.width)
    if fold is not Fold.DEPTH:
        depth = _on_a_stripe(cloth, cloth.width / 2)
        return Spread(cloth.width - depth, depth)
    if not 0.0 < cloth.fold_depth <= cloth.width / 2 + 1e-9:
        raise InputError(f"The cloth cannot be folded {show_both(cloth.fold_depth)} deep: it is "
                         f"{show_both(cloth.width)} wide, so give a depth of up to {show_both(cloth.width / 2)}.")
    depth = _on_a_stripe(cloth, cloth.fold_depth)
    return Spread(cloth.width - depth, depth)


def _on_a_stripe(cloth: Cloth, depth: float) -> float:
    """The depth, less what brings the fold onto a main stripe."""
    pitch = cloth.repeat.across
    if pitch <= 0.0:
        return depth
    off = (depth - cloth.repeat.first_across) % pitch
    return depth if off < 1e-6 or pitch - off < 1e-6 or depth - off <= 0.0 else depth - off


def forbidden(cloth: Cloth, way: Spread, start: float = 0.0) -> tuple[Outline, ...]:
    """What nothing may lie on, in the frame of a section that starts at `start` along the cloth.

    Flaws, and what a remnant lacks of its rectangle; where the cloth is folded, those of either layer.
    """
    if not cloth.flaws and cloth.outline is None:
        return ()
    from shapely import box, union_all
    from shapely.affinity import affine_transform, translate

    bad: list[BaseGeometry] = [_flaw(flaw) for flaw in cloth.flaws]
    if cloth.outline is not None:
        bad.append(lacking(cloth))
    area = union_all(bad)
    if way.depth is not None:
        upper = affine_transform(area.intersection(box(-_FAR, 0.0, _FAR * 10, way.depth)),
                                 (1, 0, 0, -1, 0, way.depth))
        lower = translate(area, 0.0, -way.depth).intersection(box(-_FAR, 0.0, _FAR * 10, way.height))
        area = union_all([upper, lower])
    area = translate(area, -start, 0.0).intersection(box(0.0, 0.0, _FAR * 10, way.height))
    return tuple(_outlines(area))


def _flaw(outline: Outline) -> BaseGeometry:
    """What a flaw takes up on the open cloth (shapely)."""
    from shapely import make_valid
    from shapely.geometry import Polygon

    shape = make_valid(Polygon(_xy(outline)))
    thin = shape.buffer(-THREAD / 2).is_empty
    return shape.buffer(THREAD / 2 if thin else 0.0, cap_style="square", join_style="mitre")


def lacking(cloth: Cloth) -> BaseGeometry:
    """What an irregular remnant lacks of the rectangle round it (shapely, open cloth)."""
    from shapely import box
    from shapely.geometry import Polygon

    shape = Polygon(_xy(cloth.outline or ())).buffer(0)
    return box(0.0, 0.0, shape.bounds[2], cloth.width).difference(shape)


def end_of(cloth: Cloth) -> float | None:
    """Where the cloth ends (mm from its cut end), or None where it is still to be bought."""
    ends = [] if cloth.length is None else [cloth.length]
    if cloth.outline is not None:
        ends.append(max(p.real for p in cloth.outline))
    return min(ends, default=None)


def _xy(outline: Iterable[Point]) -> list[tuple[float, float]]:
    return [(p.real, p.imag) for p in outline]


def _outlines(area: BaseGeometry) -> Iterator[Outline]:
    """Simple polygons, counter-clockwise, that make up an area; one with a hole in it is cut through the hole."""
    from shapely import box
    from shapely.geometry import Polygon
    from shapely.geometry.polygon import orient

    for part in getattr(area, "geoms", [area]):
        if not isinstance(part, Polygon) or part.buffer(-SLIVER / 2).is_empty:
            continue
        if part.interiors:
            x0, y0, x1, y1 = part.bounds
            middle = part.interiors[0].centroid.x
            for half in (box(x0, y0, middle, y1), box(middle, y0, x1, y1)):
                yield from _outlines(part.intersection(half))
        else:
            yield tuple(complex(x, y) for x, y in orient(part).exterior.coords[:-1])
