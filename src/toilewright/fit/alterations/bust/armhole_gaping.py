"""Armhole gapes in front: a wedge is folded out from the armhole to the bust point, and the bust dart grows by it."""

from __future__ import annotations

from toilewright.errors import AlterationError
from toilewright.fit.alterations.kinds import PIECE, Alteration, Change, Need, Options, Picture, Size, too_much
from toilewright.fit.alterations.neck_and_shoulder.halves import needed_centre
from toilewright.fit.frame import bust_dart, down, need_edges, needed_piece, on_axis
from toilewright.fit.moves.edges import corner
from toilewright.fit.moves.ring import point_of
from toilewright.fit.moves.swing import aimed
from toilewright.fit.moves.wedge import fold_out, foot_beside, square_to
from toilewright.fit.result import Card, Order
from toilewright.geometry.point import unit
from toilewright.pattern.garment import Garment
from toilewright.units import show_both

NAME = "armhole gaping"

MOST_SHARE = 0.12
"""Share of the armhole that may be folded out before its curve is lost (our own choice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Front armhole shorter by `amount` mm; the bust dart takes up what is folded out, and the sleeve head follows.

    Options:
        piece: ``bodice front`` unless told otherwise.

    Raises:
        AlterationError: a dart or an edge is missing, or the amount does not fit.
    """
    piece = needed_piece(garment, NAME, options, "bodice front")
    dart = bust_dart(piece, NAME)
    need_edges(piece, NAME, "armhole", "shoulder")
    if amount < 0:
        raise AlterationError(f'"{NAME}" by {show_both(amount)} asks for a longer armhole; use "armhole depth", or '
                              "give a positive amount.")
    most = MOST_SHARE * piece.sewn_length("armhole")
    if amount > most:
        raise too_much(NAME, amount, piece.name, "leaves the armhole too short", most)
    centre, pivot = needed_centre(piece, NAME), on_axis(piece, dart)
    fold = square_to(piece, "armhole", pivot, 0.3)
    altered, carried = fold_out(piece, fold, amount, pivot, foot_beside(piece, dart, fold, centre), centre)
    altered = aimed(altered, dart.name, pivot, abs(dart.apex - pivot))
    old, new = (p.dart(dart.name).end - p.dart(dart.name).start for p in (piece, altered))
    at, tangent = point_of(piece, fold), piece.edge("armhole").path.tangent_at(fold.at)
    picture = Picture(carried.regions, (), (), (Size(at - tangent * amount / 2, at + tangent * amount / 2,
                                                     unit(at - pivot)),),
                      (at, corner(piece, "armhole", "shoulder"), *piece.feet(dart), pivot + down(piece) * 30),
                      {"bust point": pivot})
    return Change(garment.with_piece(altered), {piece.name: picture},
                  {"dart": new, "old dart": old, "from tip": abs(corner(piece, "armhole", "shoulder") - at)})


def _card(order: Order, change: Change) -> Card:
    n, by = change.numbers, f"{{{order.amount.value:.1f} mm}}"
    steps = (
        f"On the front, mark the middle of the gape on the armhole, {{{n['from tip']:.0f} mm}} from the shoulder tip, "
        "and rule a line from there to the bust point.",
        "Cut along the upper leg of the bust dart and on to the bust point, not through it.",
        f"Fold a wedge out along the line, {by} wide at the armhole and nothing at the bust point: the dart opens from "
        f"{{{n['old dart']:.0f} mm}} to {{{n['dart']:.0f} mm}}. Tape it over paper.",
        "Draw the armhole smoothly over the fold; the dart's point stays where it was; true its mouth.",
        f"Take the sleeve in by {by} at the front of its underarm, tapering to nothing at the hem.")
    check = (f"The front armhole is {by} shorter.", "Shoulder, neck and the side seam, its dart closed, are as before.",
             "The head of the sleeve has the ease that it had.")
    return Card("Armhole gapes", ("paper", "tape", "ruler", "French curve", "scissors"), steps, check, SOURCE)


SOURCE = "fold out: NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372; into the dart: common practice"

ALTERATION = Alteration(
    NAME, ("gaping armhole", "armhole gapes", "gaping front armhole"),
    (3.0, 25.0), SOURCE, 2, apply, _card, options=(PIECE,),
    needs=(Need("bodice front", ("armhole", "shoulder"), ("bust dart",)),),
    instead='without a bust dart, "full bust dartless" makes one; at a princess seam, take it in there')
