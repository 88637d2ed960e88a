"""Paths: points at lengths, splits and joins, nearest points, areas; against dense sampling and Shapely."""

import itertools

import pytest
import shapely
import strategies
from hypothesis import given, settings
from hypothesis import strategies as st

from toilewright.errors import GeometryError
from toilewright.geometry import Affine, Cubic, Path
from toilewright.tolerance import JOINT

FEW = settings(max_examples=50, deadline=None)


def samples(path: Path, n: int = 400) -> list[complex]:
    return [c.point(k / n) for c in path.curves for k in range(n + 1)]


@FEW
@given(strategies.paths(), st.floats(0.001, 0.999))
def test_split_and_join_give_the_same_path(path, share):
    s = share * path.length
    first, second = path.split(s)
    assert first.end == second.start
    assert first.start == path.start
    assert second.end == path.end
    assert first.length == pytest.approx(s, abs=0.001)
    assert first.length + second.length == pytest.approx(path.length, abs=0.001)
    again = Path.joined([first, second])
    for k in range(1, 8):
        assert abs(again.point_at(k / 8 * path.length) - path.point_at(k / 8 * path.length)) < 0.002


@FEW
@given(strategies.paths(calm=True), st.lists(st.floats(0.0, 1.0), max_size=4))
def test_cut_at_loses_nothing(path, shares):
    parts = path.cut_at(share * path.length for share in shares)
    assert parts[0].start == path.start
    assert parts[-1].end == path.end
    assert all(a.end == b.start for a, b in itertools.pairwise(parts))
    assert sum(p.length for p in parts) == pytest.approx(path.length, abs=0.002)
    assert all(p.length > JOINT / 2 for p in parts)


@FEW
@given(strategies.paths(calm=True), st.floats(0.0, 0.9), st.floats(0.05, 1.0))
def test_sub_is_the_part_between(path, low, span):
    s0, s1 = low * path.length, min(low + span, 1.0) * path.length
    part = path.sub(s0, s1)
    assert part.length == pytest.approx(s1 - s0, abs=0.002)
    middle = (s0 + s1) / 2
    assert abs(part.point_at(middle - s0) - path.point_at(middle)) < 0.003


def test_split_beyond_an_end_is_refused():
    path = Path.line(0j, 10 + 0j)
    for s in (-1.0, 0.0, 10.0, 11.0):
        with pytest.raises(GeometryError, match="Cannot split"):
            path.split(s)


def test_joining_what_does_not_meet_is_refused():
    with pytest.raises(GeometryError, match=r"5\.000 mm apart"):
        Path.joined([Path.line(0j, 10 + 0j), Path.line(15 + 0j, 20 + 0j)])


@FEW
@given(strategies.paths(), strategies.points(900))
def test_nearest_beats_dense_sampling(path, p):
    s, d = path.nearest(p)
    assert abs(path.point_at(s) - p) == pytest.approx(d, abs=0.002)
    assert d <= min(abs(q - p) for q in samples(path)) + 1e-6


@FEW
@given(st.one_of(strategies.cubics(), strategies.near_cusps()), st.floats(0.0, 1.0))
def test_a_point_of_any_curve_is_found_again(curve, t):
    assert Path.of([curve]).nearest(curve.point(t))[1] < 1e-4 * curve.length


def test_nearest_where_a_curve_runs_back_beside_itself():
    # An early version settled on the other branch, 1 % of the curve's size away.
    curve = Cubic(0j, 0j, 1700j, 100 + 200j)
    for k in range(1, 60):
        assert Path.of([curve]).nearest(curve.point(k / 60))[1] < 1e-6


@FEW
@given(strategies.paths(calm=True), st.floats(0.0, 1.0))
def test_a_point_of_the_path_is_nearest_to_itself(path, share):
    p = path.point_at(share * path.length)
    s, d = path.nearest(p)
    assert d < 1e-6
    assert abs(path.point_at(s) - p) < 1e-3


@FEW
@given(strategies.paths(calm=True), st.floats(0.0, 1.0))
def test_reversed_runs_back(path, share):
    back = path.reversed()
    s = share * path.length
    assert abs(back.point_at(path.length - s) - path.point_at(s)) < 0.003
    assert back.reversed() == path
    assert back.start_tangent == pytest.approx(-path.end_tangent)


@FEW
@given(strategies.paths(calm=True))
def test_tangents_are_unit_and_normals_left(path):
    for share in (0.0, 0.3, 0.8, 1.0):
        t = path.tangent_at(share * path.length)
        assert abs(t) == pytest.approx(1.0)
        assert path.normal_at(share * path.length) == pytest.approx(t * 1j)


@FEW
@given(strategies.paths(calm=True), st.sampled_from([0.02, 0.2, 2.0]))
def test_flatten_stays_within_tolerance_and_keeps_the_joints(path, tolerance):
    line = shapely.LineString([(p.real, p.imag) for p in path.flatten(tolerance)])
    points = shapely.points([(p.real, p.imag) for p in samples(path, 60)])
    assert shapely.distance(line, points).max() <= tolerance * 1.001 + 1e-6
    assert set(path.nodes) <= set(path.flatten(tolerance))


@FEW
@given(strategies.rings())
def test_area_is_that_of_a_fine_polygon(ring):
    assert ring.closed
    assert ring.area() > 0
    polygon = shapely.Polygon([(p.real, p.imag) for p in ring.flatten(0.001)])
    assert ring.area() == pytest.approx(polygon.area, abs=0.001 * ring.length)
    assert ring.reversed().area() == pytest.approx(-ring.area())
    # Far from the origin, where products of coordinates would swamp it.
    assert ring.moved(1e6 + 1e6j).area() == pytest.approx(ring.area(), abs=0.01)


@FEW
@given(strategies.rings(), strategies.affines())
def test_area_follows_the_determinant(ring, change):
    assert ring.mapped(change).area() == pytest.approx(ring.area() * change.determinant, rel=1e-6, abs=1e-3)


@FEW
@given(strategies.paths(calm=True))
def test_bounds_hold_the_path_and_touch_it(path):
    x0, y0, x1, y1 = path.bounds
    points = samples(path, 300)
    assert min(p.real for p in points) == pytest.approx(x0, abs=0.02)
    assert max(p.imag for p in points) == pytest.approx(y1, abs=0.02)
    assert all(x0 - 1e-9 <= p.real <= x1 + 1e-9 and y0 - 1e-9 <= p.imag <= y1 + 1e-9 for p in points)


@FEW
@given(strategies.paths(calm=True), strategies.points(50), strategies.points(50))
def test_with_ends_puts_ends_there_and_keeps_their_directions(path, a, b):
    moved = path.with_ends(path.start + a, path.end + b)
    assert (moved.start, moved.end) == (path.start + a, path.end + b)
    if path.handles[0] is not None and len(path.handles) > 1:
        assert moved.handles[0][0] - moved.start == pytest.approx(path.handles[0][0] - path.start)


def test_length_notices_one_millimetre_and_ignores_moving():
    path = Path.cubic(0j, 40 + 60j, 100 + 70j, 160 + 0j)
    moved = path.mapped(Affine.turn(0.7, 30j)).moved(200 - 90j)
    assert moved.length == pytest.approx(path.length, abs=1e-6)
    assert path.mirrored(0j, 1 + 2j).length == pytest.approx(path.length, abs=1e-6)
    longer = path.with_ends(end=161 + 0j)
    assert abs(longer.length - path.length) > 0.3
