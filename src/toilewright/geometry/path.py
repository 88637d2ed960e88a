"""Curves end to end, each joint stored once."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from toilewright.errors import GeometryError
from toilewright.geometry.affine import Affine
from toilewright.geometry.curve import Cubic, Curve, Line
from toilewright.geometry.point import Point, dot, unit
from toilewright.tolerance import FLATTEN, JOINT

Handles = tuple[Point, Point] | None

_PARTS, _HALVINGS = 8, 4
"""Where the nearest point of a cubic is looked for: so many parts at first (a power of two, so that their bounds are
exact), halved so often where it may be."""


@dataclass(frozen=True)
class Path:
    """A run of lines and cubic curves.

    Attributes:
        nodes: the n + 1 joints, in order (mm).
        handles: for each of the n curves its two handles, or None for a straight line.

    No slots here: lengths and bounds are kept once computed, which a frozen value allows.
    """

    nodes: tuple[Point, ...]
    handles: tuple[Handles, ...]

    def __post_init__(self) -> None:
        """Check that joints and curves tally."""
        if len(self.nodes) != len(self.handles) + 1 or not self.handles:
            raise GeometryError("A path needs at least one curve, and one joint more than it has curves.")

    @classmethod
    def line(cls, start: Point, end: Point) -> Path:
        """One straight line."""
        return cls((start, end), (None,))

    @classmethod
    def polyline(cls, points: Iterable[Point]) -> Path:
        """Straight lines through points."""
        nodes = tuple(points)
        return cls(nodes, (None,) * (len(nodes) - 1))

    @classmethod
    def cubic(cls, start: Point, c1: Point, c2: Point, end: Point) -> Path:
        """One cubic curve."""
        return cls((start, end), ((c1, c2),))

    @classmethod
    def of(cls, curves: Sequence[Curve]) -> Path:
        """Curves that meet end to end; each starts where the one before it ended, whatever it says."""
        nodes = (curves[0].start, *(c.end for c in curves))
        return cls(nodes, tuple((c.c1, c.c2) if isinstance(c, Cubic) else None for c in curves))

    @classmethod
    def joined(cls, paths: Iterable[Path]) -> Path:
        """Paths end to end; small gaps (under 0.000001 mm) close on the earlier end.

        Raises:
            GeometryError: an end and the next start do not meet.
        """
        paths = tuple(paths)
        nodes: list[Point] = list(paths[0].nodes)
        handles: list[Handles] = list(paths[0].handles)
        for path in paths[1:]:
            if abs(path.nodes[0] - nodes[-1]) > JOINT:
                raise GeometryError(
                    f"Two lines that should meet are {abs(path.nodes[0] - nodes[-1]):.3f} mm apart.")
            nodes.extend(path.nodes[1:])
            handles.extend(path.handles)
        return cls(tuple(nodes), tuple(handles))

    # -- what it is ---------------------------------------------------------------------------

    @property
    def start(self) -> Point:
        """First point."""
        return self.nodes[0]

    @property
    def end(self) -> Point:
        """Last point."""
        return self.nodes[-1]

    @property
    def closed(self) -> bool:
        """Does it end where it began?"""
        return abs(self.nodes[0] - self.nodes[-1]) <= JOINT

    @cached_property
    def curves(self) -> tuple[Curve, ...]:
        """The single curves."""
        return tuple(
            Line(a, b) if h is None else Cubic(a, h[0], h[1], b)
            for (a, b), h in zip(pairwise(self.nodes), self.handles, strict=True))

    @cached_property
    def lengths(self) -> tuple[float, ...]:
        """Arc length from the start to each node (mm); the first is 0."""
        run, total = [0.0], 0.0
        for curve in self.curves:
            total += curve.length
            run.append(total)
        return tuple(run)

    @property
    def length(self) -> float:
        """Arc length in mm, within 0.001 mm."""
        return self.lengths[-1]

    @cached_property
    def bounds(self) -> tuple[float, float, float, float]:
        """(x min, y min, x max, y max) in mm, exact."""
        boxes = [c.bounds() for c in self.curves]
        return (min(b[0] for b in boxes), min(b[1] for b in boxes),
                max(b[2] for b in boxes), max(b[3] for b in boxes))

    @cached_property
    def hulls(self) -> tuple[tuple[float, float, float, float], ...]:
        """For each curve a box that holds it."""
        return tuple([c.hull() for c in self.curves])

    def area(self) -> float:
        """Signed area in mm^2 of a closed path, positive counter-clockwise (exact)."""
        origin = self.nodes[0]
        return sum(c.area() for c in self.moved(-origin).curves)

    # -- points along it ----------------------------------------------------------------------

    def _locate(self, s: float) -> tuple[int, float]:
        """Index of the curve at arc length s and the parameter on it."""
        lengths = self.lengths
        i = min(max(bisect_right(lengths, s) - 1, 0), len(self.handles) - 1)
        return i, self.curves[i].t_at(s - lengths[i])

    def point_at(self, s: float) -> Point:
        """Point at arc length s (mm) from the start; s is clamped to the path."""
        i, t = self._locate(s)
        if t <= 0.0:
            return self.nodes[i]
        if t >= 1.0:
            return self.nodes[i + 1]
        return self.curves[i].point(t)

    def tangent_at(self, s: float) -> Point:
        """Unit direction of travel at arc length s."""
        i, t = self._locate(s)
        return unit(self.curves[i].derivative(t))

    def normal_at(self, s: float) -> Point:
        """Unit normal at arc length s, left of the direction of travel."""
        return self.tangent_at(s) * 1j

    @property
    def start_tangent(self) -> Point:
        """Unit direction in which it sets off."""
        return unit(self.curves[0].derivative(0.0))

    @property
    def end_tangent(self) -> Point:
        """Unit direction in which it arrives."""
        return unit(self.curves[-1].derivative(1.0))

    def nearest(self, p: Point) -> tuple[float, float]:
        """(arc length, distance) of the path's point nearest to p (mm)."""
        curves = self.curves
        best = (float("inf"), 0, 0.0)
        for away, i in sorted([(_box_distance(box, p), i) for i, box in enumerate(self.hulls)]):
            if away >= best[0]:
                break
            t, d = _nearest_on(curves[i], p)
            if d < best[0]:
                best = (d, i, t)
        d, i, t = best
        return self.lengths[i] + self.curves[i].length_to(t), d

    def flatten(self, tolerance: float = FLATTEN) -> tuple[Point, ...]:
        """Points of a polyline that stays within `tolerance` mm of the path, ends included."""
        points = [self.nodes[0]]
        for curve, end in zip(self.curves, self.nodes[1:], strict=True):
            n = curve.steps(tolerance)
            points.extend(curve.point(k / n) for k in range(1, n))
            points.append(end)
        return tuple(points)

    # -- paths made from it -------------------------------------------------------------------

    def reversed(self) -> Path:
        """The same path, walked the other way."""
        return Path(self.nodes[::-1], tuple(h and (h[1], h[0]) for h in self.handles[::-1]))

    def mapped(self, f: Callable[[Point], Point]) -> Path:
        """Image under an affine map or any other function of a point that keeps cubics cubic."""
        return Path(tuple([f(p) for p in self.nodes]),
                    tuple([h and (f(h[0]), f(h[1])) for h in self.handles]))

    def moved(self, by: Point) -> Path:
        """Shifted by a vector."""
        return Path(tuple([p + by for p in self.nodes]),
                    tuple([h and (h[0] + by, h[1] + by) for h in self.handles]))

    def rotated(self, about: Point, angle: float) -> Path:
        """Turned about a pivot (radians, counter-clockwise)."""
        return self.mapped(Affine.turn(angle, about))

    def mirrored(self, a: Point, b: Point) -> Path:
        """Mirror image in the line through a and b (direction of travel kept)."""
        return self.mapped(Affine.mirror(a, b))

    def with_ends(self, start: Point | None = None, end: Point | None = None) -> Path:
        """The same path with an end put exactly where asked; its handle moves along."""
        nodes, handles = list(self.nodes), list(self.handles)
        if start is not None:
            if handles[0]:
                handles[0] = (handles[0][0] + start - nodes[0], handles[0][1])
            nodes[0] = start
        if end is not None:
            if handles[-1]:
                handles[-1] = (handles[-1][0], handles[-1][1] + end - nodes[-1])
            nodes[-1] = end
        return Path(tuple(nodes), tuple(handles))

    def split(self, s: float) -> tuple[Path, Path]:
        """The parts before and after arc length s; they share their joint exactly.

        Raises:
            GeometryError: s lies at or beyond an end, so that one part would be empty.
        """
        if not JOINT < s < self.length - JOINT:
            raise GeometryError(f"Cannot split a line of {self.length:.2f} mm at {s:.2f} mm.")
        lengths = self.lengths
        k = bisect_right(lengths, s)
        for node in (k - 1, k):
            if abs(lengths[node] - s) <= JOINT and 0 < node < len(self.nodes) - 1:
                return (Path(self.nodes[:node + 1], self.handles[:node]),
                        Path(self.nodes[node:], self.handles[node:]))
        i = k - 1
        first, second = self.curves[i].split(self.curves[i].t_at(s - lengths[i]))
        h1 = (first.c1, first.c2) if isinstance(first, Cubic) else None
        h2 = (second.c1, second.c2) if isinstance(second, Cubic) else None
        return (Path((*self.nodes[:i + 1], first.end), (*self.handles[:i], h1)),
                Path((first.end, *self.nodes[i + 1:]), (h2, *self.handles[i + 1:])))

    def sub(self, s0: float, s1: float) -> Path:
        """The part between two arc lengths, s0 < s1 (clamped to the path)."""
        path = self
        if s1 < self.length - JOINT:
            path = path.split(s1)[0]
        if s0 > JOINT:
            path = path.split(s0)[1]
        return path

    def cut_at(self, places: Iterable[float]) -> tuple[Path, ...]:
        """The parts between the given arc lengths; places at an end make no empty part."""
        parts, rest, done = [], self, 0.0
        for s in sorted(places):
            if JOINT < s - done < rest.length - JOINT:
                head, rest = rest.split(s - done)
                parts.append(head)
                done = s
        return (*parts, rest)


def _box_distance(box: tuple[float, float, float, float], p: Point) -> float:
    dx = max(box[0] - p.real, 0.0, p.real - box[2])
    dy = max(box[1] - p.imag, 0.0, p.imag - box[3])
    return abs(complex(dx, dy))


def _nearest_on(curve: Curve, p: Point) -> tuple[float, float]:
    """(parameter, distance) of the nearest point of one curve."""
    if isinstance(curve, Line):
        v = curve.end - curve.start
        size = dot(v, v)
        t = min(max(dot(p - curve.start, v) / size, 0.0), 1.0) if size else 0.0
        return t, abs(curve.point(t) - p)
    # The distance cannot fall faster than one runs along the curve, so a stretch whose ends are far enough away is
    # out; the others are halved. What survives holds the nearest point, also where the curve runs close by itself.
    fastest = 3 * max(abs(curve.c1 - curve.start), abs(curve.c2 - curve.c1), abs(curve.end - curve.c2))
    far = {k / _PARTS: abs(curve.point(k / _PARTS) - p) for k in range(_PARTS + 1)}
    width, starts = 1 / _PARTS, [k / _PARTS for k in range(_PARTS)]
    for _ in range(_HALVINGS):
        best = min(far.values())
        starts = [t for t in starts if far[t] + far[t + width] - fastest * width <= 2 * best + JOINT]
        if len(starts) > 2 * _PARTS or (len(starts) <= 2 and width < 1 / _PARTS):
            break
        width /= 2
        starts = [u for t in starts for u in (t, t + width)]
        far.update((t, abs(curve.point(t) - p)) for t in starts[1::2])
    dips = {min((t, t + width), key=far.__getitem__) for t in starts}
    dips = {t for t in dips if far[t] <= far.get(t - width, far[t]) and far[t] <= far.get(t + width, far[t])}
    return min((_refine(curve, p, t, width) for t in dips), key=lambda found: found[1])


def _refine(curve: Cubic, p: Point, t: float, reach: float) -> tuple[float, float]:
    """Newton on (B - p) . B' = 0 inside [t - reach, t + reach]; golden section where it fails."""
    low, high = max(t - reach, 0.0), min(t + reach, 1.0)
    x = t
    for _ in range(12):
        b, d = curve.point(x) - p, curve.derivative(x)
        slope = dot(d, d) + dot(b, curve.second(x))
        if slope <= 0:
            break
        step = dot(b, d) / slope
        nxt = min(max(x - step, low), high)
        if abs(nxt - x) < 1e-14:
            return nxt, abs(curve.point(nxt) - p)
        x = nxt
    g = 0.6180339887498949
    a, b = low, high
    c, d = b - g * (b - a), a + g * (b - a)
    for _ in range(60):
        if abs(curve.point(c) - p) < abs(curve.point(d) - p):
            b, d = d, c
            c = b - g * (b - a)
        else:
            a, c = c, d
            d = a + g * (b - a)
    candidates = ((low + 0.0), high, (a + b) / 2, x)
    x = min(candidates, key=lambda q: abs(curve.point(q) - p))
    return x, abs(curve.point(x) - p)
