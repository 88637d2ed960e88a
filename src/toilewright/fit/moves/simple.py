"""Does the outline of a piece cross itself?"""

from __future__ import annotations

from toilewright.pattern.piece import Piece

FINENESS = 0.2
"""mm; how closely curves are followed."""


def is_simple(piece: Piece) -> bool:
    """Can it be cut out in one: does its seam line meet itself nowhere?"""
    from shapely import LinearRing  # heavy

    points = piece.outline.flatten(FINENESS)
    return bool(LinearRing([(p.real, p.imag) for p in points]).is_simple)
