"""Crotch depth: trousers deeper or shallower between waist and crotch, the legs as they were."""

from __future__ import annotations

from toilewright.fit.alterations.kinds import Alteration, Change, Options, Picture, Size, too_much
from toilewright.fit.alterations.trousers.leg import (
    CROTCH,
    PANEL,
    SIDE,
    SOURCE,
    hip_level,
    out,
    panels,
    place_on,
)
from toilewright.fit.frame import down
from toilewright.fit.moves.edges import corner
from toilewright.fit.moves.opening import open_right_across
from toilewright.fit.moves.ring import Place, point_of
from toilewright.fit.result import Card, Order
from toilewright.geometry.point import Point, dot
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME = "crotch depth"

LEFT = 0.7
"""Of the height from the hip line to the waist: so much must stay when it is folded out (our own choice)."""

CLEAR = 12.0
"""mm; how far the cut stays off the points of the darts if it can."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Deeper by `amount` mm above the hip line (negative: shallower), front and back; waist, inseam and widths stay.

    Options:
        piece: only this one instead of both.

    Raises:
        AlterationError: an edge is missing, or the amount does not fit.
    """
    pictures = {}
    for piece in panels(garment, NAME, options):
        moved, pictures[piece.name] = _deeper(piece, amount)
        garment = garment.with_piece(moved)
    return Change(garment, pictures)


def _deeper(piece: Piece, amount: float) -> tuple[Piece, Picture]:
    level, way = _level(piece), down(piece)
    room = (1 - LEFT) * dot(hip_level(piece) - corner(piece, SIDE, "waist"), way)
    if -amount > room:
        raise too_much(NAME, amount, piece.name, "leaves no room between waist and hip", -room)
    one, other = (Place(edge, place_on(piece, edge, level, NAME)) for edge in (CROTCH, SIDE))
    moved, carried = open_right_across(piece, one, other, amount, "waist", way)
    side = point_of(piece, other)
    return moved, Picture(carried.regions, sizes=(Size(side, side + way * amount, out(piece)),))


def _level(piece: Piece) -> Point:
    """A point half way between the lowest point of a waist dart and the hip line; at the hip line if that is nearer."""
    hip, way = hip_level(piece), down(piece)
    top = corner(piece, SIDE, "waist")
    high = max((dot(d.apex, way) for d in piece.darts_on("waist")), default=dot((top + hip) / 2, way))
    return hip - way * max(dot(hip, way) - high, 0.0) / 2 if dot(hip, way) - high > 2 * CLEAR else hip


def _card(order: Order, change: Change) -> Card:
    amount = order.amount.value
    by, deeper = f"{{{abs(amount):.1f} mm}}", amount > 0
    names = " and ".join(change.pictures)
    steps = (f"On {names}, rule a line square to the grain half way between the points of the darts and the hip line.",
             f"Cut along it, and move the legs down by {by} along the grain, over paper. Tape." if deeper else
             f"Fold out {by} along it, the same all the way across. Tape.",
             "Draw crotch seam and side seam smoothly across the step.")
    check = (f"Crotch seams and side seams are {by} {'longer' if deeper else 'shorter'}.",
             "Waist, inseam, knee and hem are what they were.",
             "The leg now ends as much lower; set its length afterwards." if deeper else
             "The leg now ends as much higher; set its length afterwards.")
    return Card(f"Crotch {'deeper' if deeper else 'shallower'}", ("paper", "tape", "ruler", "curve"), steps, check,
                SOURCE)


ALTERATION = Alteration(
    NAME, ("deeper crotch", "shallow crotch", "lengthen crotch depth", "shorten crotch depth", "body rise"),
    (-40.0, 50.0), SOURCE, 0, apply, _card, {"shallow crotch": -1.0, "shorten crotch depth": -1.0},
    needs=(PANEL,), instead='other pieces take "lengthen or shorten"')
