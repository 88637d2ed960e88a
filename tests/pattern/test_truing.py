"""Darts that sew, and edges that run on smoothly across a seam."""

from dataclasses import replace
from math import atan, pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from toilewright.errors import GeometryError
from toilewright.geometry import Path
from toilewright.pattern import Dart, Edge, Notch, Piece, Press
from toilewright.pattern.truing import (
    corner_angle,
    dart_legs,
    folded_mouth,
    run_angle,
    true_darts,
)


def panel(bulge=0.0, darts=(), notches=()):
    """A panel of 240 by 300 mm, its waist along the bottom bent by `bulge` mm, with darts open on it."""
    waist = Path.cubic(0j, 80 - 4j / 3 * bulge, 160 - 4j / 3 * bulge, 240 + 0j)
    return Piece("panel", (
        Edge("waist", waist),
        Edge("side seam", Path.line(240 + 0j, 240 + 300j)),
        Edge("top", Path.line(240 + 300j, 300j)),
        Edge("centre front", Path.line(300j, 0j)),
    ), darts=darts, notches=notches)


presses = st.sampled_from(list(Press))
one_dart = st.builds(
    lambda at, width, depth, aside, press: Dart("waist dart", "waist", at, at + width,
                                               complex(at + width / 2 + aside, depth), press),
    st.floats(60, 130), st.floats(8, 34), st.floats(60, 160), st.floats(-12, 12), presses)


def certify(piece, name):
    dart = piece.dart(name)
    a, b = dart_legs(piece, dart)
    assert abs(a - b) < 0.01
    under, over = folded_mouth(piece, dart)
    path = piece.edge(dart.edge).path
    seam = (path.sub(0.0, dart.start) if dart.press is Press.TO_START
            else path.sub(dart.end, path.length))
    for half in (under, over):
        for p in half.flatten(0.5):
            assert seam.nearest(p)[1] < 0.05


@settings(max_examples=60, deadline=None)
@given(one_dart, st.floats(-12, 12))
def test_a_folded_mouth_lies_on_the_seam_line(dart, bulge):
    piece = true_darts(panel(bulge, (dart,)))
    certify(piece, "waist dart")
    first, second = panel(bulge, (dart,)).feet(dart)
    a, b = piece.feet(piece.dart("waist dart"))
    assert abs(abs(b - a) - abs(second - first)) < 1e-6  # the width is kept
    assert abs((a + b) / 2 - (first + second) / 2) < 1e-6  # and its middle
    assert piece.dart("waist dart").apex == dart.apex


@settings(max_examples=30, deadline=None)
@given(one_dart, st.floats(-12, 12))
def test_truing_twice_changes_nothing_more(dart, bulge):
    once = true_darts(panel(bulge, (dart,)))
    again = true_darts(once)
    assert again.edge("waist").path.length == pytest.approx(once.edge("waist").path.length, abs=1e-5)
    for s in range(0, 240, 7):
        assert once.edge("waist").path.nearest(again.edge("waist").path.point_at(s))[1] < 1e-5
    assert len(again.edge("waist").path.nodes) == len(once.edge("waist").path.nodes)


@settings(max_examples=30, deadline=None)
@given(one_dart, st.floats(-12, 12))
def test_either_hand_is_trued_alike(dart, bulge):
    piece = panel(bulge, (dart,), (Notch("balance", "waist", 30.0),))
    one = true_darts(piece).mirrored(0j, 1j)
    other = true_darts(piece.mirrored(0j, 1j))
    assert other.dart("waist dart").start == pytest.approx(one.dart("waist dart").start, abs=1e-4)
    assert other.notches[0].at == pytest.approx(one.notches[0].at, abs=1e-4)
    for s in range(0, 250, 9):
        assert abs(one.edge("waist").path.point_at(s) - other.edge("waist").path.point_at(s)) < 1e-3


def test_two_darts_and_the_notch_between_them():
    first = Dart("first", "waist", 50.0, 70.0, 64 + 120j, Press.TO_START)
    second = Dart("second", "waist", 150.0, 180.0, 165 + 90j, Press.TO_END)
    piece = panel(6.0, (second, first), (Notch("between", "waist", 110.0), Notch("after", "waist", 210.0)))
    trued = true_darts(piece)
    certify(trued, "first")
    certify(trued, "second")
    for before, after in zip(piece.notches, trued.notches, strict=True):
        moved = abs(trued.edge("waist").path.point_at(after.at) - piece.edge("waist").path.point_at(before.at))
        assert moved < 0.5
    assert trued.edge("waist").path.start == 0j
    assert trued.edge("waist").path.end == 240


def test_a_true_dart_keeps_its_feet_and_a_crooked_one_does_not():
    straight = Dart("waist dart", "waist", 100.0, 120.0, 110 + 100j)
    assert dart_legs(true_darts(panel(0.0, (straight,))), straight)[0] == pytest.approx(abs(10 + 100j), abs=1e-9)
    crooked = replace(straight, apex=118 + 100j)
    piece = panel(0.0, (crooked,))
    assert abs(dart_legs(piece, crooked)[0] - dart_legs(piece, crooked)[1]) > 1.0
    assert true_darts(piece).feet(true_darts(piece).dart("waist dart"))[0] != 100


def test_straight_seam_gives_the_known_mouth():
    """A dart 20 wide and 100 deep on a straight seam: the fold point is the seam line mirrored in the leg."""
    piece = true_darts(panel(0.0, (Dart("waist dart", "waist", 100.0, 120.0, 110 + 100j),)))
    lowest = min(p.imag for p in piece.edge("waist").path.nodes)
    # By trigonometry: slope of the mirrored line is tan(2 h), with tan h = 10 / 100; run 10 mm to the fold.
    assert lowest == pytest.approx(-10 * (2 * 0.1 / (1 - 0.01)), abs=1e-9)


def test_impossible_darts_say_what_would_work():
    with pytest.raises(GeometryError, match="overlap"):
        true_darts(panel(0.0, (Dart("a", "waist", 50.0, 80.0, 65 + 90j), Dart("b", "waist", 70.0, 90.0, 80 + 90j))))
    with pytest.raises(GeometryError, match="end of the edge"):
        true_darts(panel(0.0, (Dart("a", "waist", 0.0, 20.0, 10 + 90j),)))
    with pytest.raises(GeometryError, match="two narrower darts"):
        true_darts(panel(0.0, (Dart("a", "waist", 50.0, 150.0, 100 + 20j),)))


def shoulder_pair(front_tilt, back_tilt):
    """Two pieces whose `side seam` is sewn together; their `top` runs on across it, off by the two tilts."""
    def one(name, tilt):
        corner = 240 + 300j
        top = Path.cubic(corner, corner - 80 * complex(1, tilt), 80 + 300j, 300j)
        base = panel()
        return replace(base, name=name, edges=tuple(
            replace(e, path=top) if e.name == "top" else e for e in base.edges),
            notches=(Notch("far", "top", 200.0), Notch("near", "top", 5.0)))
    return one("front", front_tilt), one("back", back_tilt)


def test_the_run_across_a_seam_is_off_by_both_tilts():
    front, back = shoulder_pair(0.1, -0.04)
    assert run_angle(front, "side seam", "top", back, "side seam", "top") == pytest.approx(
        pi - atan(0.1) + atan(0.04), abs=1e-9)


def test_edges_that_do_not_meet_are_named():
    with pytest.raises(GeometryError, match='next to "waist"'):
        corner_angle(panel(), "waist", "top")


def test_the_seam_far_from_a_moved_foot_stays():
    crooked = Dart("waist dart", "waist", 110.0, 130.0, 135 + 100j)
    before = panel(6.0, (crooked,))
    after = true_darts(before)
    for s in (0, 10, 25, 40, 49):
        assert after.edge("waist").path.nearest(before.edge("waist").path.point_at(s))[1] < 1e-6
    far = before.edge("waist").path
    for s in (195, 215, 235):
        assert after.edge("waist").path.nearest(far.point_at(s))[1] < 1e-6
