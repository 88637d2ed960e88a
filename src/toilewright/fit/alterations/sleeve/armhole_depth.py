"""Armhole lowered or raised at the underarm; the sleeve's underarm goes along."""

from __future__ import annotations

from toilewright.fit.alterations.kinds import PIECE, Alteration, Change, Need, Options, Picture, Size, too_much
from toilewright.fit.alterations.sleeve.armholes import (
    ARMHOLE,
    SIDE,
    armholes,
    free_side,
    lowered,
    lowest_mark,
    sleeve_follows,
    sleeve_steps,
)
from toilewright.fit.moves.edges import corner, towards
from toilewright.fit.result import Card, Order
from toilewright.geometry.point import unit
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME = "armhole depth"

LEFT_OVER = 15.0
"""mm of side seam that must stay between the armhole and a dart (common practice)."""

MOST_SHARE = 0.6
"""Of the way from the underarm to the first balance mark that the armhole may be raised (our own choice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """The armhole lower by `amount` mm at the underarm (raised when negative), on front and back alike.

    The side seams get as much shorter. The sleeve head goes down along its underarm seams until it is as much longer
    as the armhole.

    Options:
        piece: only this one of the pieces with an armhole.

    Raises:
        AlterationError: an edge is missing, or the amount does not fit.
    """
    pieces = armholes(garment, NAME, options)
    for piece in pieces:
        most = free_side(piece, ARMHOLE, SIDE) - LEFT_OVER
        if amount > most:
            raise too_much(NAME, amount, piece.name, "runs into the dart in the side seam", most)
        least = -MOST_SHARE * lowest_mark(piece, ARMHOLE, SIDE)
        if amount < least:
            raise too_much(NAME, amount, piece.name, "leaves no room for the arm", least)
    altered, pictures = garment, {}
    for piece in pieces:
        altered = altered.with_piece(lowered(piece, ARMHOLE, SIDE, amount))
        pictures[piece.name] = _picture(piece, altered.piece(piece.name), ARMHOLE, SIDE)
    altered, numbers = sleeve_follows(altered, pieces)
    return Change(altered, pictures, numbers)


def _picture(old: Piece, new: Piece, edge: str, side: str) -> Picture:
    a, b = (corner(p, edge, side) for p in (old, new))
    arm, seam = towards(old, edge, side), towards(old, side, edge)
    near = (arm.point_at(0.35 * arm.length), seam.point_at(max(seam.length - 90.0, 0.0)))
    out = unit(arm.end_tangent)
    return Picture(sizes=(Size(a, b, out),), near=(a, b, *near))


def _card(order: Order, change: Change) -> Card:
    amount = order.amount.value
    by, low = f"{{{abs(amount):.1f} mm}}", amount > 0
    way = "down along the side seam" if low else "up, on along the line of the side seam,"
    steps = (f"On front and back, measure {by} {way} from the underarm and mark.",
             "Draw the armhole anew from its balance mark to the new underarm, meeting the side seam as squarely as "
             "before.",
             *sleeve_steps(change.numbers))
    check = (f"Front and back side seams are both {by} {'shorter' if low else 'longer'}.",
             *(["The sleeve head has as much ease as before, and both underarm seams of the sleeve are equally long."]
               if change.numbers["sleeve"] else []))
    return Card(f"Armhole {'lowered' if low else 'raised'}", ("paper", "tape", "ruler", "French curve"), steps, check,
                SOURCE)


SOURCE = "Texas AgriLife Extension E-372; Liechty, Pottberg-Steineckert and Rasband (1992), from memory"

ALTERATION = Alteration(
    NAME, ("armhole lowered", "armhole raised", "lower armhole", "raise armhole"),
    (-20.0, 40.0), SOURCE, 4, apply, _card, {"armhole raised": -1.0, "raise armhole": -1.0}, (PIECE,),
    (Need("", (ARMHOLE, SIDE)),),
    instead='a sleeve cut in one with the bodice gets room from "waist in or out" at its side seam')
