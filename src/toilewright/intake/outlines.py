"""The closed outlines of each size, completed from what sizes share, and the lines that are left."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from shapely import polygonize, unary_union
from shapely.geometry import LinearRing, Polygon
from shapely.validation import explain_validity

from toilewright.errors import Finding, Severity
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.intake.complete import LONG, complete
from toilewright.intake.drawing import Stroke
from toilewright.intake.notches import SMALL
from toilewright.intake.rings import chain, runs
from toilewright.intake.sizes import SizeSplit
from toilewright.intake.sketch import Sketch, box_overlap, boxes_touch, is_outline, is_seam_of

LOOP = 1.0
"""mm^2; a smaller loop in an outline is noise of the drawing program, hidden under the pen line."""


@dataclass(frozen=True, slots=True)
class SizeLines:
    """The closed outlines of one size and the other lines drawn in it."""

    size: str
    rings: tuple[Sketch, ...]
    loose: tuple[Sketch, ...]


@dataclass(frozen=True, slots=True)
class SheetLines:
    """All sizes, the lines drawn once for all of them, and what did not close."""

    sizes: tuple[SizeLines, ...]
    common: tuple[Sketch, ...]
    findings: tuple[Finding, ...]


def trace_outlines(split: SizeSplit) -> SheetLines:
    """Chain the strokes of each size into outlines; complete open ones from common lines and other sizes."""
    chained = [chain(_lines(heap)) for heap in split.strokes]
    filled = [[Sketch(s.path) for s in heap if s.filled] for heap in split.strokes]
    shared = chain(_lines(split.common))
    mixed = split.how in ("look", "nesting")
    common = [Sketch(p) for p in shared.rings] + _joined([Sketch(p) for p in shared.loose], mixed)
    common += [Sketch(s.path) for s in split.common if s.filled]
    lines = [[Sketch(p) for p in (*c.rings, *c.loose)] for c in chained]
    found, findings = [], []
    for i, (size, made) in enumerate(zip(split.sizes, chained, strict=True)):
        rings = [s for s in lines[i] if is_outline(s)]
        loose = [s for s in lines[i] if not is_outline(s)]
        if any(s.length > LONG for s in loose):
            done = complete(made.loose, rings, common, [s for j, other in enumerate(lines) if j != i for s in other])
            if done.rings:
                rings += [s for r in done.rings if is_outline(s := Sketch(r))]
                loose = [s for s in loose if s.path.closed] + [Sketch(p) for p in done.loose]
            findings += [_gap(size, at, gap) for at, gap in done.closed_gaps]
            findings += [_open(size, p) for p in done.open if not _copied(p, rings)]
        loose = [s for s in loose if s.path.closed] + _joined([s for s in loose if not s.path.closed], mixed)
        loose += filled[i]
        if mixed:
            common += loose
            loose = []
        found.append(SizeLines(size, without_frames(rings), tuple(loose)))
    return SheetLines(*_with_seams(found, common), tuple(findings))


def _with_seams(sizes: Sequence[SizeLines], common: Sequence[Sketch]) -> tuple[tuple[SizeLines, ...],
                                                                               tuple[Sketch, ...]]:
    """Seam lines drawn in one look for all sizes, given to the size whose outline they follow."""
    left, given = [], {}
    for line in common:
        holder = next((s.size for s in sizes for r in s.rings if boxes_touch(line.box, r.box) and is_seam_of(line, r)),
                      None) if is_outline(line) else None
        if holder is None:
            left.append(line)
        else:
            given.setdefault(holder, []).append(line)
    return tuple(replace(s, rings=(*s.rings, *given.get(s.size, ()))) for s in sizes), tuple(left)


def without_frames(rings: Sequence[Sketch]) -> tuple[Sketch, ...]:
    """The outlines without rectangles drawn round them: borders of sheets, boxes round several pieces."""
    return tuple(r for r in rings if not _frames(r, rings))


def _upright_box(ring: Sketch) -> bool:
    x0, y0, x1, y1 = ring.box
    return ring.area >= 0.98 * (x1 - x0) * (y1 - y0)


def _frames(ring: Sketch, rings: Sequence[Sketch]) -> bool:
    x0, y0, x1, y1 = ring.box
    if not _upright_box(ring):
        return False
    inside = [r for r in rings if r is not ring
              and x0 <= r.box[0] and y0 <= r.box[1] and r.box[2] <= x1 and r.box[3] <= y1]
    return len(inside) > 1 or any(not is_seam_of(r, ring) for r in inside)


def shared_pieces(lines: SheetLines, named: Sequence[Point], cut: Sequence[Point]) -> tuple[Sketch, ...]:
    """Closed outlines drawn once for all sizes: they hold a name and no outline of a single size.

    Args:
        named: where words stand that may name a piece.
        cut: where words stand that say how to cut; without them a rectangle is a box round a title.
    """
    rings = [r for s in lines.sizes for r in s.rings]
    found = []
    for ring in without_frames([s for s in lines.common if is_outline(s)]):
        if any(box_overlap(ring.box, r.box) > 0.3 or ring.contains(r.middle) for r in rings):
            continue
        telling = cut if _upright_box(ring) else named
        if any(ring.contains(p) for p in telling):
            found.append(ring)
    return tuple(found)


def crossing(outline: Sketch) -> Point | None:
    """Where a closed outline crosses itself, or None; loops that a pen line covers do not count."""
    points = [(p.real, p.imag) for p in outline.points[:-1].tolist()]
    if len(points) > 3 and LinearRing(points).is_simple:
        return None
    loops = sorted(p.area for p in polygonize([unary_union(LinearRing(points))]).geoms)
    if len(loops) < 2 or loops[-2] < LOOP:
        return None
    said = explain_validity(Polygon(points))
    numbers = said[said.index("[") + 1:said.index("]")].split() if "[" in said else []
    return complex(float(numbers[0]), float(numbers[1])) if len(numbers) >= 2 else None


def place(p: Point) -> str:
    """A spot on the sheet in words."""
    return f"{p.real:.0f} mm from the left and {p.imag:.0f} mm from the bottom of the sheet"


def _joined(loose: Sequence[Sketch], mixed: bool) -> list[Sketch]:
    """Open lines that were cut up (by page borders, by the program that drew them), put together.

    Where marks of all sizes are `mixed`, ticks stay apart: those of neighbouring sizes may meet end to end.
    """
    apart = [s for s in loose if mixed and s.length <= SMALL]
    return apart + [Sketch(p) for p in runs([s.path for s in loose if not (mixed and s.length <= SMALL)])]


def _lines(strokes: Sequence[Stroke]) -> list[Path]:
    return [s.path for s in strokes if not s.filled]


def _copied(path: Path, rings: Sequence[Sketch]) -> bool:
    """Does the line only repeat part of an outline that is closed already?"""
    return any(all(r.nearest(p).distance < 1.0 for p in Sketch(path).along(5)) for r in rings
               if box_overlap(r.box, Sketch(path).box) > 0)


def _gap(size: str, at: Point, gap: float) -> Finding:
    return Finding("outline-gap", f"An outline of size {size} has a gap of {gap:.1f} mm, {place(at)}; it was closed "
                   "with a straight line: compare it with the sheet.", size=size, asked=round(gap, 2))


def _open(size: str, path: Path) -> Finding:
    gap = abs(path.end - path.start)
    return Finding("outline-open", f"A line of size {size} looks like an outline but stays open: its ends are "
                   f"{gap:.1f} mm apart ({place(path.start)}, and {place(path.end)}), and no line shared with other "
                   "sizes joins them; close it in the drawing and read it again.", Severity.STOP, size=size,
                   asked=round(gap, 2))
