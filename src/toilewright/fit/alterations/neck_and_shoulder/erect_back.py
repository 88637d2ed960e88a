"""Erect back: the length that a straight upper back does not need is folded out at the centre."""

from __future__ import annotations

from toilewright.errors import AlterationError
from toilewright.fit.alterations.kinds import PIECE, Alteration, Change, Options
from toilewright.fit.alterations.neck_and_shoulder.upper_back import HOW, NEED, TAKES_UP, change_upper_back
from toilewright.fit.result import Card, Order
from toilewright.pattern.garment import Garment
from toilewright.units import show_both

NAME = "erect back"

CUT_SHARE = 0.5
"""Of the way from the nape down to the underarm, where the folds lie (common practice, no published source)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Centre back shorter by `amount` mm in the upper back; armhole and shoulder keep their lengths.

    Options:
        piece: ``bodice back`` unless told otherwise.
        takes up: the ``shoulder dart`` or ``neck dart`` that gives back what the neck loses, or ``ease``: the neck is
            drawn in. When not given, a dart that is there, else the neck is drawn in.

    Raises:
        AlterationError: an edge is missing, or the amount does not fit.
    """
    if amount < 0:
        raise AlterationError(f'"{NAME}" by {show_both(amount)} asks for a longer centre back; use "rounded upper '
                              'back", or give a positive amount.')
    return change_upper_back(garment, NAME, options, CUT_SHARE, -amount, "ease", amount)


def _card(order: Order, change: Change) -> Card:
    n = change.numbers
    by, lost, how = f"{{{order.amount.value:.1f} mm}}", f"{{{-n['gained']:.1f} mm}}", TAKES_UP[int(n["way"])]
    steps = (
        f"On the back, measure {{{n['level']:.1f} mm}} down from the neck along the centre back and rule a line from "
        "there to the armhole, square to the grain.",
        f"Crease along it and fold out {by} at the centre back, tapering to nothing at the armhole. Tape.",
        "Rule the centre back straight up from the part below the fold, and draw the neck in to meet it square.",
        f"The neck is now {lost} shorter on this half: " + (
            "redraw the facing to it, and shorten a collar by as much." if how == "ease" else
            f"make the {how} smaller until the neck measures what it did."),
        "Round off the armhole at the fold.")
    check = (f"The centre back is {by} shorter.", "Armhole and shoulder measure what they did.",
             "The grain line below the fold has not moved.")
    return Card("Erect back", ("ruler", "tape", "paper", "French curve"), steps, check, SOURCE)


SOURCE = ("fold out: NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372; the reverse of a round back: "
          "Liechty and others (1992), from memory; level of the fold: common practice")

ALTERATION = Alteration(
    NAME, ("very erect back", "straight upper back", "flat upper back"), (3.0, 25.0), SOURCE, 1, apply, _card,
    options=(PIECE, HOW), needs=(NEED,),
    instead='"back length" shortens any back at its centre')
