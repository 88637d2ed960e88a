"""What is compiled of the search, against slower ways that know nothing of it: shapely and sums written out."""

import random
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from packing.blocks import least_of_blocks
from packing.packing_strategies import problems

from toilewright.packing import compiled as compiling
from toilewright.packing.compaction import Press
from toilewright.packing.first_fit import first_fit
from toilewright.packing.parts import separators
from toilewright.packing.problem import Beat, Item, Packing, Placed, Pose, Problem
from toilewright.packing.rasters import Lattice
from toilewright.packing.table import Table, TimeToEnd
from toilewright.packing.weighing import (
    BACK,
    BLOCK,
    COLUMNS,
    DOWN,
    FIRST_COLUMN,
    FIRST_ROW,
    ROWS,
    START,
    improve,
    lacking,
    overlap,
)

HOOK = (0j, 90 + 0j, 90 + 30j, 35 + 30j, 20 + 110j, 110j)
WEDGE = (0j, 70 + 10j, 50 + 80j, 5 + 60j)
ALL_WAYS = tuple(Pose(turn, hand) for hand in (False, True) for turn in (0.0, 180.0))
TWO = Problem(240.0, (Item("hook", HOOK, 2, ALL_WAYS), Item("wedge", WEDGE, 3, (*ALL_WAYS, Pose(30.0)))))
CROWD = replace(TWO, items=tuple(replace(item, count=5 * item.count) for item in TWO.items))
CHECKED = replace(TWO, items=tuple(replace(item, beat_x=Beat(0j, 5.0, 44.0), beat_y=Beat(0j, 3.0, 33.0))
                                   for item in CROWD.items))


def never(work: float) -> bool:
    return False


def the_map(lattice: Lattice, owner: int, seat: int) -> tuple[np.ndarray, int, int]:
    """A map as the book shows it, with its first column and row."""
    lattice.bring(owner, seat)
    entry = lattice.book[owner, seat]
    size = entry[COLUMNS] * entry[ROWS]
    depths = lattice.pool[entry[START]:entry[START] + size].reshape(entry[COLUMNS], entry[ROWS])
    depths = depths[::-1] if entry[BACK] else depths
    return depths[:, ::-1] if entry[DOWN] else depths, entry[FIRST_COLUMN], entry[FIRST_ROW]


def outline(problem: Problem, lattice: Lattice, seat: int) -> shapely.Polygon:
    room = lattice.every[seat].room
    return shapely.Polygon([(q.real, q.imag) for q in map(room.pose.of, problem.items[room.item].outline)])


@pytest.mark.parametrize("gap", [0.0, 4.0])
def test_a_map_is_deep_exactly_where_the_outlines_overlap_whichever_way_both_lie(gap):
    problem = Problem(TWO.height, TWO.items, gap=gap)
    lattice = Lattice(problem, 7.0, 0.0)
    gx, gy = lattice.pitch
    looked_at = 0
    for owner in range(len(lattice.every)):
        for seat in range(len(lattice.every)):
            depths, first_column, first_row = the_map(lattice, owner, seat)
            a, b = outline(problem, lattice, owner), outline(problem, lattice, seat)
            for c in range(-3, 25, 4):
                for r in range(-20, 21, 5):
                    k, m = c - first_column, r - first_row
                    deep = depths[k, m] if 0 <= k < depths.shape[0] and 0 <= m < depths.shape[1] else 0.0
                    moved = shapely.affinity.translate(b, c * gx, r * gy)
                    # Outlines are taken for a little larger: where they nearly touch either answer will do.
                    if a.distance(moved) > gap + 1.5:
                        assert deep == 0.0
                    elif a.intersection(moved).area > 1.0 or a.distance(moved) < gap - 0.1:
                        assert deep > 0.0
                        looked_at += 1
    assert looked_at > 200


@pytest.mark.parametrize("problem", [CROWD, CHECKED], ids=["plain", "checked"])
@pytest.mark.parametrize("seed", range(12))
def test_a_thing_goes_where_the_weighted_depths_add_up_to_least(problem, seed):
    chance = random.Random(seed)
    table = thrown(problem, chance.uniform(200.0, 700.0), chance)
    table.weight[:] = np.array([[1.0 + 3.0 * chance.random() for _ in row] for row in table.weight])
    for i in chance.sample(range(table.count), 4):
        before = written_out(table, i, int(table.seat[i]), *table.at[i].tolist())
        best = min(written_out(table, i, s, c, r)
                   for s in range(table.first[i], table.first[i] + table.poses[i])
                   for c in range(table.limits[s, 0], table.limits[s, 1] + 1, table.limits[s, 4])
                   for r in range(table.limits[s, 2], table.limits[s, 3] + 1, table.limits[s, 5]))
        table._bring(lacking, i, int(table.first[i]), int(table.poses[i]), table.seat)
        improve(i, int(table.first[i]), int(table.poses[i]), 0, chance.random(), table.seat, table.at, table.depth,
                table.weight, table.limits, table.lattice.book, table.lattice.pool, table.lattice.lows, table.room)
        after = written_out(table, i, int(table.seat[i]), *table.at[i].tolist())
        assert after == pytest.approx(min(best, before), abs=1e-3)
        kept = table.depth.copy()
        table.measure()
        assert np.array_equal(kept, table.depth)


@given(st.integers(1, 9), st.integers(1, 9), st.randoms(use_true_random=False))
def test_a_block_is_bounded_by_its_least_depth_wherever_it_begins(columns, rows, chance):
    depths = np.array([[np.float32(chance.random()) for _ in range(rows)] for _ in range(columns)])
    lows = least_of_blocks(depths)
    for c in range(1 - BLOCK, columns):
        for r in range(1 - BLOCK, rows):
            block = [depths[x, y] if 0 <= x < columns and 0 <= y < rows else 0.0
                     for x in range(c, c + BLOCK) for y in range(r, r + BLOCK)]
            end, last = c + BLOCK - 1, r + BLOCK - 1
            assert lows[end % BLOCK, last % BLOCK, end // BLOCK, last // BLOCK] == min(block)


def thrown(problem: Problem, length: float, chance: random.Random) -> Table:
    """Everything anywhere on a strip."""
    lattice = Lattice(problem, 11.0, 2.0)
    placed = tuple(Placed(k, copy, chance.choice(item.poses), 0j) for k, item in enumerate(problem.items)
                   for copy in range(item.count))
    table = Table(lattice, placed, never)
    table.put(placed, length)
    for i in range(table.count):
        left, last, low, high, every, every_row = table.limits[table.seat[i]].tolist()
        table.at[i] = chance.randrange(left, last + 1, every), chance.randrange(low, high + 1, every_row)
    table.measure()
    return table


def written_out(table: Table, i: int, seat: int, column: int, row: int) -> float:
    """What a thing would cost at a place: depth times weight, summed over all others."""
    total = 0.0
    for j in range(table.count):
        if j != i:
            depths, c, r = the_map(table.lattice, int(table.seat[j]), seat)
            c, r = column - table.at[j, 0] - c, row - table.at[j, 1] - r
            if 0 <= c < depths.shape[0] and 0 <= r < depths.shape[1]:
                total += table.weight[j, i] * depths[c, r]
    return total


@given(problems(), st.randoms(use_true_random=False))
@settings(max_examples=15, deadline=None)
def test_settled_things_keep_to_the_strip_their_bands_and_their_repeats(problem, chance):
    start = first_fit(problem)
    lattice = Lattice(problem, 15.0, 5.0)
    table = Table(lattice, start.placed, never)
    table.put(start.placed, start.length)
    before = overlap(table.depth)
    left_over = table.settle(30, 50.0, chance)
    assert left_over <= before + 1e-6
    assert left_over == pytest.approx(overlap(table.depth), abs=1e-3)
    for one in table.placed():
        seat = next(s for s in lattice.seats[one.item] if s.room.pose == one.pose)
        assert seat.room.low - 1e-6 <= one.at.imag <= seat.room.high + lattice.pitch[1]
        for value, beat, pitch in ((one.at.real, seat.room.beat_x, lattice.pitch[0]),
                                   (one.at.imag, seat.room.beat_y, lattice.pitch[1])):
            if beat is not None and abs(beat[1] / pitch - round(beat[1] / pitch)) < 1e-9:  # a cloth has one repeat
                assert abs((value - beat[0] + beat[1] / 2) % beat[1] - beat[1] / 2) <= pitch / 2 + 1e-6


def test_separating_lines_tell_parts_apart_by_as_much_as_they_say():
    placed = (Placed(0, 0, Pose(), 0j), Placed(0, 1, Pose(180.0), 230 + 200j), Placed(1, 0, Pose(30.0), 150 + 40j))
    problem = Problem(240.0, (Item("hook", HOOK, 2, (Pose(), Pose(180.0))), Item("wedge", WEDGE, 1, (Pose(30.0),))))
    press = Press(problem, placed, 0.02, 50.0)
    at = press.where(placed)
    n = len(press.parts.owner)
    one, two = (a.ravel() for a in np.meshgrid(np.arange(n), np.arange(n)))
    keep = press.parts.owner[one] < press.parts.owner[two]
    one, two = one[keep], two[keep]
    normal, room = separators(press.parts, at, one, two, 1e9)
    apart = 0
    for a, b, line, gap in zip(one, two, normal, room, strict=True):
        p, q = (press.parts.corners[k] + at[press.parts.owner[k]] for k in (a, b))
        assert np.hypot(*line) == pytest.approx(1.0)
        assert (q @ line).min() - (p @ line).max() == pytest.approx(gap, abs=1e-9)
        distance = shapely.MultiPoint(p).convex_hull.distance(shapely.MultiPoint(q).convex_hull)
        assert gap <= distance + 1e-9
        if distance > 1.0:
            assert gap > 0.0
            apart += 1
    assert apart > 3


def test_where_nothing_can_be_kept_it_is_compiled_all_the_same(monkeypatch):
    real = compiling.njit

    def without_a_folder(*args, **options):
        if options.get("cache"):
            raise RuntimeError("cannot cache function: no locator available")
        return real(*args, **options)

    monkeypatch.setattr(compiling, "njit", without_a_folder)
    assert compiling.compiled(lambda x: x + 1)(2) == 3


def test_time_to_end_is_asked_for_and_heeded():
    chance = random.Random(1)
    crammed = Problem(120.0, (Item("hook", HOOK, 6, ALL_WAYS),))
    start = first_fit(crammed)
    told: list[float] = []

    def enough(work: float) -> bool:
        told.append(work)
        return len(told) == wanted

    wanted = 0
    table = Table(Lattice(crammed, 5.0, 1.0), start.placed, enough)
    table.put(start.placed, start.length / 3)
    assert told and all(work > 0.0 for work in told)  # building the maps is work
    wanted = len(told) + 3
    with pytest.raises(TimeToEnd):
        table.settle(10_000_000, 50.0, chance)
    assert len(told) == wanted


def test_patience_ends_sooner_the_more_overlaps():
    """Nothing can be free on a strip that is far too short; the search gives up, sooner where little is near enough."""
    start = first_fit(CROWD)
    done = []
    for near in (1.0, 1e6):
        work: list[float] = []
        table = Table(Lattice(CROWD, 15.0, 2.0), start.placed, lambda w, work=work: work.append(w))
        table.put(start.placed, start.length / 2)
        assert table.settle(20, near, random.Random(3)) > 1.0
        done.append(sum(work))
    assert done[0] < done[1]


def test_building_the_maps_of_a_large_lay_can_be_ended():
    shapes = [tuple(p * (1 + k / 7) for p in HOOK) for k in range(9)]
    many = Problem(400.0, tuple(Item(f"hook {k}", s, 1, ALL_WAYS) for k, s in enumerate(shapes)))
    start, told = first_fit(many), []
    lattice = Lattice(many, 5.0, 1.0)
    with pytest.raises(TimeToEnd):
        Table(lattice, start.placed, lambda work: told.append(work) or len(told) == 5).put(start.placed, start.length)
    assert len(told) == 5


def test_a_packing_comes_out_of_the_table_as_it_went_in():
    start = first_fit(TWO)
    table = Table(Lattice(TWO, 1.0, 0.0), start.placed, never)
    table.put(start.placed, start.length + 50.0)
    out = Packing(table.reach(), table.placed())
    assert [(p.item, p.copy, p.pose) for p in out.placed] == [(p.item, p.copy, p.pose) for p in start.placed]
    assert max(abs(a.at - b.at) for a, b in zip(out.placed, start.placed, strict=True)) < 1.0
