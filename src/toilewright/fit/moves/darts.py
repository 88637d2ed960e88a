"""Darts that swing, and darts whose point moves."""

from __future__ import annotations

from dataclasses import replace

from toilewright.fit.moves.ring import Place, Region, carry
from toilewright.fit.moves.slash import holds
from toilewright.geometry.affine import Affine
from toilewright.geometry.point import Point, turn, unit
from toilewright.pattern.parts import Dart
from toilewright.pattern.piece import Piece


def swing_dart(piece: Piece, name: str, onto: Place, new_name: str, stays: str) -> Piece:
    """Close a dart and open it at another place of the ring; the angle at its apex is kept.

    Args:
        onto: where the cut to the apex starts.
        stays: an edge on the side that stays.
    """
    dart = piece.dart(name)
    first, second = Place(dart.edge, dart.start), Place(dart.edge, dart.end)
    a, b = piece.feet(dart)
    angle = turn(a - dart.apex, b - dart.apex)
    after_kept = holds(piece, second, onto, stays)
    move = Affine.turn(angle if after_kept else -angle, dart.apex)
    carried = carry(piece, (
        Region(second, onto, (dart.apex,), None if after_kept else move),
        Region(onto, first, (dart.apex,), move if after_kept else None)), closed=(name,))
    opened = Dart(new_name, onto.edge, carried.at(onto.edge, onto.at), carried.at(onto.edge, onto.at, after=True),
                  dart.apex, dart.press)
    return replace(carried.piece, darts=(*carried.piece.darts, opened))


def move_dart(piece: Piece, name: str, apex: Point) -> Piece:
    """Only the point of a dart moves; its mouth stays, turned about its middle until both legs are equal."""
    return replace(piece, darts=tuple(replace(d, apex=apex) if d.name == name else d for d in piece.darts))


def axis(piece: Piece, dart: Dart) -> Point:
    """Unit direction in which a dart points: from the middle of its mouth to its apex."""
    first, second = piece.feet(dart)
    return unit(dart.apex - (first + second) / 2)


def widen_dart(piece: Piece, name: str, by: float) -> Piece:
    """A dart takes up `by` mm more of its edge (less when negative), half of it on each side; its point stays."""
    return replace(piece, darts=tuple(replace(d, start=d.start - by / 2, end=d.end + by / 2) if d.name == name else d
                                      for d in piece.darts))
