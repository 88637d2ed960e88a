"""A seam as two edges that roll along each other: both sides as lines with their lengths, darts closed.

A side is made of stretches: runs of an edge between darts. Each lies where it follows on from the one before it, so
that the side is one line; a piece is drawn by the matrix of the stretch that is being walked, which is how paper is
pivoted at a dart and at a joint.
"""

from __future__ import annotations

import cmath
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from toilewright.app.piece_pictures import Picture
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.output.path_data import short_data
from toilewright.pattern.garment import EdgeRef, Garment
from toilewright.pattern.piece import Piece
from toilewright.pattern.walk import SeamWalk

_FINE = 0.1
"""mm; how far a chord may leave the edge."""


@dataclass(frozen=True, slots=True)
class _Stretch:
    """A run of an edge between darts, in the direction of the walk; `turned`: its piece lies face down."""

    piece: Piece
    path: Path
    turned: bool


def seam_picture(garment: Garment, walk: SeamWalk) -> Picture:
    """Both sides of a walked seam.

    Returns:
        ``seam``, ``ratio``, ``difference``, ``allowed``, ``sews``, ``notches`` (name, a, b, meets), and for each side
        ``a`` and ``b``: ``words``, ``length``, ``line`` [[x, y, mm from the start], ...] and ``stretches`` (piece,
        ``from`` and ``to`` in mm, the SVG matrix that lays the piece to the line), with ``pieces``: the seam lines by
        name. Side a has the cloth left of the walk where b has it right, so that they lie beside each other.
    """
    seam = next(s for s in garment.seams if s.name == walk.seam)
    left = not seam.a[0].reverse
    sides = [_side(garment, refs, want_left) for refs, want_left in ((seam.a, left), (seam.b, not left))]
    names = {r.piece for r in (*seam.a, *seam.b)}
    return {
        "seam": seam.name, "ratio": seam.ratio, "difference": round(walk.difference, 3),
        "allowed": [round(v, 3) for v in walk.allowed], "sews": walk.sews,
        "notches": [{"name": n.name, "a": round(n.at_a, 3), "b": round(n.at_b, 3), "meets": walk.meets(n)}
                    for n in walk.notches],
        "a": {"words": walk.sides[0], "length": round(walk.length_a, 3), **sides[0]},
        "b": {"words": walk.sides[1], "length": round(walk.length_b, 3), **sides[1]},
        "pieces": {p.name: short_data(e.path for e in p.edges) for p in garment.pieces if p.name in names},
    }


def _side(garment: Garment, refs: tuple[EdgeRef, ...], want_left: bool) -> Picture:
    line: list[list[float]] = []
    stretches: list[Picture] = []
    done, at, way = 0.0, 0j, 1 + 0j
    for one in (s for ref in refs for s in _stretches(garment.piece(ref.piece), ref, want_left)):
        path = one.path.mapped(lambda p: p.conjugate()) if one.turned else one.path
        turn, move = _laid(path, at, way, first=not stretches)
        points = [turn * p + move for p in path.flatten(_FINE)]
        chords = [abs(b - a) for a, b in pairwise(points)]
        grown = path.length / sum(chords)
        stretches.append({"piece": one.piece.name, "from": round(done, 3), "to": round(done + path.length, 3),
                          "matrix": _matrix(turn, move, one.turned)})
        run = done
        line += [[points[0].real, -points[0].imag, run]] if not line else []
        for p, chord in zip(points[1:], chords, strict=True):
            run += chord * grown
            line.append([p.real, -p.imag, run])
        done += path.length
        at, way = points[-1], turn * path.end_tangent
    return {"line": [[round(v, 3) for v in row] for row in line], "stretches": stretches}


def _laid(path: Path, at: Point, way: Point, first: bool) -> tuple[Point, Point]:
    """Turn and move that lay a stretch to where the one before it ended, running smoothly on."""
    turn = 1 + 0j if first else cmath.rect(1.0, cmath.phase(way / path.start_tangent))
    return turn, at - turn * path.start


def _matrix(turn: Point, move: Point, turned: bool) -> list[float]:
    """z -> turn z + move (of the mirror image when turned), as an SVG matrix with y down."""
    c, s, flip = turn.real, turn.imag, -1.0 if turned else 1.0
    return [round(v, 8) + 0.0 for v in (c, -s, s * flip, c * flip)] + [round(move.real, 3), round(-move.imag, 3)]


def _stretches(piece: Piece, ref: EdgeRef, want_left: bool) -> Iterator[_Stretch]:
    """The runs between the darts of an edge, as often as it takes part."""
    path = piece.edge(ref.edge).path
    spans, start = [], 0.0
    for dart in piece.darts_on(ref.edge):
        spans.append((start, dart.start))
        start = dart.end
    spans.append((start, path.length))
    low, high = ref.part or (0.0, path.length)
    runs = [path.sub(max(a, low), min(b, high)) for a, b in spans if a < high and b > low]
    if ref.reverse:
        runs = [r.reversed() for r in reversed(runs)]
    for _ in range(ref.times):
        for run in runs:
            yield _Stretch(piece, run, ref.reverse == want_left)
