"""Back longer or shorter above the waist at its centre, nothing at the side seam."""

from __future__ import annotations

from toilewright.fit.alterations.back.at_centre import (
    change_at_centre,
    cut_across,
    redrawn_steps,
    side_of,
    side_of_change,
    waist_taken,
)
from toilewright.fit.alterations.kinds import Alteration, Change, Need, Options
from toilewright.fit.frame import need_edges, needed_piece
from toilewright.fit.result import Card, Order
from toilewright.pattern.garment import Garment

NAME = "back length"

LEVEL = 0.5
"""Of the way up the side seam: there the cut hinges, half way between waist and underarm (common practice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Centre back longer by `amount` mm above the waist (negative: shorter); side seam and waist keep their lengths.

    Options:
        piece: ``bodice back`` unless told otherwise.

    Raises:
        AlterationError: an edge is missing, or the amount does not fit.
    """
    piece = needed_piece(garment, NAME, options, "bodice back")
    need_edges(piece, NAME, "centre back", "waist")
    side = side_of(piece, NAME)
    path = piece.edge(side).path
    cut, hinge = cut_across(piece, NAME, "centre back", side, path.point_at(LEVEL * path.length))
    return change_at_centre(garment, NAME, piece, cut, hinge, amount, amount)


def _card(order: Order, change: Change) -> Card:
    amount = order.amount.value
    by, long = f"{{{abs(amount):.1f} mm}}", amount > 0
    side = side_of_change(change)
    steps = redrawn_steps(change, by, "below" if long else "above") if "gained" not in change.numbers else (
        f"On the back, rule a line square to the grain from the centre back to the {side}, half way between underarm "
        "and waist.",
        f"Cut from the centre back to the seam line of the {side}, not through it; snip the allowance there."
        if long else "Crease along the line.",
        f"Open the cut by {by} at the centre back, nothing at the {side}, over paper. Tape." if long else
        f"Fold out {by} at the centre back, tapering to nothing at the {side}. Tape.",
        "Rule the centre back straight on from the neck to the waist; draw the waist to meet it square.",
        waist_taken(change))
    check = (f"The centre back is {by} {'longer' if long else 'shorter'}.",
             f"The {side} and the sewn waist measure what they did.")
    return Card(f"Back {'lengthened' if long else 'shortened'} at the centre", ("paper", "tape", "ruler", "scissors"),
                steps, check, SOURCE)


SOURCE = "slash and spread, fold out: NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372; level of the " \
         "cut: common practice"

ALTERATION = Alteration(
    NAME, ("long back", "short back", "lengthen back", "shorten back"),
    (-30.0, 40.0), SOURCE, 1, apply, _card, {"short back": -1.0, "shorten back": -1.0},
    needs=(Need("bodice back", ("centre back", "waist")),),
    instead='a piece without a waist seam takes "lengthen or shorten" on its marked line')
