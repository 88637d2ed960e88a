"""Open outlines completed from lines that several sizes share (centre front, fold, hem drawn once)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from heapq import heappop, heappush
from itertools import combinations, pairwise

from toilewright.geometry.meeting import meetings
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.intake.rings import Chained, chain, join, runs
from toilewright.intake.sketch import Sketch, boxes_touch
from toilewright.tolerance import JOINT

TOUCH = 0.8
"""mm; an end that comes this near to a shared line meets it (a wide pen line, and the noise of tiles)."""

DEAR = 3.0
"""A mile on a neighbour's line counts as this many on a common one, so that common lines are preferred."""

GAP = 8.0
"""mm; open ends of one outline nearer than this are closed straight, and reported."""

SHORT = 18.0
"""mm; shorter lines are ticks, never part of an outline that other sizes complete."""

MANY = 300
"""Loose lines of one size outside its pieces; more of them are no outlines that lack a side, but scribble."""

FEW = 60
"""Loose lines of one size that are tried for crossings, where corners are drawn with lines that run past each other."""

LONG = 60.0
"""mm; a shorter loose line is a mark, not part of an outline."""


@dataclass(frozen=True, slots=True)
class Completed:
    """Closed outlines, the lines left over, gaps that were closed straight, and outlines that stay open."""

    rings: tuple[Path, ...]
    loose: tuple[Path, ...]
    closed_gaps: tuple[tuple[Point, float], ...]
    open: tuple[Path, ...]


def complete(loose: Sequence[Path], inside: Sequence[Sketch], common: Sequence[Sketch],
             neighbours: Sequence[Sketch]) -> Completed:
    """Close open outlines of one size along common lines, else along lines of other sizes, else across small gaps.

    Args:
        loose: lines of the size that are in no closed outline.
        inside: the closed outlines of the size; lines inside them are marks.
        common, neighbours: lines that all sizes share, and lines of the other sizes.
    """
    within = [_inside(p, inside) for p in loose]
    marks = [p for p, held in zip(loose, within, strict=True) if held]
    lines = [p for p, held in zip(loose, within, strict=True) if not held]
    if not any(Sketch(p).length > SHORT for p in lines):
        return Completed((), tuple(loose), (), ())
    supply = [(s, 1.0) for s in common] + [(s, DEAR) for s in neighbours]
    wholes = [r for r in runs(lines) if Sketch(r).length > SHORT]
    if len(wholes) > MANY:
        return Completed((), tuple(loose), (), ())
    ends = _open_ends(wholes, supply)
    ways = _ways(ends, supply, wholes)
    made = chain([*lines, *ways], TOUCH)
    made, gaps = _closed(made, [(r.start, r.end) for r in runs(made.loose) if _nearly_closed(r)])
    cut = not made.rings and 2 < len(made.loose) <= FEW
    closed, more = _gaps_closed(chain(_cut_at_crossings(made.loose), TOUCH) if cut else made)
    if cut and not closed.rings:
        closed, more = _gaps_closed(made)
    held = [*inside, *(Sketch(r) for r in closed.rings)]
    still_open = [r for r in runs(closed.loose) if _might_be_outline(Sketch(r)) and not _inside(r, held)]
    return Completed(closed.rings, (*marks, *closed.loose), (*gaps, *more), tuple(_not_within(still_open)))


def _not_within(lines: Sequence[Path]) -> list[Path]:
    """The lines that lie in the box of no longer one: darts of an open outline are left out."""
    kept: list[Sketch] = []
    for line in sorted(map(Sketch, lines), key=lambda s: -s.length):
        x0, y0, x1, y1 = line.box
        if not any(k.box[0] <= x0 and k.box[1] <= y0 and x1 <= k.box[2] and y1 <= k.box[3] for k in kept):
            kept.append(line)
    return [k.path for k in kept]


def _gaps_closed(made: Chained) -> tuple[Chained, list[tuple[Point, float]]]:
    return _closed(made, _small_gaps([r for r in runs(made.loose) if Sketch(r).length > LONG]))


def _closed(made: Chained, pairs: Sequence[tuple[Point, Point]]) -> tuple[Chained, list[tuple[Point, float]]]:
    """What the lines make once pairs of ends are joined straight, and where how much was joined."""
    if not pairs:
        return made, []
    again = chain([*made.loose, *(Path.line(a, b) for a, b in pairs)], TOUCH)
    return Chained((*made.rings, *again.rings), again.loose), [((a + b) / 2, abs(b - a)) for a, b in pairs]


def _nearly_closed(run: Path) -> bool:
    """An outline but for one small gap; ends that run past each other at a corner are none."""
    if not TOUCH < abs(run.start - run.end) <= GAP or not _might_be_outline(Sketch(run)):
        return False
    return not meetings(run.sub(0.0, 3 * GAP), run.sub(run.length - 3 * GAP, run.length))


def _cut_at_crossings(lines: Sequence[Path]) -> list[Path]:
    """The lines, cut where they cross or touch one another, without the stubs beyond their corners."""
    cuts: list[list[float]] = [[] for _ in lines]
    for (i, one), (j, two) in combinations(enumerate(lines), 2):
        for met in meetings(one, two):
            cuts[i].append(met.on_first)
            cuts[j].append(met.on_second)
    parts = []
    for line, places in zip(lines, cuts, strict=True):
        made = line.cut_at(places)
        whole = len(made) == 1 or line.length <= SHORT
        parts.extend(p for k, p in enumerate(made) if whole or 0 < k < len(made) - 1 or p.length > GAP)
    return parts


def _inside(path: Path, inside: Sequence[Sketch]) -> bool:
    sketch = Sketch(path)
    return any(boxes_touch(o.box, sketch.box) and any(o.contains(p) for p in sketch.along(3)) for o in inside)


def _might_be_outline(sketch: Sketch) -> bool:
    """Bent, and large in both directions."""
    return sketch.length > 3 * LONG and min(sketch.box[2] - sketch.box[0], sketch.box[3] - sketch.box[1]) > LONG / 2


def _open_ends(wholes: Sequence[Path], supply: Sequence[tuple[Sketch, float]]) -> list[Point]:
    """Open ends that touch a shared line, of lines of which no end hangs free."""
    left = list(wholes)
    while True:
        ends = [p for path in left for p in (path.start, path.end)]

        def met(p: Point, ends: list[Point] = ends) -> bool:
            return sum(abs(p - q) <= TOUCH for q in ends) > 1
        kept = [path for path in left if all(met(p) or _touches(p, supply) for p in (path.start, path.end))]
        if len(kept) == len(left):
            return [p for p in ends if not met(p)]
        left = kept


def _touches(p: Point, supply: Sequence[tuple[Sketch, float]]) -> bool:
    return any(_near(s, p) for s, _ in supply)


def _near(sketch: Sketch, p: Point) -> bool:
    return (boxes_touch(sketch.box, (p.real, p.imag, p.real, p.imag), TOUCH)
            and sketch.nearest(p).distance <= TOUCH)


def _only_repeats(way: Path, a: Point, b: Point, own: Sequence[Path]) -> bool:
    """Does a way along another size's line only run where a line of this size runs already?"""
    return any({p.start, p.end} == {a, b} and abs(p.length - way.length) < 0.01 * way.length for p in own)


def _ways(ends: Sequence[Point], supply: Sequence[tuple[Sketch, float]], own: Sequence[Path]) -> list[Path]:
    """Shared lines that lead from open end to open end, the shortest first, each end served once."""
    if len(ends) < 2:
        return []
    graph = _Graph(ends, supply)
    found = sorted((way for i in range(len(ends)) for way in graph.ways_from(i)), key=lambda way: way[0])
    served: set[int] = set()
    made = []
    for cost, i, j, path in found:
        gap = max(abs(ends[i] - ends[j]), GAP)
        if gap <= LONG and path.length > 6 * gap and cost > path.length * DEAR / 2:
            continue  # back round another size that has the same gap
        if i not in served and j not in served and not _only_repeats(path, ends[i], ends[j], own):
            served.update((i, j))
            made.append(path.with_ends(ends[i], ends[j]))
    return made


def _small_gaps(lines: Sequence[Path]) -> list[tuple[Point, Point]]:
    """Pairs of open ends that are near each other, nearest first, each end once."""
    ends = [p for path in lines for p in (path.start, path.end)]
    pairs = sorted((abs(ends[i] - ends[j]), i, j) for j in range(len(ends)) for i in range(j)
                   if TOUCH < abs(ends[i] - ends[j]) <= GAP)
    used: set[int] = set()
    found = []
    for _, i, j in pairs:
        if not used & {i, j}:
            used.update((i, j))
            found.append((ends[i], ends[j]))
    return found


class _Graph:
    """Open ends, ends of shared lines, and the stretches of shared lines between them."""

    def __init__(self, stops: Sequence[Point], supply: Sequence[tuple[Sketch, float]]) -> None:
        self.points = list(stops)
        self.stops = len(stops)
        self.out: dict[int, list[tuple[float, int, Sketch, float, float]]] = {}
        near = [(s, dear) for s, dear in supply if any(_near(s, p) for p in stops)]
        ends = [p for s, _ in near if not s.path.closed for p in (s.path.start, s.path.end)]
        near += [x for x in supply if all(x[0] is not y[0] for y in near) and any(_near(x[0], p) for p in ends)]
        for p in ends:
            if all(abs(p - q) > TOUCH for q in self.points):
                self.points.append(p)
        for sketch, dear in near:
            self._stretches(sketch, dear)

    def _stretches(self, sketch: Sketch, dear: float) -> None:
        spots = sorted((sketch.nearest(p).s, i) for i, p in enumerate(self.points) if _near(sketch, p))
        pairs = list(pairwise(spots))
        if sketch.path.closed and len(spots) > 1:
            pairs.append((spots[-1], (spots[0][0] + sketch.length, spots[0][1])))
        for (s, i), (u, j) in pairs:
            if i != j:
                self.out.setdefault(i, []).append(((u - s) * dear, j, sketch, s, u))
                self.out.setdefault(j, []).append(((u - s) * dear, i, sketch, u, s))

    def ways_from(self, start: int) -> list[tuple[float, int, int, Path]]:
        """(cost, start, other stop, way) to each other open end of higher number (E. W. Dijkstra's rule, 1959)."""
        done: set[int] = set()
        steps: list[tuple[int, tuple[Sketch, float, float] | None]] = [(-1, None)]
        heap: list[tuple[float, int, int]] = [(0.0, start, 0)]
        found = []
        while heap:
            cost, node, step = heappop(heap)
            if node in done:
                continue
            done.add(node)
            if start < node < self.stops:
                found.append((cost, start, node, _way(steps, step)))
            for more, other, sketch, s, u in self.out.get(node, ()):
                if other not in done:
                    steps.append((step, (sketch, s, u)))
                    heappush(heap, (cost + more, other, len(steps) - 1))
        return found


def _way(steps: Sequence[tuple[int, tuple[Sketch, float, float] | None]], step: int) -> Path:
    parts = []
    while steps[step][1] is not None:
        before, (sketch, s, u) = steps[step]
        parts.append(stretch(sketch, s, u))
        step = before
    return join(parts[::-1])


def stretch(sketch: Sketch, s: float, u: float) -> Path:
    """The part of a path between two arc lengths of its polyline.

    Walked backwards when u < s; over the joint of a closed path when one of them exceeds its length.
    """
    if u < s:
        return stretch(sketch, u, s).reversed()
    path, scale = sketch.path, sketch.path.length / sketch.length
    s, u = s * scale, u * scale
    if u <= path.length + JOINT:
        return path.sub(s, u)
    parts = [path.sub(s, path.length)] if s < path.length - JOINT else []
    return join([*parts, path.sub(0.0, u - path.length)])
