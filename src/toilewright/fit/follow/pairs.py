"""Partners of equal length made even: along the body at a free end, round it at the side."""

from __future__ import annotations

from collections.abc import Collection

from toilewright.fit.follow.seams import difference, neighbours
from toilewright.fit.moves.edges import match_length
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.piece import Piece

_LOW = ("hem", "waist")
_KEPT = ("neck", "armhole", "cap")


def make_even(before: Garment, after: Garment, seam: Seam, moved: Collection[str]) -> Garment:
    """Two partner edges that differ as they did before: the one whose piece was not altered grows, else each by half.

    The end at hem or waist gives; of a shoulder the tip.
    """
    if len(seam.a) != 1 or len(seam.b) != 1 or seam.a == seam.b:
        return after
    miss = difference(after, seam) - difference(before, seam)
    sides = [(ref, sign, end) for ref, sign in ((seam.a[0], 1.0), (seam.b[0], -1.0))
             for end in [_free_end(after.piece(ref.piece), ref.edge)] if end]
    still = [s for s in sides if s[0].piece not in moved] or sides
    for ref, sign, end in still:
        after = _longer(after, ref, end, miss * sign / len(still))
    return after


def share_waist(before: Garment, after: Garment, seam: Seam, moved: Collection[str]) -> Garment:
    """A waist seam of several pieces: those that were not altered give or take at their side seams, all the same."""
    if any(r.edge != "waist" for r in (*seam.a, *seam.b)):
        return after
    miss = difference(after, seam) - difference(before, seam)
    for refs, sign in ((seam.b, -1.0), (seam.a, 1.0)):
        still = not any(r.piece in moved for r in refs)
        if still and all("side seam" in neighbours(after.piece(r.piece), r.edge)
                                                     for r in refs):
            share = miss * sign / sum(r.times for r in refs)
            for ref in {r.piece: r for r in refs}.values():
                after = _longer(after, ref, "side seam", share)
            return after
    return after


def _longer(garment: Garment, ref: EdgeRef, end: str, by: float) -> Garment:
    piece = garment.piece(ref.piece)
    return garment.with_piece(match_length(piece, ref.edge, end, piece.sewn_length(ref.edge) + by))


def _free_end(piece: Piece, edge: str) -> str | None:
    """The neighbour at whose corner an edge may grow; None when both ends have to stay."""
    beside = neighbours(piece, edge)
    low = next((n for n in _LOW if n in beside), None)
    if edge == "shoulder" and low is None:
        return next((n for n in beside if n == "armhole"), None)
    return low or next((n for n in beside if n not in _KEPT), None)
