"""The village choir's tunic in ten sizes: loose, without darts, long sleeves, a stand collar.

Our own design and our own draft. It opens at the centre back.
"""

from __future__ import annotations

from toilewright.blocks.chart import CHART, SIZES, body_of
from toilewright.blocks.collar import draft_stand_collar
from toilewright.blocks.draft import Measures
from toilewright.blocks.long_sleeve import LongSleeveEase, draft_long_sleeve
from toilewright.blocks.plain_bodice import draft_plain_bodice
from toilewright.blocks.sleeve import SleeveEase
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.nest import Pattern

SLEEVE = LongSleeveEase(SleeveEase(upper_arm=40.0, cap=14.0), wrist=80.0)
"""Looser than a fitted bodice's, with little ease in the cap."""


def choir_tunic() -> Pattern:
    """The tunic in ten sizes, drafted from :data:`toilewright.blocks.chart.CHART`."""
    return Pattern("Choir tunic", SIZES, tuple(tunic_for(body_of(size)) for size in SIZES), CHART,
                   "light to medium cloth: linen, cotton, fine wool")


def tunic_for(body: Measures) -> Garment:
    """The tunic in one size, or for one body.

    Args:
        body: measures by ISO 8559-1 name (mm).

    Raises:
        InputError: a measure is missing.
        GeometryError: measures that do not go together.
    """
    front, back = draft_plain_bodice(body)
    return Garment((front, back, draft_long_sleeve(body, front, back, SLEEVE), draft_stand_collar(front, back)), SEAMS)


SEAMS: tuple[Seam, ...] = (
    Seam("shoulder", (EdgeRef("bodice front", "shoulder"),), (EdgeRef("bodice back", "shoulder"),), (0.0, 8.0)),
    Seam("side seam", (EdgeRef("bodice front", "side seam"),), (EdgeRef("bodice back", "side seam"),)),
    Seam("armhole", (EdgeRef("bodice back", "armhole"), EdgeRef("bodice front", "armhole", reverse=True)),
         (EdgeRef("sleeve", "cap", reverse=True),), (9.0, 19.0)),
    Seam("underarm", (EdgeRef("sleeve", "underarm front"),), (EdgeRef("sleeve", "underarm back", reverse=True),)),
    Seam("collar", (EdgeRef("bodice back", "neck", reverse=True), EdgeRef("bodice front", "neck"),
                    EdgeRef("bodice front", "neck", reverse=True), EdgeRef("bodice back", "neck")),
         (EdgeRef("collar", "neck"),)),
)
