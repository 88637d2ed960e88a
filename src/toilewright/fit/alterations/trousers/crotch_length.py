"""Crotch seam longer or shorter in front or behind, by its point, the inseam as long as it was."""

from __future__ import annotations

from toilewright.fit.alterations.kinds import Picture, Size, too_much
from toilewright.fit.alterations.trousers.leg import (
    CROTCH,
    INSEAM,
    crotch_point,
    hollow_start,
    knee_level,
    place_on,
    settled_point,
)
from toilewright.fit.moves.edges import ends_at, towards
from toilewright.pattern.piece import Piece

MOST, LEAST = 0.45, -0.2
"""Of the crotch seam below the hip: so much longer or shorter it can still be drawn (our own choice)."""


def by_the_point(piece: Piece, name: str, amount: float) -> tuple[Piece, Picture]:
    """The crotch seam `amount` mm longer at its point, and what the card shows.

    Raises:
        AlterationError: a level is not reached, or the amount does not fit.
    """
    seam = towards(piece, CROTCH, INSEAM)
    place = hollow_start(piece, name)
    low = seam.length - place if ends_at(piece, CROTCH, INSEAM) else place
    if not LEAST * low <= amount <= MOST * low:
        raise too_much(name, amount, piece.name, "is more than the hollow of the crotch seam bears",
                       (MOST if amount > 0 else LEAST) * low)

    def off(drawn: Piece, share: float) -> float:
        return drawn.edge(CROTCH).path.length - seam.length - share * amount

    moved = settled_point(piece, name, amount, off, amount)
    old, new = crotch_point(piece), crotch_point(moved)
    knee = piece.edge(INSEAM).path.point_at(place_on(piece, INSEAM, knee_level(piece), name))
    hip = piece.edge(CROTCH).path.point_at(place)
    return moved, Picture(sizes=(Size(old, new),), near=(old, new, hip, (old + knee) / 2))
