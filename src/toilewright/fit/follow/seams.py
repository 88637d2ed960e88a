"""Seams as their partners see them: what lies against an edge, and by how much both sides differ."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.piece import Piece

FOLLOWS = 0.3
"""mm; for less no other piece is touched (a pen line)."""

EVEN = 0.1
"""mm; pieces that were both altered are made even to within this."""


def difference(garment: Garment | Mapping[str, Piece], seam: Seam) -> float:
    """Side b minus side a as sewn, side a grown by the ratio of its gathers (mm)."""
    pieces = {p.name: p for p in garment.pieces} if isinstance(garment, Garment) else garment

    def side(refs: Sequence[EdgeRef]) -> float:
        return sum(pieces[r.piece].sewn_length(r.edge) * r.times for r in refs)
    return side(seam.b) - side(seam.a) * (seam.ratio or 1.0)


def grown(before: Garment, after: Garment, ref: EdgeRef) -> float:
    """How much longer an edge has become, as sewn (mm)."""
    return after.piece(ref.piece).sewn_length(ref.edge) - before.piece(ref.piece).sewn_length(ref.edge)


def opposite(garment: Garment, piece: str, edge: str) -> tuple[EdgeRef, ...]:
    """For each seam of an edge, the edge that lies against it: the one at the same place in a run of as many edges."""
    found = []
    for seam in garment.seams:
        for mine, theirs in ((seam.a, seam.b), (seam.b, seam.a)):
            if len(mine) == len(theirs):
                found += [t for m, t in zip(mine, theirs, strict=True) if m.piece == piece and m.edge == edge]
    return tuple(found)


def neighbours(piece: Piece, edge: str) -> tuple[str, str]:
    """The edges before and after an edge on the ring."""
    names = [e.name for e in piece.edges]
    i = names.index(edge)
    return names[i - 1], names[(i + 1) % len(names)]


def allow_ease(garment: Garment, piece: str, edge: str, more: float) -> Garment:
    """The seam of an edge that has grown by `more` mm and is eased onto its partner: it may now be so much longer."""
    def times(refs: tuple[EdgeRef, ...]) -> int:
        return sum(r.times for r in refs if r.piece == piece and r.edge == edge)

    def eased(seam: Seam) -> Seam:
        gain = more * (times(seam.b) - times(seam.a))
        return replace(seam, ease=(seam.ease[0] + min(gain, 0.0), seam.ease[1] + max(gain, 0.0))) if gain else seam

    return replace(garment, seams=tuple(eased(s) for s in garment.seams))
