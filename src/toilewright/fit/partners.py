"""Partners made equal after a blend: what is sewn together differs no more than it does in the sizes that went in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from toilewright.fit.between import mixed
from toilewright.geometry.path import Path
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.nest import Pattern
from toilewright.pattern.parts import Notch
from toilewright.pattern.piece import Piece

EQUAL = 0.01
"""mm; partners that differ by less are equal (a printer's dot is 0.04)."""

_KEPT = ("armhole", "neck", "shoulder")


def partners_equal(garment: Garment, pattern: Pattern, bust: float, waist: float) -> Garment:
    """The garment with its side seams and waist seams as equal as they are in the sizes that went in.

    A seam of two edges is settled below, half on each, never at armhole, neck or shoulder; a waist seam of several
    edges at the side seams of the pieces that have one, by the same amount on each. The neighbour edge is drawn along;
    it lies square there, so its own length stays.

    Args:
        bust, waist: places among the sizes, whose differences are kept.
    """
    for _ in range(3):
        off = 0.0
        for seam in garment.seams:
            if seam.ratio is not None:
                continue
            several = len(seam.a) > 1 or len(seam.b) > 1
            if several and not all(r.edge == "waist" for r in (*seam.a, *seam.b)):
                continue
            goal = _goal(pattern, seam, waist if several else bust)
            miss = _difference(garment, seam) - goal
            off = max(off, abs(miss))
            if abs(miss) > EQUAL:
                garment = _shared(garment, seam, miss) if several else _halved(garment, seam, miss)
        if off <= EQUAL:
            break
    return garment


def _goal(pattern: Pattern, seam: Seam, at: float) -> float:
    low = int(at)
    return mixed({k: _difference(pattern.garments[k], seam)
                  for k in range(low, min(low + 2, len(pattern.garments)))}, at)


def _difference(garment: Garment, seam: Seam) -> float:
    """Side b minus side a, sewn (mm)."""
    def side(refs: Sequence[EdgeRef]) -> float:
        return sum(garment.piece(r.piece).sewn_length(r.edge) * r.times for r in refs)
    return side(seam.b) - side(seam.a)


def _halved(garment: Garment, seam: Seam, miss: float) -> Garment:
    """Both edges give half."""
    ends = [(ref, sign, _free_end(garment.piece(ref.piece), ref.edge))
            for ref, sign in ((seam.a[0], 1.0), (seam.b[0], -1.0))]
    free = [(ref, sign, end) for ref, sign, end in ends if end is not None]
    for ref, sign, end in free:
        garment = garment.with_piece(_longer(garment.piece(ref.piece), ref.edge, end, miss * sign / len(free)))
    return garment


def _shared(garment: Garment, seam: Seam, miss: float) -> Garment:
    """Every piece with a side seam, on one side of the waist seam, gives the same."""
    for refs, sign in ((seam.b, -1.0), (seam.a, 1.0)):
        if all(garment.piece(r.piece).has_edge("side seam") for r in refs):
            share = miss * sign / sum(r.times for r in refs)
            for name in dict.fromkeys(r.piece for r in refs):
                piece = garment.piece(name)
                garment = garment.with_piece(_longer(piece, "waist", _end_at(piece, "waist", "side seam"), share))
            return garment
    return garment


def _end_at(piece: Piece, edge: str, neighbour: str) -> int:
    """0 when the neighbour is at the edge's start, 1 when it is at its end."""
    i = [e.name for e in piece.edges].index(edge)
    return 0 if piece.edges[i - 1].name == neighbour else 1


def _free_end(piece: Piece, edge: str) -> int | None:
    """The end of an edge that may move, lower ones first; None when both have to stay."""
    if edge in _KEPT:
        return None
    i = [e.name for e in piece.edges].index(edge)
    beside = {piece.edges[i - 1].name: 0, piece.edges[(i + 1) % len(piece.edges)].name: 1}
    for low in ("hem", "waist"):
        if low in beside:
            return beside[low]
    return next((end for name, end in beside.items() if name not in _KEPT), None)


def _longer(piece: Piece, name: str, end: int, by: float) -> Piece:
    """The piece with one edge longer by so much, straight on at one of its ends; the neighbour is drawn along."""
    i = [e.name for e in piece.edges].index(name)
    edge = piece.edges[i]
    old = edge.path.end if end else edge.path.start
    new = old + edge.path.end_tangent * by if end else old - edge.path.start_tangent * by
    arriving, leaving = (edge, piece.edges[(i + 1) % len(piece.edges)]) if end else (piece.edges[i - 1], edge)
    paths: dict[str, Path] = {arriving.name: arriving.path.with_ends(end=new),
                              leaving.name: leaving.path.with_ends(start=new)}
    # Places are counted from the start of an edge, and only one of the two edges has a new start.
    grown = paths[leaving.name].length - leaving.path.length
    return replace(
        piece,
        edges=tuple(replace(e, path=paths.get(e.name, e.path)) for e in piece.edges),
        darts=tuple(replace(d, start=d.start + grown, end=d.end + grown) if d.edge == leaving.name else d
                    for d in piece.darts),
        notches=tuple(_carried(n, edge.path.length, paths[name].length) if n.edge == name
                      else replace(n, at=max(n.at + grown, 0.0)) if n.edge == leaving.name else n
                      for n in piece.notches),
        landmarks=tuple(replace(m, at=new) if abs(m.at - old) < 1e-6 else m for m in piece.landmarks))


def _carried(notch: Notch, before: float, after: float) -> Notch:
    """A notch on an edge that grew keeps its distance from the nearer end, as its partner does."""
    return notch if notch.at <= before / 2 else replace(notch, at=notch.at + after - before)
