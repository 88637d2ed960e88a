"""Neckline widened or narrowed at the shoulder, the centre keeping its height."""

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
from toilewright.fit.alterations.neck_and_shoulder.halves import halves, needed_centre, towards_tip
from toilewright.fit.follow import opposite
from toilewright.fit.frame import down
from toilewright.fit.moves.edges import corner, match_length, other_end
from toilewright.fit.result import Card, Order
from toilewright.geometry.point import dot, unit
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME = "neckline width"

LEAST_SHOULDER = 25.0
"""mm; what must be left of the shoulder seam (common practice: a strap)."""

LEAST_NECK = 0.6
"""Share of its width that a narrowed neck must keep to let the head through (our own choice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Neck wider by `amount` mm at each shoulder (narrower when negative), tapering to nothing at the centre.

    Options:
        front, back: names of the pieces, ``bodice front`` and ``bodice back`` unless told otherwise.

    Raises:
        AlterationError: a piece or an edge is missing, or the amount does not fit.
    """
    pictures = {}
    for piece in halves(garment, NAME, options, "both", "neck", "shoulder"):
        centre = needed_centre(piece, NAME)
        _check(garment, piece, centre, amount)
        drawn = match_length(piece, "shoulder", "neck", piece.sewn_length("shoulder") - amount)
        garment = garment.with_piece(drawn)
        pictures[piece.name] = _picture(piece, drawn, centre)
    return Change(garment, pictures)


def _check(garment: Garment, piece: Piece, centre: str, amount: float) -> None:
    facings = (garment.piece(r.piece) for r in opposite(garment, piece.name, "neck"))
    least = max([LEAST_SHOULDER, *(f.sewn_length("shoulder") + 1.0 for f in facings if f.has_edge("shoulder"))])
    free = piece.sewn_length("shoulder") - least
    if amount > free:
        raise too_much(NAME, amount, piece.name, "leaves too little of the shoulder for a strap and its facing",
                       max(free, 0.0))
    reach = corner(piece, "neck", "shoulder") - corner(piece, "neck", centre)
    most = (1 - LEAST_NECK) * abs(dot(reach, towards_tip(piece)))
    if -amount > most:
        raise too_much(NAME, amount, piece.name, "makes the neck too narrow for the head", -most)


def _picture(old: Piece, new: Piece, centre: str) -> Picture:
    a, b = (corner(p, "neck", "shoulder") for p in (old, new))
    tip = corner(old, "shoulder", other_end(old, "shoulder", "neck"))
    low = corner(old, "neck", centre)
    return Picture(sizes=(Size(a, b, -down(old)),), near=(a, b, low, low + down(old) * 30, a + unit(tip - a) * 60))


def _card(order: Order, change: Change) -> Card:
    by, wide = f"{{{abs(order.amount.value):.1f} mm}}", order.amount.value > 0
    where = " and ".join(change.pictures)
    steps = (f"On {where}, mark {by} from the neck point along the shoulder seam"
             + ("." if wide else ", run on in a straight line on paper taped behind it."),
             "Draw the new neck from the mark, in the shape of the old one, to nothing at the centre.",
             "Redraw facing and lining to the new neck; walk a collar round it and lengthen or shorten it at the "
             "shoulder marks.")
    check = (f"Each shoulder seam is {by} {'shorter' if wide else 'longer'}, front and back alike.",
             "The neck is as high at the centre as it was; shoulder tip and armhole have not moved.")
    title = f"Neckline {'widened' if wide else 'narrowed'}"
    return Card(title, ("paper", "tape", "French curve"), steps, check, SOURCE)


SOURCE = "redrawn edge: NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372"

ALTERATION = Alteration(
    NAME, ("neckline widened", "widen neckline", "neckline narrowed", "narrow neckline"),
    (-25.0, 60.0), SOURCE, 1, apply, _card, {"neckline narrowed": -1.0, "narrow neckline": -1.0},
    FRONT_AND_BACK, (Need("", ("neck", "shoulder")),),
    instead='a collar or a yoke without a shoulder seam is altered by "lengthen or shorten"')
