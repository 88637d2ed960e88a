"""Neckline raised or lowered at the centre, the shoulder seam keeping its length."""

from __future__ import annotations

from toilewright.fit.alterations.kinds import (
    FRONT_AND_BACK,
    Alteration,
    Change,
    Need,
    Options,
    Picture,
    Size,
    too_much,
)
from toilewright.fit.alterations.neck_and_shoulder.halves import (
    halves,
    needed_centre,
    towards_tip,
    where_it_is,
)
from toilewright.fit.frame import down
from toilewright.fit.moves.centre import run_centre_on
from toilewright.fit.moves.edges import corner
from toilewright.fit.result import Card, Order
from toilewright.geometry.point import dot
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME = "neckline height"

LEFT_OVER = 120.0
"""mm of the centre that must stay below a lowered neck (our own choice: a hand's width above the waist)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Neck higher by `amount` mm at the centre (lower when negative), tapering to nothing at the shoulder.

    Options:
        where: ``front`` unless told ``back`` or ``both``.
        front, back: names of the pieces, ``bodice front`` and ``bodice back`` unless told otherwise.

    Raises:
        AlterationError: a piece or an edge is missing, or the amount does not fit.
    """
    pictures = {}
    for piece in halves(garment, NAME, options, "front", "neck", "shoulder"):
        centre = needed_centre(piece, NAME)
        _check(piece, centre, amount)
        drawn = run_centre_on(piece, centre, "neck", amount)
        garment = garment.with_piece(drawn)
        pictures[piece.name] = _picture(piece, drawn, centre)
    return Change(garment, pictures)


def _check(piece: Piece, centre: str, amount: float) -> None:
    drop = dot(corner(piece, "neck", centre) - corner(piece, "neck", "shoulder"), down(piece))
    if amount > drop:
        raise too_much(NAME, amount, piece.name, "brings the neck above the shoulder seam", drop)
    most = piece.edge(centre).path.length - LEFT_OVER
    if -amount > most:
        raise too_much(NAME, amount, piece.name, "brings the neck down to the waist", -most)


def _picture(old: Piece, new: Piece, centre: str) -> Picture:
    a, b = (corner(p, "neck", centre) for p in (old, new))
    point = corner(old, "neck", "shoulder")
    low = max((a, b), key=lambda p: dot(p, down(old)))
    return Picture(sizes=(Size(a, b, -towards_tip(old)),),
                   near=(a, b, point, low + down(old) * 40, point + towards_tip(old) * 40))


def _card(order: Order, change: Change) -> Card:
    by, up = f"{{{abs(order.amount.value):.1f} mm}}", order.amount.value > 0
    where = " and ".join(change.pictures)
    steps = (f"On {where}, mark {by} {'above' if up else 'below'} the neck on the centre line"
             + (", on paper taped behind it." if up else "."),
             "Draw the new neck from the mark, square to the centre for {10.0 mm}, in the shape of the old one up to "
             "the neck point.",
             "Redraw facing and lining to the new neck; walk a collar round it and lengthen or shorten it at the "
             "centre back.")
    check = (f"The neck lies {by} {'higher' if up else 'lower'} at the centre.",
             "The shoulder seam has not moved; the neck is square to the centre.")
    return Card(f"Neckline {'raised' if up else 'lowered'}", ("paper", "tape", "French curve"), steps, check, SOURCE)


SOURCE = "redrawn edge: NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372"

ALTERATION = Alteration(
    NAME, ("neckline raised", "raise neckline", "neckline lowered", "lower neckline"),
    (-80.0, 40.0), SOURCE, 1, apply, _card, {"neckline lowered": -1.0, "lower neckline": -1.0},
    (where_it_is("front"), *FRONT_AND_BACK), (Need("", ("neck", "shoulder")),),
    instead='a collar or a yoke without a shoulder seam is altered by "lengthen or shorten"')
