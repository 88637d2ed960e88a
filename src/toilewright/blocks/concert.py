"""The village choir's concert dress: every block in ten sizes, and the seams that hold them together."""

from __future__ import annotations

from toilewright.blocks.bodice import draft_bodice
from toilewright.blocks.chart import CHART, SIZES, body_of
from toilewright.blocks.draft import Measures
from toilewright.blocks.sleeve import draft_sleeve
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.nest import Pattern


def concert_dress() -> Pattern:
    """The demo's pattern: all pieces in ten sizes, drafted from :data:`toilewright.blocks.chart.CHART`."""
    return Pattern("Concert dress", SIZES, tuple(dress_for(body_of(size)) for size in SIZES), CHART,
                   "medium-weight cloth that gathers well: cotton lawn, viscose, light wool")


def dress_for(body: Measures) -> Garment:
    """The dress in one size, or for one body.

    Args:
        body: measures by ISO 8559-1 name (mm).

    Raises:
        InputError: a measure is missing.
    """
    front, back = draft_bodice(body)
    sleeve = draft_sleeve(body, front, back)
    return Garment((front, back, sleeve), SEAMS)


SEAMS: tuple[Seam, ...] = (
    Seam("shoulder", (EdgeRef("bodice front", "shoulder"),), (EdgeRef("bodice back", "shoulder"),), (4.0, 13.0)),
    Seam("side seam", (EdgeRef("bodice front", "side seam"),), (EdgeRef("bodice back", "side seam"),)),
    Seam("armhole",
         (EdgeRef("bodice back", "armhole"), EdgeRef("bodice front", "armhole", reverse=True)),
         (EdgeRef("sleeve", "cap", reverse=True),), (20.0, 30.0)),
    Seam("underarm", (EdgeRef("sleeve", "underarm front"),), (EdgeRef("sleeve", "underarm back", reverse=True),)),
)
