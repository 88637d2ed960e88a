"""A search for tests that is too simple to be wrong, and cloths and pieces at random."""

from __future__ import annotations

from shapely import union_all
from shapely.geometry import Polygon

from toilewright.errors import GeometryError
from toilewright.packing.problem import Packing, Placed


def one_behind_another(problem, seconds=10.0, seed=0, tell=None, stop=None):
    """Every copy in a stretch of the strip of its own, moved on until it keeps clear of what is forbidden."""
    bad = union_all([Polygon([(p.real, p.imag) for p in f]) for f in problem.forbidden])
    placed, x = [], 0.0
    for i, item in enumerate(problem.items):
        for copy in range(item.count):
            one = _first(problem, i, copy, x, bad)
            placed.append(one)
            x = max(p.real for p in one.outline(problem)) + problem.gap
    length = x - problem.gap
    if problem.longest is not None and length > problem.longest + 1e-9:
        raise GeometryError(f'"{problem.items[-1].key}" does not fit.')
    if tell:
        tell(length, 0.0)
    return Packing(length, tuple(placed), "one behind another", seed)


def _first(problem, i, copy, x, bad):
    item = problem.items[i]
    low, high = item.band or (0.0, problem.height)
    for step in range(4000):
        for pose in item.poses:
            points = [pose.of(p) for p in item.outline]
            y0, y1 = min(p.imag for p in points), max(p.imag for p in points)
            if item.origin_y is None and y1 - y0 > high - low + 1e-9:
                continue
            at_x = x + step * 5.0 - min(p.real for p in points)
            if item.beat_x:
                at_x += (item.beat_x.phase - at_x - pose.of(item.beat_x.point).real) % item.beat_x.pitch
            at_y = low - y0
            if item.origin_y is not None:
                at_y = item.origin_y
            elif item.beat_y:
                at_y += (item.beat_y.phase - at_y - pose.of(item.beat_y.point).imag) % item.beat_y.pitch
            if y1 + at_y > high + 1e-9 or y0 + at_y < low - 1e-9:
                continue
            one = Placed(i, copy, pose, complex(at_x, at_y))
            shape = Polygon([(p.real, p.imag) for p in one.outline(problem)])
            if bad.is_empty or (shape.distance(bad) >= problem.gap and shape.intersection(bad).area == 0.0):
                return one
    raise GeometryError(f'"{item.key}" does not fit.')
