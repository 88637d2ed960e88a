"""Whatever the problem, the time and the moment of a stop: a packing without faults, and no process left behind."""

import os
import subprocess

import pytest
from hypothesis import given, settings
from packing.packing_strategies import problems

from toilewright.errors import GeometryError
from toilewright.packing import engine as engines
from toilewright.packing.by_engine import NAME, by_engine, can_express
from toilewright.packing.first_fit import first_fit
from toilewright.packing.guided import guided
from toilewright.packing.guided_worker import Aside
from toilewright.packing.problem import Beat, Item, Packing, Placed, Pose, Problem
from toilewright.packing.solve import pack
from toilewright.packing.two_cores import search
from toilewright.packing.valid import faults

L_SHAPE = (0j, 120 + 0j, 120 + 40j, 40 + 40j, 40 + 120j, 120j)
HALVES = (Pose(), Pose(180.0))
HANDS = (*HALVES, Pose(0.0, True), Pose(180.0, True))


def angles(count=8, poses=HANDS, **more):
    return Problem(400.0, tuple(Item(f"angle {k}", tuple(p * (1 + k / 9) for p in L_SHAPE), 2, poses, **more)
                                for k in range(count)))


@settings(max_examples=10, deadline=None)
@given(problems())
def test_every_constraint_is_kept_in_next_to_no_time(problem):
    found = pack(problem, 0.2)
    assert faults(problem, found) == ()
    assert found.length <= first_fit(problem).length + 1e-9


def test_a_plain_strip_is_searched_by_the_library_either_hand_up(monkeypatch):
    monkeypatch.setattr("toilewright.packing.solve.ENGINE_MANY", 10)
    problem = angles()
    found = pack(problem, 4.0, seed=2)
    assert faults(problem, found) == ()
    assert found.length < first_fit(problem).length - 1.0
    assert can_express(problem)


def test_the_librarys_lay_is_ours_pose_for_pose():
    problem = angles(5)
    far = 10 * first_fit(problem).length
    apart = Packing(far, tuple(Placed(k, c, Pose(), complex(far * (2 * k + c) / 10, 0.0)) for k in range(5)
                               for c in range(2)))
    found = by_engine(problem, 2.0, 1, apart)
    assert found.how == NAME and not found.repeatable
    assert faults(problem, found) == ()


@pytest.mark.parametrize("more", [{"origin_y": 0.0}, {"band": (0.0, 300.0)}, {"beat_x": Beat(0j, 5.0, 40.0)},
                                  {"beat_y": Beat(0j, 5.0, 40.0)}], ids=lambda m: next(iter(m)))
def test_what_the_library_cannot_express_is_not_given_to_it(more, monkeypatch):
    monkeypatch.setattr(engines.Engine, "start", lambda *_: pytest.fail("the library was asked"))
    monkeypatch.setattr("toilewright.packing.solve.ENGINE_MANY", 1)
    problem = angles(4, HALVES[:1], **more)
    assert not can_express(problem)
    found = pack(problem, 3.0, workers=1)
    assert faults(problem, found) == ()


@pytest.mark.parametrize("poses", [HANDS, HALVES])
def test_a_stop_gives_the_best_so_far_and_leaves_no_process(poses):
    problem = angles(12, poses) if poses is HANDS else angles(12, poses, band=(0.0, 400.0))
    told: list[float] = []
    found = pack(problem, 600.0, tell=lambda length, gone: told.append(length), stop=lambda: len(told) > 1)
    assert faults(problem, found) == ()
    assert found.length <= told[0] + 1e-9
    assert not found.repeatable
    listed = subprocess.run(["ps", "--ppid", str(os.getpid()), "-o", "args"], capture_output=True, text=True,
                            check=False).stdout
    assert [line for line in listed.splitlines() if "toilewright.packing" in line] == []


def test_a_search_beside_this_one_finds_what_it_would_find_here():
    problem = angles(4, HALVES)
    start = first_fit(problem)
    with Aside((problem, 0.05, 9, start)) as aside:
        there = aside.found(60.0)
    here = guided(problem, 0.05, 9, start)
    assert there is not None and not aside.failed()
    assert there.length <= start.length and faults(problem, there) == ()
    assert here.length <= start.length
    if here.repeatable and there.repeatable:
        assert there == here


def test_a_search_beside_this_one_that_dies_is_done_without(monkeypatch):
    monkeypatch.setattr("toilewright.packing.worker.sys.executable", "/bin/false")
    problem = angles(4, HALVES)
    found = search(problem, 5.0, 1, first_fit(problem))
    assert faults(problem, found) == () and not found.repeatable


def test_a_strip_that_ends_too_soon_is_told_with_the_piece():
    problem = Problem(120.0, (Item("angle", L_SHAPE, 2, HALVES),), longest=150.0)
    with pytest.raises(GeometryError, match='"angle"'):
        pack(problem, 0.5)
    with pytest.raises(GeometryError, match='"angle" cannot be laid'):
        pack(Problem(100.0, (Item("angle", L_SHAPE),)), 0.5)


def test_a_strip_that_is_just_long_enough():
    problem = Problem(120.0, (Item("angle", L_SHAPE, 2, HALVES),), longest=161.0)
    assert pack(problem, 1.0).length <= 161.0


@pytest.mark.parametrize("seconds, copies, asked_for", [
    (5.0, 4, ["guided"]), (5.0, 41, ["library", "guided"]), (30.0, 4, ["guided", "library", "guided"])])
def test_the_library_searches_plain_strips_of_many_pieces_or_with_time(monkeypatch, seconds, copies, asked_for):
    asked: list[str] = []
    allowed: list[float] = []

    def library(problem, seconds, seed, start, *rest):
        asked.append("library")
        allowed.append(seconds)
        return start

    def guided_search(problem, seconds, seed, start, *rest):
        asked.append("guided")
        allowed.append(seconds)
        return start

    monkeypatch.setattr("toilewright.packing.solve.by_engine", library)
    monkeypatch.setattr("toilewright.packing.solve.search", guided_search)
    pack(Problem(400.0, (Item("angle", L_SHAPE, copies, HALVES),)), seconds)
    assert asked == asked_for  # the library found nothing: the other one has a go
    assert max(allowed) <= seconds
    assert len(asked) < 3 or allowed[0] < 0.3 * allowed[1]


def test_the_library_goes_on_from_what_the_guided_search_began_with(monkeypatch):
    shorter = []

    def guided_search(problem, seconds, seed, start, *rest):
        found = guided(problem, 0.3, seed, start)
        shorter.append(found)
        return found

    def library(problem, seconds, seed, start, *rest):
        assert start == shorter[0]
        return start

    monkeypatch.setattr("toilewright.packing.solve.by_engine", library)
    monkeypatch.setattr("toilewright.packing.solve.search", guided_search)
    found = pack(angles(4, HALVES), 30.0)
    assert found.length <= shorter[0].length
