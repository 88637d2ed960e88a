"""Every kind of fault is found, and nothing else is called one."""

from __future__ import annotations

from dataclasses import replace

import pytest

from toilewright.packing.problem import Beat, Item, Packing, Placed, Pose, Problem
from toilewright.packing.valid import faults

AS_DRAWN = Pose()
SQUARE = (0j, 100 + 0j, 100 + 100j, 100j)
SHAPE_L = (0j, 100 + 0j, 100 + 30j, 30 + 30j, 30 + 100j, 100j)


def strip(*items: Item, **more: object) -> Problem:
    return Problem(300.0, items, **more)  # type: ignore[arg-type]


def packing(*at: complex, length: float = 0.0, pose: Pose = AS_DRAWN) -> Packing:
    placed = tuple(Placed(0, k, pose, p) for k, p in enumerate(at))
    return Packing(length or max(p.real for p in at) + 100.0, placed)


TWO = Item("yoke", SQUARE, 2)


def test_touching_is_no_fault():
    assert faults(strip(TWO), packing(0j, 100j)) == ()
    assert faults(strip(TWO), packing(0j, 100 + 37j)) == ()


def test_nested_hollows_are_no_fault():
    problem = strip(Item("yoke", SHAPE_L, 2, (Pose(), Pose(180.0))))
    placed = (Placed(0, 0, Pose(), 0j), Placed(0, 1, Pose(180.0), 130 + 130j))
    assert faults(problem, Packing(130.0, placed)) == ()
    assert "overlap by" in faults(problem, Packing(129.9, (placed[0], replace(placed[1], at=129.9 + 129.9j))))[0]


@pytest.mark.parametrize(("problem", "found", "words"), [
    (strip(TWO), packing(0j, 99.9j), '"yoke" (copy 1) and "yoke" (copy 2) overlap by 10 mm2.'),
    (strip(TWO, gap=3.0), packing(0j, 102j), '"yoke" (copy 1) and "yoke" (copy 2) are 2 mm apart; 3 mm'),
    (strip(TWO), packing(0j, 0j), "overlap by 1e+04 mm2"),
    (strip(TWO), packing(0j), '"yoke" copy 2 is missing.'),
    (strip(TWO), packing(0j, 100j, 200j), "placed but not asked for"),
    (strip(replace(TWO, count=1)), packing(201j), "reaches from y 201 to 301, outside 0 to 300"),
    (strip(replace(TWO, count=1, band=(0.0, 150.0))), packing(51j), "outside 0 to 150"),
    (strip(replace(TWO, count=1)), packing(-1 + 0j), "before the end of the strip"),
    (strip(replace(TWO, count=1), longest=150.0), packing(51 + 0j), "past the end of the strip at 150"),
    (strip(replace(TWO, count=1, origin_y=0.0)), packing(1e-5j), "it must lie at 0"),
    (strip(replace(TWO, count=1)), packing(100 + 100j, pose=Pose(180.0), length=100), "in a way that is not allowed"),
    (strip(replace(TWO, count=1)), packing(0j, length=99.0), "The length is given as 99"),
    (strip(replace(TWO, count=1), forbidden=(tuple(p + 90 for p in SQUARE),)), packing(0j),
     "a forbidden place overlap by 1e+03 mm2"),
    (strip(replace(TWO, count=1, beat_x=Beat(100 + 0j, 5.0, 40.0))), packing(25.02 + 0j), "misses the repeat along"),
    (strip(replace(TWO, count=1, beat_y=Beat(100j, 5.0, 40.0))), packing(25.02j), "misses the repeat across"),
])
def test_faults(problem: Problem, found: Packing, words: str):
    said = faults(problem, found)
    assert len(said) == 1
    assert words in said[0]


def test_a_copy_that_is_placed_twice():
    packed = Packing(100.0, (Placed(0, 0, Pose(), 0j), Placed(0, 0, Pose(), 100j)))
    assert faults(strip(TWO), packed) == ('"yoke" copy 2 is missing.', '"yoke" copy 1 is placed 2 times.')


def test_beats_that_are_met():
    item = replace(TWO, count=1, beat_x=Beat(100 + 0j, 5.0, 40.0), beat_y=Beat(0j, 10.0, 30.0))
    assert faults(strip(item), packing(25.009 + 69.991j)) == ()


def test_a_beat_is_carried_along_by_the_pose():
    turned = Item("yoke", SQUARE, 1, (Pose(180.0),), beat_x=Beat(30 + 0j, 0.0, 50.0))
    assert faults(strip(turned), packing(130 + 100j, pose=Pose(180.0), length=130.0)) == ()
    assert len(faults(strip(turned), packing(120 + 100j, pose=Pose(180.0), length=120.0))) == 1
