"""What is marked on a piece when it is cut: balance marks, drill marks, words.

Common practice, no published source: a balance mark lies on the cutting line where the line square to the seam through
its place leaves the cloth; single at the front and double at the back; a dart is drilled about 1 cm short of its point,
so that the hole is hidden inside the sewn dart; pocket corners are drilled 3 mm inside, so that the pocket covers them.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from itertools import pairwise

from toilewright.cutting.allowances import cutting_line
from toilewright.cutting.words import cloth_words, cut_words
from toilewright.geometry.meeting import line_meetings
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, dot, unit
from toilewright.pattern.parts import Dart, Landmark, Notch, NotchCut
from toilewright.pattern.piece import Piece
from toilewright.tolerance import OFFSET

SHORT_OF_POINT = 10.0
"""mm; how far inside a dart its drill mark lies from the point (common practice, no published source)."""

APART = 4.0
"""mm; half the distance between the two marks of a double notch."""

DRILLED = ("pocket", "button")
"""Landmarks whose names begin so are drilled."""

BESIDE = 14.0
"""mm from the centre line at which the two halves of an uneven piece are named."""

_GRID = 14  # places each way where the words are tried


class MarkKind(StrEnum):
    """What a mark is for."""

    NOTCH = "notch"
    DOUBLE_NOTCH = "double notch"
    TRIPLE_NOTCH = "triple notch"
    DRILL = "drill"
    LABEL = "label"


@dataclass(frozen=True, slots=True)
class CutMark:
    """One mark on a piece, in the piece's own frame (mm).

    Attributes:
        kind: a balance mark (single, double, triple), a drill mark, or words.
        name: of the balance mark, dart or place; of words, the words themselves.
        at: of a balance mark, one point on the cutting line for each cut; of a drill mark and of words, one point.
        way: unit direction: of a balance mark square to the seam, out of the cloth; of words, in which they read.
        cut: of a balance mark, whether it is clipped into the allowance or stands out of it.
    """

    kind: MarkKind
    name: str
    at: tuple[Point, ...]
    way: Point = 1 + 0j
    cut: NotchCut = NotchCut.CLIPPED


@lru_cache(maxsize=256)
def cut_marks(piece: Piece) -> tuple[CutMark, ...]:
    """Everything that is marked on a piece when it is cut: notches, drill marks, then words.

    Raises:
        GeometryError: its cutting line cannot be drawn.
    """
    return (*(notch_mark(piece, n) for n in piece.notches), *drill_marks(piece), *label_marks(piece))


# -- balance marks ----------------------------------------------------------------------------------


def notch_mark(piece: Piece, notch: Notch) -> CutMark:
    """A balance mark on the cutting line, its cuts side by side."""
    kinds = {1: MarkKind.NOTCH, 2: MarkKind.DOUBLE_NOTCH}
    seam = piece.edge(notch.edge).path
    way = -seam.normal_at(min(max(notch.at, 0.0), seam.length))
    return CutMark(kinds.get(notch.count, MarkKind.TRIPLE_NOTCH), notch.name,
                   tuple(foot for foot, _ in notch_feet(piece, notch)), way, notch.cut)


def notch_feet(piece: Piece, notch: Notch) -> tuple[tuple[Point, Point], ...]:
    """For each cut of a balance mark, where it lies on the cutting line, and the way out, square to the seam there."""
    edge = piece.edge(notch.edge)
    line = cutting_line(piece)[piece.edges.index(edge)]
    places = (min(max(notch.at + step * APART, 0.0), edge.path.length) for step in _steps(notch.count))
    return tuple((_on_cutting_line(edge.path, s, edge.allowance, line), -edge.path.normal_at(s)) for s in places)


def _steps(count: int) -> tuple[int, ...]:
    return {1: (0,), 2: (-1, 1)}.get(count, (-2, 0, 2))


def _on_cutting_line(seam: Path, s: float, allowance: float, line: Path) -> Point:
    """Where the square to a seam at arc length s leaves the cloth."""
    at, out = seam.point_at(s), -seam.normal_at(s)
    foot = at + out * allowance
    if line.nearest(foot)[1] < 2 * OFFSET:
        return foot
    hits = [m.point for m in line_meetings(line, at - out * 1e-3, at + out * (3 * allowance + 10))]
    return min(hits, key=lambda p: abs(p - foot), default=foot)


# -- drill marks ------------------------------------------------------------------------------------


def drill_marks(piece: Piece) -> tuple[CutMark, ...]:
    """A drill mark inside each dart, and one at each place for a pocket or a button."""
    darts = [CutMark(MarkKind.DRILL, d.name, (drill_point(piece, d),)) for d in piece.darts]
    places = [CutMark(MarkKind.DRILL, m.name, (m.at,)) for m in piece.landmarks if _drilled(m)]
    return (*darts, *places)


def drill_point(piece: Piece, dart: Dart) -> Point:
    """Inside a dart, short of its point: 1 cm, of a short dart a quarter of its depth."""
    middle = sum(piece.feet(dart)) / 2
    depth = abs(middle - dart.apex)
    if depth == 0.0:
        return dart.apex
    return dart.apex + unit(middle - dart.apex) * min(SHORT_OF_POINT, 0.25 * depth)


def _drilled(mark: Landmark) -> bool:
    return mark.name.split()[0] in DRILLED if mark.name.split() else False


# -- words ------------------------------------------------------------------------------------------


def label_marks(piece: Piece) -> tuple[CutMark, ...]:
    """The piece's name with how it is cut, where there is most room; on an uneven piece, her left and right half."""
    words = ", ".join(t for t in (f"{piece.name}: {cut_words(piece)}", cloth_words(piece)) if t)
    way = unit(piece.grain.end - piece.grain.start) if piece.grain and piece.grain.end != piece.grain.start else 1j
    return (CutMark(MarkKind.LABEL, words, (roomiest(piece),), way), *side_marks(piece))


def side_marks(piece: Piece) -> tuple[CutMark, ...]:
    """On a piece that is opened out because its halves differ: which is her left, which her right."""
    middle = next((m.path for m in piece.lines if m.name.startswith("centre ")), None)
    marks = []
    for side in ("left", "right"):
        ends = [e.path.point_at(e.path.length / 2) for e in piece.edges if e.name.endswith(f" {side}")]
        if middle is None or not ends:
            continue
        at, way = middle.point_at(0.3 * middle.length), middle.tangent_at(0.3 * middle.length)
        across = dot(sum(ends) / len(ends) - at, way * 1j)
        spot = at + way * 1j * (BESIDE if across > 0 else -BESIDE)
        marks.append(CutMark(MarkKind.LABEL, f"her {side}", (spot,), way))
    return tuple(marks)


def roomiest(piece: Piece) -> Point:
    """A point inside the seam line far from every edge, found on a grid (mm)."""
    ring = piece.outline.flatten(1.0)
    x0, y0, x1, y1 = piece.outline.bounds
    spots = [complex(x0 + (x1 - x0) * (i + 0.5) / _GRID, y0 + (y1 - y0) * (k + 0.5) / _GRID)
             for i in range(_GRID) for k in range(_GRID)]
    inside = [p for p in spots if _holds(ring, p)]
    return max(inside, key=lambda p: _clear(ring, p), default=sum(ring[:-1]) / (len(ring) - 1))


def _holds(ring: tuple[Point, ...], p: Point) -> bool:
    inside = False
    for a, b in pairwise(ring):
        if (a.imag > p.imag) != (b.imag > p.imag):
            inside ^= p.real < a.real + (b.real - a.real) * (p.imag - a.imag) / (b.imag - a.imag)
    return inside


def _clear(ring: tuple[Point, ...], p: Point) -> float:
    """Square of the distance of a point from a ring (mm^2)."""
    best = float("inf")
    for a, b in pairwise(ring):
        along, to = b - a, p - a
        size = dot(along, along)
        t = min(max(dot(to, along) / size, 0.0), 1.0) if size else 0.0
        off = to - along * t
        best = min(best, dot(off, off))
    return best
