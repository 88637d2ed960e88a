"""A piece cut in two along a line, its darts on that line gone into the seam."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from toilewright.fit.moves.ring import Place
from toilewright.geometry.meeting import line_meetings
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, dot, unit
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.parts import Edge, InnerLine, Landmark, Notch
from toilewright.pattern.piece import Piece


@dataclass(frozen=True, slots=True)
class Parting:
    """Where one part of a piece begins and ends on the ring, counter-clockwise, and the seam that closes it again.

    Attributes:
        seam: runs from the end of the part back to its start.
    """

    start: Place
    end: Place
    seam: Path


def part(piece: Piece, name: str, parting: Parting, seam: str, allowance: float) -> Piece:
    """One part of a piece, with the seam as its last edge; its marks go along."""
    names = [e.name for e in piece.edges]
    i, j = names.index(parting.start.edge), names.index(parting.end.edge)
    run = [(i + k) % len(names) for k in range((j - i) % len(names) + 1)]
    edges, offsets = [], {}
    for n, k in enumerate(run):
        edge = piece.edges[k]
        low = parting.start.at if n == 0 else 0.0
        high = parting.end.at if n == len(run) - 1 else edge.path.length
        edges.append(replace(edge, path=edge.path.sub(low, high)))
        offsets[edge.name] = (low, high)
    edges[0] = replace(edges[0], path=edges[0].path.with_ends(start=parting.seam.end))
    line = parting.seam.with_ends(start=edges[-1].path.end)
    ring = (*edges, Edge(seam, line, allowance=allowance))

    def kept(edge: str, at: float) -> bool:
        return edge in offsets and offsets[edge][0] - 1e-6 <= at <= offsets[edge][1] + 1e-6

    inside = _Inside(ring)
    return replace(
        piece, name=name, edges=ring,
        darts=tuple(replace(d, start=d.start - offsets[d.edge][0], end=d.end - offsets[d.edge][0])
                    for d in piece.darts if kept(d.edge, d.start) and kept(d.edge, d.end)),
        notches=tuple(replace(m, at=m.at - offsets[m.edge][0]) for m in piece.notches if kept(m.edge, m.at)),
        landmarks=tuple(m for m in piece.landmarks if inside.holds(m.at)),
        lines=tuple(m for old in piece.lines for m in [inside.clipped(old)] if m is not None))


class _Inside:
    """What of a piece lies within a ring of edges."""

    def __init__(self, edges: Sequence[Edge]) -> None:
        self._edges = edges
        self._outline = Path.joined([e.path for e in edges])

    def holds(self, at: Point) -> bool:
        """On the ring, or within it."""
        return self._outline.nearest(at)[1] < 0.5 or self._within(at)

    def _within(self, at: Point) -> bool:
        far = at + complex(5000.0, 37.0)
        return len(line_meetings(self._outline, at, far)) % 2 == 1

    def clipped(self, line: InnerLine) -> InnerLine | None:
        """The stretch of a straight line that lies within."""
        a, b = line.path.start, line.path.end
        if len(line.path.nodes) != 2 or a == b:
            return line if self._within(a) and self._within(b) else None
        way = unit(b - a)
        points = sorted((m.point for m in line_meetings(self._outline, a - way, b + way)), key=lambda p: dot(p, way))
        pairs = [(p, q) for p, q in pairwise(points) if self._within((p + q) / 2)]
        if not pairs:
            return None
        first, last = max(pairs, key=lambda pair: abs(pair[1] - pair[0]))
        return replace(line, path=Path.line(first, last))


def reseamed(garment: Garment, old: Piece, parts: Sequence[Piece]) -> tuple[Seam, ...]:
    """The seams of a garment when a piece has been cut in parts: each edge is now those of the parts that hold it.

    Args:
        old: the piece as it was.
    """
    # The part that begins with an edge that was cut holds its later stretch.
    holders: Mapping[str, tuple[str, ...]] = {
        e.name: tuple(p.name for p in sorted(parts, key=lambda p: p.edges[0].name == e.name) if p.has_edge(e.name))
        for e in old.edges}

    def spread(refs: Sequence[EdgeRef]) -> tuple[EdgeRef, ...]:
        found: list[EdgeRef] = []
        for ref in refs:
            if ref.piece != old.name:
                found.append(ref)
                continue
            names = holders[ref.edge]
            found += [replace(ref, piece=n) for n in (reversed(names) if ref.reverse else names)]
        return tuple(found)

    return tuple(replace(s, a=spread(s.a), b=spread(s.b)) for s in garment.seams)


def notch_along(piece: Piece, edge: str, names_at: Mapping[str, float], count: int = 1) -> Piece:
    """Balance marks added to an edge, by name and arc length (mm)."""
    return replace(piece, notches=(*piece.notches, *(Notch(n, edge, at, count) for n, at in names_at.items())))


def landmark_at(piece: Piece, name: str, at: Point) -> Piece:
    """A landmark put in place, whether the piece had it or not."""
    return replace(piece, landmarks=(*(m for m in piece.landmarks if m.name != name), Landmark(name, at)))
