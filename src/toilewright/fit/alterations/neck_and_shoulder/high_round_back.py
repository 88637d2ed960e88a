"""High round back: more length at the centre back for a back that is round just under the neck."""

from __future__ import annotations

from toilewright.errors import AlterationError
from toilewright.fit.alterations.kinds import PIECE, Alteration, Change, Need, Options
from toilewright.fit.alterations.neck_and_shoulder.upper_back import HOW, change_upper_back, hinge_of, taken_up
from toilewright.fit.result import Card, Order
from toilewright.pattern.garment import Garment
from toilewright.units import show_both

NAME = "high round back"

CUT_SHARE = 0.42
"""Of the way from the nape down to the underarm: the cut lies a third to half way (NMSU C-228 and other leaflets)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Centre back longer by `amount` mm; armhole, shoulder and the sewn neck keep their lengths.

    Options:
        piece: ``bodice back`` unless told otherwise.
        takes up: what the neck gains goes into a ``neck dart``, a ``shoulder dart``, or is ``ease``; when not given, a
            dart that is there grows, or a neck dart is made from 5 mm on, else it is eased.

    Raises:
        AlterationError: an edge is missing, or the amount does not fit.
    """
    if amount < 0:
        raise AlterationError(f'"{NAME}" by {show_both(amount)} asks for a shorter centre back; fold the surplus out '
                              'with "erect back" or "lengthen or shorten" instead, or give a positive amount.')
    return change_upper_back(garment, NAME, options, CUT_SHARE, amount, "neck dart")


def _card(order: Order, change: Change) -> Card:
    n, to = change.numbers, hinge_of(change)
    up = f"{{{order.amount.value:.1f} mm}}"
    steps = (
        f"On the back, measure {{{n['level']:.1f} mm}} down from the neck along the centre back and draw a line from "
        f"there to the {to}, square to the grain.",
        f"Cut along the line from the centre back to the {to}'s seam line, not through it; snip the allowance there "
        "from outside, so that a paper hinge is left on the seam line.",
        f"Lay paper underneath and raise the neck part until the cut stands open by {up} at the centre back. Tape.",
        "Redraw the centre back straight up from the part below the cut, and draw the neck out to meet it square.",
        f"The neck is now {{{n['gained']:.1f} mm}} longer on this half: {taken_up(change, 'down to the cut')}",
        f"Round off the {to} at the hinge with a curve.")
    check = (f"The centre back is {up} longer.", f"{to.capitalize()} and shoulder measure what they did.",
             "The grain line below the cut has not moved.")
    return Card("High round back", ("paper", "tape", "ruler", "French curve", "scissors"), steps, check, SOURCE)


SOURCE = ("NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372 (the cut, the hinge, the straight centre "
          "back); length of the dart: common practice")

ALTERATION = Alteration(
    NAME, ("dowager's hump", "round back", "rounded neck"),
    (3.0, 35.0), SOURCE, 1, apply, _card, options=(PIECE, HOW),
    needs=(Need("bodice back", ("centre back", "neck", "shoulder")),),
    instead='a longer back can be had with "lengthen or shorten"')

