"""Crotch length in front: longer or shorter at the crotch point."""

from __future__ import annotations

from toilewright.fit.alterations.kinds import Alteration, Change, Options, Picture
from toilewright.fit.alterations.trousers.crotch_length import by_the_point
from toilewright.fit.alterations.trousers.leg import PANEL, SOURCE
from toilewright.fit.frame import needed_piece
from toilewright.fit.result import Card, Order
from toilewright.pattern.garment import Garment

NAME = "crotch length front"


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Crotch seam of the front longer by `amount` mm (negative: shorter); inseam, waist and side seam keep theirs.

    Options:
        piece: ``trouser front`` unless told otherwise.

    Raises:
        AlterationError: an edge is missing, or the amount does not fit.
    """
    piece = needed_piece(garment, NAME, options, "trouser front")
    moved, picture = by_the_point(piece, NAME, amount)
    return Change(garment.with_piece(moved), {piece.name: picture}, {"by": shown(picture)})


def shown(picture: Picture) -> float:
    """The amount that a picture shows (mm)."""
    return abs(picture.sizes[0].b - picture.sizes[0].a)


def point_steps(piece: str, far: float, longer: bool) -> tuple[str, ...]:
    """How the crotch point is moved by hand, so far along its seam (mm)."""
    by = f"{{{far:.1f} mm}}"
    return (f"On the {piece}, " + (f"run the crotch seam on beyond its point by {by}, over paper, and mark."
                                   if longer else f"measure {by} from the crotch point back along the crotch seam and "
                                   "mark."),
            "Draw the crotch seam anew from the hip line to the mark with the curve, as hollow as it was.",
            "Draw the inseam anew from the mark to the knee, where it runs into the old one.",
            "Walk the inseam: where it is no longer what it was, move the mark up or down along the leg until it is.")


def _card(order: Order, change: Change) -> Card:
    amount = order.amount.value
    (piece,) = change.pictures
    check = (f"The crotch seam of the front is {{{abs(amount):.1f} mm}} {'longer' if amount > 0 else 'shorter'}.",
             "The inseam is as long as it was and meets the crotch seam square.", "Waist and side seam are untouched.")
    return Card(f"Crotch seam {'longer' if amount > 0 else 'shorter'} in front", ("paper", "tape", "French curve"),
                point_steps(piece, change.numbers["by"], amount > 0), check, SOURCE)


ALTERATION = Alteration(
    NAME, ("front crotch length", "crotch point front"), (-20.0, 30.0), SOURCE, 1, apply, _card,
    needs=(PANEL.on("trouser front"),),
    instead='a skirt takes "lengthen or shorten" or "full abdomen"')
