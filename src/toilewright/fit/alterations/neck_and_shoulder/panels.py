"""A shoulder that a princess seam divides: one panel has its tip, the panel at the neck turns with it."""

from __future__ import annotations

from toilewright.fit.follow import opposite
from toilewright.fit.frame import down
from toilewright.fit.moves.edges import Redrawn, corner, other_end, redraw_edge, shift_end
from toilewright.geometry.affine import Affine
from toilewright.geometry.point import Point, dot, unit
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

PRINCESS = "princess seam"

DOWN_PRINCESS = 120.0
"""mm from the shoulder over which a princess seam is drawn anew (our own choice)."""


def inner_edge(piece: Piece) -> str:
    """The edge at the shoulder's end away from the armhole: the neck, or a princess seam."""
    return other_end(piece, "shoulder", "armhole")


def panel_beside(garment: Garment, piece: Piece) -> Piece | None:
    """The panel between a princess seam and the neck; None where the shoulder runs to the neck."""
    refs = () if piece.has_edge("neck") else opposite(garment, piece.name, inner_edge(piece))
    found = (garment.piece(r.piece) for r in refs)
    return next((p for p in found if p.has_edge("neck") and p.has_edge("shoulder")), None)


def neck_point(piece: Piece, panel: Piece | None) -> Point:
    """The inner end of the whole shoulder, as it lies with the panel beside laid to the piece."""
    inner = corner(piece, "shoulder", inner_edge(piece))
    if panel is None:
        return inner
    return inner - unit(corner(piece, "shoulder", "armhole") - inner) * panel.sewn_length("shoulder")


def shoulder_turned(piece: Piece, turned: Affine) -> tuple[Redrawn, ...]:
    """The shoulder turned; a princess seam that meets it is drawn to it."""
    path = piece.edge("shoulder").path
    shoulder = Redrawn("shoulder", path.mapped(turned), (0.0, path.length), (0.0, path.length))
    if not piece.has_edge(PRINCESS):
        return (shoulder,)
    return shoulder, shift_end(piece, PRINCESS, "shoulder", turned, DOWN_PRINCESS)


def panel_turned(panel: Piece, angle: float, rises: bool) -> Piece:
    """The panel at the neck, its shoulder turned about the neck point by an angle (radians), up or down."""
    neck = corner(panel, "shoulder", "neck")
    far = corner(panel, "shoulder", other_end(panel, "shoulder", "neck"))
    lifts = dot((far - neck) * 1j, down(panel)) < 0
    turned = Affine.turn(abs(angle) if lifts == rises else -abs(angle), neck)
    return redraw_edge(panel, *shoulder_turned(panel, turned))
