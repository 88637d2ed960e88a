"""What is gathered onto an edge that has grown grows with it, at the ratio of its seam."""

from __future__ import annotations

from toilewright.fit.follow.seams import grown, neighbours
from toilewright.fit.frame import CENTRES
from toilewright.fit.moves.edges import Redrawn, redraw_edge, shift_end, towards
from toilewright.geometry.affine import Affine
from toilewright.pattern.garment import Garment, Seam
from toilewright.pattern.parts import EdgeKind
from toilewright.pattern.piece import Piece


def gather_anew(before: Garment, after: Garment, seam: Seam) -> Garment:
    """The gathered side wider by what the other has grown, times the ratio, at its outer sides."""
    ratio = seam.ratio or 1.0
    # What the gathered side has grown by itself counts, so that a second round adds nothing.
    wanted = [grown(before, after, r) * r.times * ratio for r in seam.a]
    paired = len(seam.a) == len(seam.b) and len({r.piece for r in seam.b}) == len(seam.b)
    for i, ref in enumerate(seam.b):
        if any(r.piece == ref.piece for r in seam.b[:i]):
            continue
        share = wanted[i] / ref.times if paired else sum(wanted) / sum(r.times for r in seam.b)
        share -= grown(before, after, ref)
        if abs(share) > 1e-6:
            after = after.with_piece(_widened(after.piece(ref.piece), ref.edge, share))
    return after


def _widened(piece: Piece, top: str, by: float) -> Piece:
    """A tier or frill wider by `by` mm: the side that is not at its centre moves out, along its top."""
    beside = [piece.edge(n) for n in neighbours(piece, top)]
    side = next((e.name for e in beside if e.kind is not EdgeKind.FOLD and e.name not in CENTRES), beside[0].name)
    move = Affine.shift(towards(piece, top, side).end_tangent * by)
    path = piece.edge(side).path
    drawn = [Redrawn(side, path.mapped(move), (0.0, path.length), (0.0, path.length))]
    drawn += [shift_end(piece, n, side, move) for n in neighbours(piece, side)]
    return redraw_edge(piece, *drawn)
