"""Curves again, where an interchange file broke them up into turn points and curve points."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from math import floor

from toilewright.geometry.fairing import fit_cubics
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.intake.corners import SHARP, corner_nodes
from toilewright.intake.drawing import Stroke

REFIT = 0.03
"""mm; how far a curve may pass from the curve points that it replaces (files give them to 0.01 mm or 0.001 in)."""

LONG = 25.0
"""mm; a longer chord is a straight line, or so flat a curve that the file itself made a straight line of it."""

MOST = 2000
"""points of one stretch; more are left as they are, since fitting them would take minutes."""

STRAY = 0.6
"""mm; how far a curve may bow out between its points (a 10 mm chord of a 20 mm radius: 0.6 mm)."""

_DETOUR = 1.03
"""times the chords' length (a quarter circle with two points between its ends: 1.01); a longer curve turned back."""

_SAME = 0.02
"""mm; a corner of a line this near to a turn point is that turn point."""

_TURN = "2"
_SHAPES = ("1", "8", "11", "14")


def refit_blocks(strokes: Sequence[Stroke]) -> list[Stroke]:
    """Boundary, inner, cut-out and sew lines of each block, redrawn as curves between its turn points (ASTM D6673
    layers 1, 8, 11, 14 and 2). A block without turn points is left as it is; corners stay.
    """
    turns: defaultdict[str, _Spots] = defaultdict(_Spots)
    for stroke in strokes:
        if stroke.tag == _TURN and stroke.block:
            turns[stroke.block].add(stroke.path.start)
    return [replace(s, path=_redrawn(s.path, turns[s.block]))
            if s.tag in _SHAPES and s.block in turns and not any(s.path.handles) else s for s in strokes]


def _redrawn(path: Path, turns: _Spots) -> Path:
    """A polyline as curves between those of its corners that are turn points."""
    nodes = list(path.nodes)
    sharp = set(corner_nodes(path, SHARP))  # some files mark the turn points of the boundary only
    at = [i for i, p in enumerate(nodes) if p in turns or i in sharp]
    if path.closed and at:
        # Start a ring at a turn point, so that no curve is broken where the file happens to start.
        nodes = nodes[at[0]:-1] + nodes[:at[0] + 1]
        at = [i - at[0] for i in at if i < len(path.nodes) - 1]
    if not at:
        return path
    stops = sorted({0, *at, len(nodes) - 1})
    return Path.joined([part for a, b in pairwise(stops) for part in _run(nodes[a:b + 1])])


def _run(points: Sequence[Point]) -> list[Path]:
    """The way from turn point to turn point: long chords stay straight lines, what is between becomes curves."""
    points = [p for i, p in enumerate(points) if i == 0 or p != points[i - 1]]
    long = [abs(b - a) > LONG for a, b in pairwise(points)]
    parts: list[Path] = []
    i = 0
    while i < len(long):
        j = i + 1
        while not long[i] and j < len(long) and not long[j]:
            j += 1
        before = points[i] - points[i - 1] if i else None
        after = points[j + 1] - points[j] if j < len(long) else None
        parts.append(_curve(points[i:j + 1], before, after))
        i = j
    return parts


def _curve(points: Sequence[Point], before: Point | None, after: Point | None) -> Path:
    """Curves through points, running on smoothly from and into the straight lines beside them, if any."""
    if not 3 <= len(points) <= MOST:
        return Path.polyline(points)
    fitted = fit_cubics(points, REFIT, before, after)
    # Between its points a curve may do as it likes; one that strays was meant to be these straight lines.
    return fitted if _strays(fitted, points) <= STRAY else Path.polyline(points)


def _strays(fitted: Path, points: Sequence[Point]) -> float:
    """How far the curves bow away from the straight lines between the points that they stand for (mm)."""
    farthest, lo = 0.0, 0
    for curve in fitted.curves:
        hi = points.index(curve.end, lo + 1)
        chords = Path.polyline(points[lo:hi + 1])
        if curve.length > _DETOUR * chords.length:
            return float("inf")
        farthest = max(farthest, *(chords.nearest(curve.point(t))[1] for t in (0.2, 0.35, 0.5, 0.65, 0.8)))
        lo = hi
    return farthest


class _Spots:
    """Points that can be asked whether another point is one of them."""

    def __init__(self) -> None:
        self._cells: defaultdict[tuple[int, int], list[Point]] = defaultdict(list)

    def add(self, p: Point) -> None:
        self._cells[floor(p.real), floor(p.imag)].append(p)

    def __contains__(self, p: Point) -> bool:
        cells = {(floor(p.real + dx), floor(p.imag + dy)) for dx in (-_SAME, _SAME) for dy in (-_SAME, _SAME)}
        return any(abs(q - p) <= _SAME for cell in cells for q in self._cells.get(cell, ()))
