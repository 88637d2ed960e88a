"""A cut from the centre to a hinge, opened or lapped, and the centre ruled on: more or less length there only."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import asin

from toilewright.errors import GeometryError
from toilewright.fit.moves.bow import NEAR_END, ending_along
from toilewright.fit.moves.edges import (
    SMOOTH,
    Redrawn,
    corner,
    ends_at,
    other_end,
    redraw_across,
    redraw_edge,
    reline,
    run_on,
    shift_end,
    soften,
    towards,
)
from toilewright.fit.moves.ring import Carried, Place, point_of
from toilewright.fit.moves.slash import holds, slash_parallel, slash_spread
from toilewright.geometry.affine import Affine
from toilewright.geometry.point import turn
from toilewright.pattern.piece import Piece


@dataclass(frozen=True, slots=True)
class Opened:
    """A piece opened (or lapped) at its centre.

    Attributes:
        carried: the parts as they were carried, for its picture.
        gained: mm by which the edge that moved has grown to meet the straight centre (negative: shrunk).
    """

    piece: Piece
    carried: Carried
    gained: float


def open_at_centre(piece: Piece, cut: Place, hinge: Place, by: float, edge: str) -> Opened:
    """Cut from the centre to a hinge, swing the part with `edge`, and draw the centre on through the gap.

    The part that stays keeps its grain, the centre its line. `edge` is drawn out (or in) to the centre, which it meets
    at the angle it had; the joint at the hinge is faired.

    Args:
        cut: a place on the centre.
        hinge: where the paper holds, on another edge.
        by: how much longer the centre gets (mm; negative: shorter).
        edge: the edge at that end of the centre that moves.
    """
    arm = abs(point_of(piece, cut) - point_of(piece, hinge))
    if abs(by) >= arm:
        raise GeometryError(f"A cut of {arm / 10:.1f} cm does not lengthen an edge by {abs(by) / 10:.1f} cm.")
    angle = asin(by / arm) * (1.0 if holds(piece, cut, hinge, edge) else -1.0)
    carried = slash_spread(piece, cut, hinge, angle, other_end(piece, cut.edge, edge))
    swung = soften(carried.piece, hinge.edge, carried.at(hinge.edge, hinge.at))
    centre = _centre_moved_on(piece, carried, cut, hinge, by, edge)
    at_end = ends_at(piece, cut.edge, edge)
    here, goal = corner(swung, edge, cut.edge), centre.path.end if at_end else centre.path.start
    drawn = _at_its_angle(piece, edge, cut.edge, shift_end(
        swung, edge, cut.edge, Affine.turn(-angle, here).then(Affine.shift(goal - here))))
    marks = {m.name: goal for m in swung.landmarks if abs(m.at - here) < 1e-3}
    out = redraw_edge(swung, centre, drawn, landmarks=marks)
    return Opened(reline(piece, out, cut.edge, hinge.edge, edge), carried,
                  drawn.path.length - swung.edge(edge).path.length)


def run_centre_on(piece: Piece, centre: str, edge: str, by: float) -> Piece:
    """The centre longer by `by` mm at one end (negative: shorter), the edge there drawn to it from its other end."""
    line = run_on(piece, centre, edge, by)
    here = corner(piece, centre, edge)
    goal = line.path.end if ends_at(piece, centre, edge) else line.path.start
    marks = {m.name: goal for m in piece.landmarks if abs(m.at - here) < 1e-3}
    drawn = _at_its_angle(piece, edge, centre, shift_end(piece, edge, centre, Affine.shift(goal - here)))
    return redraw_edge(piece, line, drawn, landmarks=marks)


def _at_its_angle(piece: Piece, edge: str, centre: str, drawn: Redrawn) -> Redrawn:
    """An edge drawn anew that meets the centre at the angle it had: one that was ruled is bent there."""
    along = towards(piece, edge, centre).end_tangent
    last = ends_at(piece, edge, centre)
    path = drawn.path if last else drawn.path.reversed()
    if abs(turn(path.end_tangent, along)) < SMOOTH:
        return drawn
    stretch = drawn.new[2] - drawn.new[1] if last else drawn.new[1]
    fresh = ending_along(path, along, min(NEAR_END, 0.8 * stretch))
    more = fresh.length - path.length
    if last:
        return replace(drawn, path=fresh, new=(*drawn.new[:-1], fresh.length))
    return replace(drawn, path=fresh.reversed(), new=(0.0, *(s + more for s in drawn.new[1:])))


def _centre_moved_on(piece: Piece, carried: Carried, cut: Place, hinge: Place, by: float, edge: str) -> Redrawn:
    """The centre as it would be if the part that moves had only slid along it."""
    path = piece.edge(cut.edge).path
    along = path.tangent_at(cut.at) * (1.0 if ends_at(piece, cut.edge, edge) else -1.0)
    slid = slash_parallel(piece, cut, hinge, along * by, other_end(piece, cut.edge, edge))
    lap = max(0.0, -by) / 2
    swung_gap, slid_gap = ((c.at(cut.edge, cut.at) - lap, c.at(cut.edge, cut.at, after=True) + lap)
                           for c in (carried, slid))
    line = redraw_across(slid.piece, cut.edge, slid_gap[0] + lap, slid_gap[1] - lap)
    return Redrawn(cut.edge, line.path, (0.0, *swung_gap, carried.piece.edge(cut.edge).path.length),
                   (0.0, *(line.at(s) for s in slid_gap), line.path.length))
