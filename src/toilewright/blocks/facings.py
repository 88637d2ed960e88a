"""Neck facings, front and back: they follow the neck of the bodice they are sewn to. Our own draft.

A facing is the strip of the bodice beside its neck: neck and shoulder are the bodice's own lines, and the outer edge
keeps about the same distance from the neck all along, square to shoulder and centre. 60 mm wide, so that it stays
inside and its shoulder seams can be caught down (common practice, no published source).
"""

from __future__ import annotations

from toilewright.blocks.draft import SEAM, curve, upright
from toilewright.pattern.parts import Cut, Edge, EdgeKind
from toilewright.pattern.piece import Piece

WIDTH = 60.0
"""mm; of the finished facing."""


def draft_facings(front: Piece, back: Piece, width: float = WIDTH) -> tuple[Piece, Piece]:
    """Front facing (on the fold) and back facing (a pair, opening at the centre back).

    Args:
        front, back: bodice pieces with edges `shoulder` and `neck`, the neck walked from the shoulder to the centre.
        width: mm.
    """
    return (_facing("front neck facing", front, "centre front", width, Cut()),
            _facing("back neck facing", back, "centre back", width, Cut(2, mirrored=True)))


def _facing(name: str, bodice: Piece, centre_name: str, width: float, cut: Cut) -> Piece:
    neck, shoulder, centre = bodice.edge("neck"), bodice.edge("shoulder"), bodice.edge(centre_name)
    along = shoulder.path.sub(shoulder.path.length - width, shoulder.path.length)
    down = centre.path.sub(0.0, width)
    # The neck's own handles, grown with the radius, keep the edge at an even distance from it.
    handles = neck.path.handles[0] or (neck.path.start, neck.path.end)
    reach_in, reach_out = abs(handles[1] - neck.path.end), abs(handles[0] - neck.path.start)
    span = abs(neck.path.end - neck.path.start)
    grown = abs(along.start - down.end) / span
    outer = curve(down.end, down.end_tangent * 1j, reach_in * grown, along.start, along.start_tangent * -1j,
                  reach_out * grown)
    x = 0.35 * along.start.real
    return Piece(
        name,
        (Edge(centre_name, down, centre.kind, centre.allowance),
         Edge("outer edge", outer, EdgeKind.FREE, 6.0),
         Edge("shoulder", along, allowance=SEAM),
         Edge("neck", neck.path, allowance=SEAM)),
        grain=upright(x, down.end.imag + 12.0, down.start.imag - 6.0),
        cut=cut)
