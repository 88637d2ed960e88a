"""What all drafts share: asking the body for a measure, curves with square ends, straight pieces.

In every draft the grain is vertical, y is up, the centre lies at x = 0 and the side at x > 0; rings run
counter-clockwise. How much ease goes where is our own choice, within what is usual in the trade, and is stated in each
block.
"""

from __future__ import annotations

import cmath
from collections.abc import Callable, Mapping, Sequence
from math import radians

from toilewright.errors import GeometryError, InputError
from toilewright.geometry.meeting import line_meetings
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.pattern.parts import Cut, Edge, EdgeKind, Grain, InnerLine, Notch
from toilewright.pattern.piece import Piece

Measures = Mapping[str, float]
"""Body measures by ISO 8559-1 name, in mm (the shoulder slope in degrees)."""

SEAM = 15.0
"""mm; the allowance of plain seams on envelopes (5/8 in; common practice, no published source)."""

GATHER = 1.8
"""Length of a gathered edge over the length of the edge it is sewn to: 1 1/2 is usual for firm cloth, 2 for medium
(extension leaflets)."""


def measure(body: Measures, name: str) -> float:
    """One body measure.

    Raises:
        InputError: the body does not have it.
    """
    if name not in body:
        raise InputError(f'The draft needs the measure "{name}", which this body does not have; take it, '
                         "or let the body's estimates fill it in.")
    return body[name]


def way(degrees: float) -> Point:
    """Unit direction at an angle from the x axis (degrees, counter-clockwise)."""
    return cmath.rect(1.0, radians(degrees))


def curve(start: Point, along_start: Point, first: float, end: Point, along_end: Point, last: float) -> Path:
    """One cubic between two points with given directions of travel and handle lengths (mm)."""
    return Path.cubic(start, start + along_start / abs(along_start) * first,
                      end - along_end / abs(along_end) * last, end)


def settled(miss: Callable[[float], float], start: float) -> float:
    """The value where `miss` vanishes (secant rule); for lengths that grow about as fast as the value.

    Raises:
        GeometryError: no such value was found.
    """
    x0, x1 = start, start + 1.0
    y0, y1 = miss(x0), miss(x1)
    for _ in range(40):
        if abs(y1) < 1e-9 or y1 == y0:
            break
        x0, x1, y0 = x1, x1 - y1 * (x1 - x0) / (y1 - y0), y1
        y1 = miss(x1)
    if not abs(y1) < 1e-6:
        raise GeometryError("The draft does not close for these measures: one of them does not go with the others; "
                            "measure again, or compare them with a size chart.")
    return x1


def across(name: str, side: Path, y: float, left: float = 0.0) -> InnerLine:
    """An inner line straight across the grain at height y, from x = left to the side edge.

    Raises:
        GeometryError: the side edge does not reach that height.
    """
    reach = max(p.real for p in side.nodes) + 200.0
    hits = line_meetings(side, complex(left, y), complex(reach, y))
    if not hits:
        raise GeometryError(f'The draft has no room for its "{name}": the side seam does not reach that level; '
                            "compare the lengths of this body with a size chart.")
    return InnerLine(name, Path.line(complex(left, y), hits[0].point))


def level_line(name: str, left: Path, right: Path, y: float) -> InnerLine:
    """An inner line straight across the grain at height y, from one edge to another.

    Raises:
        GeometryError: one of them does not reach that height.
    """
    ends = [line_meetings(path, complex(-2000.0, y), complex(2000.0, y)) for path in (left, right)]
    if not all(ends):
        raise GeometryError(f'The draft has no room for its "{name}": an edge does not reach that level; '
                            "compare the lengths of this body with a size chart.")
    return InnerLine(name, Path.line(ends[0][0].point, ends[1][0].point))


def dart_width(share: float, surplus: float) -> float:
    """Width of a waist dart that takes a share of a surplus of cloth (mm); at least 8 mm, so that it can be sewn."""
    return max(8.0, share * surplus)


def upright(x: float, low: float, high: float) -> Grain:
    """A vertical grain arrow, tail at the lower end."""
    return Grain(complex(x, low), complex(x, high))


def strip(name: str, width: float, height: float, names: Sequence[str], kinds: Sequence[EdgeKind],
          allowances: Sequence[float], notches: Sequence[Notch] = (), cut: Cut | None = None) -> Piece:
    """A straight piece with its lower left corner at 0; edges named from the bottom, counter-clockwise."""
    corners = (0j, complex(width, 0), complex(width, height), complex(0, height))
    edges = tuple(
        Edge(edge, Path.line(corners[i], corners[(i + 1) % 4]), kinds[i], allowances[i])
        for i, edge in enumerate(names))
    return Piece(name, edges, notches=tuple(notches), cut=cut or Cut(),
                 grain=upright(width / 2, 0.2 * height, 0.8 * height))
