"""Where one outline may not lie beside another: the no-fit region, as a union of convex polygons.

A displacement d of B against A makes the two overlap where d lies inside A + (-B), the Minkowski sum. Both are divided
into convex parts; the sum is then the union of the sums of the parts, each the meeting of the half planes given by the
sides of the two. (No-fit polygons by decomposition: common in the literature on nesting, e.g. Bennell and Oliveira,
"The geometry of nesting problems: a tutorial", 2008; from memory.)
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from toilewright.packing.convex import LOSS, convex_parts, simplified, widened
from toilewright.packing.problem import Outline, Pose, Problem

HAIR = 1e-7
"""Touching is no overlap: a region ends this much before its edge (mm)."""

MANY, COARSER = 40, 2.0
"""Different outlines beyond which they are taken for larger by up to so much (mm); the squeeze takes it out again."""


@dataclass(frozen=True, eq=False)
class Shape:
    """An outline in one pose, in convex parts, a little larger than it is (half the gap and what simplifying loses).

    Attributes:
        parts: convex polygons, counter-clockwise (mm).
        left, right, low, high: bounds of the true outline in this pose.
        area: of the true outline (mm2).
    """

    parts: tuple[np.ndarray, ...]
    left: float
    right: float
    low: float
    high: float
    area: float

    @cached_property
    def corners(self) -> np.ndarray:
        """Corners of all parts, part after part."""
        return np.concatenate(self.parts)

    @cached_property
    def starts(self) -> np.ndarray:
        """Where each part begins among the corners; as many sides as corners."""
        return np.cumsum([0, *(len(p) for p in self.parts)])[:-1]

    @cached_property
    def normals(self) -> np.ndarray:
        """Outward unit normals of all sides, each side beginning at its corner."""
        ends = np.concatenate([np.concatenate([p[1:], p[:1]]) for p in self.parts])
        edges = ends - self.corners
        return np.stack([edges[:, 1], -edges[:, 0]], axis=1) / np.maximum(np.hypot(*edges.T), 1e-12)[:, None]

    @cached_property
    def support(self) -> np.ndarray:
        """How far each side lies out along its normal (mm)."""
        return (self.normals * self.corners).sum(axis=1)

    @cached_property
    def rows(self) -> np.ndarray:
        """Indices of the sides of each part, the last one repeated to fill a rectangle."""
        sizes = np.array([len(p) for p in self.parts])
        return self.starts[:, None] + np.minimum(np.arange(sizes.max()), sizes[:, None] - 1)

    @cached_property
    def bounds(self) -> tuple[np.ndarray, np.ndarray]:
        """Least and greatest x and y of each part."""
        return (np.minimum.reduceat(self.corners, self.starts, axis=0),
                np.maximum.reduceat(self.corners, self.starts, axis=0))

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """Least and greatest x, least and greatest y of all parts."""
        (left, low), (right, high) = self.bounds[0].min(axis=0).tolist(), self.bounds[1].max(axis=0).tolist()
        return left, right, low, high

    @cached_property
    def plain(self) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
        """Arrays for compiled code: corners; sides (unit normal, how far it lies out); where each part begins among
        them, and where the last one ends; least and greatest x of each part."""
        least, most = self.bounds
        return (np.ascontiguousarray(self.corners), np.column_stack([self.normals, self.support]),
                np.append(self.starts, len(self.corners)).astype(np.int64), np.column_stack([least[:, 0], most[:, 0]]))


@lru_cache(maxsize=1024)
def shape(outline: Outline, pose: Pose, gap: float, loss: float = LOSS) -> Shape:
    """The outline in a pose, ready for no-fit regions with half of `gap` around it."""
    corners = np.array([(p.real, p.imag) for p in map(pose.of, outline)])
    low, high = corners.min(axis=0), corners.max(axis=0)
    x, y = corners.T
    area = abs(float((x * np.roll(y, -1) - y * np.roll(x, -1)).sum())) / 2
    parts = []
    for part in _parts(outline, gap, loss):
        z = np.array([pose.of(complex(*c)) for c in part])
        turned = np.stack([z.real, z.imag], axis=1)
        parts.append(turned[::-1] if pose.mirrored else turned)
    return Shape(tuple(parts), float(low[0]), float(high[0]), float(low[1]), float(high[1]), area)


@lru_cache(maxsize=1024)
def _parts(outline: Outline, gap: float, loss: float) -> tuple[np.ndarray, ...]:
    return tuple(convex_parts(simplified(widened(outline, gap / 2), loss)))


def loss_for(problem: Problem) -> float:
    """How much larger outlines are taken for here (mm): many different ones coarser, as every pair costs time."""
    return LOSS if len(problem.items) <= MANY else COARSER


def item_shape(problem: Problem, item: int, pose: Pose) -> Shape:
    """An item of a problem in one of its poses."""
    return shape(problem.items[item].outline, pose, problem.gap, loss_for(problem))


def forbidden_shapes(problem: Problem) -> tuple[Shape, ...]:
    """What nothing may overlap."""
    return tuple(shape(outline, Pose(), problem.gap, loss_for(problem)) for outline in problem.forbidden)


class NoFit:
    """Displacements of B against A at which the two overlap.

    Attributes:
        left, right, low, high: bounds of the whole region (mm).
    """

    def __init__(self, a: Shape, b: Shape) -> None:
        """Build the region of `b` against `a`."""
        na, nb = a.normals, -b.normals  # of A and of -B
        # How far each pair of parts reaches along each of its sides: a half plane a side.
        reach_a = a.support[:, None] + np.maximum.reduceat(na @ -b.corners.T, b.starts, axis=1)  # A's sides, B's parts
        reach_b = b.support[None] + np.maximum.reduceat(a.corners @ nb.T, a.starts, axis=0)  # A's parts, B's sides
        pa, pb = len(a.parts), len(b.parts)
        self.normals = np.concatenate([np.broadcast_to(na[a.rows][:, None], (pa, pb, a.rows.shape[1], 2)),
                                       np.broadcast_to(nb[b.rows][None], (pa, pb, b.rows.shape[1], 2))], axis=2)
        self.reach = np.concatenate([reach_a[a.rows].transpose(0, 2, 1), reach_b[:, b.rows]], axis=2)
        self.normals = self.normals.reshape(pa * pb, -1, 2)
        self.reach = self.reach.reshape(pa * pb, -1)
        (least_a, most_a), (least_b, most_b) = a.bounds, b.bounds
        self.least = (least_a[:, None] - most_b[None]).reshape(-1, 2)
        self.most = (most_a[:, None] - least_b[None]).reshape(-1, 2)
        self.left, self.low = map(float, self.least.min(axis=0))
        self.right, self.high = map(float, self.most.max(axis=0))
        across = self.normals[..., 1]
        with np.errstate(divide="ignore", invalid="ignore"):
            slope, height = -self.normals[..., 0] / across, self.reach / across
        below, above = across < -1e-9, across > 1e-9
        self._under = _squeezed(slope, height, below, -np.inf)
        self._over = _squeezed(slope, height, above, np.inf)

    def intervals(self, dx: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Open intervals of dy that overlap, many to a displacement along x: index into `dx`, lower and upper end."""
        inside = (dx > self.least[:, :1] + HAIR) & (dx < self.most[:, :1] - HAIR)
        pair, column = np.nonzero(inside)
        x = dx[column, None]
        (s, h), (t, g) = self._under, self._over
        low, high = (s[pair] * x + h[pair]).max(axis=1), (t[pair] * x + g[pair]).min(axis=1)
        keep = high > low
        return column[keep], low[keep], high[keep]


def _squeezed(slope: np.ndarray, height: np.ndarray, wanted: np.ndarray, fill: float) -> tuple[np.ndarray, np.ndarray]:
    """Only the wanted lines of each row, filled up with lines that never count."""
    most = int(wanted.sum(axis=1).max())
    order = np.argsort(~wanted, axis=1, kind="stable")[:, :most]
    kept = np.take_along_axis(wanted, order, axis=1)
    return (np.where(kept, np.take_along_axis(slope, order, axis=1), 0.0),
            np.where(kept, np.take_along_axis(height, order, axis=1), fill))
