"""Squeezing keeps what is right right, and sets right what overlaps by a hair."""

import pytest
from hypothesis import given, settings
from packing.packing_strategies import problems

from toilewright.packing.compaction import COARSE, FINE, compact
from toilewright.packing.first_fit import first_fit
from toilewright.packing.problem import Item, Packing, Placed, Pose, Problem
from toilewright.packing.valid import faults

TRIANGLE = (0j, 100 + 0j, 100j)


@settings(max_examples=25, deadline=None)
@given(problems())
def test_a_squeezed_lay_keeps_every_constraint_and_is_no_longer(problem):
    before = first_fit(problem)
    for loss in (FINE, COARSE):
        after = compact(problem, before, loss=loss)
        assert faults(problem, after) == ()
        assert after.length <= before.length + 1e-9


def test_two_triangles_slide_together_along_their_long_sides():
    """Half turned, the second one completes the square."""
    problem = Problem(100.0, (Item("half", TRIANGLE, 2, (Pose(), Pose(180.0))),))
    apart = Packing(190.0, (Placed(0, 0, Pose(), 0j), Placed(0, 1, Pose(180.0), 190 + 100j)))
    together = compact(problem, apart)
    assert faults(problem, together) == ()
    assert together.length == pytest.approx(100.0, abs=0.1)


def test_an_overlap_of_a_hair_is_set_right():
    problem = Problem(100.0, (Item("square", (0j, 50 + 0j, 50 + 50j, 50j), 2),))
    hair = Packing(99.99, (Placed(0, 0, Pose(), 0j), Placed(0, 1, Pose(), 49.99 + 0j)))
    assert faults(problem, hair)
    right = compact(problem, hair)
    assert faults(problem, right) == ()
    assert right.length == pytest.approx(100.0, abs=0.01)


def test_what_is_tied_to_the_fold_and_to_a_stripe_stays_there():
    problem = Problem(400.0, (Item("front", TRIANGLE, origin_y=0.0), Item("back", TRIANGLE, origin_y=0.0)))
    before = Packing(500.0, (Placed(0, 0, Pose(), 30 + 0j), Placed(1, 0, Pose(), 400 + 0j)))
    after = compact(problem, before)
    assert [p.at.imag for p in after.placed] == [0.0, 0.0]
    assert after.length == pytest.approx(200.0, abs=0.1)


def test_asked_to_stop_nothing_is_moved():
    problem = Problem(100.0, (Item("half", TRIANGLE, 2),))
    before = Packing(400.0, (Placed(0, 0, Pose(), 0j), Placed(0, 1, Pose(), 300 + 0j)))
    assert compact(problem, before, stop=lambda: True) == before


def test_a_squeeze_is_given_up_when_it_will_not_become_as_short_as_wanted():
    problem = Problem(100.0, (Item("half", TRIANGLE, 2, (Pose(), Pose(180.0))),))
    apart = Packing(110.0, (Placed(0, 0, Pose(), 0j), Placed(0, 1, Pose(180.0), 110 + 100j)))
    rounds: list[int] = []
    for wanted in (105.0, 20.0):
        asked = []
        after = compact(problem, apart, lambda asked=asked: asked.append(1), loss=COARSE, wanted=wanted)
        assert faults(problem, after) == ()
        rounds.append(len(asked))
    assert compact(problem, apart, loss=COARSE, wanted=105.0).length == pytest.approx(100.0, abs=0.5)
    assert rounds[1] < rounds[0]
