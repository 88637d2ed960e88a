"""The village choir's princess dress in ten sizes: princess seams from the shoulders, long sleeves, an A-line skirt.

Our own design and our own drafts.
"""

from __future__ import annotations

from toilewright.blocks.bodice import draft_bodice
from toilewright.blocks.chart import CHART, SIZES, body_of
from toilewright.blocks.draft import Measures
from toilewright.blocks.facings import draft_facings
from toilewright.blocks.long_sleeve import draft_long_sleeve
from toilewright.blocks.princess import draft_princess
from toilewright.blocks.skirt import draft_skirt
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.nest import Pattern

FACING = 50.0
"""mm; so wide that the facing's shoulder ends before the princess seam."""


def princess_dress() -> Pattern:
    """The dress in ten sizes, drafted from :data:`toilewright.blocks.chart.CHART`."""
    return Pattern("Princess dress", SIZES, tuple(princess_dress_for(body_of(size)) for size in SIZES), CHART,
                   "firm cloth that keeps its shape: wool, cotton sateen, linen")


def princess_dress_for(body: Measures) -> Garment:
    """The dress in one size, or for one body.

    Args:
        body: measures by ISO 8559-1 name (mm).

    Raises:
        InputError: a measure is missing.
        GeometryError: measures that do not go together.
    """
    fitted = draft_bodice(body)
    front, side_front, back, side_back = draft_princess(*fitted)
    return Garment((
        front, side_front, back, side_back, draft_long_sleeve(body, side_front, side_back),
        *draft_skirt(body, *fitted, tiered=False), *draft_facings(front, back, FACING)), SEAMS)


def _edge(piece: str, edge: str) -> EdgeRef:
    return EdgeRef(piece, edge)


def _back(piece: str, edge: str) -> EdgeRef:
    """The edge, walked from its end to its start."""
    return EdgeRef(piece, edge, reverse=True)


SEAMS: tuple[Seam, ...] = (
    Seam("shoulder", (_edge("bodice front", "shoulder"),), (_edge("bodice back", "shoulder"),), (2.0, 7.0)),
    Seam("side shoulder", (_edge("bodice side front", "shoulder"),), (_edge("bodice side back", "shoulder"),),
         (2.0, 7.0)),
    Seam("princess seam front", (_edge("bodice front", "princess seam"),),
         (_back("bodice side front", "princess seam"),)),
    Seam("princess seam back", (_edge("bodice back", "princess seam"),), (_back("bodice side back", "princess seam"),)),
    Seam("side seam", (_edge("bodice side front", "side seam"),), (_edge("bodice side back", "side seam"),)),
    Seam("armhole", (_edge("bodice side back", "armhole"), _back("bodice side front", "armhole")),
         (_back("sleeve", "cap"),), (20.0, 30.0)),
    Seam("underarm", (_edge("sleeve", "underarm front"),), (_back("sleeve", "underarm back"),)),
    Seam("waist", (_edge("bodice front", "waist"), _edge("bodice side front", "waist"),
                   _back("bodice side back", "waist"), _back("bodice back", "waist")),
         (_back("skirt front", "waist"), _edge("skirt back", "waist"))),
    Seam("skirt side seam", (_edge("skirt front", "side seam"),), (_edge("skirt back", "side seam"),)),
    Seam("facing shoulder", (_edge("front neck facing", "shoulder"),), (_edge("back neck facing", "shoulder"),)),
    Seam("neck facing", (_back("bodice front", "neck"), _edge("bodice back", "neck")),
         (_back("front neck facing", "neck"), _edge("back neck facing", "neck"))),
)
