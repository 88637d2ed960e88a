"""A path as a fine polyline in one array: quick answers to 'inside?', 'how near?', 'how large?'.

The reader asks these of thousands of strokes. The exact curve is consulted only at the last step, once it
is known which part of it matters.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np

from toilewright.geometry.curve import Cubic
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.intake.clipping import Box

SKETCH = 0.1
"""mm; how far the polyline may leave the path: fine enough to tell sizes apart, coarse enough to be quick."""

BIG = 2000.0
"""mm^2; a closed line round less than this is no piece (a belt loop of 4 x 5 cm)."""

SCRIBBLE = 15.0
"""times width and height together; a closed line that runs longer than this to and fro is hatching or lettering."""


class kept:
    """A property that is worked out once; like functools.cached_property, without its lock."""

    def __init__(self, work: Callable[[Any], Any]) -> None:
        """Keep the work for later."""
        self.work, self.__doc__ = work, work.__doc__

    def __set_name__(self, owner: type, name: str) -> None:
        """Learn the name under which the result is kept."""
        self.name = name

    def __get__(self, holder: Any, owner: type | None = None) -> Any:
        """Do the work and keep its result in the holder."""
        if holder is None:
            return self
        value = holder.__dict__[self.name] = self.work(holder)
        return value


@dataclass(frozen=True, slots=True)
class Place:
    """A spot on a path: the point, unit direction of travel, distance of the asker, arc length (within 0.2 mm)."""

    point: Point
    along: Point
    distance: float
    s: float


def boxes_touch(a: Box, b: Box, margin: float = 0.0) -> bool:
    """Do two boxes (x min, y min, x max, y max) overlap or come within `margin` mm?"""
    return (a[0] - margin <= b[2] and b[0] - margin <= a[2] and a[1] - margin <= b[3] and b[1] - margin <= a[3])


def box_overlap(a: Box, b: Box) -> float:
    """Shared area of two boxes over the area of both together, 0 to 1."""
    w, h = min(a[2], b[2]) - max(a[0], b[0]), min(a[3], b[3]) - max(a[1], b[1])
    if w <= 0 or h <= 0:
        return 0.0
    both = (a[2] - a[0]) * (a[3] - a[1]) + (b[2] - b[0]) * (b[3] - b[1]) - w * h
    return w * h / both if both > 0 else 0.0


@dataclass(frozen=True, eq=False)
class Sketch:
    """A path and its polyline (no slots: what was computed once is kept). Two sketches are never equal."""

    path: Path

    @kept
    def _sampled(self) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Points, and for each of them its curve and its parameter on that curve."""
        nodes = np.array(self.path.nodes, dtype=complex)
        n = len(nodes) - 1
        if not any(self.path.handles):
            return nodes, np.minimum(np.arange(n + 1), n - 1), np.append(np.zeros(n), 1.0)
        a, d = nodes[:-1], nodes[1:]
        third = (d - a) / 3
        b, c = a + third, d - third
        for i, handles in enumerate(self.path.handles):
            if handles:
                b[i], c[i] = handles
        bend = np.maximum(np.abs(a - 2 * b + c), np.abs(b - 2 * c + d))
        counts = np.clip(np.ceil(np.sqrt(0.75 * bend / SKETCH)), 1, 200).astype(int)
        which = np.repeat(np.arange(n), counts)
        t = (np.arange(len(which)) - np.repeat(np.cumsum(counts) - counts, counts)) / counts[which]
        u = 1 - t
        points = u * u * (u * a[which] + 3 * t * b[which]) + t * t * (3 * u * c[which] + t * d[which])
        return np.append(points, nodes[-1]), np.append(which, n - 1), np.append(t, 1.0)

    @kept
    def _few(self) -> bool:
        """A polyline of so few points that plain arithmetic is quicker than arrays."""
        return len(self.path.nodes) <= 8 and not any(self.path.handles)

    @property
    def points(self) -> np.ndarray:
        """Points of the polyline, both ends included (complex, mm)."""
        return self._sampled[0]

    @kept
    def run(self) -> np.ndarray:
        """Length of the polyline up to each of its points (mm)."""
        found = np.zeros(len(self.points))
        np.cumsum(np.abs(self._steps[0]), out=found[1:])
        return found

    @kept
    def _steps(self) -> tuple[np.ndarray, np.ndarray]:
        """Vectors from point to point, and their squared lengths (never 0)."""
        p = self.points
        v = p[1:] - p[:-1]
        size = v.real**2 + v.imag**2
        return v, np.where(size > 0, size, 1.0)

    @kept
    def length(self) -> float:
        """Length of the polyline (mm)."""
        if self._few:
            return sum([abs(b - a) for a, b in pairwise(self.path.nodes)])
        return float(self.run[-1])

    @kept
    def box(self) -> Box:
        """(x min, y min, x max, y max) in mm."""
        if self._few:
            xs, ys = [p.real for p in self.path.nodes], [p.imag for p in self.path.nodes]
            return min(xs), min(ys), max(xs), max(ys)
        p = self.points
        return float(p.real.min()), float(p.imag.min()), float(p.real.max()), float(p.imag.max())

    @property
    def span(self) -> float:
        """Diagonal of the box (mm)."""
        return abs(complex(self.box[2] - self.box[0], self.box[3] - self.box[1]))

    @property
    def middle(self) -> Point:
        """Centre of the box."""
        return complex(self.box[0] + self.box[2], self.box[1] + self.box[3]) / 2

    @kept
    def area(self) -> float:
        """Signed area of the polygon (mm^2), positive counter-clockwise."""
        p = self.points - self.points[0]
        return float((p[:-1].real * p[1:].imag - p[:-1].imag * p[1:].real).sum() / 2)

    def contains(self, p: Point) -> bool:
        """Does the closed polygon hold this point?"""
        x0, y0, x1, y1 = self.box
        if not (x0 <= p.real <= x1 and y0 <= p.imag <= y1):
            return False
        q = self.points - p
        a, b = q[:-1], q[1:]
        crossing = (a.imag > 0) != (b.imag > 0)
        a, b = a[crossing], b[crossing]
        return bool(np.count_nonzero(a.real - a.imag * (b.real - a.real) / (b.imag - a.imag) > 0) % 2)

    def along(self, n: int) -> tuple[Point, ...]:
        """n points evenly along it, ends left out."""
        if len(self.path.nodes) == 2 and self._few:
            a, b = self.path.nodes
            return tuple([a + (b - a) * ((k + 0.5) / n) for k in range(n)])
        wanted = (np.arange(n) + 0.5) / n * self.run[-1]
        p = self.points
        return tuple(np.interp(wanted, self.run, p.real) + 1j * np.interp(wanted, self.run, p.imag))

    def distances(self, points: Sequence[Point]) -> np.ndarray:
        """Distance of each point to the polyline (mm)."""
        v, size = self._steps
        w = np.array(points, dtype=complex)[:, None] - self.points[:-1]
        t = np.minimum(np.maximum((w * v.conjugate()).real / size, 0.0), 1.0)
        return np.abs(w - t * v).min(axis=1)

    def nearest(self, p: Point) -> Place:
        """The spot of the path nearest to p, on the exact curve."""
        p = complex(p)
        v, size = self._steps
        w = p - self.points[:-1]
        t = np.minimum(np.maximum((w * v.conjugate()).real / size, 0.0), 1.0)
        miss = np.abs(w - t * v)
        k = int(miss.argmin())
        _, which, at = self._sampled
        s = float(self.run[k] + t[k] * abs(v[k]))
        curve = self.path.curves[int(which[k])]
        after = at[k + 1] if which[k + 1] == which[k] else 1.0
        x = float(at[k] + t[k] * (after - at[k]))
        if isinstance(curve, Cubic):
            x = _polish(curve, p, x)
        point, way = curve.point(x), curve.derivative(x)
        return Place(point, way / (abs(way) or 1.0), abs(point - p), s)


def _polish(curve: Cubic, p: Point, x: float) -> float:
    """A few Newton steps from a parameter that is already near."""
    for _ in range(4):
        b, d, e = curve.point(x) - p, curve.derivative(x), curve.second(x)
        slope = abs(d) ** 2 + b.real * e.real + b.imag * e.imag
        if slope <= 0:
            break
        step = (b.real * d.real + b.imag * d.imag) / slope
        x = min(max(x - step, 0.0), 1.0)
        if abs(step) < 1e-10:
            break
    return x


def is_seam_of(inner: Sketch, outer: Sketch) -> bool:
    """Does a closed line run inside another at one distance of 3 to 40 mm, as a seam line does?

    Hem and fold may differ: three fifths of the way round are enough.
    """
    a, b = inner.box, outer.box
    if not (b[0] <= a[0] + 0.5 and b[1] <= a[1] + 0.5 and a[2] <= b[2] + 0.5 and a[3] <= b[3] + 0.5):
        return False
    if not (inner.path.closed and outer.path.closed) or abs(inner.area) >= abs(outer.area):
        return False
    return follows_inside(inner, outer)


def follows_inside(line: Sketch, outer: Sketch) -> bool:
    """Does a line run inside a closed one at one distance of 3 to 40 mm for three fifths of its length?

    Or at two distances for four fifths of it: strips have a hem as long as the seam opposite.
    """
    if not boxes_touch(line.box, outer.box):
        return False
    for count in (12, 60):
        probes = line.along(count)
        gaps = outer.distances(probes)
        alike = np.abs(gaps[:, None] - gaps) < 0.4
        best = int(alike.sum(axis=1).argmax())
        rest = ~alike[best] & (gaps > 3.0) & (gaps < 60.0)
        once, twice = alike[best].sum(), alike[best].sum() + (alike & rest)[rest].sum(axis=1).max(initial=0)
        if not 3.0 < gaps[best] < 60.0 or (once < 0.6 * count and (once < 0.4 * count or twice < 0.8 * count)):
            return False
    return sum(outer.contains(p) for p in probes[::6]) >= 9


def is_outline(line: Sketch) -> bool:
    """Is this closed line large enough for a piece, no scribble, and no square such as those that test the scale?"""
    if not line.path.closed or line.area < BIG:
        return False
    x0, y0, x1, y1 = line.box
    if line.length > SCRIBBLE * (x1 - x0 + y1 - y0):
        return False
    square = abs((x1 - x0) - (y1 - y0)) < 0.02 * (x1 - x0) and line.area > 0.98 * (x1 - x0) * (y1 - y0)
    return not (square and x1 - x0 < 125)
