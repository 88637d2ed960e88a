"""Rounded upper back: more length and width over the shoulder blades, for a back that is round lower than the neck."""

from __future__ import annotations

from toilewright.errors import AlterationError
from toilewright.fit.alterations.kinds import PIECE, Alteration, Change, Options
from toilewright.fit.alterations.neck_and_shoulder.upper_back import HOW, NEED, change_upper_back, taken_up
from toilewright.fit.result import Card, Order
from toilewright.pattern.garment import Garment
from toilewright.units import show_both

NAME = "rounded upper back"

CUT_SHARE = 0.66
"""Of the way from the nape down to the underarm: the level of the shoulder blades (common practice, no published
source)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Centre back longer by `amount` mm at the shoulder blades; armhole, shoulder and the sewn neck keep their lengths.

    Options:
        piece: ``bodice back`` unless told otherwise.
        takes up: what the neck gains goes into a ``shoulder dart``, a ``neck dart``, or is ``ease``; when not given, a
            dart that is there grows, or a shoulder dart is made from 5 mm on, else it is eased.

    Raises:
        AlterationError: an edge is missing, or the amount does not fit.
    """
    if amount < 0:
        raise AlterationError(f'"{NAME}" by {show_both(amount)} asks for a shorter centre back; use "erect back", or '
                              "give a positive amount.")
    return change_upper_back(garment, NAME, options, CUT_SHARE, amount, "shoulder dart")


def _card(order: Order, change: Change) -> Card:
    n = change.numbers
    by = f"{{{order.amount.value:.1f} mm}}"
    steps = (
        f"On the back, measure {{{n['level']:.1f} mm}} down from the neck along the centre back and draw a line from "
        "there to the armhole, square to the grain: it runs over the shoulder blade.",
        "Cut along the line from the centre back to the armhole seam line, not through it; snip the allowance there.",
        f"Lay paper underneath and raise the upper part until the cut stands open by {by} at the centre back. Tape.",
        "Rule the centre back straight up from the part below, and draw the neck out to meet it square.",
        f"The neck is now {{{n['gained']:.1f} mm}} longer on this half: "
        f"{taken_up(change, 'down to the middle of the cut')}",
        "Round off the armhole at the hinge.")
    check = (f"The centre back is {by} longer.", "Armhole and sewn shoulder measure what they did.",
             "The grain line below the cut has not moved.")
    return Card("Rounded upper back", ("paper", "tape", "ruler", "French curve", "scissors"), steps, check, SOURCE)


SOURCE = ("NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372; Woman's Institute drafting text on round "
          "shoulders; level of the blade and length of the dart: common practice")

ALTERATION = Alteration(
    NAME, ("round shoulders", "rounded shoulders", "round shoulder blades", "prominent shoulder blades"),
    (3.0, 35.0), SOURCE, 1, apply, _card, options=(PIECE, HOW),
    needs=(NEED,),
    instead='"high round back" is made on a princess seam too, and "back length" gives length to any back')
