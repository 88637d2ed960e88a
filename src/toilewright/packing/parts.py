"""Outlines cut into convex parts, and how far two convex parts can be told apart by a straight line.

Two convex parts do not overlap exactly when a line along an edge of one of them has each on its own side (the
separating axis). The hull of a part stands in for it, so rounding can only make a part larger, never smaller.
"""

from __future__ import annotations

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


class Parts:
    """Convex parts of many outlines as arrays: `corners` and `normals` [part, corner, 2] (the last corner repeated),
    `reach` [part, corner]: how far the part goes along each normal."""

    def __init__(self, corners: np.ndarray, owner: np.ndarray) -> None:
        """`owner` [part]: to which outline a part belongs."""
        import numpy as np

        self.corners, self.owner = corners, owner
        edges = np.roll(corners, -1, axis=1) - corners
        length = np.hypot(edges[..., 0], edges[..., 1])
        flat = length < 1e-9
        length[flat] = 1.0
        self.normals = np.stack((edges[..., 1], -edges[..., 0]), axis=-1) / length[..., None]
        self.normals[flat] = 0.0
        self.flat = flat
        self.reach = np.einsum("pmk,pvk->pmv", self.normals, corners).max(axis=2)
        self.low, self.high = corners.min(axis=1), corners.max(axis=1)


def gather(outlines: list[tuple[Outline, Pose]], loss: float) -> Parts:
    """The parts of outlines in their poses; see :func:`toilewright.packing.convex.simplified` for `loss` (mm)."""
    import numpy as np

    rings = [[pose.of(p) for p in (part[::-1] if pose.mirrored else part)]
             for outline, pose in outlines for part in _rings(outline, loss)]
    owner = [k for k, (outline, _) in enumerate(outlines) for _ in _rings(outline, loss)]
    most = max(len(ring) for ring in rings)
    z = np.array([ring + ring[-1:] * (most - len(ring)) for ring in rings])
    return Parts(np.stack((z.real, z.imag), axis=-1), np.array(owner))


def separators(parts: Parts, shift: np.ndarray, one: np.ndarray, two: np.ndarray, far: float
               ) -> tuple[np.ndarray, np.ndarray]:
    """For pairs of parts, each shifted by ``shift[owner]``: the direction from the first to the second in which they
    are farthest apart, among the edges of both and the line through their nearest corners, and how far (mm;
    negative where they overlap). Pairs that an edge tells apart by `far` mm or more are not looked at further."""
    from toilewright.packing.apart import separate

    return separate(parts.corners, parts.normals, parts.reach, parts.flat, parts.owner, shift, one, two, far)
