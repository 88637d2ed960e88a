"""Part of a dart, or all of it, swung about the bust point to another place of the ring."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import asin, copysign

from toilewright.fit.moves.edges import reline
from toilewright.fit.moves.ring import Carried, Place, Region, carry
from toilewright.fit.moves.slash import holds
from toilewright.geometry.affine import Affine
from toilewright.geometry.point import Point, dot, turn, unit
from toilewright.pattern.parts import Dart, Press
from toilewright.pattern.piece import Piece

WHOLE = 0.05
"""mm; what is left of a dart narrower than this is nothing."""


@dataclass(frozen=True, slots=True)
class Swung:
    """A piece whose dart gave room elsewhere: where it opened, and the parts as they were carried.

    The opening lies from `start` to `end` on the edge that was cut, still as a gap.
    """

    piece: Piece
    carried: Carried
    edge: str
    start: float
    end: float


def swing_part(piece: Piece, name: str, by: float, pivot: Point, onto: Place, stays: str) -> Swung:
    """A dart closed by `by` mm at its mouth, about a pivot on its axis; the cut from `onto` to the pivot opens for it.

    Args:
        onto: another place of the ring; a foot of another dart opens that dart.
        stays: an edge on the side that stays.

    Returns:
        the piece, its dart narrower with its point as far from the pivot as it was, or gone.
    """
    dart = piece.dart(name)
    first, second = Place(dart.edge, dart.start), Place(dart.edge, dart.end)
    a, b = piece.feet(dart)
    whole = turn(a - pivot, b - pivot)
    angle = copysign(2 * asin(min(1.0, by / (2 * abs(a - pivot)))), whole)
    gone = by > abs(b - a) - WHOLE
    angle = whole if gone else angle
    kept = holds(piece, second, onto, stays)
    move = Affine.turn(angle if kept else -angle, pivot)
    feet = (a, b) if gone else (move(a), b) if kept else (a, move(b))
    stop = abs(dart.apex - pivot)
    point = dart.apex if gone else pivot + unit(sum(feet) / 2 - pivot) * stop
    carried = carry(piece, (Region(second, onto, (pivot,), None if kept else move),
                            Region(onto, first, (pivot,), move if kept else None)),
                    (name,) if gone else (), {} if gone else {name: point})
    start, end = carried.at(onto.edge, onto.at), carried.at(onto.edge, onto.at, after=True)
    return Swung(reline(piece, carried.piece, dart.edge, onto.edge), carried, onto.edge, start, end)


def with_dart(swung: Swung, name: str, pivot: Point, stops: float, towards: Point) -> Piece:
    """The opening made into a dart that aims at the pivot and stops so many mm short of it.

    Args:
        towards: direction in which its fold is pressed.
    """
    path = swung.piece.edge(swung.edge).path
    first, second = path.point_at(swung.start), path.point_at(swung.end)
    press = Press.TO_START if dot(first - second, towards) > 0 else Press.TO_END
    dart = Dart(name, swung.edge, swung.start, swung.end, (first + second) / 2, press)
    return aimed(replace(swung.piece, darts=(*swung.piece.darts, dart)), name, pivot, stops)


def aimed(piece: Piece, name: str, pivot: Point, stops: float) -> Piece:
    """The point of a dart put on the line from the middle of its mouth to a pivot, so many mm short of it."""
    dart = piece.dart(name)
    apex = pivot + unit(sum(piece.feet(dart)) / 2 - pivot) * stops
    return replace(piece, darts=tuple(replace(d, apex=apex) if d is dart else d for d in piece.darts))
