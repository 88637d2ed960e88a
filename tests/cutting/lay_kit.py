"""A search for tests that is too simple to be wrong, and cloths and pieces at random."""

from __future__ import annotations

import cmath
from math import pi

from hypothesis import strategies as st
from shapely import union_all
from shapely.geometry import Polygon

from toilewright.cutting.cloth import Cloth, Fold
from toilewright.cutting.lay.plan import CutPiece
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


def checks(certificate):
    """The names of the checks that did not pass."""
    return {c.name for c in certificate.checks if not c.passed}


@st.composite
def outlines(draw, fold=False):
    """A star-shaped outline of 40 to 300 mm; of a piece on the fold the half above its fold edge on the x axis."""
    n = draw(st.integers(4, 9))
    radii = draw(st.lists(st.integers(40, 150), min_size=n, max_size=n))
    if fold:
        steps = [cmath.rect(r, pi * k / (n - 1)) for k, r in enumerate(radii)]
        ring = [complex(p.real, 0.0 if k in (0, n - 1) else p.imag) for k, p in enumerate(steps)]
        left = min(p.real for p in ring)
        points = tuple(p - left for p in ring)
        return points
    ring = [cmath.rect(r, 2 * pi * (k + 0.3) / n) for k, r in enumerate(radii)]
    by = complex(min(p.real for p in ring), min(p.imag for p in ring))
    return tuple(p - by for p in ring)


@st.composite
def piece_lists(draw, most=4):
    """A few pieces: on the fold or not, once or several times, in pairs or not."""
    pieces = []
    for k in range(draw(st.integers(1, most))):
        fold = draw(st.booleans())
        count = draw(st.integers(1, 4))
        pieces.append(CutPiece(f"piece {k}", draw(outlines(fold)), on_fold=fold, count=count, even=fold,
                               mirrored=not fold and draw(st.booleans())))
    return tuple(pieces)


@st.composite
def cloths(draw, flawed=True):
    """A cloth between 62 and 140 cm wide that lies in any way, with up to two flaws."""
    width = draw(st.integers(620, 1400))
    fold = draw(st.sampled_from(list(Fold)))
    flaws = []
    for _ in range(draw(st.integers(0, 2)) if flawed else 0):
        at = complex(draw(st.integers(0, 800)), draw(st.integers(0, width - 60)))
        size = draw(st.integers(5, 60))
        flaws.append((at, at + size, at + size * (1 + 1j), at + size * 1j))
    return Cloth(width=width, fold=fold, fold_depth=draw(st.integers(50, width // 2)), one_way=draw(st.booleans()),
                 sided=draw(st.booleans()), flaws=tuple(flaws),
                 grain_tolerance=draw(st.sampled_from([0.0, 0.0, 1.5])))
