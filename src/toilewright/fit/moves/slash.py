"""Cut and spread: to a hinge, or right across."""

from __future__ import annotations

from toilewright.fit.moves.ring import Carried, Place, Region, carry, point_of
from toilewright.geometry.affine import Affine
from toilewright.geometry.point import Point
from toilewright.pattern.piece import Piece


def slash_spread(piece: Piece, cut: Place, hinge: Place, angle: float, stays: str) -> Carried:
    """Cut straight from one place to a hinge on the seam line, and swing one side open.

    Args:
        angle: radians, counter-clockwise, by which the side that moves turns about the hinge.
        stays: an edge that lies wholly on the side that stays.
    """
    return _two(piece, cut, hinge, Affine.turn(angle, point_of(piece, hinge)), stays)


def slash_parallel(piece: Piece, one: Place, other: Place, by: Point, stays: str) -> Carried:
    """Cut straight from place to place, and move one side away (or over the cut) by a vector (mm).

    Args:
        stays: an edge that lies wholly on the side that stays.
    """
    return _two(piece, one, other, Affine.shift(by), stays)


def _two(piece: Piece, one: Place, other: Place, move: Affine, stays: str) -> Carried:
    kept = holds(piece, one, other, stays)
    return carry(piece, (Region(one, other, move=None if kept else move),
                         Region(other, one, move=move if kept else None)))


def holds(piece: Piece, start: Place, end: Place, edge: str) -> bool:
    """Does the middle of an edge lie on the stretch of the ring from start to end, counter-clockwise?"""
    names = [e.name for e in piece.edges]

    def along(place: Place) -> tuple[int, float]:
        return names.index(place.edge), place.at

    here = along(Place(edge, piece.edge(edge).path.length / 2))
    a, b = along(start), along(end)
    return a <= here <= b if a <= b else here >= a or here <= b
