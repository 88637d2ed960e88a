"""Where two paths meet, and where two straight lines run on meet."""

from __future__ import annotations

from dataclasses import dataclass

from toilewright.geometry.curve import Curve, Line
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, cross

_FLAT = 0.05
_NEAR = 1e-7


@dataclass(frozen=True, slots=True)
class Meeting:
    """One crossing of two paths: arc length on the first, on the second (mm), and the point."""

    on_first: float
    on_second: float
    point: Point


def ray_meeting(a: Point, along_a: Point, b: Point, along_b: Point) -> Point | None:
    """Where the unbounded lines a + s along_a and b + t along_b cross; None when parallel."""
    det = cross(along_a, along_b)
    if abs(det) < 1e-9 * abs(along_a) * abs(along_b):
        return None
    return a + along_a * (cross(b - a, along_b) / det)


def meetings(first: Path, second: Path) -> tuple[Meeting, ...]:
    """All crossings and touching ends of two paths, in order along the first.

    Overlapping stretches are reported by the points found on them, not as a run.
    """
    found: list[Meeting] = []
    if not _touch(_around(first.hulls), _around(second.hulls)):
        return ()
    others = tuple(zip(second.curves, second.hulls, strict=True))
    for i, (one, box) in enumerate(zip(first.curves, first.hulls, strict=True)):
        for j, (other, around) in enumerate(others):
            if not _touch(box, around):
                continue
            hits: list[tuple[float, float]] = []
            _search(one, other, one, 0.0, 1.0, other, 0.0, 1.0, hits, 0)
            for t, u in hits:
                found.append(Meeting(first.lengths[i] + one.length_to(t),
                                     second.lengths[j] + other.length_to(u), one.point(t)))
    found.sort(key=lambda m: m.on_first)
    kept: list[Meeting] = []
    for m in found:
        if not any(abs(m.on_first - k.on_first) < 1e-3 and abs(m.on_second - k.on_second) < 1e-3 for k in kept):
            kept.append(m)
    return tuple(kept)


def _around(boxes: tuple[tuple[float, ...], ...]) -> tuple[float, ...]:
    """One box round several."""
    if len(boxes) == 1:
        return boxes[0]
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    return min(x0), min(y0), max(x1), max(y1)


def _touch(a: tuple[float, ...], b: tuple[float, ...]) -> bool:
    return (a[0] <= b[2] + _NEAR and b[0] <= a[2] + _NEAR
            and a[1] <= b[3] + _NEAR and b[1] <= a[3] + _NEAR)


def _search(a0: Curve, b0: Curve, a: Curve, a_low: float, a_high: float,
            b: Curve, b_low: float, b_high: float, hits: list[tuple[float, float]], depth: int) -> None:
    """Halve the curvier of the two until both are nearly straight, then polish on the originals."""
    if not _touch(a.hull(), b.hull()):
        return
    a_flat, b_flat = a.steps(_FLAT) == 1, b.steps(_FLAT) == 1
    if (a_flat and b_flat) or depth > 40:
        hit = _polish(a0, b0, a, a_low, a_high, b, b_low, b_high)
        if hit and not any(abs(hit[0] - t) < 1e-7 and abs(hit[1] - u) < 1e-7 for t, u in hits):
            hits.append(hit)
        return
    if b_flat or (not a_flat and a.steps(_FLAT) >= b.steps(_FLAT)):
        mid = (a_low + a_high) / 2
        left, right = a.split(0.5)
        _search(a0, b0, left, a_low, mid, b, b_low, b_high, hits, depth + 1)
        _search(a0, b0, right, mid, a_high, b, b_low, b_high, hits, depth + 1)
    else:
        mid = (b_low + b_high) / 2
        left, right = b.split(0.5)
        _search(a0, b0, a, a_low, a_high, left, b_low, mid, hits, depth + 1)
        _search(a0, b0, a, a_low, a_high, right, mid, b_high, hits, depth + 1)


def _polish(a0: Curve, b0: Curve, a: Curve, a_low: float, a_high: float,
            b: Curve, b_low: float, b_high: float) -> tuple[float, float] | None:
    """Meeting of two nearly straight pieces by chords, then Newton on the whole curves."""
    va, vb = a.end - a.start, b.end - b.start
    det = cross(va, vb)
    if abs(det) < 1e-12 * max(abs(va) * abs(vb), 1e-12):
        return _end_on(a0, b0, a_low, a_high, b_low, b_high)
    t = cross(b.start - a.start, vb) / det
    u = cross(b.start - a.start, va) / det
    if not (-0.3 < t < 1.3 and -0.3 < u < 1.3):
        return None
    t, u = a_low + t * (a_high - a_low), b_low + u * (b_high - b_low)
    for _ in range(8):
        gap = b0.point(u) - a0.point(t)
        da, db = a0.derivative(t), b0.derivative(u)
        det = cross(da, db)
        if abs(gap) < 1e-11 or abs(det) < 1e-12:
            break
        t, u = t + cross(gap, db) / det, u + cross(gap, da) / det
    margin_a, margin_b = (a_high - a_low) * 0.02 + 1e-9, (b_high - b_low) * 0.02 + 1e-9
    if not (a_low - margin_a <= t <= a_high + margin_a and b_low - margin_b <= u <= b_high + margin_b):
        return None
    if not (-1e-9 <= t <= 1 + 1e-9 and -1e-9 <= u <= 1 + 1e-9):
        return None
    t, u = min(max(t, 0.0), 1.0), min(max(u, 0.0), 1.0)
    return (t, u) if abs(a0.point(t) - b0.point(u)) < 1e-4 else None


def _end_on(a0: Curve, b0: Curve, a_low: float, a_high: float,
            b_low: float, b_high: float) -> tuple[float, float] | None:
    """Parallel pieces still meet where ends coincide."""
    for t in (a_low, a_high):
        for u in (b_low, b_high):
            if abs(a0.point(t) - b0.point(u)) < 1e-6:
                return t, u
    return None


def line_meetings(path: Path, a: Point, b: Point) -> tuple[Meeting, ...]:
    """Crossings of a path with the straight line from a to b."""
    return meetings(path, Path.of([Line(a, b)]))
