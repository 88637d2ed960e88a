"""Straight pieces: waistband, waist tie, gathered skirt tier, gathered sleeve frill. Our own draft.

Gathers: flat length = finished length x ratio; 1 1/2 for firm cloth, 2 for medium (extension leaflets); ours is 1.8.
A turned tie is cut twice its finished width, so it lies on the fold here.
"""

from __future__ import annotations

from toilewright.blocks.draft import SEAM, Measures, measure, strip
from toilewright.pattern.parts import Cut, EdgeKind, Notch
from toilewright.pattern.piece import Piece

GATHER = 1.8
"""Length of the gathered edge over the length of the edge it is sewn to."""

BAND = 40.0
"""mm; finished width of waistband and tie."""


def draft_waistband(front: Piece, back: Piece) -> Piece:
    """Waistband (outside and inside alike) around a wrap skirt, from wrap edge to wrap edge, with notches at the seams.

    Args:
        front: wrap skirt front, cut as a pair.
        back: wrap skirt back, on the fold.
    """
    ahead, behind = front.sewn_length("waist"), back.sewn_length("waist")
    notches = [Notch("side notch right", "waist", ahead), Notch("back notch", "waist", ahead + behind, 2),
               Notch("side notch left", "waist", ahead + 2 * behind)]
    return strip("waistband", 2 * (ahead + behind), BAND, ("waist", "right end", "top", "left end"),
                 (EdgeKind.SEAM,) * 4, (SEAM,) * 4, notches, Cut(2))


def draft_waist_tie(body: Measures) -> Piece:
    """Tie sewn to each end of the waistband: long enough to go once round and be tied.

    Args:
        body: measures by ISO 8559-1 name (mm).
    """
    length = 0.75 * measure(body, "waist girth") + 420.0
    return strip("waist tie", length, BAND, ("long edge", "end", "fold", "band end"),
                 (EdgeKind.SEAM, EdgeKind.SEAM, EdgeKind.FOLD, EdgeKind.SEAM), (SEAM, SEAM, 0.0, SEAM), (), Cut(2))


def draft_skirt_tier(body: Measures, skirt_front: Piece) -> Piece:
    """Tier gathered onto the hem of a skirt whose front and back hems are equally long (cut twice, on the fold).

    Args:
        body: measures by ISO 8559-1 name (mm).
        skirt_front: shows half a front.
    """
    width = GATHER * skirt_front.edge("hem").path.length
    return strip("skirt tier", width, 0.18 * measure(body, "waist height"),
                 ("hem", "side seam", "top", "centre front"),
                 (EdgeKind.HEM, EdgeKind.SEAM, EdgeKind.SEAM, EdgeKind.FOLD), (30.0, SEAM, SEAM, 0.0),
                 (Notch("tier notch", "top", width / 2),), Cut(2))


def draft_sleeve_frill(sleeve: Piece) -> Piece:
    """Frill gathered onto the hem of a sleeve (cut twice)."""
    width = GATHER * sleeve.edge("hem").path.length
    return strip("sleeve frill", width, 80.0, ("hem", "seam front", "top", "seam back"),
                 (EdgeKind.HEM, EdgeKind.SEAM, EdgeKind.SEAM, EdgeKind.SEAM), (30.0, SEAM, SEAM, SEAM),
                 (Notch("frill notch", "top", width / 2),), Cut(2))
