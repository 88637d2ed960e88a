"""Points and directions of the plane as complex numbers (x + iy, mm)."""

from __future__ import annotations

import cmath
from math import atan2

from toilewright.errors import GeometryError

Point = complex


def dot(u: Point, v: Point) -> float:
    """Scalar product of two directions (mm^2)."""
    return u.real * v.real + u.imag * v.imag


def cross(u: Point, v: Point) -> float:
    """Signed area of the parallelogram on u and v (mm^2); positive when v lies left of u."""
    return u.real * v.imag - u.imag * v.real


def parallel(u: Point, v: Point, off: float) -> bool:
    """Do two directions run alike or against each other, but for an angle whose sine is below `off`?

    A direction without length is parallel to none.
    """
    return abs(cross(u, v)) < off * abs(u) * abs(v)


def unit(v: Point) -> Point:
    """Direction of v with length 1.

    Raises:
        GeometryError: v has no length, hence no direction.
    """
    size = abs(v)
    if size == 0.0:
        raise GeometryError("A direction was asked of two points that coincide.")
    return v / size


def turn(u: Point, v: Point) -> float:
    """Angle from u to v in radians, counter-clockwise, in (-pi, pi].

    >>> round(turn(1, 1j), 4)
    1.5708
    """
    w = v * u.conjugate()
    return atan2(w.imag, w.real)  # cmath.phase raises where this underflows


def rotated(p: Point, about: Point, angle: float) -> Point:
    """p turned about a pivot by an angle (radians, counter-clockwise)."""
    return about + (p - about) * cmath.rect(1.0, angle)


def reflected(p: Point, a: Point, b: Point) -> Point:
    """Mirror image of p in the line through a and b."""
    along = unit(b - a)
    return a + along * ((p - a) * along.conjugate()).conjugate()
