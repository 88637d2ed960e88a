"""Affine maps of the plane, written z -> p z + q conj(z) + r."""

from __future__ import annotations

import cmath
from dataclasses import dataclass

from toilewright.errors import GeometryError
from toilewright.geometry.point import Point, unit


@dataclass(frozen=True, slots=True)
class Affine:
    """An affine map; every real 2 x 3 matrix is one triple (p, q, r) of complex numbers.

    >>> Affine.from_matrix(2, 0, 0, 3, 10, 20)(1 + 1j)
    (12+23j)
    """

    p: complex = 1 + 0j
    q: complex = 0j
    r: complex = 0j

    @classmethod
    def from_matrix(cls, a: float, b: float, c: float, d: float, e: float, f: float) -> Affine:
        """The map x' = a x + c y + e, y' = b x + d y + f (the order of PDF and SVG matrices)."""
        return cls(complex(a + d, b - c) / 2, complex(a - d, b + c) / 2, complex(e, f))

    @classmethod
    def shift(cls, by: Point) -> Affine:
        """Translation by a vector (mm)."""
        return cls(r=by)

    @classmethod
    def turn(cls, angle: float, about: Point = 0j) -> Affine:
        """Rotation by an angle (radians, counter-clockwise) about a pivot."""
        m = cmath.rect(1.0, angle)
        return cls(m, 0j, about - m * about)

    @classmethod
    def mirror(cls, a: Point, b: Point) -> Affine:
        """Reflection in the line through a and b."""
        u = unit(b - a)
        m = u * u
        return cls(0j, m, a - m * a.conjugate())

    @classmethod
    def scale(cls, factor: float, about: Point = 0j) -> Affine:
        """Uniform scaling about a fixed point."""
        return cls(complex(factor), 0j, about * (1 - factor))

    def __call__(self, z: Point) -> Point:
        """Image of a point."""
        return self.p * z + self.q * z.conjugate() + self.r

    def then(self, after: Affine) -> Affine:
        """This map followed by another."""
        return Affine(
            after.p * self.p + after.q * self.q.conjugate(),
            after.p * self.q + after.q * self.p.conjugate(),
            after(self.r),
        )

    @property
    def determinant(self) -> float:
        """Signed area factor; negative for maps that mirror."""
        return abs(self.p) ** 2 - abs(self.q) ** 2

    def inverse(self) -> Affine:
        """The map that undoes this one.

        Raises:
            GeometryError: the map flattens the plane and cannot be undone.
        """
        det = self.determinant
        if abs(det) < 1e-12:
            raise GeometryError("The drawing is squeezed flat by its own matrix and cannot be undone.")
        p, q = self.p.conjugate() / det, -self.q / det
        return Affine(p, q, -(p * self.r + q * self.r.conjugate()))
