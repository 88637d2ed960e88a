"""A wedge folded out of an edge to a point inside, another cut opening by the same angle: how gaping is taken out."""

from __future__ import annotations

from toilewright.fit.moves.edges import reline, soften
from toilewright.fit.moves.ring import Carried, Place, Region, carry
from toilewright.fit.moves.slash import holds
from toilewright.geometry.affine import Affine
from toilewright.geometry.point import Point, turn
from toilewright.pattern.parts import Dart
from toilewright.pattern.piece import Piece


def fold_out(piece: Piece, fold: Place, by: float, point: Point, onto: Place, stays: str) -> tuple[Piece, Carried]:
    """Fold a wedge out at an edge, so wide that the edge is `by` mm shorter; the cut from `onto` to the point opens.

    The edge is faired where the wedge was. A dart whose foot is `onto` takes the opening; elsewhere a gap is left.

    Args:
        fold: the middle of the wedge.
        stays: an edge on the side that stays.

    Returns:
        the piece; and the parts as they were carried, for its picture.
    """
    width, old = by, piece.sewn_length(fold.edge)
    for _ in range(4):
        carried = _folded(piece, fold, width, point, onto, stays)
        lips = carried.at(fold.edge, fold.at - width / 2), carried.at(fold.edge, fold.at + width / 2, after=True)
        out = soften(carried.piece, fold.edge, sum(lips) / 2)
        width *= by / (old - out.sewn_length(fold.edge))
    return reline(piece, out, fold.edge, onto.edge), carried


def _folded(piece: Piece, fold: Place, width: float, point: Point, onto: Place, stays: str) -> Carried:
    first, second = Place(fold.edge, fold.at - width / 2), Place(fold.edge, fold.at + width / 2)
    a, b = (piece.edge(p.edge).path.point_at(p.at) for p in (first, second))
    angle = turn(a - point, b - point)
    kept = holds(piece, second, onto, stays)
    move = Affine.turn(angle if kept else -angle, point)
    return carry(piece, (Region(second, onto, (point,), None if kept else move),
                         Region(onto, first, (point,), move if kept else None)))


def foot_beside(piece: Piece, dart: Dart, fold: Place, stays: str) -> Place:
    """The foot of a dart that lies towards the part that moves when a wedge is folded out: its leg is cut."""
    kept = holds(piece, fold, Place(dart.edge, dart.start), stays)
    return Place(dart.edge, dart.end if kept else dart.start)


def square_to(piece: Piece, edge: str, point: Point, least: float = 0.25) -> Place:
    """Where an edge lies square to the line from a point, but not nearer to its ends than a share of its length."""
    path = piece.edge(edge).path
    return Place(edge, min(max(path.nearest(point)[0], least * path.length), (1 - least) * path.length))
