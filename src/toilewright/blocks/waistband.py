"""Straight waistbands, outside and inside alike: of a wrap skirt, and of trousers. Our own draft."""

from __future__ import annotations

from toilewright.blocks.draft import SEAM, strip
from toilewright.pattern.parts import Cut, EdgeKind, Notch
from toilewright.pattern.piece import Piece

BAND = 40.0
"""mm; finished width of waistband and tie."""


def draft_waistband(front: Piece, back: Piece) -> Piece:
    """Waistband (cut twice: outside and inside) from wrap edge to wrap edge, with notches at the seams and centres.

    Args:
        front: wrap skirt front, cut as a pair, with a `centre notch` on its waist.
        back: wrap skirt back, on the fold.
    """
    ahead, behind = front.sewn_length("waist"), back.sewn_length("waist")
    centre = front.sewn_at("waist", next(n.at for n in front.notches if n.name == "centre notch"))
    whole = 2 * (ahead + behind)
    notches = (
        Notch("right centre notch", "waist", ahead - centre), Notch("right side notch", "waist", ahead),
        Notch("back notch", "waist", ahead + behind, 2),
        Notch("left side notch", "waist", whole - ahead), Notch("left centre notch", "waist", whole - ahead + centre))
    return strip("waistband", whole, BAND, ("waist", "right end", "top", "left end"),
                 (EdgeKind.SEAM,) * 4, (SEAM,) * 4, notches, Cut(2))


def draft_trouser_waistband(front: Piece, back: Piece) -> Piece:
    """Waistband (cut twice: outside and inside) that opens at the left side, with notches at the seams.

    Args:
        front, back: trouser pieces, each cut as a pair, with an edge `waist`.
    """
    ahead, behind = front.sewn_length("waist"), back.sewn_length("waist")
    whole = 2 * (ahead + behind)
    notches = (Notch("centre front notch", "waist", ahead), Notch("right side notch", "waist", 2 * ahead),
               Notch("back notch", "waist", 2 * ahead + behind, 2))
    return strip("waistband", whole, BAND, ("waist", "right end", "top", "left end"),
                 (EdgeKind.SEAM,) * 4, (SEAM,) * 4, notches, Cut(2))
