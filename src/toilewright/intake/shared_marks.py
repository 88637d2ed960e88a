"""Marks drawn in one look for all sizes: which size each of them belongs to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from toilewright.geometry.point import Point, dot, parallel
from toilewright.intake.arrows import find_arrows, find_brackets
from toilewright.intake.corners import bits
from toilewright.intake.dart_lines import REACH, find_darts
from toilewright.intake.notches import SMALL, SMALL_SHAPE
from toilewright.intake.sketch import Sketch

TOUCHES = 1.0
"""mm; a mark whose end is this near to an outline is drawn on it."""

EXACT = 0.25
"""mm; a mark whose end is this near to an outline was drawn from it (printing and reading noise)."""

STEPS = (0.5, 3.0, 8.0, 16.0, 30.0, 50.0)
"""mm; how far one mark of neighbouring sizes may lie apart: the smallest step that gives one for each size counts."""


@dataclass(frozen=True, slots=True)
class _Item:
    """A dart, line or tick: the marks it is drawn with, the ends towards the outline, all its points, its direction."""

    marks: frozenset[int]
    feet: tuple[Point, ...]
    points: tuple[Point, ...]
    axis: Point


def share_out(common: Sequence[Sketch],
              outlines: Sequence[Sketch | None]) -> tuple[list[list[Sketch]], tuple[Point, ...]]:
    """For each size the common marks that are its own or everybody's; and where ticks could not be told apart.

    A mark whose end lies on the outline of one size belongs to it. Marks that come in as many copies as there are
    sizes are dealt out from the inside to the outside. Arrows and all else are everybody's.
    """
    present = sorted((i for i, o in enumerate(outlines) if o), key=lambda i: outlines[i].area)
    open_marks = [s for s in common if not s.path.closed]
    if len(present) < 2 or not open_marks:
        return [list(common) if o else [] for o in outlines], ()
    arrows = _of_arrows(common, [outlines[i] for i in (present[0], present[-1])])
    lines = [s for s in open_marks if id(s) not in arrows]
    touched = _touched(lines, outlines, present)
    sure = {id(s): [t[0]] for s in lines if s.span <= SMALL and len(t := touched[id(s)]) == 1}
    unsure = [s for s in lines if id(s) not in sure]
    dealt, muddle = _deal(_items(unsure, outlines[present[0]], outlines[present[-1]]), outlines, present)
    unclear = {m for item in muddle for m in item.marks}
    heaps: list[list[Sketch]] = [[] for _ in outlines]
    for mark in common:
        if id(mark) in unclear:
            continue
        for i in sure.get(id(mark)) or dealt.get(id(mark)) or touched.get(id(mark)) or present:
            heaps[i].append(mark)
    return heaps, tuple(item.points[0] for item in muddle)


def _of_arrows(common: Sequence[Sketch], outlines: Sequence[Sketch]) -> set[int]:
    """The marks that arrows and fold brackets are drawn with: everybody's, whatever outline their ends come near."""
    lines = [s for s in common if not s.path.closed]
    found = bits([s.path for s in lines])
    shapes = [s for s in common if s.path.closed and s.span <= SMALL_SHAPE]
    marks = [*find_arrows(found, shapes), *(b for o in outlines for b in find_brackets(found, shapes, o))]
    return {id(lines[found[i].source]) for mark in marks for i in mark.bits}


def _touched(lines: Sequence[Sketch], outlines: Sequence[Sketch | None],
             present: Sequence[int]) -> dict[int, list[int]]:
    """For each mark the sizes on whose outline it begins.

    The other end of a tick may meet a neighbour's outline by chance: most ticks of a piece point the same way, in
    or out, and that tells which of its ends is the true one.
    """
    ends = [p for s in lines for p in (s.path.start, s.path.end)]
    gaps = {i: outlines[i].distances(ends) for i in present}
    near = [[(i, end) for i in present for end in (0, 1) if gaps[i][2 * k + end] < TOUCHES] for k in range(len(lines))]
    sides: list[list[tuple[int, bool]]] = []
    votes = 0
    for k, mark in enumerate(lines):
        exact = [(i, _lies_inside(mark, outlines[i], end)) for i, end in near[k]
                 if mark.span <= SMALL and gaps[i][2 * k + end] < EXACT]
        sides.append(exact)
        kinds = {inside for _, inside in exact}
        votes += (True in kinds) - (False in kinds)
    found = {}
    for k, mark in enumerate(lines):
        own = {i for i, inside in sides[k] if inside == (votes >= 0)}
        found[id(mark)] = sorted(own or {i for i, _ in near[k]})
    return found


def _lies_inside(mark: Sketch, outline: Sketch, end: int) -> bool:
    far = mark.path.start if end else mark.path.end
    return outline.contains((mark.path.start + mark.path.end + far) / 3)


def _items(lines: Sequence[Sketch], smallest: Sketch, largest: Sketch) -> list[_Item]:
    """Darts among the marks, and every other mark by itself."""
    found = bits([s.path for s in lines if s.length > SMALL])
    ids = [id(s) for s in lines if s.length > SMALL]
    grown = max(abs(a - b) for a, b in zip(smallest.box, largest.box, strict=True))
    items, used = [], set()
    for dart in find_darts(found, largest, REACH + grown).darts:
        feet = (dart.first, dart.second)
        marks = frozenset(ids[bit.source] for bit in found if any(
            abs(p - dart.apex) < 1.5 and any(abs(q - foot) < 1.5 for foot in feet)
            for p, q in ((bit.a, bit.b), (bit.b, bit.a))))
        used |= marks
        items.append(_Item(marks, feet, (*feet, dart.apex), dart.apex - sum(feet) / 2))
    for s in lines:
        if id(s) not in used:
            ends = (s.path.start, s.path.end)
            items.append(_Item(frozenset((id(s),)), ends, ends, ends[1] - ends[0]))
    return items


def _deal(items: Sequence[_Item], outlines: Sequence[Sketch | None],
          present: Sequence[int]) -> tuple[dict[int, list[int]], list[_Item]]:
    """The id of a mark -> the sizes it belongs to, for marks that come in as many copies as there are sizes.

    Also the ticks that crowd on a line which sizes share, too many for one mark and not one for each size.
    """
    largest = outlines[present[-1]]
    growth = largest.middle - outlines[present[0]].middle
    dealt: dict[int, list[int]] = {}
    left = list(items)
    for step in STEPS:
        rest = []
        for group in _alike(left, step):
            if len(group) != len(present):
                rest.extend(group)
                continue
            for size, item in zip(present, _outward(group, largest, growth), strict=True):
                for mark in item.marks:
                    dealt.setdefault(mark, []).append(size)
        left = rest
    crowds = [g for g in _alike(left, STEPS[-1]) if len(g) > len(present) / 2 and len(g[0].points) == 2]
    return dealt, [item for g in crowds for item in g if abs(item.axis) <= SMALL]


def _outward(group: Sequence[_Item], largest: Sketch, growth: Point) -> list[_Item]:
    """The same mark of all sizes, smallest size first: by its distance from the largest outline.

    Where all stand on one line (a waist that all sizes share), by their place in the direction in which the
    piece grows.
    """
    depth = [float(largest.distances(item.feet).sum()) for item in group]
    if max(depth) - min(depth) > 1.0 * len(group):
        return [group[k] for k in sorted(range(len(group)), key=lambda k: -depth[k])]
    return sorted(group, key=lambda item: (sum(item.points) / len(item.points) * growth.conjugate()).real)


def _alike(items: Sequence[_Item], step: float) -> list[list[_Item]]:
    """Marks of one kind and direction that hang together: each within `step` mm of another of them."""
    left = list(items)
    groups = []
    while left:
        group, todo = [], [left.pop()]
        while todo:
            item = todo.pop()
            group.append(item)
            near = [o for o in left if _beside(item, o, step)]
            left = [o for o in left if all(o is not n for n in near)]
            todo.extend(near)
        groups.append(group)
    return groups


def _beside(a: _Item, b: _Item, step: float) -> bool:
    if len(a.points) != len(b.points):
        return False
    if not parallel(a.axis, b.axis, 0.3):
        return False
    if dot(a.axis, b.axis) < 0 and len(b.points) == 2:
        b = _Item(b.marks, b.feet, b.points[::-1], -b.axis)
    return min(abs(p - q) for p, q in zip(a.points, b.points, strict=True)) <= step
