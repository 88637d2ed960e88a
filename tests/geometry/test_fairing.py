"""New curves: through points, fitted to points, between directions, and rounded corners."""

import cmath
import itertools
from math import pi

import pytest
import strategies
from hypothesis import given, settings
from hypothesis import strategies as st

from toilewright.errors import GeometryError
from toilewright.geometry import Path, curve_through, ease_corner, fit_cubics, hermite, turn

FEW = settings(max_examples=40, deadline=None)


def smooth(path: Path, angle: float = 1e-6) -> bool:
    """No corner at any inner joint."""
    pieces = path.curves
    return all(abs(turn(a.derivative(1.0), b.derivative(0.0))) < angle for a, b in itertools.pairwise(pieces))


@FEW
@given(strategies.calm_cubics(), st.integers(8, 60), st.sampled_from([0.02, 0.1]))
def test_fit_passes_all_points_and_stays_on_the_curve_they_came_from(curve, n, tolerance):
    points = [curve.point(k / n) for k in range(n + 1)]
    path = fit_cubics(points, tolerance)
    assert path.start == points[0]
    assert path.end == points[-1]
    assert max(path.nearest(p)[1] for p in points) <= tolerance + 1e-9
    assert smooth(path, 0.02)
    true = Path.of([curve])
    # Between the points the fit may leave the true curve by the sag of a chord, at most.
    sag = max(true.nearest((a + b) / 2)[1] for a, b in itertools.pairwise(points))
    assert max(true.nearest(p)[1] for p in path.flatten(0.01)) <= tolerance + sag


def test_fit_of_a_cubic_with_its_own_directions_is_few_cubics():
    true = Path.cubic(0j, 30 + 80j, 130 + 90j, 200 + 10j)
    points = [true.point_at(k / 40 * true.length) for k in range(41)]
    path = fit_cubics(points, 0.05, true.start_tangent, true.end_tangent)
    assert len(path.handles) <= 4
    assert path.length == pytest.approx(true.length, abs=0.05)


def test_fit_of_a_circle_is_few_curves_near_it():
    points = [cmath.rect(100, k * pi / 90) for k in range(91)]
    path = fit_cubics(points, 0.05)
    assert len(path.handles) <= 6
    assert all(abs(abs(p) - 100) < 0.06 for p in path.flatten(0.01))


def test_fit_keeps_straight_lines_straight_and_follows_asked_directions():
    assert fit_cubics([0j, 3 + 0j, 50 + 0j, 90 + 0j], 0.01) == Path.line(0j, 90 + 0j)
    path = fit_cubics([cmath.rect(50, k / 20) for k in range(25)], 0.05, 1j, None)
    assert path.start_tangent == pytest.approx(1j)


def test_fit_of_a_saw_follows_it_tooth_by_tooth():
    points = [complex(k * 0.5, k % 2 * 0.3) for k in range(60)]
    path = fit_cubics(points, 0.01)
    assert set(path.nodes) <= set(points)
    assert max(path.nearest(p)[1] for p in points) <= 0.01


def test_fit_forgives_repeated_points_and_refuses_one():
    path = fit_cubics([0j, 0j, 10 + 5j, 10 + 5j, 20 + 0j], 0.01)
    assert max(path.nearest(p)[1] for p in (0j, 10 + 5j, 20 + 0j)) < 0.01
    with pytest.raises(GeometryError):
        fit_cubics([1 + 1j, 1 + 1j], 0.1)


@FEW
@given(st.lists(st.tuples(st.floats(5, 60), st.floats(-0.9, 0.9)), min_size=2, max_size=9))
def test_curve_through_passes_its_points_smoothly(steps):
    points, way = [0j], 0.0
    for reach, bend in steps:
        way += bend
        points.append(points[-1] + cmath.rect(reach, way))
    path = curve_through(points)
    assert path.nodes == tuple(points)
    assert smooth(path)
    straight = sum(abs(b - a) for a, b in itertools.pairwise(points))
    assert straight - 1e-6 <= path.length < 1.3 * straight


def test_curve_through_even_points_of_a_circle_is_nearly_the_circle():
    # By symmetry the inner directions are exact; Bessel's slopes are a little short, hence the curve a little flat.
    path = curve_through([cmath.rect(100, k * pi / 9) for k in range(10)])
    inner = Path(path.nodes[1:-1], path.handles[1:-1])
    assert all(abs(abs(p) - 100) < 0.04 for p in inner.flatten(0.001))


def test_curve_through_takes_directions_and_refuses_nonsense():
    path = curve_through([0j, 50 + 20j, 100 + 0j], start_along=1j, end_along=-1j)
    assert path.start_tangent == pytest.approx(1j)
    assert path.end_tangent == pytest.approx(-1j)
    assert curve_through([0j, 10 + 0j]) == Path.line(0j, 10 + 0j)
    for points in ([0j], [0j, 0j, 1 + 0j]):
        with pytest.raises(GeometryError):
            curve_through(points)


@FEW
@given(strategies.points(), strategies.points(), st.floats(-3, 3), st.floats(-3, 3))
def test_hermite_has_the_ends_and_directions_asked_for(a, b, first, last):
    if abs(b - a) < 1:
        return
    path = hermite(a, cmath.rect(7, first), b, cmath.rect(0.1, last))
    assert (path.start, path.end) == (a, b)
    assert path.start_tangent == pytest.approx(cmath.rect(1, first))
    assert path.end_tangent == pytest.approx(cmath.rect(1, last))


def test_ease_corner_rounds_one_joint_and_nothing_else():
    path = Path.polyline([0j, 100 + 0j, 100 + 80j, 40 + 80j])
    eased = ease_corner(path, 100.0, 20.0)
    assert eased.start == path.start
    assert eased.end == path.end
    assert eased.point_at(70.0) == pytest.approx(path.point_at(70.0))
    corners = [abs(turn(a.derivative(1.0), b.derivative(0.0)))
               for a, b in zip(eased.curves, eased.curves[1:], strict=False)]
    assert sorted(round(c, 6) for c in corners)[-2:] == [0.0, pytest.approx(pi / 2)]
    assert 0 < path.length - eased.length < 20
    assert ease_corner(path, 0.0, 20.0) == path
