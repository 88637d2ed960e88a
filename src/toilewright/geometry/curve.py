"""A straight line and a cubic Bezier curve, with the same verbs."""

from __future__ import annotations

from cmath import sqrt as sqrt_of
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import ceil, sqrt

from toilewright.geometry.point import Point
from toilewright.tolerance import ARC_LENGTH

# Abscissae and weights of the 8-point Gauss-Legendre rule on [0, 1]
# (Abramowitz and Stegun, Handbook of Mathematical Functions, 1964, table 25.4; from memory,
# checked against numpy.polynomial.legendre.leggauss in the tests).
_GAUSS = tuple(
    ((1 + sign * x) / 2, w / 2)
    for x, w in (
        (0.1834346424956498, 0.3626837833783620),
        (0.5255324099163290, 0.3137066458778873),
        (0.7966664774136267, 0.2223810344533745),
        (0.9602898564975363, 0.1012285362903763),
    )
    for sign in (-1, 1)
)


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line from start to end (mm)."""

    start: Point
    end: Point

    @property
    def length(self) -> float:
        """Length in mm."""
        return abs(self.end - self.start)

    def point(self, t: float) -> Point:
        """Point at parameter t in [0, 1]."""
        return self.start + (self.end - self.start) * t

    def derivative(self, t: float) -> Point:
        """Derivative by t."""
        return self.end - self.start

    def second(self, t: float) -> Point:
        """Second derivative by t."""
        return 0j

    def split(self, t: float) -> tuple[Line, Line]:
        """The two lines before and after t; they share their joint exactly."""
        mid = self.point(t)
        return Line(self.start, mid), Line(mid, self.end)

    def t_at(self, s: float) -> float:
        """Parameter at arc length s (mm) from the start."""
        length = self.length
        return min(max(s / length, 0.0), 1.0) if length else 0.0

    def length_to(self, t: float) -> float:
        """Arc length from the start to t."""
        return self.length * t

    def reversed(self) -> Line:
        """The same line, walked the other way."""
        return Line(self.end, self.start)

    def bounds(self) -> tuple[float, float, float, float]:
        """(x min, y min, x max, y max) in mm."""
        a, b = self.start, self.end
        return min(a.real, b.real), min(a.imag, b.imag), max(a.real, b.real), max(a.imag, b.imag)

    def hull(self) -> tuple[float, float, float, float]:
        """A box that holds it: here the exact one."""
        return self.bounds()

    def steps(self, tolerance: float) -> int:
        """How many chords stay within `tolerance` mm of it."""
        return 1

    def area(self) -> float:
        """Its share of the signed area of a closed ring (Green's theorem, about the origin)."""
        a, b = self.start, self.end
        return (a.real * b.imag - a.imag * b.real) / 2


@dataclass(frozen=True, slots=True)
class Cubic:
    """A cubic Bezier curve: start, two handles (control points), end (mm)."""

    start: Point
    c1: Point
    c2: Point
    end: Point

    @property
    def length(self) -> float:
        """Arc length in mm, to :data:`toilewright.tolerance.ARC_LENGTH`."""
        return _length(self.start, self.c1, self.c2, self.end)

    def point(self, t: float) -> Point:
        """Point at parameter t in [0, 1]."""
        u = 1 - t
        return u * u * (u * self.start + 3 * t * self.c1) + t * t * (3 * u * self.c2 + t * self.end)

    def derivative(self, t: float) -> Point:
        """Derivative by t; where it vanishes at an end, the direction towards the next handle."""
        u = 1 - t
        d = 3 * (u * u * (self.c1 - self.start) + 2 * u * t * (self.c2 - self.c1)
                 + t * t * (self.end - self.c2))
        if abs(d) > 1e-9:
            return d
        return (self.c2 - self.start if t < 0.5 else self.end - self.c1) or self.end - self.start

    def second(self, t: float) -> Point:
        """Second derivative by t."""
        return 6 * ((1 - t) * (self.c2 - 2 * self.c1 + self.start) + t * (self.end - 2 * self.c2 + self.c1))

    def split(self, t: float) -> tuple[Cubic, Cubic]:
        """The two curves before and after t (de Casteljau); they share their joint exactly."""
        ab = self.start + (self.c1 - self.start) * t
        bc = self.c1 + (self.c2 - self.c1) * t
        cd = self.c2 + (self.end - self.c2) * t
        abc, bcd = ab + (bc - ab) * t, bc + (cd - bc) * t
        mid = abc + (bcd - abc) * t
        return Cubic(self.start, ab, abc, mid), Cubic(mid, bcd, cd, self.end)

    def length_to(self, t: float) -> float:
        """Arc length from the start to t."""
        if t >= 1:
            return self.length
        return _arc(*_speed(self.start, self.c1, self.c2, self.end), 0.0, t) if t > 0 else 0.0

    def t_at(self, s: float) -> float:
        """Parameter at arc length s (mm) from the start: Newton, kept inside a bracket."""
        total = self.length
        if s <= 0 or total == 0:
            return 0.0
        if s >= total:
            return 1.0
        a, b, c = _speed(self.start, self.c1, self.c2, self.end)
        low, high, t, reached, at = 0.0, 1.0, s / total, 0.0, 0.0
        for _ in range(60):
            reached += _arc(a, b, c, at, t) if t >= at else -_arc(a, b, c, t, at)
            at = t
            miss = reached - s
            if abs(miss) < 1e-9:
                break
            if miss > 0:
                high = t
            else:
                low = t
            speed = abs(a + t * (b + t * c))
            t = t - miss / speed if speed > 1e-12 else (low + high) / 2
            if not low < t < high:
                t = (low + high) / 2
            if high - low < 1e-15:
                break
        return t

    def reversed(self) -> Cubic:
        """The same curve, walked the other way."""
        return Cubic(self.end, self.c2, self.c1, self.start)

    def bounds(self) -> tuple[float, float, float, float]:
        """(x min, y min, x max, y max) in mm, exact."""
        xs = _extremes(self.start.real, self.c1.real, self.c2.real, self.end.real)
        ys = _extremes(self.start.imag, self.c1.imag, self.c2.imag, self.end.imag)
        return min(xs), min(ys), max(xs), max(ys)

    def hull(self) -> tuple[float, float, float, float]:
        """A box that holds it, quick to find: that of its ends and handles (mm)."""
        a, b, c, d = self.start, self.c1, self.c2, self.end
        return (min(a.real, b.real, c.real, d.real), min(a.imag, b.imag, c.imag, d.imag),
                max(a.real, b.real, c.real, d.real), max(a.imag, b.imag, c.imag, d.imag))

    def steps(self, tolerance: float) -> int:
        """How many chords, even in t, stay within `tolerance` mm of it."""
        bend = max(abs(self.start - 2 * self.c1 + self.c2), abs(self.c1 - 2 * self.c2 + self.end))
        return max(1, ceil(sqrt(0.75 * bend / tolerance)))

    def area(self) -> float:
        """Its share of the signed area of a closed ring (Green's theorem, exact)."""
        def cr(u: Point, v: Point) -> float:
            return u.real * v.imag - u.imag * v.real
        a, b, c, d = self.start, self.c1, self.c2, self.end
        return (6 * cr(a, b) + 3 * cr(a, c) + cr(a, d) + 3 * cr(b, c) + 3 * cr(b, d) + 6 * cr(c, d)) / 20


Curve = Line | Cubic


def _speed(a: Point, b: Point, c: Point, d: Point) -> tuple[Point, Point, Point]:
    """The derivative as a polynomial k0 + k1 t + k2 t^2."""
    return 3 * (b - a), 6 * (a - 2 * b + c), 3 * (d - a + 3 * (b - c))


def _gauss(k0: Point, k1: Point, k2: Point, t0: float, t1: float) -> float:
    span = t1 - t0
    return span * sum([w * abs(k0 + t * (k1 + t * k2)) for t, w in [(t0 + x * span, w) for x, w in _GAUSS]])


def _calm(k0: Point, k1: Point, k2: Point) -> bool:
    """Does the velocity turn by less than a right angle? The speed is then smooth all along."""
    a, b, c = k0.conjugate(), k0 + k1 / 2, k0 + k1 + k2
    return (a * b).real > 0 and (a * c).real > 0 and (b.conjugate() * c).real > 0


def _arc(k0: Point, k1: Point, k2: Point, t0: float, t1: float) -> float:
    """Adaptive Gauss-Legendre quadrature of the speed, in parts that end where the speed may have a kink."""
    if _calm(k0, k1, k2):
        return _halved(k0, k1, k2, t0, t1, _gauss(k0, k1, k2, t0, t1), ARC_LENGTH, 0)
    stops = [t0, *(t for t in _slowest(k0, k1, k2) if t0 < t < t1), t1]
    return sum(_halved(k0, k1, k2, a, b, _gauss(k0, k1, k2, a, b), ARC_LENGTH / 1000, 0) for a, b in pairwise(stops))


def _slowest(k0: Point, k1: Point, k2: Point) -> list[float]:
    """Parameters below the complex zeros of the velocity: cusps, or nearly so, where rules of different fineness
    can agree by chance or all look past the kink.
    """
    if abs(k2) < 1e-12 * abs(k1):
        return [(-k0 / k1).real]
    if k2 == 0:
        return []
    root = sqrt_of(k1 * k1 - 4 * k2 * k0)
    return sorted(((sign * root - k1) / (2 * k2)).real for sign in (-1, 1))


def _halved(k0: Point, k1: Point, k2: Point, t0: float, t1: float, whole: float, within: float, depth: int) -> float:
    mid = (t0 + t1) / 2
    left, right = _gauss(k0, k1, k2, t0, mid), _gauss(k0, k1, k2, mid, t1)
    # The halves are some hundred times nearer than the whole, so their difference bounds the error.
    if abs(left + right - whole) < within or depth > 24:
        return left + right
    return (_halved(k0, k1, k2, t0, mid, left, within, depth + 1)
            + _halved(k0, k1, k2, mid, t1, right, within, depth + 1))


@lru_cache(maxsize=1 << 16)
def _length(a: Point, b: Point, c: Point, d: Point) -> float:
    return _arc(*_speed(a, b, c, d), 0.0, 1.0)


def _extremes(a: float, b: float, c: float, d: float) -> list[float]:
    """Values of one coordinate at its ends and turning points."""
    found = [a, d]
    k2, k1, k0 = d - a + 3 * (b - c), 2 * (a - 2 * b + c), b - a
    if abs(k2) < 1e-12:
        roots = [-k0 / k1] if abs(k1) > 1e-12 else []
    else:
        disc = k1 * k1 - 4 * k2 * k0
        roots = [(-k1 + s * sqrt(disc)) / (2 * k2) for s in (-1, 1)] if disc >= 0 else []
    for t in roots:
        if 0 < t < 1:
            u = 1 - t
            found.append(u * u * (u * a + 3 * t * b) + t * t * (3 * u * c + t * d))
    return found
