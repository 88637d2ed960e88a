"""The village choir's concert dress: every block in ten sizes, and the seams that hold them together.

A fitted bodice with elbow sleeves that end in a gathered frill, an A-line skirt with a gathered tier, and, to wear over
it or by itself, a wrap skirt with waistband and ties. Our own design and our own drafts.
"""

from __future__ import annotations

from toilewright.blocks.bodice import draft_bodice
from toilewright.blocks.chart import CHART, SIZES, body_of
from toilewright.blocks.draft import GATHER, Measures
from toilewright.blocks.facings import draft_facings
from toilewright.blocks.skirt import draft_skirt
from toilewright.blocks.skirt_tier import draft_skirt_tier
from toilewright.blocks.sleeve import draft_sleeve
from toilewright.blocks.sleeve_frill import draft_sleeve_frill
from toilewright.blocks.waist_tie import draft_waist_tie
from toilewright.blocks.waistband import draft_waistband
from toilewright.blocks.wrap_skirt import draft_wrap_skirt
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
    skirt_front, skirt_back = draft_skirt(body, front, back)
    wrap_front, wrap_back = draft_wrap_skirt(body)
    return Garment((
        front, back, sleeve, draft_sleeve_frill(sleeve),
        skirt_front, skirt_back, draft_skirt_tier(body, skirt_front),
        wrap_front, wrap_back, draft_waistband(wrap_front, wrap_back), draft_waist_tie(body),
        *draft_facings(front, back)), SEAMS)


def _edge(piece: str, edge: str) -> EdgeRef:
    return EdgeRef(piece, edge)


def _back(piece: str, edge: str) -> EdgeRef:
    """The edge, walked from its end to its start."""
    return EdgeRef(piece, edge, reverse=True)


SEAMS: tuple[Seam, ...] = (
    Seam("shoulder", (_edge("bodice front", "shoulder"),), (_edge("bodice back", "shoulder"),), (4.0, 13.0)),
    Seam("side seam", (_edge("bodice front", "side seam"),), (_edge("bodice back", "side seam"),)),
    Seam("armhole", (_edge("bodice back", "armhole"), _back("bodice front", "armhole")), (_back("sleeve", "cap"),),
         (20.0, 30.0)),
    Seam("underarm", (_edge("sleeve", "underarm front"),), (_back("sleeve", "underarm back"),)),
    Seam("sleeve frill", (_edge("sleeve", "hem"),), (_back("sleeve frill", "top"),), ratio=GATHER),
    Seam("frill seam", (_edge("sleeve frill", "seam front"),), (_back("sleeve frill", "seam back"),)),
    Seam("waist", (_edge("bodice front", "waist"), _back("bodice back", "waist")),
         (_back("skirt front", "waist"), _edge("skirt back", "waist"))),
    Seam("skirt side seam", (_edge("skirt front", "side seam"),), (_edge("skirt back", "side seam"),)),
    Seam("skirt tier", (_edge("skirt front", "hem"), _back("skirt back", "hem")),
         (_back("skirt tier", "top"), _edge("skirt tier", "top")), ratio=GATHER),
    Seam("facing shoulder", (_edge("front neck facing", "shoulder"),), (_edge("back neck facing", "shoulder"),)),
    Seam("neck facing", (_back("bodice front", "neck"), _edge("bodice back", "neck")),
         (_back("front neck facing", "neck"), _edge("back neck facing", "neck"))),
    Seam("wrap side seam", (_edge("wrap skirt front", "side seam"),), (_edge("wrap skirt back", "side seam"),)),
    Seam("waistband", (_back("wrap skirt front", "waist"), _edge("wrap skirt back", "waist"),
                       _back("wrap skirt back", "waist"), _edge("wrap skirt front", "waist")),
         (_edge("waistband", "waist"),)),
    Seam("waist tie", (_edge("waistband", "left end"),), (_edge("waist tie", "band end"),)),
)
