"""Seam lines drawn with a pen of their own inside the cutting lines, closed or stopping at a fold."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from statistics import median

from toilewright.errors import Finding, Severity
from toilewright.geometry.path import Path
from toilewright.intake.complete import LONG, TOUCH, stretch
from toilewright.intake.drawing import Stroke
from toilewright.intake.looks import pen_key
from toilewright.intake.outlines import SheetLines
from toilewright.intake.pencil import without_standstill
from toilewright.intake.raw import RawPiece
from toilewright.intake.rings import NOISE, ccw, chain, join, runs
from toilewright.intake.sketch import Sketch, boxes_touch, follows_inside, is_outline, is_seam_of

MOSTLY = 0.6
"""Share of a pen's long lines that run beside cutting lines, from which it is the pen for seam lines.

Hems and edges without allowance run at other distances than the rest."""


def seams_apart(strokes: Sequence[Stroke]) -> tuple[tuple[Stroke, ...], tuple[Stroke, ...]]:
    """All other strokes, and those of the pens that draw seam lines inside the outlines of another pen."""
    heaps: dict[tuple, list[Stroke]] = defaultdict(list)
    for stroke in strokes:
        if not stroke.filled:
            heaps[pen_key(stroke.look)].append(stroke)
    drawn = {key: chain([s.path for s in heap]) for key, heap in heaps.items()}
    outlines = {key: [s for r in made.rings if is_outline(s := Sketch(r))] for key, made in drawn.items()}
    pens = set()
    for key, made in drawn.items():
        others = [o for other, found in outlines.items() if other != key and other not in pens for o in found]
        broken = bool(key[1]) and not all(other[1] for other, found in outlines.items() if found)
        lines = [s for p in (*made.rings, *runs(made.loose)) if (s := Sketch(p)).length > LONG] if others else []
        if lines and _beside(lines, others, broken) > MOSTLY * sum(s.length for s in lines):
            pens.add(key)
    seams = tuple(s for s in strokes if not s.filled and pen_key(s.look) in pens)
    return tuple(s for s in strokes if s.filled or pen_key(s.look) not in pens), seams


def _beside(lines: Sequence[Sketch], outlines: Sequence[Sketch], broken: bool) -> float:
    """Length of the lines that keep one distance inside an outline; `broken` lines may do so edge by edge."""
    return sum(s.length for s in lines if any(
        is_seam_of(s, o) if s.path.closed else follows_inside(s, o) for o in outlines)
        or (broken and any(_edge_by_edge(s, o) for o in outlines)))


def _edge_by_edge(line: Sketch, outline: Sketch) -> bool:
    """Does a line run inside an outline at a few distances, each for a whole edge?"""
    if not boxes_touch(line.box, outline.box):
        return False
    probes = line.along(60)
    gaps = outline.distances(probes)
    steady = [gap for gap, after in pairwise(gaps) if abs(after - gap) < 0.3 and 3.0 < gap < 70.0]
    kinds: list[float] = []
    for gap in steady:
        if all(abs(gap - k) > 1.0 for k in kinds):
            kinds.append(gap)
    return len(steady) > 45 and len(kinds) < 5 and all(outline.contains(p) for p in probes[::6])


def with_seam_lines(lines: SheetLines, seams: Sequence[Stroke]) -> SheetLines:
    """The lines of a sheet in one size with the seam line of each outline, closed along folds and bare edges."""
    if not seams:
        return lines
    size = lines.sizes[0]
    made = chain([s.path for s in seams])
    found = [s for r in made.rings if is_outline(s := Sketch(r))]
    left = [s for p in (*made.rings, *runs(made.loose)) if not is_outline(s := Sketch(p))]
    for outline in size.rings:
        parts = [s for s in left if not s.path.closed and _from_edge_to_edge(s, outline)]
        ring = _closed_along(parts, outline) if parts else None
        if ring is not None and is_outline(ring):
            found.append(ring)
            left = [s for s in left if s not in parts]
    return replace(lines, sizes=(replace(size, rings=(*size.rings, *found), loose=(*size.loose, *left)),))


def _from_edge_to_edge(line: Sketch, outline: Sketch) -> bool:
    ends = (line.path.start, line.path.end)
    return (all(outline.contains(p) for p in line.along(5))
            and all(outline.nearest(p).distance < TOUCH for p in ends))


def _closed_along(parts: Sequence[Sketch], outline: Sketch) -> Sketch | None:
    """Seam lines from edge to edge and the stretches of the outline between them, as one ring."""
    length = outline.length
    way: list[tuple[float, float, Path]] = []
    for part in parts:
        start, middle, end = (outline.nearest(p).s for p in (part.path.start, part.along(1)[0], part.path.end))
        ahead = (middle - start) % length < (end - start) % length
        way.append((start, end, part.path) if ahead else (end, start, part.path.reversed()))
    way.sort(key=lambda w: w[0])
    joined: list[Path] = []
    for (_, end, path), (begin, _, following) in pairwise((*way, way[0])):
        joined.append(path)
        gap = (begin - end) % length
        if TOUCH < gap < length - TOUCH:
            joined.append(stretch(outline, end, end + gap).with_ends(end=following.start))
    return Sketch(ccw(without_standstill(join(joined, closed=True), NOISE)))


def measured_allowance(pieces: Sequence[RawPiece]) -> tuple[float, Finding]:
    """The distance that most of the seam lines keep from their cutting lines (mm), and a note of it.

    Args:
        pieces: some that show both lines.
    """
    outlines = [(Sketch(p.outline), Sketch(p.seam_drawn)) for p in pieces[:20]]
    gaps = sorted(outline.nearest(p).distance for outline, seam in outlines for p in seam.along(41))
    best = max(gaps, key=lambda g: (g > 1.0) * sum(abs(g - h) < 0.3 for h in gaps))
    gap = round(median(g for g in gaps if abs(g - best) < 0.3), 2)
    return gap, Finding("allowance-measured", f"Seam lines are drawn {gap:.1f} mm inside the cutting lines; that is "
                        "taken as the allowance.", Severity.NOTE)
