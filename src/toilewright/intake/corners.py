"""Corners of drawn lines, the straight and curved stretches between them, and polylines made curves again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from toilewright.geometry.fairing import fit_cubics
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.intake.sketch import Sketch, kept
from toilewright.tolerance import CORNER

SHARP = 0.6
"""radians (34 degrees); a turn that separates two lines drawn in one stroke: dart legs, arrow wings, ticks."""

REFIT = 0.05
"""mm; how far a curve may leave the points of the polyline that it replaces (a sixth of a pen line)."""


@dataclass(frozen=True)
class Bit:
    """A stretch of a drawn line without a sharp corner, and the number of the line it came from."""

    path: Path
    source: int = 0

    @property
    def a(self) -> Point:
        """Its start."""
        return self.path.nodes[0]

    @property
    def b(self) -> Point:
        """Its end."""
        return self.path.nodes[-1]

    @kept
    def sketch(self) -> Sketch:
        """Its polyline."""
        return Sketch(self.path)

    @kept
    def length(self) -> float:
        """Its length (mm)."""
        return self.sketch.length

    @kept
    def straight(self) -> bool:
        """Does it leave its chord by no more than half a pen line (or 0.3 % of its length)?"""
        chord = self.b - self.a
        size = abs(chord)
        if len(self.path.nodes) == 2 and self.path.handles[0] is None:
            return size > 0
        if size == 0 or size < 0.9 * self.length:
            return False
        off = ((self.sketch.points - self.a) * (chord.conjugate() / size)).imag
        return bool(np.abs(off).max() <= max(0.2, 0.003 * size))

    @property
    def way(self) -> Point:
        """Unit direction from start to end."""
        chord = self.b - self.a
        return chord / (abs(chord) or 1.0)


class EndGrid:
    """The ends of many bits, found by place."""

    CELL = 2.0
    """mm; no search reaches farther than one cell."""

    def __init__(self, bits: Sequence[Bit]) -> None:
        """Sort the ends into cells."""
        self.bits = bits
        self._cells: dict[tuple[int, int], list[tuple[int, Point, Point]]] = {}
        for i, bit in enumerate(bits):
            for near, far in ((bit.a, bit.b), (bit.b, bit.a)):
                self._cells.setdefault((int(near.real // self.CELL), int(near.imag // self.CELL)), []).append(
                    (i, near, far))

    def near(self, p: Point, reach: float) -> list[tuple[int, Point, Point]]:
        """(number of the bit, that end, its other end) for all ends within `reach` mm of p, the nearest first."""
        x, y = int(p.real // self.CELL), int(p.imag // self.CELL)
        found = [e for dx in (-1, 0, 1) for dy in (-1, 0, 1) for e in self._cells.get((x + dx, y + dy), ())
                 if abs(e[1] - p) < reach]
        return sorted(found, key=lambda e: abs(e[1] - p))


def turns(path: Path) -> np.ndarray:
    """Turning angle at each node (radians, left positive); at the ends of an open path 0."""
    nodes = np.array(path.nodes, dtype=complex)
    into, out = nodes[1:] - nodes[:-1], nodes[1:] - nodes[:-1]
    if any(path.handles):
        into, out = into.copy(), out.copy()
        for i, handles in enumerate(path.handles):
            if handles:
                a, d = nodes[i], nodes[i + 1]
                out[i] = next((v for v in (handles[0] - a, handles[1] - a) if abs(v) > 1e-6), d - a)
                into[i] = next((v for v in (d - handles[1], d - handles[0]) if abs(v) > 1e-6), d - a)
    found = np.zeros(len(nodes))
    found[1:-1] = np.angle(out[1:] * np.conj(into[:-1]))
    if path.closed:
        found[0] = found[-1] = np.angle(out[0] * np.conj(into[-1]))
    return found


def corner_nodes(path: Path, angle: float = CORNER) -> list[int]:
    """Numbers of the inner nodes (and of the joint of a closed path, as 0) where it turns by more than `angle`.

    In a polyline drawn for a curve every node turns: a node counts only when it turns clearly more than both
    its neighbours, or very sharply.
    """
    found = np.abs(turns(path))
    n = len(found) - 1
    closed = path.closed
    corners = []
    for i in np.nonzero(found[:-1] > angle)[0]:
        i = int(i)
        if i == 0 and not closed:
            continue
        beside = max(found[i - 1 if i else n - 1], found[i + 1])
        if found[i] > SHARP or found[i] > 2 * beside or not _polygonal(path, i):
            corners.append(i)
    return corners


def _polygonal(path: Path, i: int) -> bool:
    """Are both curves at a node straight and short, as in a flattened curve?"""
    n = len(path.handles)
    before, after = (i - 1) % n, i % n
    return (path.handles[before] is None and path.handles[after] is None
            and abs(path.nodes[before + 1] - path.nodes[before]) < 20
            and abs(path.nodes[after + 1] - path.nodes[after]) < 20)


def part(path: Path, i: int, j: int) -> Path:
    """The stretch from node i to node j (i < j)."""
    return Path(path.nodes[i:j + 1], path.handles[i:j])


def started_at(ring: Path, i: int) -> Path:
    """The same closed path, starting at its node i."""
    if i == 0:
        return ring
    return Path((*ring.nodes[i:-1], *ring.nodes[:i + 1]), (*ring.handles[i:], *ring.handles[:i]))


def between_corners(path: Path, angle: float = CORNER) -> list[Path]:
    """The stretches from corner to corner, end to end; a closed path starts at its first corner, if it has one."""
    cuts = corner_nodes(path, angle)
    if path.closed and cuts:
        path, cuts = started_at(path, cuts[0]), [c - cuts[0] for c in cuts]
    return [part(path, i, j) for i, j in pairwise((0, *[c for c in cuts if c], len(path.handles)))]


def bits(paths: Sequence[Path], angle: float = SHARP) -> list[Bit]:
    """All lines cut at their sharp corners."""
    found = []
    for source, path in enumerate(paths):
        if len(path.handles) == 1:
            found.append(Bit(path, source))
        else:
            found.extend(Bit(stretch, source) for stretch in between_corners(path, angle))
    return found


def refit(path: Path) -> Path:
    """Few curves in place of runs of many short straight lines; everything else stays as drawn.

    A closed path starts at a corner afterwards, if it has one.
    """
    found = between_corners(path)
    if len(path.handles) >= 8 and sum(h is None for h in path.handles) >= 6:
        found = [even for stretch in found for even in _even_stretches(stretch)]
    return Path.joined(found)


def _even_stretches(path: Path) -> list[Path]:
    """A stretch without corners, its flattened parts made curves and its long straight lines kept."""
    sizes = [abs(b - a) for a, b in pairwise(path.nodes)]
    short = [h is None and size < 25 for h, size in zip(path.handles, sizes, strict=True)]
    made, i = [], 0
    while i < len(short):
        j = i
        while j < len(short) and short[j] == short[i]:
            j += 1
        piece = part(path, i, j)
        made.append(fit_cubics(piece.nodes, REFIT) if short[i] and j - i >= 3 else piece)
        i = j
    return made
