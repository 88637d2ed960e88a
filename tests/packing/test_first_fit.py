"""The first fit keeps every constraint, lies to the left, and says what cannot be laid."""

from __future__ import annotations

from dataclasses import replace

import pytest
import shapely
from hypothesis import given, settings
from hypothesis.strategies import integers
from packing.packing_strategies import HEIGHT, POSES, problems, stars

from toilewright.errors import GeometryError
from toilewright.packing.convex import convex_parts, simplified, widened
from toilewright.packing.first_fit import first_fit
from toilewright.packing.problem import Beat, Item, Outline, Pose, Problem
from toilewright.packing.valid import faults

SQUARE = (0j, 100 + 0j, 100 + 100j, 100j)


def polygon(outline: Outline) -> shapely.Polygon:
    return shapely.Polygon([(p.real, p.imag) for p in outline])


@settings(max_examples=60, deadline=None)
@given(problems())
def test_every_constraint_is_kept(problem: Problem):
    assert faults(problem, first_fit(problem)) == ()


@settings(max_examples=30, deadline=None)
@given(problems(), integers(0, 8))
def test_one_that_is_stopped_keeps_every_constraint(problem: Problem, after: int):
    asked = iter(range(1000))
    assert faults(problem, first_fit(problem, lambda: next(asked) >= after)) == ()


def test_once_stopped_it_looks_for_no_gaps():
    problem = Problem(300.0, (Item("yoke", SQUARE, 6),))
    assert first_fit(problem).length == pytest.approx(200.0)
    assert first_fit(problem, lambda: True).length == pytest.approx(600.0)


@settings(max_examples=20, deadline=None)
@given(problems(4))
def test_the_same_problem_gives_the_same_packing(problem: Problem):
    assert first_fit(problem) == first_fit(problem)


@settings(max_examples=60, deadline=None)
@given(stars())
def test_simplified_outlines_hold_the_old_ones_and_little_more(outline: Outline):
    true, larger = polygon(outline), polygon(simplified(outline, 0.5))
    assert true.difference(larger).area < 1e-6 * true.area
    assert larger.hausdorff_distance(true) <= 0.5 * 12  # a sharp corner may run out; its sides may not
    assert larger.area - true.area <= 0.5 * true.length
    assert polygon(widened(outline, 2.0)).contains(true.buffer(2.0, quad_segs=64))


@settings(max_examples=60, deadline=None)
@given(stars())
def test_convex_parts_are_convex_and_make_up_the_whole(outline: Outline):
    parts = [shapely.Polygon(p) for p in convex_parts(outline)]
    assert sum(p.area for p in parts) == pytest.approx(polygon(outline).area)
    assert shapely.union_all(parts).symmetric_difference(polygon(outline)).area < 1e-4
    assert all(p.convex_hull.area == pytest.approx(p.area) for p in parts)


def test_rectangles_that_tile_the_strip():
    problem = Problem(300.0, (Item("yoke", SQUARE, 9), Item("sash", (0j, 50 + 0j, 50 + 300j, 300j))))
    assert first_fit(problem).length == pytest.approx(350.0)


def test_a_hollow_is_filled():
    trough = (0j, 300 + 0j, 300 + 300j, 210 + 300j, 210 + 100j, 100 + 100j, 100 + 300j, 300j)
    problem = Problem(300.0, (Item("trough", trough), Item("yoke", SQUARE)))
    assert first_fit(problem).length == pytest.approx(300.0)


def test_a_turn_saves_length():
    wedge = (0j, 200 + 0j, 100j)
    problem = Problem(100.0, (Item("wedge", wedge, 2, (Pose(), Pose(180.0))),))
    assert first_fit(problem).length == pytest.approx(200.0, abs=0.01)
    assert first_fit(replace(problem, items=(replace(problem.items[0], poses=(Pose(),)),))).length > 250.0


def test_the_fold_the_flaw_and_the_repeat_are_kept_clear_by_hand():
    half = Item("front", (0j, 100 + 0j, 100 + 50j, 50j), origin_y=0.0)
    free = Item("sleeve", SQUARE, beat_x=Beat(0j, 30.0, 80.0))
    problem = Problem(120.0, (half, free), ((0j, 20 + 0j, 20 + 20j, 20j),))
    found = {p.item: p.at for p in first_fit(problem).placed}
    assert found[0].imag == 0.0
    assert found[1].real in (30.0, 110.0, 190.0)
    assert first_fit(problem).length == pytest.approx(230.0, abs=0.01)  # the sleeve at 30, the front behind it


@pytest.mark.parametrize(("item", "longest", "words"), [
    (Item("train", tuple(5 * p for p in SQUARE)), None, '"train" cannot be laid: it is 50.0 cm across'),
    (Item("train", SQUARE, band=(350.0, HEIGHT)), None, "only 5.0 cm for it"),
    (Item("train", SQUARE), 90.0, "it is 10.0 cm long, and there are only 9.0 cm"),
    (Item("train", SQUARE, origin_y=350.0), None, "with its edge on the fold"),
    (Item("train", SQUARE, beat_y=Beat(0j, 390.0, 1000.0)), None, "no line of the repeat"),
    (Item("train", SQUARE, 5), 100.0, '"train" finds no place left on the 10.0 cm of the strip'),
])
def test_what_cannot_be_laid_is_said_in_one_sentence(item: Item, longest: float | None, words: str):
    with pytest.raises(GeometryError) as error:
        first_fit(Problem(HEIGHT, (Item("yoke", SQUARE), item) if item.count == 1 else (item,), longest=longest))
    assert words in str(error.value)
    assert str(error.value).count(".") - str(error.value).count(".0 cm") == 1


def test_a_remnant_that_just_takes_all():
    problem = Problem(100.0, (Item("yoke", SQUARE, 3, POSES),), longest=300.0)
    assert first_fit(problem).length == pytest.approx(300.0)
