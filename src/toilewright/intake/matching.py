"""Outlines of different sizes that are one piece, put together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from shapely import Polygon, polygons

from toilewright.intake.sketch import BIG, Sketch, box_overlap, boxes_touch, is_seam_of, kept

SAME = 0.35
"""Shared area over joint area from which two outlines of different sizes are one piece."""

ON_LINE = 0.5
"""mm; what is this near to a line lies on it."""


@dataclass(frozen=True, slots=True)
class Outline:
    """One closed outline of one size, with a seam line drawn inside it if there is one."""

    sketch: Sketch
    seam: Sketch | None = None


@dataclass(frozen=True)
class Nest:
    """One piece: its outline in each size, in the order of the sizes; None where it is missing.

    No slots: what was worked out is kept.
    """

    outlines: tuple[Outline | None, ...]

    @kept
    def largest(self) -> Outline:
        """The outline with the largest area."""
        return max((o for o in self.outlines if o), key=lambda o: o.sketch.area)

    @kept
    def spots(self) -> tuple[Outline, ...]:
        """The largest outline, and those that lie elsewhere on the sheet (sizes laid out side by side)."""
        first = self.largest
        others = [o for o in self.outlines if o and o is not first and not boxes_touch(o.sketch.box, first.sketch.box)]
        return (first, *others)


def outlines_of(rings: Sequence[Sketch]) -> tuple[Outline, ...]:
    """The outlines among the closed lines of one size, and the seam lines inside them.

    A ring inside another is its seam line when there is just one and it is not small; others are inner lines.
    """
    big = sorted((r for r in rings if r.area > BIG), key=lambda r: -r.area)
    outer: list[Sketch] = []
    inside: dict[int, list[Sketch]] = {}
    for ring in big:
        holder = next((o for o in outer if _within(ring, o)), None)
        if holder is None:
            outer.append(ring)
        else:
            inside.setdefault(id(holder), []).append(ring)
    found = []
    for ring in outer:
        seams = [s for s in inside.get(id(ring), ()) if is_seam_of(s, ring) or 0.4 < s.area / ring.area < 0.99]
        found.append(Outline(ring, max(seams, key=lambda s: s.area) if seams else None))
    return tuple(found)


def _within(ring: Sketch, outer: Sketch) -> bool:
    """Is a ring inside another, or on it (a seam line runs along the fold)?"""
    if not boxes_touch(ring.box, outer.box):
        return False
    probes = ring.along(9)
    gaps = outer.distances(probes)
    return sum(gap < ON_LINE or outer.contains(p) for p, gap in zip(probes, gaps, strict=True)) > 0.85 * len(probes)


def match(by_size: Sequence[Sequence[Outline]]) -> tuple[Nest, ...]:
    """Put the outlines of all sizes together into pieces, in reading order (top left first).

    Sizes are compared with the last size in which a piece was seen: nested outlines overlap most with their
    own kind.
    """
    nests: list[list[Outline | None]] = []
    shapes: dict[int, Polygon] = {}
    for i, outlines in enumerate(by_size):
        pairs = sorted(((_likeness(nest, o, shapes), k, j) for k, nest in enumerate(nests)
                        for j, o in enumerate(outlines)), reverse=True)
        taken_nests: set[int] = set()
        taken: set[int] = set()
        for likeness, k, j in pairs:
            if likeness < SAME or k in taken_nests or j in taken:
                continue
            nests[k].append(outlines[j])
            taken_nests.add(k)
            taken.add(j)
        for j, outline in enumerate(outlines):
            if j not in taken:
                nests.append([None] * i + [outline])
        for nest in nests:
            nest.extend([None] * (i + 1 - len(nest)))
    return tuple(sorted((Nest(tuple(n)) for n in nests), key=_reading_order))


def merged_by_name(nests: Sequence[Nest], names: Sequence[str | None]) -> tuple[Nest, ...]:
    """Pieces of one name whose sizes lie apart on the sheet, put together; nothing is merged that would clash."""
    made: list[tuple[str | None, Nest]] = []
    for nest, name in zip(nests, names, strict=True):
        for k, (other, partner) in enumerate(made):
            pairs = list(zip(nest.outlines, partner.outlines, strict=True))
            if name and name == other and not any(a and b for a, b in pairs):
                made[k] = (name, Nest(tuple(a or b for a, b in pairs)))
                break
        else:
            made.append((name, nest))
    return tuple(nest for _, nest in made)


def _likeness(nest: Sequence[Outline | None], outline: Outline, shapes: dict[int, Polygon]) -> float:
    last = next(o for o in reversed(nest) if o)
    if box_overlap(last.sketch.box, outline.sketch.box) < 0.2:
        return 0.0
    a, b = _polygon(last.sketch, shapes), _polygon(outline.sketch, shapes)
    shared = a.intersection(b).area
    return shared / (a.area + b.area - shared)


def _polygon(sketch: Sketch, shapes: dict[int, Polygon]) -> Polygon:
    key = id(sketch)
    if key not in shapes:
        step = max(1, len(sketch.points) // 120)
        points = sketch.points[:-1:step]
        shape = polygons(np.column_stack((points.real, points.imag)))
        shapes[key] = shape if shape.is_valid else shape.buffer(0)
    return shapes[key]


def _reading_order(nest: Nest) -> tuple[float, float]:
    x0, _, _, y1 = nest.largest.sketch.box
    return -round(y1 / 50), x0
