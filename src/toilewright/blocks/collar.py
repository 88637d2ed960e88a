"""Stand collar: a straight band as long as the neck it is sewn to. Our own draft.

Cut on the straight grain, outside and inside alike; it opens where the garment does (common practice, no published
source: 35 mm stands well and does not press under the chin).
"""

from __future__ import annotations

from toilewright.blocks.draft import SEAM, strip
from toilewright.pattern.parts import Cut, EdgeKind, Notch
from toilewright.pattern.piece import Piece

HEIGHT = 35.0
"""mm; of the finished collar."""


def draft_stand_collar(front: Piece, back: Piece, height: float = HEIGHT) -> Piece:
    """Stand collar (cut twice) that opens at the centre back, with notches at the shoulders and the centre front.

    Args:
        front: bodice piece on the fold, with an edge `neck`.
        back: bodice piece cut as a pair, with an edge `neck`.
        height: mm.
    """
    ahead, behind = front.sewn_length("neck"), back.sewn_length("neck")
    whole = 2 * (ahead + behind)
    notches = (Notch("left shoulder notch", "neck", behind), Notch("centre front notch", "neck", behind + ahead),
               Notch("right shoulder notch", "neck", behind + 2 * ahead))
    return strip("collar", whole, height, ("neck", "right end", "top", "left end"),
                 (EdgeKind.SEAM,) * 4, (SEAM,) * 4, notches, Cut(2))
