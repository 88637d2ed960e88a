"""Crossings against fontTools and Shapely."""

import pytest
import shapely
import strategies
from fontTools.misc import bezierTools
from hypothesis import assume, given, settings

from toilewright.geometry import Cubic, Line, Path, cross, meetings, ray_meeting
from toilewright.geometry.meeting import line_meetings

FEW = settings(max_examples=50, deadline=None)


def pairs(curve):
    points = (curve.start, curve.end) if isinstance(curve, Line) else (curve.start, curve.c1, curve.c2, curve.end)
    return [(p.real, p.imag) for p in points]


def fine(path: Path, tolerance: float = 0.001) -> shapely.LineString:
    return shapely.LineString([(p.real, p.imag) for p in path.flatten(tolerance)])


def clear(one: Path, other: Path, p: complex) -> bool:
    """Do they cross at a fair angle (over 11 degrees) and away from their ends here, so that all must find it?"""
    s, off_one = one.nearest(p)
    u, off_other = other.nearest(p)
    if max(off_one, off_other) > 0.002:
        return False  # fontTools takes two curves that come near each other for crossing ones
    inside = 0.5 < s < one.length - 0.5 and 0.5 < u < other.length - 0.5
    return inside and abs(cross(one.tangent_at(s), other.tangent_at(u))) > 0.2


@FEW
@given(strategies.curves(), strategies.curves())
def test_every_meeting_lies_on_both(a, b):
    one, other = Path.of([a]), Path.of([b])
    for m in meetings(one, other):
        assert abs(one.point_at(m.on_first) - m.point) < 0.002
        assert abs(other.point_at(m.on_second) - m.point) < 0.002


@settings(max_examples=25, deadline=None)
@given(strategies.calm_cubics(), strategies.calm_cubics())
def test_clear_crossings_of_fonttools_are_found_and_no_others(a, b):
    one, other = Path.of([a]), Path.of([b])
    ours = [m.point for m in meetings(one, other)]
    theirs = [complex(*i.pt) for i in bezierTools.curveCurveIntersections(pairs(a), pairs(b))]
    for p in theirs:
        if clear(one, other, p):
            assert min((abs(p - q) for q in ours), default=9.0) < 0.05
    for q in ours:
        if clear(one, other, q):
            assert min((abs(p - q) for p in theirs), default=9.0) < 0.05


@FEW
@given(strategies.cubics(), strategies.lines())
def test_curve_and_line_as_in_fonttools(a, b):
    one = Path.of([a])
    ours = [m.point for m in line_meetings(one, b.start, b.end)]
    theirs = [complex(*i.pt) for i in bezierTools.curveLineIntersections(pairs(a), pairs(b))]
    for p in theirs:
        if clear(one, Path.of([b]), p):
            assert min((abs(p - q) for q in ours), default=9.0) < 0.01


@FEW
@given(strategies.paths(4, calm=True), strategies.paths(4, calm=True))
def test_clear_crossings_of_shapely_are_found(one, other):
    shared = shapely.intersection(fine(one), fine(other))
    ours = [m.point for m in meetings(one, other)]
    for part in getattr(shared, "geoms", [shared]):
        if part.geom_type == "Point":
            p = complex(part.x, part.y)
            corner = min(abs(p - n) for n in (*one.nodes, *other.nodes)) < 0.5
            if not corner and clear(one, other, p):
                assert min((abs(p - q) for q in ours), default=9.0) < 0.1


@FEW
@given(strategies.paths(4, calm=True), strategies.paths(4, calm=True))
def test_order_and_symmetry(one, other):
    found = meetings(one, other)
    assert [m.on_first for m in found] == sorted(m.on_first for m in found)
    back = [m.point for m in meetings(other, one)]
    for m in found:
        if clear(one, other, m.point):
            assert min((abs(m.point - q) for q in back), default=9.0) < 0.01


def test_a_crossing_at_a_joint_counts_once():
    one = Path.polyline([0j, 10 + 0j, 20 + 0j])
    other = Path.polyline([10 - 5j, 10 + 0j, 10 + 5j])
    found = meetings(one, other)
    assert [m.point for m in found] == [pytest.approx(10 + 0j)]
    assert found[0].on_first == pytest.approx(10.0)
    assert found[0].on_second == pytest.approx(5.0)


def test_touching_ends_and_paths_apart():
    one = Path.line(0j, 10 + 0j)
    assert [m.point for m in meetings(one, Path.line(10 + 0j, 20 + 5j))] == [pytest.approx(10 + 0j)]
    assert [m.point for m in meetings(one, Path.line(10 + 0j, 20 + 0j))] == [pytest.approx(10 + 0j)]
    assert meetings(one, Path.line(0.01j, 10 + 0.01j)) == ()
    assert meetings(one, Path.line(30j, 10 + 30j)) == ()


def test_curves_may_cross_more_than_once():
    wave = Path.cubic(0j, 50 + 150j, 100 - 150j, 150 + 0j)
    found = meetings(wave, Path.line(-10 + 17j, 160 - 17j))
    assert len(found) == 3
    near = Cubic(0j, 50 + 150j, 100 - 150j, 150 + 0j)
    assert all(min(abs(near.point(k / 5000) - m.point) for k in range(5001)) < 0.05 for m in found)


@FEW
@given(strategies.lines(), strategies.lines())
def test_rays(a, b):
    along_a, along_b = a.end - a.start, b.end - b.start
    assume(abs(cross(along_a, along_b)) > 0.01 * abs(along_a) * abs(along_b))
    p = ray_meeting(a.start, along_a, b.start, along_b)
    assert abs(cross(p - a.start, along_a)) / abs(along_a) < 1e-6
    assert abs(cross(p - b.start, along_b)) / abs(along_b) < 1e-6


def test_parallel_rays_do_not_meet():
    assert ray_meeting(0j, 1 + 1j, 5 + 0j, -2 - 2j) is None
