"""Full or flat seat: the back of a skirt longer and wider over the seat, the waist dart taking up what it gains."""

from __future__ import annotations

from toilewright.fit.alterations.kinds import PIECE, Alteration, Change, Need, Options
from toilewright.fit.alterations.waist_and_hip.rounding import HEM, WIDTH, round_out, steps_of
from toilewright.fit.result import Card, Order
from toilewright.pattern.garment import Garment

NAME = "full seat"


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Centre back longer, and each half of the back wider at the hip line, by `amount` mm (negative: a flat seat).

    Options:
        piece: ``skirt back`` unless told otherwise.
        width: ``as much``, or ``as it was``.
        hem: ``keep``: the upright cut closes at the hem; ``follow``: it opens evenly, and the hem grows as well.

    Raises:
        AlterationError: an edge or the dart is missing, or the amount does not fit.
    """
    return round_out(garment, NAME, ("skirt back", "wrap skirt back"), ("hip line",), 1.0, amount, options)


def _card(order: Order, change: Change) -> Card:
    amount, (piece, _) = order.amount.value, next(iter(change.pictures.items()))
    by, way = f"{{{abs(amount):.1f} mm}}", ("longer", "wider") if amount > 0 else ("shorter", "narrower")
    check = (f"The centre back is {by} {way[0]}; the side seam measures what it did.",
             *([f"At the hip line each half of the back is {by} {way[1]}."] if change.numbers["wide"] else []),
             "With the dart closed, the waist measures what it did.")
    return Card("Full seat" if amount > 0 else "Flat seat", ("paper", "tape", "ruler", "scissors"),
                steps_of(piece, amount, order.options, change.numbers), check, SOURCE)


SOURCE = "NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372; equal length and width: common practice"

ALTERATION = Alteration(
    NAME, ("flat seat", "seat", "large seat", "small seat"),
    (-15.0, 30.0), SOURCE, 5, apply, _card, {"flat seat": -1.0, "small seat": -1.0}, (PIECE, WIDTH, HEM),
    (Need("", ("centre back", "waist", "hem", "side seam"), darts=("waist dart",)),),
    instead='the seat of trousers gets its length from "crotch length back", a back without darts its width from '
            '"hip in or out"')
