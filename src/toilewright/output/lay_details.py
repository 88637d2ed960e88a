"""What is drawn inside a piece on a lay: grain, notches, darts, drill marks."""

from __future__ import annotations

import cmath
from collections.abc import Iterator

from toilewright.cutting.lay.placing import Place, places_of
from toilewright.cutting.lay.plan import Laid
from toilewright.cutting.marks import drill_marks, notch_feet
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, unit
from toilewright.output.lay_looks import Look, Shape
from toilewright.output.marks import dart_legs, hole
from toilewright.pattern.piece import Piece

_TICK, _APART, _HOLE, _HEAD = 1.7, 1.1, 0.6, 1.8
"""mm on paper: length of a notch, distance of the cuts of a double one, radius of a drill mark, length of an arrow's
head. At the size of the cloth they could not be seen."""

_SPREAD = 0.35


def details(one: Laid, piece: Piece, scale: float, group: str, one_way: bool = False) -> tuple[Shape, ...]:
    """Grain, notches, darts and drill marks of a laid piece.

    Args:
        scale: mm on the cloth for one on paper.
        one_way: has the cloth a direction? Then the grain arrow has one head.
    """
    shapes: list[Shape] = []
    for k, place in enumerate(places_of(one, piece)):
        if k == 0:
            shapes += grain(piece, place, scale, group, one_way)
        shapes += (Shape(leg.mapped(place), Look.DART, group) for dart in piece.darts for leg in dart_legs(piece, dart))
        shapes += (Shape(tick, Look.NOTCH, group) for tick in _ticks(piece, place, scale))
        shapes += (Shape(hole(place(m.at[0]), _HOLE * scale), Look.DRILL, group) for m in drill_marks(piece))
    return tuple(shapes)


def grain(piece: Piece, place: Place, scale: float, group: str, one_way: bool = False) -> Iterator[Shape]:
    """The grain arrow: a head at both ends where the cloth has no direction, as a piece may be turned round on it."""
    if piece.grain is None or piece.grain.start == piece.grain.end:
        return
    tail, head = place(piece.grain.start), place(piece.grain.end)
    yield Shape(Path.line(tail, head), Look.GRAIN, group)
    for tip, way in ((head, unit(head - tail)), (tail, unit(tail - head)))[:1 if one_way else 2]:
        back = -way * min(_HEAD * scale, 0.35 * abs(head - tail))
        yield Shape(Path.polyline((tip + back * cmath.rect(1, _SPREAD), tip, tip + back * cmath.rect(1, -_SPREAD))),
                    Look.GRAIN, group)


def _ticks(piece: Piece, place: Place, scale: float) -> Iterator[Path]:
    """The cuts of every balance mark, from the cutting line inwards, far enough apart to be counted on paper."""
    for notch in piece.notches:
        feet = notch_feet(piece, notch)
        middle = sum(foot for foot, _ in feet) / len(feet)
        out = unit(sum(way for _, way in feet)) if len(feet) > 1 else feet[0][1]
        at, way = place(middle), unit(place(middle + out) - place(middle))
        for step in _steps(len(feet)):
            foot: Point = at + way * 1j * step * _APART * scale
            yield Path.line(foot, foot - way * _TICK * scale)


def _steps(count: int) -> tuple[float, ...]:
    return tuple(k - (count - 1) / 2 for k in range(count))
