"""A cut opened or lapped, and what it broke drawn anew: the way most alterations go."""

from __future__ import annotations

from math import asin

from toilewright.errors import GeometryError
from toilewright.fit.moves.edges import redraw_across, redraw_edge, reline, soften
from toilewright.fit.moves.ring import Carried, Place, point_of
from toilewright.fit.moves.slash import holds, slash_parallel, slash_spread
from toilewright.geometry.point import Point, unit
from toilewright.pattern.piece import Piece


def open_cut(piece: Piece, cut: Place, hinge: Place, by: float, stays: str) -> tuple[Piece, Carried]:
    """Cut straight to a hinge on the seam line and swing one side, until the lips of the cut are `by` mm apart.

    The edge that was cut is redrawn across the gap, and the joint at the hinge faired. A negative amount laps.

    Args:
        cut: where the cut starts.
        hinge: where the paper holds, on another edge.
        stays: an edge that lies wholly on the side that stays.

    Returns:
        the piece, healed; and the regions as they were carried, for its picture.

    Raises:
        GeometryError: the cut is too short to open so far.
    """
    arm = abs(point_of(piece, cut) - point_of(piece, hinge))
    if abs(by) >= 2 * arm:
        raise GeometryError(f"A cut of {arm / 10:.1f} cm does not open by {abs(by) / 10:.1f} cm.")
    angle = 2 * asin(by / (2 * arm))
    carried = slash_spread(piece, cut, hinge, angle if _moves_first(piece, cut, hinge, stays) else -angle, stays)
    return _healed(piece, carried, (cut,), hinge), carried


def open_right_across(piece: Piece, one: Place, other: Place, by: float, stays: str,
                      way: Point | None = None) -> tuple[Piece, Carried]:
    """Cut straight from edge to edge and move the parts `by` mm apart (over each other when negative).

    Args:
        stays: an edge that lies wholly on the side that stays.
        way: the direction of the move; square to the cut when not given.

    Returns:
        as :func:`open_cut`.
    """
    along = unit(point_of(piece, other) - point_of(piece, one))
    # Seen along the cut, the stretch of the ring from its first place to its last lies on the right.
    square = along * (-1j if _moves_first(piece, one, other, stays) else 1j)
    carried = slash_parallel(piece, one, other, (square if way is None else way) * by, stays)
    return _healed(piece, carried, (one, other), None), carried


def _moves_first(piece: Piece, start: Place, end: Place, stays: str) -> bool:
    """Is it the stretch from `start` to `end`, counter-clockwise, that moves?"""
    return not holds(piece, start, end, stays)


def _healed(piece: Piece, carried: Carried, cuts: tuple[Place, ...], hinge: Place | None) -> Piece:
    out = carried.piece
    if hinge is not None:
        out = soften(out, hinge.edge, carried.at(hinge.edge, hinge.at))
    for place in cuts:
        gap = carried.at(place.edge, place.at), carried.at(place.edge, place.at, after=True)
        out = redraw_edge(out, redraw_across(out, place.edge, *gap))
    return reline(piece, out, *{p.edge for p in (*cuts, *((hinge,) if hinge else ()))})
