"""The inner loops of :mod:`parts`, compiled (numba): thousands of pairs of parts for every linear programme."""

from __future__ import annotations

import numpy as np

from toilewright.packing.compiled import compiled


@compiled
def separate(corners, count, normals, reach, flat, owner, shift, one, two, far):
    """See :func:`toilewright.packing.parts.separators`; arrays as :class:`toilewright.packing.parts.Parts` has them."""
    normal, room = np.zeros((len(one), 2)), np.full(len(one), -np.inf)
    for k in range(len(one)):
        a, b = one[k], two[k]
        dx = shift[owner[b], 0] - shift[owner[a], 0]
        dy = shift[owner[b], 1] - shift[owner[a], 1]
        for side, x, y, sign in ((a, dx, dy, 1.0), (b, -dx, -dy, -1.0)):
            other = b if sign > 0.0 else a
            for e in range(corners.shape[1]):
                if flat[side, e]:
                    continue
                nx, ny = normals[side, e]
                least = np.inf
                for v in range(count[other]):
                    least = min(least, nx * (corners[other, v, 0] + x) + ny * (corners[other, v, 1] + y))
                    if least - reach[side, e] <= room[k]:
                        break
                if least - reach[side, e] > room[k]:
                    room[k] = least - reach[side, e]
                    normal[k, 0], normal[k, 1] = sign * nx, sign * ny
                    if room[k] >= far:
                        break
            if room[k] >= far:
                break
        if 0.0 < room[k] < far:
            _by_corners(corners[a, :count[a]], corners[b, :count[b]], dx, dy, normal[k], room[k:k + 1])
    return normal, room


@compiled
def _by_corners(a, b, dx, dy, normal, room):
    """Where the nearest two corners are farther apart than any edge tells: use the line through them."""
    nearest, lx, ly = np.inf, 0.0, 0.0
    for p in range(len(a)):
        for q in range(len(b)):
            x, y = b[q, 0] + dx - a[p, 0], b[q, 1] + dy - a[p, 1]
            if x * x + y * y < nearest:
                nearest, lx, ly = x * x + y * y, x, y
    length = np.sqrt(nearest)
    if length <= 0.0:
        return
    lx, ly = lx / length, ly / length
    most, least = -np.inf, np.inf
    for p in range(len(a)):
        most = max(most, lx * a[p, 0] + ly * a[p, 1])
    for p in range(len(b)):
        least = min(least, lx * (b[p, 0] + dx) + ly * (b[p, 1] + dy))
    if least - most > room[0] + 1e-9:
        normal[0], normal[1], room[0] = lx, ly, least - most
