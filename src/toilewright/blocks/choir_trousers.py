"""The choir's trousers in ten sizes: straight legs, darts at the waist, a waistband that opens at the left side.

Our own design and our own draft.
"""

from __future__ import annotations

from toilewright.blocks.chart import SIZES, TROUSER_CHART, body_of
from toilewright.blocks.draft import Measures
from toilewright.blocks.trousers import draft_trousers
from toilewright.blocks.waistband import draft_trouser_waistband
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.nest import Pattern


def choir_trousers() -> Pattern:
    """Trousers and waistband in ten sizes, drafted from :data:`toilewright.blocks.chart.TROUSER_CHART`."""
    garments = tuple(trousers_for(body_of(size)) for size in SIZES)
    return Pattern("Choir trousers", SIZES, garments, TROUSER_CHART,
                   "cloth with some weight that keeps a crease: wool, viscose mixture, firm linen")


def trousers_for(body: Measures) -> Garment:
    """The trousers in one size, or for one body.

    Args:
        body: measures by ISO 8559-1 name (mm).

    Raises:
        InputError: a measure is missing.
        GeometryError: measures that do not go together.
    """
    front, back = draft_trousers(body)
    return Garment((front, back, draft_trouser_waistband(front, back)), SEAMS)


SEAMS: tuple[Seam, ...] = (
    Seam("trouser side seam", (EdgeRef("trouser front", "side seam"),), (EdgeRef("trouser back", "side seam"),)),
    Seam("inseam", (EdgeRef("trouser front", "inseam"),), (EdgeRef("trouser back", "inseam"),)),
    Seam("waistband", (EdgeRef("trouser front", "waist"), EdgeRef("trouser front", "waist", reverse=True),
                       EdgeRef("trouser back", "waist"), EdgeRef("trouser back", "waist", reverse=True)),
         (EdgeRef("waistband", "waist"),)),
)
