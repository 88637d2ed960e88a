"""Outlines with fewer corners that hold the whole of the old ones, and outlines divided into convex parts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from toilewright.geometry.point import Point, cross
from toilewright.packing.problem import Outline

if TYPE_CHECKING:
    import numpy as np

LOSS = 0.5
"""How far a simplified outline may stand out from the true one (mm)."""
CIRCLE = 8
"""Chords to a quarter circle where an outline is widened."""
SAGITTA = 1.02
"""Widened by so much more: chords lie inside their circle, and GEOS simplifies by up to one in a hundred."""


def widened(outline: Outline, by: float) -> Outline:
    """The outline with everything that lies within `by` mm of it."""
    import shapely

    if by <= 0.0:
        return outline
    shape = shapely.Polygon([(p.real, p.imag) for p in outline]).buffer(by * SAGITTA, quad_segs=CIRCLE)
    return _corners(shape)


def simplified(outline: Outline, loss: float = LOSS) -> Outline:
    """Fewer corners, and nothing of the old outline outside the new one.

    A hollow corner is cut off by its chord; a short edge between two outer corners vanishes where its neighbours
    are produced until they meet. Each side carries the loss of those that it replaced, so that losses do not add up.

    >>> simplified((0j, 10 + 0j, 10.2 + 0.2j, 10.2 + 8j, 5 + 7.8j, 0 + 8j), 0.5)
    (0j, (10.2+0j), (10.2+8j), 8j)
    """
    import shapely

    corners, lost = list(outline), [0.0] * len(outline)  # lost[i]: of the side from corner i to the next
    for share in (0.1, 0.4, 1.0):
        while _one_round(corners, lost, loss * share):
            pass
    if len(corners) < len(outline):
        shape = shapely.Polygon([(p.real, p.imag) for p in corners])
        true = shapely.Polygon([(p.real, p.imag) for p in outline])
        if not shape.is_valid or true.difference(shape).area > 1e-6 * true.area:
            return outline
    return tuple(corners)


def _one_round(corners: list[Point], lost: list[float], loss: float) -> bool:
    """Go once around and drop what can be dropped; was there anything?"""
    done, i = False, 0
    while i < len(corners) and len(corners) > 3:
        n = len(corners)
        before, here, after, next_after = corners[i - 1], corners[i], corners[(i + 1) % n], corners[(i + 2) % n]
        turn = cross(here - before, after - here)
        if turn <= 0.0:
            chord = after - before
            out = max(lost[i - 1], lost[i]) + abs(cross(chord, here - before)) / max(abs(chord), 1e-9)
            if out <= loss and abs(chord) > 1e-9 and (chord.conjugate() * (here - before)).real > 0.0:
                lost[i - 1] = out
                del corners[i], lost[i]
                done = True
                continue
        elif n > 4 and cross(after - here, next_after - after) > 0.0:
            u, v = here - before, after - next_after
            bend = cross(u, v)  # the two sides, produced, meet beyond the edge where this is below zero
            if abs(bend) > 1e-9 * abs(u) * abs(v):
                reach = cross(after - here, v) / bend
                peak = here + u * reach
                out = max(lost[i - 1], lost[i], lost[(i + 1) % n])
                out += abs(cross(after - here, peak - here)) / max(abs(after - here), 1e-9)
                if reach > 0.0 and out <= loss and cross(after - here, peak - here) < 0.0:
                    corners[i] = peak
                    lost[i - 1] = lost[i] = out
                    del corners[(i + 1) % n]
                    lost[i] = max(out, lost[(i + 1) % n])
                    del lost[(i + 1) % n]
                    done = True
        i += 1
    return done


def convex_parts(outline: Outline) -> list[np.ndarray]:
    """The outline as convex polygons, each an (n, 2) array of corners, counter-clockwise (mm).

    Triangles first (constrained Delaunay, GEOS), then joined over every side where both ends stay convex: at most four
    times as many parts as the least possible (Hertel and Mehlhorn, quoted from memory).
    """
    import numpy as np
    import shapely

    points = np.array([(p.real, p.imag) for p in outline])
    at = {(x, y): k for k, (x, y) in enumerate(map(tuple, points))}
    triangles = shapely.constrained_delaunay_triangles(shapely.Polygon(points)).geoms
    loops = [[at[c] for c in t.exterior.coords[:-1]] for t in triangles if t.area > 1e-9]
    loops = [loop if _area2(points[loop]) > 0 else loop[::-1] for loop in loops]
    return [points[loop] for loop in _joined(loops, points)]


def _area2(corners: np.ndarray) -> float:
    after = corners.take(range(1, len(corners) + 1), axis=0, mode="wrap")
    return float((corners[:, 0] * after[:, 1] - corners[:, 1] * after[:, 0]).sum())


def _joined(loops: list[list[int]], points: np.ndarray) -> list[list[int]]:
    owner = {(u, v): k for k, loop in enumerate(loops) for u, v in zip(loop, loop[1:] + loop[:1], strict=True)}
    inner = sorted(((u, v) for u, v in owner if u < v and (v, u) in owner),
                   key=lambda e: -float(((points[e[0]] - points[e[1]]) ** 2).sum()))
    z = [complex(x, y) for x, y in points]
    for u, v in inner:
        one, other = owner[u, v], owner[v, u]
        if one == other:
            continue
        a, b = loops[one], loops[other]
        a = a[a.index(v):] + a[:a.index(v)]  # v ... u
        b = b[b.index(u):] + b[:b.index(u)]  # u ... v
        if _convex_at(z, a[-2], u, b[1]) and _convex_at(z, b[-2], v, a[1]):
            loops[one], loops[other] = a + b[1:-1], []
            owner |= {side: one for side in zip(loops[one], loops[one][1:] + loops[one][:1], strict=True)}
    return [loop for loop in loops if loop]


def _convex_at(z: list[Point], before: int, here: int, after: int) -> bool:
    return cross(z[here] - z[before], z[after] - z[here]) >= -1e-9


def _corners(shape: object) -> Outline:
    """Corners of a shapely polygon's outer ring, counter-clockwise."""
    import shapely

    ring = shapely.geometry.polygon.orient(shape).exterior.coords[:-1]  # type: ignore[arg-type]
    return tuple(complex(x, y) for x, y in ring)
