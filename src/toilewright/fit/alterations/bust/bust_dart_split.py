"""Bust dart split in two: a second dart beside it takes part of its width, both aiming at the bust point."""

from __future__ import annotations

from toilewright.errors import AlterationError
from toilewright.fit.alterations.bust.shares import AFTER_THE_BUST, share_of, swung_picture, width_of
from toilewright.fit.alterations.kinds import PIECE, Alteration, Change, Need, Options
from toilewright.fit.alterations.neck_and_shoulder.halves import needed_centre
from toilewright.fit.frame import BUST_POINT_BEYOND, bust_dart, down, needed_piece, on_axis
from toilewright.fit.moves.ring import Place
from toilewright.fit.moves.swing import swing_part, with_dart
from toilewright.fit.result import Card, Order
from toilewright.geometry.point import dot
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import Dart
from toilewright.pattern.piece import Piece

NAME = "bust dart split"

SECOND = "second bust dart"

BESIDE = 30.0
"""mm of seam between the two darts (common practice)."""

SEAM_LEFT = 25.0
"""mm of seam that must stay beyond the second dart (common practice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """A second bust dart, `amount` mm of the first one's mouth wide, beside it on the same seam.

    The seam keeps its sewn length, the front its shape: two narrow darts make a softer point than a wide one.

    Options:
        piece: ``bodice front`` unless told otherwise.

    Raises:
        AlterationError: there is no bust dart, or no room beside it.
    """
    piece = needed_piece(garment, NAME, options, "bodice front")
    dart = bust_dart(piece, NAME)
    if any(d.name == SECOND for d in piece.darts):
        raise AlterationError(f'"{NAME}" on "{piece.name}": its bust dart is split already; "bust dart swung" would '
                              "take more of it to another seam.")
    by, pivot = share_of(piece, dart, NAME, amount), on_axis(piece, dart)
    swung = swing_part(piece, dart.name, by, pivot, _beside(piece, dart), needed_centre(piece, NAME))
    altered = with_dart(swung, SECOND, pivot, BUST_POINT_BEYOND, down(piece))
    numbers = {"by": by, "left": width_of(piece, dart) - by, "opens": swung.end - swung.start}
    return Change(garment.with_piece(altered), {piece.name: swung_picture(piece, dart, swung)}, numbers)


def _beside(piece: Piece, dart: Dart) -> Place:
    """Where the second dart is cut: below the first one where there is room, else above it."""
    path = piece.edge(dart.edge).path
    low_first = dot(path.start - path.end, down(piece)) > 0
    below, above = (dart.start - BESIDE, dart.end + BESIDE) if low_first else (dart.end + BESIDE, dart.start - BESIDE)
    fits = [at for at in (below, above) if SEAM_LEFT < at < path.length - SEAM_LEFT]
    if not fits:
        raise AlterationError(f'"{NAME}" on "{piece.name}" finds no room for a second dart beside the bust dart on '
                              f'"{dart.edge}"; "bust dart swung" can take part of it to another seam.')
    return Place(dart.edge, fits[0])


def _card(order: Order, change: Change) -> Card:
    n = change.numbers
    by = f"{{{n['by']:.1f} mm}}"
    steps = (
        f"Mark the second dart {{{BESIDE:.0f} mm}} from the bust dart on the same seam, and rule a line from there to "
        "the bust point. Lengthen the bust dart to the bust point.",
        "Cut along the line and along the leg of the bust dart next to it, both up to the bust point, not through it.",
        f"Close the bust dart by {by} at its mouth: the new cut opens by {{{n['opens']:.1f} mm}}. Tape over paper.",
        f"Both darts stop {{{BUST_POINT_BEYOND:.0f} mm}} short of the bust point. True their mouths, folded.")
    check = (f"The first dart is {{{n['left']:.1f} mm}} wide now.", "The seam measures what it did, both darts closed.")
    return Card("Bust dart split in two", ("paper", "tape", "ruler", "scissors"), steps, check, SOURCE)


SOURCE = "New Dressmaker (1921), ch. 4, from memory; the space between the darts: common practice"

ALTERATION = Alteration(
    NAME, ("split bust dart", "two bust darts"), (8.0, 40.0), SOURCE, AFTER_THE_BUST, apply, _card, options=(PIECE,),
    needs=(Need("bodice front", (), ("bust dart",)),),
    instead='"full bust dartless" makes a bust dart where there is none')
