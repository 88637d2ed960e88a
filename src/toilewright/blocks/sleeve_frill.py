"""Frill gathered onto the hem of a sleeve. Our own draft; see :data:`toilewright.blocks.draft.GATHER`."""

from __future__ import annotations

from toilewright.blocks.draft import GATHER, SEAM, strip
from toilewright.pattern.parts import Cut, EdgeKind, Notch
from toilewright.pattern.piece import Piece

DEPTH = 80.0
"""mm; finished depth of the frill."""


def draft_sleeve_frill(sleeve: Piece) -> Piece:
    """Frill for a sleeve (cut twice).

    Args:
        sleeve: with an edge `hem`.
    """
    width = GATHER * sleeve.edge("hem").path.length
    return strip("sleeve frill", width, DEPTH, ("hem", "seam front", "top", "seam back"),
                 (EdgeKind.HEM, EdgeKind.SEAM, EdgeKind.SEAM, EdgeKind.SEAM), (30.0, SEAM, SEAM, SEAM),
                 (Notch("frill notch", "top", width / 2),), Cut(2))
