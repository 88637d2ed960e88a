"""Sizes told apart by nothing but lying inside one another."""

from __future__ import annotations

from collections.abc import Sequence

from toilewright.errors import Finding
from toilewright.intake.drawing import Stroke
from toilewright.intake.rings import chain
from toilewright.intake.sizes import SizeSplit, one_size_finding, shared_out
from toilewright.intake.sketch import BIG, Sketch, box_overlap, boxes_touch, is_seam_of
from toilewright.tolerance import READ_JOIN

ALIKE = 0.6
"""Share of their common box from which closed lines of one look count as one piece in several sizes."""


def split_nest(strokes: Sequence[Stroke]) -> SizeSplit:
    """Sort strokes of one look into sizes by area, piece by piece; one ring a piece is one size."""
    chained = chain([s.path for s in strokes if not s.filled])
    rings = sorted((Sketch(r) for r in chained.rings), key=lambda s: s.area)
    nests: list[list[Sketch]] = []
    for ring in (r for r in rings if r.area > BIG):
        for nest in nests:
            if box_overlap(nest[-1].box, ring.box) > ALIKE and not is_seam_of(nest[-1], ring):
                nest.append(ring)
                break
        else:
            nests.append([ring])
    count = max((len(n) for n in nests), default=1)
    if count == 1:
        return SizeSplit(("1",), (tuple(strokes),), (), "one", (one_size_finding("1"),))
    return _shared_out(strokes, nests, count)


def _shared_out(strokes: Sequence[Stroke], nests: Sequence[Sequence[Sketch]], count: int) -> SizeSplit:
    """One heap for each size; a stroke belongs to the ring that it lies on, what lies on none is common."""
    levels = [(ring, str(i + 1)) for nest in nests if len(nest) == count for i, ring in enumerate(nest)]
    finding = Finding(
        "sizes-unnamed", f"All {count} sizes are drawn with one kind of line; they are told apart by area and called "
        f'"1" (smallest) to "{count}": put the true names into the labels file.')

    def level(stroke: Stroke) -> str | None:
        sketch = Sketch(stroke.path)
        probes = sketch.along(2)
        for ring, name in levels:
            if boxes_touch(ring.box, sketch.box) and all(ring.nearest(p).distance < READ_JOIN for p in probes):
                return name
        return None

    return shared_out(strokes, level, "nesting", (finding,))
