"""New curves: between ends with given directions, through points, and rounded joints."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from toilewright.errors import GeometryError
from toilewright.geometry.path import Handles, Path
from toilewright.geometry.point import Point, cross, dot, turn, unit
from toilewright.tolerance import JOINT


def hermite(start: Point, along_start: Point, end: Point, along_end: Point,
            fullness: float = 1 / 3) -> Path:
    """One smooth curve between two points with given directions of travel.

    Args:
        fullness: handle length as a share of the chord (1/3 is a plain run; 0.55 nearly a quarter circle
            between perpendicular directions).
    """
    reach = abs(end - start) * fullness
    return Path.cubic(start, start + unit(along_start) * reach, end - unit(along_end) * reach, end)


def curve_through(points: Sequence[Point], start_along: Point | None = None,
                  end_along: Point | None = None) -> Path:
    """A smooth path through points (mm); two points give a straight line.

    Inner directions follow the parabola through each point and its neighbours (Bessel's rule; de Boor,
    A Practical Guide to Splines, 1978, from memory), so unevenly spaced points give no bumps.

    Raises:
        GeometryError: fewer than two points, or two in a row that coincide.
    """
    n = len(points)
    if n < 2:
        raise GeometryError("A curve needs two points or more.")
    chords = [abs(b - a) for a, b in pairwise(points)]
    if min(chords) < JOINT:
        raise GeometryError("A curve cannot pass the same point twice in a row.")
    slopes = [(b - a) / h for a, b, h in zip(points, points[1:], chords, strict=False)]
    inner = [(chords[i] * slopes[i - 1] + chords[i - 1] * slopes[i]) / (chords[i - 1] + chords[i])
             for i in range(1, n - 1)]
    if n == 2:
        first, last = slopes[0], slopes[0]
    else:
        first, last = 2 * slopes[0] - inner[0], 2 * slopes[-1] - inner[-1]
    first = unit(start_along) if start_along is not None else first
    last = unit(end_along) if end_along is not None else last
    if n == 2 and start_along is None and end_along is None:
        return Path.line(points[0], points[1])
    ways = [first, *inner, last]
    handles = tuple((points[i] + ways[i] * chords[i] / 3, points[i + 1] - ways[i + 1] * chords[i] / 3)
                    for i in range(n - 1))
    return Path(tuple(points), handles)


def ease_corner(path: Path, s: float, reach: float) -> Path:
    """Round the joint at arc length s: the stretch of `reach` mm on both sides becomes one curve.

    Ends and end directions of the path are kept. Where the stretch would run past an end, it is
    shortened.
    """
    low, high = max(s - reach, 0.0), min(s + reach, path.length)
    if high - low < JOINT or s <= JOINT or s >= path.length - JOINT:
        return path
    before = path.sub(0.0, low) if low > JOINT else None
    after = path.sub(high, path.length) if high < path.length - JOINT else None
    t0 = before.end_tangent if before else path.start_tangent
    t1 = after.start_tangent if after else path.end_tangent
    middle = hermite(path.point_at(low) if before is None else before.end, t0,
                     path.point_at(high) if after is None else after.start, t1)
    return Path.joined([p for p in (before, middle, after) if p is not None])


def fit_cubics(points: Sequence[Point], tolerance: float, start_along: Point | None = None,
               end_along: Point | None = None) -> Path:
    """Few cubic curves that pass all given points within `tolerance` mm, smooth where they join.

    Least squares over the two handle lengths with chord-length parameters, re-parametrised, split at the worst
    point (P. J. Schneider, "An algorithm for automatically fitting digitized curves", Graphics Gems,
    1990, from memory). Points that lie on one line give one line.
    """
    pts = [p for i, p in enumerate(points) if i == 0 or abs(p - points[i - 1]) > JOINT]
    if len(pts) < 2:
        raise GeometryError("A curve needs two points or more.")
    if start_along is None and end_along is None and _straight(pts, tolerance):
        return Path.line(pts[0], pts[-1])
    nodes: list[Point] = [pts[0]]
    handles: list[Handles] = []
    _fit(pts, 0, len(pts) - 1, start_along and unit(start_along), end_along and unit(end_along),
         tolerance, nodes, handles)
    return Path(tuple(nodes), tuple(handles))


def _straight(pts: Sequence[Point], tolerance: float) -> bool:
    along = pts[-1] - pts[0]
    if abs(along) < JOINT:
        return False
    along /= abs(along)
    return all(abs(cross(along, p - pts[0])) <= tolerance for p in pts)


def _end_direction(pts: Sequence[Point], i: int, j: int, k: int) -> Point:
    """Tangent at pts[i] of the circle-like arc through three neighbours (chord-weighted)."""
    a, b = pts[j] - pts[i], pts[k] - pts[j]
    la, lb = abs(a), abs(b)
    if lb < JOINT or abs(turn(a, b)) > 1.2:
        return unit(a)
    d = a / la + (a / la - b / lb) * (la / (la + lb))
    return unit(d) if abs(d) > 1e-9 else unit(a)


def _fit(pts: Sequence[Point], lo: int, hi: int, t0: Point | None, t1: Point | None,
         tolerance: float, nodes: list[Point], handles: list[Handles]) -> None:
    """Fit pts[lo..hi], split where the fit is worst, and on; on a stack, as hostile points would split one by one."""
    if t0 is None:
        t0 = _end_direction(pts, lo, lo + 1, min(lo + 2, hi))
    if t1 is None:
        t1 = -_end_direction(pts, hi, hi - 1, max(hi - 2, lo))
    stack = [(lo, hi, t0, t1)]
    while stack:
        lo, hi, t0, t1 = stack.pop()
        found, at = _one_cubic(pts, lo, hi, t0, t1, tolerance)
        if found is not None:
            nodes.append(pts[hi])
            handles.append(found)
            continue
        at = min(max(at, lo + 1), hi - 1)
        centre = pts[at + 1] - pts[at - 1]
        centre = unit(centre) if abs(centre) > JOINT else t0
        stack += [(at, hi, centre, t1), (lo, at, t0, centre)]


def _one_cubic(pts: Sequence[Point], lo: int, hi: int, t0: Point, t1: Point,
               tolerance: float) -> tuple[Handles, int]:
    """Handles of one cubic that passes pts[lo..hi], or None and the number of the point that it misses most."""
    if hi - lo == 1:
        reach = abs(pts[hi] - pts[lo]) / 3
        return (pts[lo] + t0 * reach, pts[hi] - t1 * reach), lo
    us = [0.0]
    for i in range(lo + 1, hi + 1):
        us.append(us[-1] + abs(pts[i] - pts[i - 1]))
    us = [u / us[-1] for u in us]
    at = (lo + hi) // 2
    for _ in range(5):
        c1, c2 = _handles(pts, lo, hi, us, t0, t1)
        worst, at = _worst(pts, lo, hi, us, c1, c2)
        if worst <= tolerance:
            return (c1, c2), at
        if worst > 40 * tolerance:
            break
        us = _reparametrise(pts, lo, hi, us, c1, c2)
    return None, at


def _handles(pts: Sequence[Point], lo: int, hi: int, us: Sequence[float],
             t0: Point, t1: Point) -> tuple[Point, Point]:
    a, d = pts[lo], pts[hi]
    c00 = c01 = c11 = x0 = x1 = 0.0
    t01 = dot(t0, -t1)
    for u, p in zip(us, pts[lo:hi + 1], strict=True):
        v = 1 - u
        b1, b2 = 3 * v * v * u, 3 * v * u * u
        rest = p - (a * (v * v * v + b1) + d * (b2 + u * u * u))
        c00 += b1 * b1
        c01 += b1 * b2 * t01
        c11 += b2 * b2
        x0 += b1 * dot(t0, rest)
        x1 += b2 * dot(-t1, rest)
    det = c00 * c11 - c01 * c01
    chord = abs(d - a)
    alpha = beta = chord / 3
    if abs(det) > 1e-12:
        alpha, beta = (x0 * c11 - x1 * c01) / det, (c00 * x1 - c01 * x0) / det
    if not (1e-6 * chord < alpha < 4 * chord and 1e-6 * chord < beta < 4 * chord):
        alpha = beta = chord / 3
    return a + t0 * alpha, d - t1 * beta


def _at(a: Point, b: Point, c: Point, d: Point, u: float) -> Point:
    v = 1 - u
    return v * v * (v * a + 3 * u * b) + u * u * (3 * v * c + u * d)


def _worst(pts: Sequence[Point], lo: int, hi: int, us: Sequence[float],
           c1: Point, c2: Point) -> tuple[float, int]:
    best, where = 0.0, (lo + hi) // 2
    for i, u in enumerate(us):
        miss = abs(_at(pts[lo], c1, c2, pts[hi], u) - pts[lo + i])
        if miss > best:
            best, where = miss, lo + i
    return best, where


def _reparametrise(pts: Sequence[Point], lo: int, hi: int, us: Sequence[float],
                   c1: Point, c2: Point) -> list[float]:
    a, d = pts[lo], pts[hi]
    out = []
    for u, p in zip(us, pts[lo:hi + 1], strict=True):
        v = 1 - u
        b = _at(a, c1, c2, d, u) - p
        d1 = 3 * (v * v * (c1 - a) + 2 * u * v * (c2 - c1) + u * u * (d - c2))
        d2 = 6 * (v * (c2 - 2 * c1 + a) + u * (d - 2 * c2 + c1))
        slope = dot(d1, d1) + dot(b, d2)
        out.append(min(max(u - dot(b, d1) / slope, 0.0), 1.0) if slope > 1e-12 else u)
    return out
