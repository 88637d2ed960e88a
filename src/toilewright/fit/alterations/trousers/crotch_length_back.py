"""Crotch length behind: at the crotch point, or along the seat by the seat angle."""

from __future__ import annotations

from math import copysign

from toilewright.fit.alterations.kinds import (
    PIECE,
    Alteration,
    Change,
    Option,
    Options,
    Picture,
    Size,
    chosen,
    too_much,
)
from toilewright.fit.alterations.trousers.crotch_length import by_the_point
from toilewright.fit.alterations.trousers.crotch_length_front import point_steps, shown
from toilewright.fit.alterations.trousers.leg import CROTCH, INSEAM, PANEL, SIDE, SOURCE, hip_level, out, place_on
from toilewright.fit.frame import needed_piece
from toilewright.fit.moves.opening import open_cut
from toilewright.fit.moves.ring import Place, point_of
from toilewright.fit.result import Card, Order
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME = "crotch length back"

WAY = Option("way", "point", "seat")

STEEPEST = 0.2
"""How far the seat may open for each mm of the cut before the piece is misshapen (our own choice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Crotch seam of the back longer by `amount` mm (negative: shorter); inseam, waist and side seam keep theirs.

    Options:
        piece: ``trouser back`` unless told otherwise.
        way: ``point``: at the crotch point, for what is missing between the legs; ``seat``: cut from the centre back to
            the side seam at the hip line and opened, for a full seat, or lapped for a flat one: the seat angle changes.

    Raises:
        AlterationError: an edge is missing, or the amount does not fit.
    """
    piece = needed_piece(garment, NAME, options, "trouser back")
    moved, picture = (_by_the_seat if chosen(NAME, options, WAY) == "seat" else by_the_point)(piece, NAME, amount)
    return Change(garment.with_piece(moved), {piece.name: picture}, {"by": shown(picture)})


def _by_the_seat(piece: Piece, name: str, amount: float) -> tuple[Piece, Picture]:
    level = hip_level(piece)
    cut, hinge = (Place(edge, place_on(piece, edge, level, name)) for edge in (CROTCH, SIDE))
    a, h = point_of(piece, cut), point_of(piece, hinge)
    most = STEEPEST * abs(h - a)
    if abs(amount) > most:
        raise too_much(name, amount, piece.name, "turns the waist further than cloth lies flat", copysign(most, amount))
    goal, by = piece.edge(CROTCH).path.length + amount, amount
    for _ in range(8):  # the smooth line across the gap is a little shorter than the gap is wide
        moved, carried = open_cut(piece, cut, hinge, by, INSEAM)
        miss = goal - moved.edge(CROTCH).path.length
        if abs(miss) < 1e-7:
            break
        by += miss
    lips = [carried.piece.edge(CROTCH).path.point_at(carried.at(CROTCH, cut.at, after=far)) for far in (False, True)]
    return moved, Picture(carried.regions, hinges=(h,), sizes=(Size(lips[0], lips[1], -out(piece)),))


def _card(order: Order, change: Change) -> Card:
    amount = order.amount.value
    by, longer = f"{{{abs(amount):.1f} mm}}", amount > 0
    (piece,) = change.pictures
    if order.options.get("way") == "seat":
        far = f"{{{change.numbers['by']:.1f} mm}}"
        steps = (
            f"On the {piece}, rule a line square to the grain from the centre back to the side seam at the hip line.",
            "Cut from the centre back to the side seam line, not through it; snip the allowance there from outside."
            if longer else "Crease along the line.",
            f"{'Open' if longer else 'Lap'} the cut by {far} at the centre back, nothing at the side. Tape.",
            "Draw the crotch seam smoothly across the step, and round off the side seam at the hinge.")
    else:
        steps = point_steps(piece, change.numbers["by"], longer)
    check = (f"The crotch seam of the back is {by} {'longer' if longer else 'shorter'}.",
             "The inseam is as long as it was.", "Waist and side seam are as long as they were.")
    return Card(f"Crotch seam {'longer' if longer else 'shorter'} behind", 
                ("paper", "tape", "French curve", "scissors"), steps, check, SOURCE)


ALTERATION = Alteration(
    NAME, ("back crotch length", "crotch point back", "seat length"), (-25.0, 40.0), SOURCE, 1, apply, _card,
    options=(PIECE, WAY), needs=(PANEL.on("trouser back"),),
    instead='a skirt takes "full seat"')
