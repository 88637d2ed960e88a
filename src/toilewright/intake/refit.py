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
    return [replace(s, path=refit(s.path, turns[s.block]))
            if s.tag in _SHAPES and s.block in turns and not any(s.path.handles) else s for s in strokes]


def refit(path: Path, turns: _Spots) -> Path:
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
    parts = [_curve(nodes[a:b + 1]) for a, b in pairwise(stops)]
    return Path.joined([p for p in parts if p is not None])


def _curve(points: Sequence[Point]) -> Path | None:
    if len(set(points)) < 2:
        return None
    return Path.line(points[0], points[-1]) if len(points) == 2 else fit_cubics(points, REFIT)


class _Spots:
    """Points that can be asked whether another point is one of them."""

    def __init__(self) -> None:
        self._cells: defaultdict[tuple[int, int], list[Point]] = defaultdict(list)

    def add(self, p: Point) -> None:
        self._cells[floor(p.real), floor(p.imag)].append(p)

    def __contains__(self, p: Point) -> bool:
        cells = {(floor(p.real + dx), floor(p.imag + dy)) for dx in (-_SAME, _SAME) for dy in (-_SAME, _SAME)}
        return any(abs(q - p) <= _SAME for cell in cells for q in self._cells.get(cell, ()))
