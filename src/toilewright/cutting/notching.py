"""How many cuts a balance mark has: single at the front, double at the back.

Common practice, no published source. A pattern that tells front and back by its own counts keeps them.
"""

from __future__ import annotations

from dataclasses import replace

from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import Notch
from toilewright.pattern.piece import Piece


def with_counts(garment: Garment) -> Garment:
    """The garment with double marks at the back, where all its balance marks are single; else as it is.

    A mark is at the back where its own name says so, or where it lies on a back piece; the mark that it meets is
    doubled with it, so that partners always agree. Marks between front and back stay single.
    """
    notches = [(p, n) for p in garment.pieces for n in p.notches]
    if not notches or any(n.count != 1 for _, n in notches):
        return garment
    doubled = {(p.name, n.edge, n.name) for p, n in notches if _at_back(garment, p, n)}
    for (one, edge, name), (other, beside) in _pairs(garment):
        if (one, edge, name) in doubled:
            doubled.add((other, beside, name))
    return replace(garment, pieces=tuple(
        replace(p, notches=tuple(replace(n, count=2) if (p.name, n.edge, n.name) in doubled else n for n in p.notches))
        for p in garment.pieces))


def _at_back(garment: Garment, piece: Piece, notch: Notch) -> bool:
    if "back" in notch.name.lower().split():
        return True
    if "back" not in piece.name.lower().split() or "front" in notch.name.lower().split():
        return False
    return not any("front" in other.lower().split() for other in _sewn_to(garment, piece.name, notch.edge))


def _sewn_to(garment: Garment, piece: str, edge: str) -> set[str]:
    """The pieces that an edge is sewn to."""
    found = set()
    for seam in garment.seams:
        for side, across in ((seam.a, seam.b), (seam.b, seam.a)):
            if any((r.piece, r.edge) == (piece, edge) for r in side):
                found |= {r.piece for r in across}
    return found


def _pairs(garment: Garment) -> list[tuple[tuple[str, str, str], tuple[str, str]]]:
    """(piece, edge, mark) with each (piece, edge) across its seam that carries a mark of the same name."""
    marks = {(p.name, n.edge, n.name) for p in garment.pieces for n in p.notches}
    pairs = []
    for seam in garment.seams:
        for side, across in ((seam.a, seam.b), (seam.b, seam.a)):
            ends = {(r.piece, r.edge) for r in side}
            others = {(r.piece, r.edge) for r in across}
            pairs += [(mark, other) for mark in marks if mark[:2] in ends for other in others
                      if (*other, mark[2]) in marks]
    return pairs
