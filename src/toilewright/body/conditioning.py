"""A normal distribution of many measures, narrowed by those that are known; plain Python, as forty are few."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

Matrix = Sequence[Sequence[float]]


class NotPositive(ArithmeticError):
    """The matrix belongs to no distribution; its diagonal needs to be larger."""


def cholesky(matrix: Matrix) -> list[list[float]]:
    """The lower triangle L with L Lᵀ = matrix.

    Args:
        matrix: symmetric; only its lower triangle is read.

    Raises:
        NotPositive: it is not positive definite.

    >>> cholesky([[4.0, 2.0], [2.0, 5.0]])
    [[2.0], [1.0, 2.0]]
    """
    lower: list[list[float]] = []
    for i, row in enumerate(matrix):
        new: list[float] = []
        for above in lower:
            new.append((row[len(new)] - _dot(new, above)) / above[len(new)])
        rest = row[i] - _dot(new, new)
        if rest <= 0.0:
            raise NotPositive(f"Row {i + 1} of the matrix depends on the rows before it.")
        new.append(rest**0.5)
        lower.append(new)
    return lower


def solve_lower(lower: Matrix, wanted: Sequence[float]) -> list[float]:
    """x with L x = wanted."""
    x: list[float] = []
    for row, value in zip(lower, wanted, strict=True):
        x.append((value - _dot(x, row)) / row[len(x)])
    return x


@dataclass(frozen=True, slots=True)
class Narrowed:
    """What is known once some values are.

    Attributes:
        lower: Cholesky factor of the covariance of what was observed, noise included.
        pulled: L⁻¹ (observed - mean); its square length is the squared Mahalanobis distance of what was observed.
    """

    lower: tuple[tuple[float, ...], ...]
    pulled: tuple[float, ...]

    @property
    def distance(self) -> float:
        """Squared Mahalanobis distance of what was observed; about the number of values when they are usual."""
        return _dot(self.pulled, self.pulled)

    def weights(self, shared: Sequence[float]) -> list[float]:
        """L⁻¹ times the covariance of one more value with those observed; what :meth:`shift` and the variance need."""
        return solve_lower(self.lower, shared)

    def shift(self, weights: Sequence[float]) -> float:
        """By how much the mean of that value moves."""
        return _dot(weights, self.pulled)


def narrow(covariance: Matrix, off: Sequence[float]) -> Narrowed:
    """Condition on observed values.

    Args:
        covariance: of the observed values, noise included.
        off: observed value minus its mean, one by one.
    """
    lower = cholesky(covariance)
    return Narrowed(tuple(map(tuple, lower)), tuple(solve_lower(lower, off)))


def left_out(covariance: Matrix, off: Sequence[float]) -> list[tuple[float, float]]:
    """For each observed value its distance from what all the others say, and the variance of that distance.

    With P the inverse of the covariance these are (P off)ᵢ / Pᵢᵢ and 1 / Pᵢᵢ.
    """
    size = len(off)
    lower = cholesky(covariance)
    columns = [solve_lower(lower, [float(i == j) for i in range(size)]) for j in range(size)]
    pulled = solve_lower(lower, off)
    found = []
    for column in columns:
        precision = _dot(column, column)
        found.append((_dot(column, pulled) / precision, 1.0 / precision))
    return found


def _dot(a: Sequence[float], b: Sequence[float]) -> float:
    """Sum of products over the shorter of the two."""
    return sum(x * y for x, y in zip(a, b))  # noqa: B905 (a row of a triangle is met by the part that is there)
