"""Between sizes: one line of a nest at a place between its sizes, the place differing along the line.

A place among the sizes is a number: 3.0 is the fourth size, 3.5 half-way to the fifth.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import floor

from toilewright.geometry.fairing import fit_cubics
from toilewright.geometry.path import Handles, Path
from toilewright.geometry.point import Point, turn
from toilewright.tolerance import CORNER, FLATTEN

SAME_SHARE = 0.03
"""Share of the length; nodes that lie within this on every size are the same node."""

RULED = 0.3
"""mm; a line that leaves its chord by less was drawn with a ruler (a wide pen line)."""

STRAIGHT_ON = 0.01
"""radians; two ruled lines that meet at less than this are one (0.3 mm on 30 mm)."""

SAMPLES = 16
"""Points on each stretch of a line whose nodes do not correspond."""


def mixed(values: Mapping[int, Point], at: float) -> Point:
    """A point (or number) between the sizes below and above a place."""
    low = floor(at + 1e-12)
    share = at - low
    if share < 1e-9:
        return values[low]
    return values[low] * (1 - share) + values[low + 1] * share


@dataclass(frozen=True, slots=True)
class Between:
    """A line between sizes, and the places on it that correspond.

    Attributes:
        path: the new line.
        knots: arc length of each corresponding place in every size (mm), the ends included.
        new_knots: the same on the new line.
    """

    path: Path
    knots: Mapping[int, tuple[float, ...]]
    new_knots: tuple[float, ...]

    def carried(self, places: Mapping[int, float], at: float) -> float:
        """Where a place that was told on every size (arc length, mm) comes to lie on the new line."""
        index = mixed({k: _rank(self.knots[k], s) for k, s in places.items()}, at)
        i = min(int(index), len(self.new_knots) - 2)
        low, high = self.new_knots[i], self.new_knots[i + 1]
        return low + (index - i) * (high - low)


def between(paths: Mapping[int, Path], breaks: Mapping[int, Sequence[float]], base: int,
            place: Callable[[Point], float], start: float, end: float) -> Between:
    """The line between sizes.

    Nodes that correspond on every size are mixed as they are; otherwise the line is walked in even steps between its
    corners and `breaks`, mixed, and drawn again. What is ruled on every size is ruled between them.

    Args:
        paths: the line in every size that takes part, by number.
        breaks: arc lengths that correspond on every size (dart feet).
        base: the size on which `place` is asked.
        place: where among the sizes a point lies.
        start, end: the same for the ends, which neighbours share.
    """
    if _nodes_correspond(paths):
        paths = _without_idle_nodes(paths)
        return _by_nodes(paths, base, place, start, end)
    return _by_steps(paths, breaks, base, place, start, end)


def _rank(knots: Sequence[float], s: float) -> float:
    """A place as the number of its knot and the share to the next."""
    i = min(max(bisect_right(knots, s) - 1, 0), len(knots) - 2)
    return i + (s - knots[i]) / ((knots[i + 1] - knots[i]) or 1.0)


def _nodes_correspond(paths: Mapping[int, Path]) -> bool:
    if len({len(p.nodes) for p in paths.values()}) > 1:
        return False
    shares = [[s / (p.length or 1.0) for s in p.lengths] for p in paths.values()]
    return all(max(column) - min(column) <= SAME_SHARE for column in zip(*shares, strict=True))


def _without_idle_nodes(paths: Mapping[int, Path]) -> dict[int, Path]:
    """The same lines without nodes in the middle of a ruled stretch, which would bend it."""
    count = len(next(iter(paths.values())).nodes)
    flat = [all(_straight(p, *p.lengths[i:i + 2]) for p in paths.values()) for i in range(count - 1)]
    idle = {i for i in range(1, count - 1) if flat[i - 1] and flat[i] and all(
        abs(turn(p.nodes[i] - p.nodes[i - 1], p.nodes[i + 1] - p.nodes[i])) < STRAIGHT_ON for p in paths.values())}
    return {k: Path(tuple(z for i, z in enumerate(p.nodes) if i not in idle),
                    tuple(None if flat[i] else h for i, h in enumerate(p.handles) if i not in idle))
            for k, p in paths.items()}


def _by_nodes(paths: Mapping[int, Path], base: int, place: Callable[[Point], float],
              start: float, end: float) -> Between:
    nodes = paths[base].nodes
    at = [start, *(place(p) for p in nodes[1:-1]), end]
    joints = tuple(mixed({k: p.nodes[i] for k, p in paths.items()}, at[i]) for i in range(len(nodes)))
    handles: list[Handles] = []
    for i in range(len(nodes) - 1):
        if all(p.handles[i] is None for p in paths.values()):
            handles.append(None)
            continue
        # A handle goes with its own node, so that a smooth joint stays smooth.
        out = mixed({k: _pulls(p, i)[0] for k, p in paths.items()}, at[i])
        back = mixed({k: _pulls(p, i)[1] for k, p in paths.items()}, at[i + 1])
        handles.append((joints[i] + out, joints[i + 1] + back))
    path = Path(joints, tuple(handles))
    return Between(path, {k: p.lengths for k, p in paths.items()}, path.lengths)


def _pulls(path: Path, i: int) -> tuple[Point, Point]:
    """Both handles of a curve, seen from their nodes."""
    a, b = path.nodes[i], path.nodes[i + 1]
    c1, c2 = path.handles[i] or (a + (b - a) / 3, b - (b - a) / 3)
    return c1 - a, c2 - b


def _by_steps(paths: Mapping[int, Path], breaks: Mapping[int, Sequence[float]], base: int,
              place: Callable[[Point], float], start: float, end: float) -> Between:
    corners = {k: _corners(p) for k, p in paths.items()}
    shared = len({len(c) for c in corners.values()}) == 1
    knots = {k: tuple(sorted({0.0, *breaks.get(k, ()), *(corners[k] if shared else ()), p.length}))
             for k, p in paths.items()}
    knots = {k: _apart(row) for k, row in knots.items()}
    if len({len(row) for row in knots.values()}) > 1:
        knots = {k: (0.0, p.length) for k, p in paths.items()}
    parts, new_knots, joint = [], [0.0], None
    stretches = len(knots[base]) - 1
    for j in range(stretches):
        points = []
        for step in range(SAMPLES + 1):
            at_size = {k: p.point_at(knots[k][j] + step / SAMPLES * (knots[k][j + 1] - knots[k][j]))
                       for k, p in paths.items()}
            first, last = j == 0 and step == 0, j == stretches - 1 and step == SAMPLES
            points.append(mixed(at_size, start if first else end if last else place(at_size[base])))
        ruled = all(_straight(p, *knots[k][j:j + 2]) for k, p in paths.items())
        part = Path.line(points[0], points[-1]) if ruled else fit_cubics(points, FLATTEN)
        parts.append(part if joint is None else part.with_ends(start=joint))
        joint = parts[-1].end
        new_knots.append(new_knots[-1] + parts[-1].length)
    return Between(Path.joined(parts), knots, tuple(new_knots))


def _straight(path: Path, low: float, high: float) -> bool:
    """Is a stretch of a line ruled? (within a wide pen line; what is ruled on every size stays ruled)."""
    chord = abs(path.point_at(high) - path.point_at(low))
    # A bow of height h makes a line longer by 8 h^2 / (3 chord).
    return high - low - chord <= 8 * RULED**2 / (3 * (chord or 1.0))


def _apart(row: Sequence[float]) -> tuple[float, ...]:
    """Places on a line, those within half a millimetre of the one before left out; the last is kept."""
    kept = [row[0]]
    for s in row[1:-1]:
        if s - kept[-1] > 0.5 and row[-1] - s > 0.5:
            kept.append(s)
    return (*kept, row[-1])


def _corners(path: Path) -> tuple[float, ...]:
    return tuple(s for (a, b), s in zip(pairwise(path.curves), path.lengths[1:], strict=False)
                 if abs(turn(a.derivative(1.0), b.derivative(0.0))) > CORNER)
