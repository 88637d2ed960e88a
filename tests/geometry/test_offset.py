"""Lines beside lines: against Shapely's buffers (GEOS) with mitred joins, and their own undoing."""

import cmath
import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from toilewright.errors import GeometryError
from toilewright.geometry import Path, offset_path, offset_ring
from toilewright.geometry.offset import _shared
from toilewright.tolerance import OFFSET

SOME = settings(max_examples=25, deadline=None)


@st.composite
def rings(draw, most=7):
    """Edges of a closed ring, counter-clockwise: corners on a dented circle, every edge one bent cubic."""
    n = draw(st.integers(4, most))
    radii = draw(st.lists(st.floats(150, 260), min_size=n, max_size=n))
    corners = [cmath.rect(r, 2 * math.pi * k / n) for k, r in enumerate(radii)]
    bends = draw(st.lists(st.floats(-0.12, 0.12), min_size=n, max_size=n))
    edges = []
    for k, bend in enumerate(bends):
        a, b = corners[k], corners[(k + 1) % n]
        v = b - a
        edges.append(Path.cubic(a, a + v * complex(0.33, bend), a + v * complex(0.67, bend), b))
    return edges


def polygon(edges, within=0.002):
    points = [p for e in edges for p in e.flatten(within)[:-1]]
    return shapely.Polygon([(p.real, p.imag) for p in points])


@SOME
@given(rings(), st.sampled_from([6.0, 10.0, 15.0, 20.0, -6.0, -12.0]))
def test_rings_agree_with_geos_mitred_buffers(edges, distance):
    # A sharp mitre magnifies the angle between a curve and its first chord, hence fine chords and the tolerance.
    mine = polygon(offset_ring(edges, [distance] * len(edges), limit=50.0))
    theirs = polygon(edges, 0.0002).buffer(distance, join_style="mitre", mitre_limit=50.0)
    assert mine.is_valid
    assert mine.boundary.hausdorff_distance(theirs.boundary) < 0.3
    # An offset may be off by OFFSET along its whole length, whichever way.
    assert mine.area == pytest.approx(theirs.area, abs=OFFSET * theirs.length + 1e-4 * theirs.area)


@SOME
@given(rings(), st.sampled_from([6.0, 10.0, 15.0]))
def test_out_and_in_again_is_the_same_ring(edges, distance):
    out = offset_ring(edges, [distance] * len(edges), limit=50.0)
    back = offset_ring(out, [-distance] * len(edges), limit=50.0)
    for edge, found in zip(edges, back, strict=True):
        # Where an inner corner trimmed the edge, its lost end comes back straight: that costs the sagitta of the
        # lost stretch.
        assert abs(found.start - edge.start) < 0.6
        for k in range(1, 8):
            assert found.nearest(edge.point_at(k / 8 * edge.length))[1] < 0.03


@SOME
@given(rings(), st.sampled_from([10.0, 25.0]))
def test_every_point_keeps_its_distance(edges, distance):
    for edge in edges:
        beside = offset_path(edge, distance)
        for k in range(9):
            assert edge.nearest(beside.point_at(k / 8 * beside.length))[1] == pytest.approx(distance, abs=0.012)


def test_edges_meet_at_the_tip_of_a_corner():
    square = [Path.line(a, b) for a, b in ((0, 100), (100, 100 + 100j), (100 + 100j, 100j), (100j, 0))]
    out = offset_ring(square, [10, 20, 10, 0])
    assert [p.start for p in out] == [-10j, 120 - 10j, 120 + 110j, 110j]
    assert [len(p.handles) for p in out] == [1, 1, 1, 1]


def test_a_sharp_corner_is_cut_off_square_in_equal_halves():
    tip, a, b = 300 + 0j, 0 + 40j, 0 - 40j
    ring = [Path.line(b, tip), Path.line(tip, a), Path.line(a, b)]
    out = offset_ring(ring, [10, 10, 10], limit=2.5)
    assert abs(out[0].end.imag) < 1e-9
    assert out[0].end.real == pytest.approx(out[1].start.real)
    assert abs(out[0].end - tip) < 2.6 * 10 + 10
    assert len(out[0].handles) == len(out[1].handles) == 2


def test_corners_with_one_straight_part_go_to_the_edge_they_run_on_from():
    first, second = _shared(Path.line(0, 10), 1, 1j)
    assert first is not None and second is None
    first, second = _shared(Path.line(0, 10j), 1, 1j)
    assert first is None and second is not None


def test_a_bend_tighter_than_the_allowance_leaves_no_loop():
    # A deep hollow, about 8 mm round at its bottom, with 15 mm beside it on the hollow side.
    hollow = Path.cubic(-60 + 0j, -5 + 0j, 5 - 60j, 60 - 60j)
    tight = Path.joined([hollow, Path.cubic(60 - 60j, 90 - 60j, 61 + 0j, 110 + 60j)])
    for side in (15.0, -15.0):
        beside = offset_path(tight, side)
        line = shapely.LineString([(p.real, p.imag) for p in beside.flatten(0.01)])
        assert line.is_simple
        for k in range(41):
            p = beside.point_at(k / 40 * beside.length)
            assert tight.nearest(p)[1] > 15 - 0.05 or min(abs(p - beside.start), abs(p - beside.end)) < 20


def test_nothing_beside_a_circle_smaller_than_the_allowance():
    k = 0.5522847498 * 8
    quarter = Path.cubic(8 + 0j, 8 + k * 1j, k + 8j, 8j)
    with pytest.raises(GeometryError):
        offset_path(quarter, -15.0)
    assert offset_path(quarter, 0.0) is quarter


@given(st.floats(-2, 2), st.floats(3, 6), st.floats(0.5, 2), st.sampled_from([10.0, 15.0, -12.0]))
@SOME
def test_a_kink_smaller_than_the_allowance_leaves_no_loop(step, width, lean, distance):
    """A little notch in a straight edge, as old scissors or a scanner leave it."""
    kinked = Path.polyline([-100 + 0j, -width + 0j, complex(-width / 3, step), complex(width / 2, -step / 2 + lean),
                            complex(width, 0), 100 + 0j])
    beside = offset_path(kinked, distance)
    assert shapely.LineString([(p.real, p.imag) for p in beside.flatten(0.01)]).is_simple
    assert (beside.start, beside.end) == (-100 - 1j * distance, 100 - 1j * distance)
    for k in range(41):
        assert kinked.nearest(beside.point_at(k / 40 * beside.length))[1] > abs(distance) - 10 * OFFSET


@SOME
@given(st.floats(4, 12), st.sampled_from([15.0, 20.0, 25.0]), st.booleans())
def test_beside_an_end_that_bends_too_tightly_the_line_runs_on_as_the_path_does(radius, distance, at_start):
    """A neck that turns up in a tight bend just before its shoulder: the allowance runs as its last stretch does."""
    k = 0.5522847498 * radius
    neck = Path.of([*Path.line(-100 + 0j, 0j).curves,
                    *Path.cubic(0j, complex(k, 0), complex(radius, radius - k), complex(radius, radius)).curves])
    neck = neck if not at_start else neck.mapped(lambda p: -p.conjugate()).reversed()
    beside = offset_path(neck, -distance)
    assert shapely.LineString([(p.real, p.imag) for p in beside.flatten(0.01)]).is_simple
    end, way = (beside.start, beside.start_tangent) if at_start else (beside.end, beside.end_tangent)
    # The upright run on from the bend lies `distance` inside it; there the line beside the straight part is met.
    assert end == pytest.approx(complex((1 if at_start else -1) * (distance - radius), distance), abs=0.02)
    assert way == pytest.approx(-1j if at_start else 1j, abs=1e-9)
