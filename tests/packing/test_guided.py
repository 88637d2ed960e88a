"""The guided search: never longer than its start, never a fault, the same again for the same seed."""

import time

import pytest
from hypothesis import given, settings
from packing.packing_strategies import problems

from toilewright.errors import GeometryError
from toilewright.packing import guided as search
from toilewright.packing.first_fit import first_fit
from toilewright.packing.guided import guided
from toilewright.packing.problem import Item, Packing, Placed, Pose, Problem
from toilewright.packing.valid import faults

L_SHAPE = (0j, 120 + 0j, 120 + 40j, 40 + 40j, 40 + 120j, 120j)
"""Two of them, one turned, take 160 mm of a strip 120 mm high; side by side they take 240."""


@settings(max_examples=12, deadline=None)
@given(problems())
def test_every_constraint_is_kept_and_nothing_gets_longer(problem):
    start = first_fit(problem)
    found = guided(problem, 0.3, seed=3, start=start)
    assert faults(problem, found) == ()
    assert found.length <= start.length + 1e-9


def test_hollow_pieces_are_laid_into_each_other():
    problem = Problem(120.0, (Item("angle", L_SHAPE, 2, (Pose(), Pose(180.0))),))
    apart = Packing(240.0, (Placed(0, 0, Pose(), 0j), Placed(0, 1, Pose(), 120 + 0j)))
    assert guided(problem, 1.0, start=apart).length == pytest.approx(160.0, abs=0.5)


def test_the_same_seed_gives_the_same_lay_and_another_one_another(monkeypatch):
    monkeypatch.setattr(search, "WORK_A_SECOND", 5e7)  # little work, so that no clock ends it
    shapes = [tuple(p * (1 + k / 7) for p in L_SHAPE) for k in range(7)]
    problem = Problem(400.0, tuple(Item(f"angle {k}", s, 2, (Pose(), Pose(180.0))) for k, s in enumerate(shapes)))
    one, again, other = (guided(problem, 30.0, seed=s) for s in (5, 5, 6))
    assert one == again and one.repeatable
    assert one.length < first_fit(problem).length
    assert other.placed != one.placed


def test_a_stale_lattice_gives_way_to_the_next_and_all_ends_where_nothing_is_left_to_find(monkeypatch):
    bar = (0j, 610 + 0j, 610 + 300j, 300j)
    problem = Problem(900.0, (Item("angle", L_SHAPE, 3, (Pose(), Pose(180.0))), Item("bar", bar, 1)))
    pitches, tried = [], []
    lattice = search.Lattice
    monkeypatch.setattr(search, "Lattice", lambda p, pitch, loose: pitches.append(pitch) or lattice(p, pitch, loose))
    monkeypatch.setattr(search._Search, "_tries", lambda one, table: tried.append(table.lattice) or False)
    monkeypatch.setattr(search, "FUTILE", 8)
    monkeypatch.setattr(search, "STALE", 40)
    monkeypatch.setattr(search, "_least_length", lambda p: 1.0)
    found = guided(problem, 600.0)
    assert pitches == [pytest.approx(900.0 / n) for n in (90, 97, 84, 90)]
    assert len(tried) == 8 * 4 ** 2 and len(set(map(id, tried))) == len(pitches)
    assert found.repeatable and faults(problem, found) == ()


def test_the_best_so_far_is_told_and_kept_when_stopped():
    problem = Problem(400.0, tuple(Item(f"angle {k}", tuple(p * (1 + k / 9) for p in L_SHAPE), 2,
                                        (Pose(), Pose(180.0))) for k in range(9)))
    told: list[float] = []
    found = guided(problem, 60.0, tell=lambda length, gone: told.append(length), stop=lambda: len(told) >= 3)
    assert told == sorted(told, reverse=True)
    assert found.length <= told[-1] and not found.repeatable
    assert faults(problem, found) == ()


def test_asked_to_stop_at_once_the_first_fit_comes_back():
    problem = Problem(400.0, (Item("angle", L_SHAPE, 6, (Pose(), Pose(180.0))),))
    begun = time.monotonic()
    found = guided(problem, 600.0, stop=lambda: True)
    assert time.monotonic() - begun < 60.0  # of the 600 asked for
    assert faults(problem, found) == () and found.length <= first_fit(problem).length + 1e-9


def test_what_cannot_lie_on_the_strip_is_named():
    with pytest.raises(GeometryError, match='"angle"'):
        guided(Problem(100.0, (Item("angle", L_SHAPE),)), 1.0)
