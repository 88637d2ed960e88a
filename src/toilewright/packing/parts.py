"""Outlines cut into convex parts, and how far two convex parts can be told apart by a straight line.

Two convex parts do not overlap exactly when a line along an edge of one of them has each on its own side (the
separating axis). The hull of a part stands in for it, so rounding can only make a part larger, never smaller.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from toilewright.packing.convex import convex_parts, simplified
from toilewright.packing.problem import Outline, Pose

if TYPE_CHECKING:
    import numpy as np

@lru_cache(maxsize=4096)
def _rings(outline: Outline, loss: float) -> tuple[Outline, ...]:
    """Convex polygons that fill an outline, or one that holds it and stands out by at most `loss` mm."""
    return tuple(tuple(complex(x, y) for x, y in part) for part in convex_parts(simplified(outline, loss)))


@dataclass(frozen=True, slots=True, eq=False)
class _Body:
    """The parts of one outline in one pose; see :class:`Parts`."""

    corners: np.ndarray
    count: np.ndarray
    normals: np.ndarray
    reach: np.ndarray
    flat: np.ndarray


@lru_cache(maxsize=4096)
def _body(outline: Outline, pose: Pose, loss: float) -> _Body:
    import numpy as np

    rings = [[pose.of(p) for p in (part[::-1] if pose.mirrored else part)] for part in _rings(outline, loss)]
    most = max(len(ring) for ring in rings)
    z = np.array([ring + ring[-1:] * (most - len(ring)) for ring in rings])
    corners = np.stack((z.real, z.imag), axis=-1)
    edges = np.roll(corners, -1, axis=1) - corners
    length = np.hypot(edges[..., 0], edges[..., 1])
    flat = length < 1e-9
    length[flat] = 1.0
    normals = np.stack((edges[..., 1], -edges[..., 0]), axis=-1) / length[..., None]
    normals[flat] = 0.0
    reach = np.einsum("pmk,pvk->pmv", normals, corners).max(axis=2)
    return _Body(corners, np.array([len(ring) for ring in rings]), normals, reach, flat)


class Parts:
    """Convex parts of many outlines as arrays: `corners` [part, corner, 2] (the last one repeated), `count` [part] of
    them; `normals` of the edges that begin there and `reach` [part, corner], how far the part goes along each; `flat`
    where there is no edge; `low` and `high` [part, 2]; `owner` [part]: to which outline it belongs."""

    def __init__(self, bodies: list[_Body]) -> None:
        """One body for each outline."""
        import numpy as np

        most = max(body.corners.shape[1] for body in bodies)
        self.owner = np.repeat(np.arange(len(bodies)), [len(body.corners) for body in bodies])
        self.count = np.concatenate([body.count for body in bodies])
        self.corners = np.concatenate([_filled(body.corners, most, body.corners[:, -1:]) for body in bodies])
        self.normals = np.concatenate([_filled(body.normals, most, 0.0) for body in bodies])
        self.reach = np.concatenate([_filled(body.reach, most, 0.0) for body in bodies])
        self.flat = np.concatenate([_filled(body.flat, most, True) for body in bodies])
        self.low, self.high = self.corners.min(axis=1), self.corners.max(axis=1)


def _filled(values: np.ndarray, most: int, rest: object) -> np.ndarray:
    """With `rest` from the last corner up to so many."""
    import numpy as np

    filled = np.empty((len(values), most, *values.shape[2:]), dtype=values.dtype)
    filled[:, :values.shape[1]] = values
    filled[:, values.shape[1]:] = rest
    return filled


def gather(outlines: list[tuple[Outline, Pose]], loss: float) -> Parts:
    """The parts of outlines in their poses; see :func:`toilewright.packing.convex.simplified` for `loss` (mm)."""
    return Parts([_body(outline, pose, loss) for outline, pose in outlines])


def separators(parts: Parts, shift: np.ndarray, one: np.ndarray, two: np.ndarray, far: float
               ) -> tuple[np.ndarray, np.ndarray]:
    """For pairs of parts, each shifted by ``shift[owner]``: the direction from the first to the second in which they
    are farthest apart, among the edges of both and the line through their nearest corners, and how far (mm;
    negative where they overlap). Pairs that an edge tells apart by `far` mm or more are not looked at further."""
    from toilewright.packing.apart import separate

    return separate(parts.corners, parts.count, parts.normals, parts.reach, parts.flat, parts.owner, shift, one, two,
                    far)
