"""Full or flat abdomen: the front of skirt or trousers longer and wider under the waist."""

from __future__ import annotations

from toilewright.fit.alterations.kinds import PIECE, Alteration, Change, Need, Options
from toilewright.fit.alterations.waist_and_hip.rounding import HEM, WIDTH, round_out, steps_of
from toilewright.fit.result import Card, Order
from toilewright.pattern.garment import Garment

NAME = "full abdomen"

LEVEL = 0.5
"""Of the way from the waist to the hip, where the abdomen is fullest (a hand's breadth down; common practice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """The centre front longer, and each half of the front wider at the abdomen, by `amount` mm (negative: flat).

    Options:
        piece: ``skirt front``, else ``trouser front``, unless told otherwise.
        width: ``as much``, or ``as it was``.
        hem: ``keep``: the upright cut closes at the hem; ``follow``: it opens evenly, and the hem grows as well.

    Raises:
        AlterationError: an edge or the dart is missing, or the amount does not fit.
    """
    return round_out(garment, NAME, ("skirt front", "trouser front", "wrap skirt front"),
                     ("abdomen line", "high hip line"), LEVEL, amount, options)


def _card(order: Order, change: Change) -> Card:
    amount, (piece, _) = order.amount.value, next(iter(change.pictures.items()))
    by, way = f"{{{abs(amount):.1f} mm}}", ("longer", "wider") if amount > 0 else ("shorter", "narrower")
    check = (f"The centre front is {by} {way[0]}; the side seam measures what it did.",
             *([f"At the abdomen each half of the front is {by} {way[1]}."] if change.numbers["wide"] else []),
             "With the dart closed, the waist measures what it did.")
    return Card(f"{'Full' if amount > 0 else 'Flat'} abdomen", ("paper", "tape", "ruler", "scissors"),
                steps_of(piece, amount, order.options, change.numbers), check, SOURCE)


SOURCE = "NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372; equal length and width: common practice"

ALTERATION = Alteration(
    NAME, ("flat abdomen", "large abdomen", "abdomen", "full tummy"),
    (-12.0, 25.0), SOURCE, 5, apply, _card, {"flat abdomen": -1.0}, (PIECE, WIDTH, HEM),
    (Need("", ("waist", "hem", "side seam"), darts=("waist dart",)),),
    instead='a front without darts gets its width from "hip in or out"')
