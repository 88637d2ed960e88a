"""Paths cut at the sides of a rectangle, curve by curve."""

from __future__ import annotations

from math import acos, cos, pi, sqrt

from toilewright.geometry.curve import Curve, Line
from toilewright.geometry.path import Path

Box = tuple[float, float, float, float]
"""x min, y min, x max, y max (mm)."""

_SLACK = 1e-6
"""mm; a line this near to a side of the box lies on it."""


def clip(path: Path, box: Box) -> tuple[Path, ...]:
    """The parts of a path inside a box (x min, y min, x max, y max), in its direction of travel.

    A closed path that the box cuts comes back as open parts; the part across its start is one.
    """
    runs: list[list[Curve]] = []
    going = False
    for curve in path.curves:
        for part in _parts(curve, box):
            if not _inside(part.point(0.5), box):
                going = False
                continue
            if not going:
                runs.append([])
            runs[-1].append(part)
            going = True
    if len(runs) > 1 and path.closed and going and runs[0][0].start == path.start:
        runs[0] = runs.pop() + runs[0]
    return tuple(Path.of(run) for run in runs)


def _inside(p: complex, box: Box) -> bool:
    return (box[0] - _SLACK <= p.real <= box[2] + _SLACK) and (box[1] - _SLACK <= p.imag <= box[3] + _SLACK)


def _parts(curve: Curve, box: Box) -> list[Curve]:
    """The curve, cut wherever it crosses a side of the box."""
    places = sorted(t for side, level in ((0, box[0]), (0, box[2]), (1, box[1]), (1, box[3]))
                    for t in crossings(curve, side, level))
    parts, done = [], 0.0
    for t in places:
        if done + 1e-9 < t < 1 - 1e-9:
            head, curve = curve.split((t - done) / (1 - done))
            parts.append(head)
            done = t
    return [*parts, curve]


def crossings(curve: Curve, axis: int, level: float) -> list[float]:
    """Parameters in [0, 1] where x (axis 0) or y (axis 1) of a curve has a value (mm)."""
    def coordinate(p: complex) -> float:
        return (p.imag if axis else p.real) - level
    if isinstance(curve, Line):
        a, b = coordinate(curve.start), coordinate(curve.end)
        return [a / (a - b)] if a != b and 0 <= a / (a - b) <= 1 else []
    v = [coordinate(p) for p in (curve.start, curve.c1, curve.c2, curve.end)]
    if min(v) > 0 or max(v) < 0:
        return []
    return [_polished(t, v) for t in _roots(v[3] - 3 * v[2] + 3 * v[1] - v[0], 3 * (v[2] - 2 * v[1] + v[0]),
                                            3 * (v[1] - v[0]), v[0]) if -1e-9 <= t <= 1 + 1e-9]


def _polished(t: float, v: list[float]) -> float:
    """A root improved by Newton's method, kept in [0, 1]."""
    for _ in range(3):
        u = 1 - t
        value = u * u * u * v[0] + 3 * u * u * t * v[1] + 3 * u * t * t * v[2] + t * t * t * v[3]
        slope = 3 * (u * u * (v[1] - v[0]) + 2 * u * t * (v[2] - v[1]) + t * t * (v[3] - v[2]))
        if abs(slope) < 1e-12:
            break
        t -= value / slope
    return min(max(t, 0.0), 1.0)


def _roots(a: float, b: float, c: float, d: float) -> list[float]:
    """Real roots of a t^3 + b t^2 + c t + d (Cardano, trigonometric form for three of them)."""
    size = max(abs(a), abs(b), abs(c), abs(d))
    if abs(a) <= 1e-9 * size:
        if abs(b) <= 1e-9 * size:
            return [-d / c] if c else []
        disc = c * c - 4 * b * d
        return [(-c + s * sqrt(disc)) / (2 * b) for s in (-1, 1)] if disc >= 0 else []
    b, c, d = b / a, c / a, d / a
    q, r = (b * b - 3 * c) / 9, (2 * b ** 3 - 9 * b * c + 27 * d) / 54
    if r * r < q ** 3:
        turn = acos(max(-1.0, min(1.0, r / sqrt(q ** 3))))
        return [-2 * sqrt(q) * cos((turn + 2 * pi * k) / 3) - b / 3 for k in (-1, 0, 1)]
    s = (abs(r) + sqrt(max(r * r - q ** 3, 0.0))) ** (1 / 3)
    s = -s if r > 0 else s
    return [s + (q / s if s else 0.0) - b / 3]
