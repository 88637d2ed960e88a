"""Tier gathered onto the hem of a skirt. Our own draft; see :data:`toilewright.blocks.draft.GATHER`."""

from __future__ import annotations

from toilewright.blocks.draft import GATHER, SEAM, Measures, measure, strip
from toilewright.pattern.parts import Cut, EdgeKind, Notch
from toilewright.pattern.piece import Piece


def draft_skirt_tier(body: Measures, skirt_front: Piece) -> Piece:
    """Tier for a skirt whose front and back hems are equally long (cut twice, each on the fold).

    Args:
        body: measures by ISO 8559-1 name (mm).
        skirt_front: half a front, with an edge `hem`.

    Raises:
        InputError: a measure is missing.
    """
    width = GATHER * skirt_front.edge("hem").path.length
    return strip("skirt tier", width, 0.18 * measure(body, "waist height"),
                 ("hem", "side seam", "top", "centre front"),
                 (EdgeKind.HEM, EdgeKind.SEAM, EdgeKind.SEAM, EdgeKind.FOLD), (30.0, SEAM, SEAM, 0.0),
                 (Notch("tier notch", "top", width / 2),), Cut(2))
