"""Turned tie for the ends of a waistband. Our own draft.

A turned tie is cut twice its finished width, so the piece lies on the fold along its long side.
"""

from __future__ import annotations

from toilewright.blocks.draft import SEAM, Measures, measure, strip
from toilewright.blocks.waistband import BAND
from toilewright.pattern.parts import Cut, EdgeKind
from toilewright.pattern.piece import Piece


def draft_waist_tie(body: Measures) -> Piece:
    """Tie sewn to each end of the waistband: long enough to go most of the way round and be tied in a bow.

    Args:
        body: measures by ISO 8559-1 name (mm).

    Raises:
        InputError: a measure is missing.
    """
    length = 0.75 * measure(body, "waist girth") + 420.0
    return strip("waist tie", length, BAND, ("long edge", "end", "fold", "band end"),
                 (EdgeKind.SEAM, EdgeKind.SEAM, EdgeKind.FOLD, EdgeKind.SEAM), (SEAM, SEAM, 0.0, SEAM), (), Cut(2))
