"""The pen marks of one piece: cutting and seam lines, fold, grain, darts, notches, inner lines, landmarks."""

from __future__ import annotations

import cmath
from collections.abc import Sequence

from toilewright.cutting.allowances import cutting_line
from toilewright.cutting.marks import drill_marks, notch_feet
from toilewright.draw.figure import Mark, Pen
from toilewright.geometry.meeting import line_meetings
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, dot, unit
from toilewright.pattern.parts import Dart, Edge, EdgeKind, Notch, NotchCut
from toilewright.pattern.piece import Piece

TICK = 8.0
"""mm; length of a notch tick, from the cutting line inwards (common practice: snipped no deeper than half of it)."""

POINT = (6.0, 5.0)
"""mm; how wide and how high the point of a notch is that is cut outward (common practice, no published source)."""

_HEAD, _SPREAD = 7.0, 0.38
_HOLE, _CROSS = 2.0, 3.0
_BRACKET = 16.0


def cut_marks(piece: Piece) -> tuple[Mark, ...]:
    """The cutting line, edge by edge (a fold is drawn with its own pen)."""
    return tuple(Mark(path, Pen.FOLD if edge.kind is EdgeKind.FOLD else Pen.CUT)
                 for edge, path in zip(piece.edges, cutting_line(piece), strict=True))


def outline(piece: Piece) -> Path:
    """The closed cutting line as one path."""
    return Path.joined(cutting_line(piece))


def seam_marks(piece: Piece) -> tuple[Mark, ...]:
    """The seam line, edge by edge, where it is not the cutting line itself."""
    return tuple(Mark(e.path, Pen.SEAM) for e in piece.edges if e.allowance > 0)


def arrow(tail: Point, head: Point, pen: Pen, both: bool = False) -> tuple[Mark, ...]:
    """A shaft with an open head at its end, or at both ends."""
    marks = [Mark(Path.line(tail, head), pen), Mark(_wings(head, unit(head - tail)), pen)]
    if both:
        marks.append(Mark(_wings(tail, unit(tail - head)), pen))
    return tuple(marks)


def _wings(tip: Point, way: Point) -> Path:
    back = -way * _HEAD
    return Path.polyline((tip + back * cmath.rect(1, _SPREAD), tip, tip + back * cmath.rect(1, -_SPREAD)))


def grain_marks(piece: Piece) -> tuple[Mark, ...]:
    """The straight-grain arrow."""
    return arrow(piece.grain.start, piece.grain.end, Pen.GRAIN) if piece.grain else ()


def fold_edges(piece: Piece) -> tuple[Edge, ...]:
    """The edges that lie on a fold of the cloth."""
    return tuple(e for e in piece.edges if e.kind is EdgeKind.FOLD)


def fold_depth(piece: Piece, path: Path) -> float:
    """How far inside a fold its bracket runs: less on small and narrow pieces, which have words to carry (mm)."""
    middle, inwards = path.point_at(path.length / 2), path.normal_at(path.length / 2)
    room = max(dot(p - middle, inwards) for p in piece.outline.nodes)
    return min(_BRACKET, 0.3 * path.length, 0.22 * room)


def fold_bracket(piece: Piece, path: Path) -> tuple[Mark, ...]:
    """The bracketed arrow beside a fold of a piece: both its ends point at the edge."""
    length, depth = path.length, fold_depth(piece, path)
    inset = min(0.15 * length, 60.0)
    first, last = path.point_at(inset), path.point_at(length - inset)
    a, b = (p + path.normal_at(s) * depth for p, s in ((first, inset), (last, length - inset)))
    return (Mark(Path.polyline((first, a, b, last)), Pen.FOLD),
            *(Mark(_wings(p, unit(p - q)), Pen.FOLD) for p, q in ((first, a), (last, b))))


def notch_ticks(piece: Piece, notch: Notch) -> tuple[Mark, ...]:
    """A mark for each cut of a balance mark, square to the seam.

    Clipped, a tick from the cutting line inwards; cut outward, a small point that stands on the cutting line.
    """
    shape = _tick if notch.cut is NotchCut.CLIPPED else _point
    return tuple(Mark(shape(foot, out), Pen.NOTCH) for foot, out in notch_feet(piece, notch))


def _tick(foot: Point, out: Point) -> Path:
    return Path.line(foot, foot - out * TICK)


def _point(foot: Point, out: Point) -> Path:
    side = out * 1j * POINT[0] / 2
    return Path.polyline((foot - side, foot + out * POINT[1], foot + side, foot - side))


def notch_marks(piece: Piece) -> tuple[Mark, ...]:
    """All notches."""
    return tuple(m for n in piece.notches for m in notch_ticks(piece, n))


def dart_legs(piece: Piece, dart: Dart, edge_lines: Sequence[Path] | None = None) -> tuple[Path, Path]:
    """Both legs from the cutting line, through the feet, to the apex."""
    lines = edge_lines or cutting_line(piece)
    index = next(i for i, e in enumerate(piece.edges) if e.name == dart.edge)
    reach = 3 * piece.edges[index].allowance + 5
    legs = []
    for foot in piece.feet(dart):
        way = unit(foot - dart.apex)
        hits = line_meetings(lines[index], foot - way * 0.01, foot + way * reach)
        start = min((m.point for m in hits), key=lambda p: abs(p - foot), default=foot)
        legs.append(Path.line(start, dart.apex))
    return legs[0], legs[1]


def hole(at: Point, radius: float = _HOLE) -> Path:
    """A small circle, as four curves (each off a true circle by less than 0.03 % of the radius)."""
    k = 0.5522847498 * radius
    ring = [at + radius * 1j ** q for q in range(4)]
    handles = tuple((ring[q] + 1j ** (q + 1) * k, ring[(q + 1) % 4] - 1j ** (q + 2) * k) for q in range(4))
    return Path((*ring, ring[0]), handles)


def dart_marks(piece: Piece) -> tuple[Mark, ...]:
    """Legs of all darts."""
    lines = cutting_line(piece) if piece.darts else ()
    return tuple(Mark(leg, Pen.DART) for dart in piece.darts for leg in dart_legs(piece, dart, lines))


def hole_marks(piece: Piece) -> tuple[Mark, ...]:
    """A small circle at each drill mark: inside darts short of their point, at pocket corners and buttons."""
    return tuple(Mark(hole(m.at[0], 1.2), Pen.MARK) for m in drill_marks(piece))


def cross_mark(at: Point, size: float = _CROSS) -> tuple[Mark, ...]:
    """A small upright cross."""
    return (Mark(Path.line(at - size, at + size), Pen.MARK), Mark(Path.line(at - size * 1j, at + size * 1j), Pen.MARK))


def inner_marks(piece: Piece) -> tuple[Mark, ...]:
    """Named inner lines; balance lines, which are drawn or sewn onto the toile itself, stand out."""
    return tuple(Mark(line.path, Pen.MARK if line.name.endswith("balance line") else Pen.GUIDE) for line in piece.lines)
