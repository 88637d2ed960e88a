"""Whether a wrap covers: the way round two legs against Shapely, and what more cloth or a longer step must change."""

from dataclasses import replace
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Point
from shapely.ops import unary_union

from toilewright.blocks.chart import body_of
from toilewright.blocks.concert import concert_dress
from toilewright.body.tape import body_of as sheet_of
from toilewright.fit.wrap import Legs, Level, Pose, Wrap, _round_both, cover, legs_of, wrap_of

LEGS = Legs(980.0, 590.0, 370.0, 1040.0, 780.0, 465.0, 210.0, 680.0)


def wrap(overlap=280.0, hip=1060.0, hem=1150.0, length=650.0):
    return Wrap((Level(0.0, 740.0, overlap), Level(210.0, hip, overlap), Level(length, hem, overlap)))


def by_pose(*of):
    return {c.pose: c for c in cover(*of)}


@given(st.floats(250, 700), st.floats(0, 300), st.floats(0, 600))
def test_the_way_round_two_legs_is_their_hull(girth, between, stride):
    legs = replace(LEGS, thigh=girth, knee=girth)
    circle = Point(0, 0).buffer(girth / pi / 2, quad_segs=256)
    other = Point(girth / pi + between, stride).buffer(girth / pi / 2, quad_segs=256)
    hull = unary_union([circle, other]).convex_hull
    assert _round_both(legs, 500.0, between, stride) == pytest.approx(hull.length, rel=1e-4)


@given(st.floats(0, 500), st.floats(0, 300), st.floats(800, 1300), st.floats(0, 300), st.floats(1, 400))
def test_more_cloth_covers_more_and_a_longer_step_less(overlap, more, hem, wider, longer):
    one, two = by_pose(wrap(overlap, hem=hem), LEGS), by_pose(wrap(overlap + more, hem=hem + wider), LEGS)
    far = by_pose(wrap(overlap, hem=hem), replace(LEGS, step=LEGS.step + longer))
    for pose in Pose:
        assert two[pose].left.value >= one[pose].left.value - 1e-9
        assert one[pose].covered == (one[pose].left.value > 0)
        assert far[pose].left.value <= one[pose].left.value + 1e-9
    assert one[Pose.STANDING].left.value >= max(one[p].left.value for p in Pose) - 1e-9


def test_a_narrow_wrap_opens_in_a_step_but_not_standing():
    found = by_pose(wrap(120.0, hem=960.0), LEGS)
    assert found[Pose.STANDING].covered and not found[Pose.STEPPING].covered
    step = found[Pose.STEPPING]
    stride = 680.0 * (650.0 - 260.0) / 780.0
    knee = 370.0
    needed = knee + 2 * ((knee / pi) ** 2 + stride**2) ** 0.5
    assert step.travels == pytest.approx(needed - 960.0, abs=0.5)
    assert step.hem_opens == pytest.approx(step.travels - 120.0)
    assert "is not covered" in step.text and "part by" in step.text


def test_a_small_overlap_is_said_to_be_too_little_to_sit():
    found = by_pose(wrap(180.0, hip=1200.0, hem=1500.0), LEGS)
    assert found[Pose.SITTING].covered and "24 % of it" in found[Pose.SITTING].text
    assert "hand's breadth" in by_pose(wrap(70.0, hip=1200.0, hem=1500.0), LEGS)[Pose.SITTING].text


def test_a_hip_too_large_for_the_wrap_leaves_her_uncovered_standing():
    found = by_pose(wrap(60.0, hip=900.0), LEGS)
    assert not found[Pose.STANDING].covered and found[Pose.STANDING].depth == 210.0


@pytest.mark.parametrize("size", ["1", "5", "10"])
def test_the_choirs_wrap_is_measured_off_its_pieces(size):
    chart = body_of(size)
    garment, body = concert_dress().at(size), sheet_of("her", {"hip": chart["hip girth"], "stature": chart["stature"],
                                                               "waist to hip": chart["waist to hip"]})
    drawn = wrap_of(garment, body)
    assert drawn.at(chart["waist to hip"]).girth == pytest.approx(chart["hip girth"] + 80.0, abs=1.0)
    assert all(level.overlap == pytest.approx(0.38 * chart["waist girth"], abs=0.5) for level in drawn.levels)
    assert drawn.length == pytest.approx(0.64 * chart["waist height"], abs=1.0)
    assert all(c.covered for c in cover(drawn, legs_of(body)))


def test_without_a_wrap_there_is_nothing_to_answer():
    garment = concert_dress().at("4")
    plain = replace(garment, pieces=tuple(p for p in garment.pieces if not p.name.startswith("wrap")))
    assert wrap_of(plain) is None


def test_words_follow_her_unit():
    assert " in " in cover(wrap(), LEGS, "in")[1].text


def test_two_levels_at_one_height_are_one():
    two = Wrap((Level(0.0, 740.0, 280.0), Level(0.0, 740.0, 280.0), Level(650.0, 1150.0, 280.0)))
    assert two.at(0.0) == Level(0.0, 740.0, 280.0)
    assert two.at(325.0).girth == pytest.approx(945.0)
