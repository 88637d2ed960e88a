"""Sway back: folds across the small of the back are taken out at the centre, nothing at the side seam."""

from __future__ import annotations

from toilewright.errors import AlterationError
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
from toilewright.fit.moves.edges import ends_at, towards
from toilewright.fit.moves.ring import Place
from toilewright.fit.result import Card, Order
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece
from toilewright.units import show_both

NAME = "sway back"

LEVEL = 35.0
"""mm from the waist at which the fold lies, above it on a bodice, below it on a skirt (common practice: 3 to 5 cm)."""

USUAL = ("bodice back", "skirt back", "trouser back")


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Centre back shorter by `amount` mm at the small of the back; side seam and waist keep their lengths.

    Options:
        piece: ``bodice back`` unless told otherwise; without one ``skirt back``, then ``trouser back``.

    Raises:
        AlterationError: an edge is missing, or the amount does not fit.
    """
    if amount < 0:
        raise AlterationError(f'"{NAME}" by {show_both(amount)} asks for a longer centre back; use "back length", or '
                              "give a positive amount.")
    usual = next((n for n in USUAL if garment.has(n)), USUAL[0])
    piece = needed_piece(garment, NAME, options, usual)
    need_edges(piece, NAME, "waist")
    centre = "crotch seam" if piece.has_edge("crotch seam") else "centre back"
    need_edges(piece, NAME, centre)
    side = side_of(piece, NAME)
    if centre == "crotch seam":  # the waist rises towards it: the fold runs beside the waist
        cut, hinge = _below_waist(piece, centre), _below_waist(piece, side)
    else:
        path = towards(piece, centre, "waist")
        cut, hinge = cut_across(piece, NAME, centre, side, path.point_at(path.length - LEVEL))
    return change_at_centre(garment, NAME, piece, cut, hinge, -amount, amount)


def _below_waist(piece: Piece, edge: str) -> Place:
    return Place(edge, piece.edge(edge).path.length - LEVEL if ends_at(piece, edge, "waist") else LEVEL)


def _card(order: Order, change: Change) -> Card:
    by = f"{{{order.amount.value:.1f} mm}}"
    (piece,) = change.pictures
    above = piece.startswith("bodice")
    side = side_of_change(change)
    steps = redrawn_steps(change, by, "above" if above else "below") if "gained" not in change.numbers else (
        f"On the {piece}, rule a line {'beside the waist' if piece.startswith('trouser') else 'square to the grain'} "
        f"from the centre to the {side}, {{{LEVEL:.0f} mm}} {'above' if above else 'below'} the waist.",
        f"Crease along it and fold out {by} at the centre, tapering to nothing at the {side}. Tape.",
        "Rule the centre straight on to the waist; draw the waist to meet it square.",
        waist_taken(change))
    check = (f"The centre is {by} shorter at the small of the back.",
             f"The {side} and the sewn waist measure what they did.")
    return Card("Sway back", ("ruler", "tape", "paper"), steps, check, SOURCE)


SOURCE = ("NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372 (fold at the centre, nothing at the side); "
          "level of the fold: common practice")

ALTERATION = Alteration(
    NAME, ("swayback", "sway-back", "hollow back"), (3.0, 35.0), SOURCE, 1, apply, _card,
    needs=(Need("", ("waist", "side seam")),),
    instead='a back without a waist seam takes "back length" or a fold at its waist line')
