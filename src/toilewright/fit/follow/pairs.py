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

    The end at hem or waist gives; of a shoulder the end at which the other one has moved, else its tip.
    """
    if len(seam.a) != 1 or len(seam.b) != 1 or seam.a == seam.b:
        return after
    miss = difference(after, seam) - difference(before, seam)
    at_neck = any(_only_neck_moved(before, after, r) for r in (seam.a[0], seam.b[0]))
    sides = [(ref, sign, end) for ref, sign in ((seam.a[0], 1.0), (seam.b[0], -1.0))
             for end in [_free_end(after.piece(ref.piece), ref.edge, at_neck)] if end]
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
        beside = [r for r in refs if "side seam" in neighbours(after.piece(r.piece), r.edge)]
        if beside and not any(r.piece in moved for r in refs):
            share = miss * sign / sum(r.times for r in beside)
            for ref in {r.piece: r for r in beside}.values():
                after = _longer(after, ref, "side seam", share)
            return after
    return after


def _longer(garment: Garment, ref: EdgeRef, end: str, by: float) -> Garment:
    piece = garment.piece(ref.piece)
    return garment.with_piece(match_length(piece, ref.edge, end, piece.sewn_length(ref.edge) + by))


def _only_neck_moved(before: Garment, after: Garment, shoulder: EdgeRef) -> bool:
    """Was the piece of a shoulder altered at its neck, and its armhole left alone?"""
    old, new = before.piece(shoulder.piece), after.piece(shoulder.piece)
    beside = [n for n in neighbours(new, shoulder.edge) if old.has_edge(n)]
    return [n for n in beside if new.edge(n).path is not old.edge(n).path] == ["neck"]


def _free_end(piece: Piece, edge: str, at_neck: bool) -> str | None:
    """The neighbour at whose corner an edge may grow; None when both ends have to stay."""
    beside = neighbours(piece, edge)
    low = next((n for n in _LOW if n in beside), None)
    if edge == "shoulder" and low is None:
        ends = ("neck", "armhole") if at_neck else ("armhole", "princess seam")
        return next((n for n in ends if n in beside), None)
    return low or next((n for n in beside if n not in _KEPT), None)
