"""Maps of depth, against what knows nothing of how they are drawn: overlaps by shapely, distances by scipy."""

import random

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from numba import typeof
from packing.blocks import least_of_blocks
from packing.test_weighing import the_map
from scipy.ndimage import distance_transform_edt

from toilewright.packing import rasters
from toilewright.packing.depths import _deepen, _least, draw
from toilewright.packing.nofit import Shape
from toilewright.packing.problem import Beat, Item, Pose, Problem
from toilewright.packing.rasters import Lattice
from toilewright.packing.ready import ready
from toilewright.packing.weighing import BLOCK, COLUMNS, LOWS, ROWS, START

COMB = (0j, 130 + 0j, 130 + 95j, 105 + 95j, 98 + 22j, 74 + 25j, 70 + 90j, 45 + 88j, 41 + 20j, 20 + 24j, 12 + 97j, 80j)
COMB = tuple(p + (1.3 + 2.9j) for p in COMB)  # turned it would else touch itself in whole rows of places
SPIKE = (0j, 88 + 31j, 4 + 9j)
WAYS = (Pose(), Pose(180.0), Pose(0.0, True), Pose(90.0, True), Pose(30.0), Pose(210.0, True))
FLAW = (60 + 40j, 95 + 40j, 95 + 44j, 60 + 49j)
PLAIN = Problem(260.0, (Item("comb", COMB, 2, WAYS), Item("spike", SPIKE, 1, WAYS[3:5])), forbidden=(FLAW,))
CHECKED = Problem(260.0, tuple(Item(i.key, i.outline, i.count, i.poses[:4], beat_x=Beat(1j, 5.0, 44.0),
                                    beat_y=Beat(2 + 0j, 3.0, 33.0)) for i in PLAIN.items), forbidden=(FLAW,), gap=5.0)
PINNED = Problem(260.0, (Item("comb", COMB, 2, WAYS[:2]), Item("spike", SPIKE, 1, WAYS[:1], origin_y=101.3)))


def overlaps(a: Shape, b: Shape, places: np.ndarray) -> np.ndarray:
    """Area that the second has in common with the first at each place (mm2)."""
    still, other = (shapely.union_all([shapely.Polygon(part) for part in shape.parts]) for shape in (a, b))
    by = np.repeat(places, shapely.get_num_coordinates(other), axis=0)
    shapely.prepare(still)
    return shapely.area(shapely.intersection(still, shapely.transform(np.full(len(places), other), lambda c: c + by)))


@pytest.mark.parametrize(("problem", "loose"), [(PLAIN, 0.0), (CHECKED, 3.7), (PINNED, 1.0)],
                         ids=["plain", "checked", "pinned"])
def test_every_place_is_as_deep_as_it_is_far_from_where_nothing_overlaps(problem, loose):
    lattice = Lattice(problem, 8.3, loose)
    gx, gy = lattice.pitch
    shapes = [seat.room.shape for seat in lattice.every] + list(lattice.still)
    offs = [seat.off for seat in lattice.every] + [0j] * len(lattice.still)
    compared = left_out = deep = 0
    for owner in range(len(shapes)):
        for seat in range(len(lattice.every)):
            depths, column, row = the_map(lattice, owner, seat)
            depths = np.pad(depths, 2)  # beyond its edges nothing may overlap
            off = offs[seat] - offs[owner]
            columns, rows = (np.arange(size) - 2 for size in depths.shape)
            x, y = np.meshgrid((columns + column) * gx + off.real, (rows + row) * gy + off.imag, indexing="ij")
            common = overlaps(shapes[owner], shapes[seat], np.stack([x.ravel(), y.ravel()], axis=1)).reshape(x.shape)
            if ((common > 1e-9) & (common < 1e-3)).any():  # where they only just touch a hair decides
                left_out += 1
                continue
            far = distance_transform_edt(common > 1e-9, sampling=lattice.pitch).astype(np.float32)
            np.testing.assert_array_max_ulp(depths, np.maximum(far - np.float32(loose), np.float32(0.0)), 1)
            compared += 1
            deep += int((depths > 2 * max(gx, gy)).sum())
    assert compared > 4 * left_out and deep > 20 * compared


@settings(max_examples=150, deadline=None)
@given(st.integers(1, 40), st.integers(1, 40), st.sampled_from((0.0, 0.02, 0.1, 0.4)),
       st.floats(1.0, 20.0), st.floats(1.0, 20.0), st.integers(0, 2**32))
def test_depth_is_the_distance_to_the_nearest_free_place(columns, rows, free, gx, gy, seed):
    chance = np.random.default_rng(seed)
    blocked = chance.random((columns, rows)) >= free
    steps = 3 * np.diff(np.pad(blocked.astype(np.int32), ((0, 0), (1, 1))), axis=1)  # as if three pairs of parts met
    depths = np.full((columns, rows), np.nan, dtype=np.float32)
    _deepen(steps, (gx, gy), np.float32(0.7), depths)
    far = distance_transform_edt(np.pad(blocked, 1), sampling=(gx, gy))[1:-1, 1:-1].astype(np.float32)
    np.testing.assert_array_max_ulp(depths, np.maximum(far - np.float32(0.7), np.float32(0.0)), 1)


@given(st.integers(1, 19), st.integers(1, 19), st.integers(0, 2**32))
def test_least_depths_of_blocks_are_those_written_out(columns, rows, seed):
    depths = np.random.default_rng(seed).random((columns, rows), dtype=np.float32)
    expected = least_of_blocks(depths)
    lows = np.full(expected.shape, np.nan, dtype=np.float32)
    _least(depths, BLOCK, lows)
    assert np.array_equal(lows, expected)


def test_pairs_that_look_alike_share_a_map_and_its_least_depths():
    four = (Pose(), Pose(180.0), Pose(0.0, True), Pose(180.0, True))
    lattice = Lattice(Problem(260.0, (Item("comb", COMB, 2, four), Item("spike", SPIKE, 1, four))), 8.3, 1.0)
    for owner in range(8):
        for seat in range(8):
            lattice.bring(owner, seat)
    entries = lattice.book.reshape(-1, 8)
    assert len(set(entries[:, START].tolist())) == 4 * 3  # of two items 3 pairs, and 4 ways of one to lie to the other
    for entry in entries:
        size = entry[COLUMNS] * entry[ROWS]
        expected = least_of_blocks(lattice.pool[entry[START]:entry[START] + size].reshape(entry[COLUMNS], entry[ROWS]))
        assert np.array_equal(lattice.lows[entry[LOWS]:entry[LOWS] + expected.size], expected.ravel())


def test_depths_stay_while_room_is_made_for_more_whoever_looks_at_them(monkeypatch):
    monkeypatch.setattr(rasters, "POOL", 4)
    chance, pool, kept, seen = random.Random(2), rasters._Pool(), [], []
    for step in range(60):
        count = chance.randrange(1, 60)
        start = pool.more(count)
        assert start == len(kept)
        kept += [np.float32(chance.random()) for _ in range(count)]
        pool.values[start:pool.used] = kept[start:]
        if step % 7 == 0:
            seen.append((pool.values[:pool.used], list(kept)))  # a look at all of them, kept beyond the next growth
    assert pool.used == len(kept) and pool.values[:pool.used].tolist() == kept
    assert all(view.tolist() == then for view, then in seen)


def test_what_draws_maps_is_compiled_before_the_clock_starts(monkeypatch):
    """Compiled code is made for types: a search must ask for the same ones as was made ready."""
    asked: set[tuple] = set()
    monkeypatch.setattr(rasters, "draw", lambda *given: asked.add(tuple(map(typeof, given))) or draw(*given))
    ready.__wrapped__()
    made = set(asked)
    asked.clear()
    for problem in (PLAIN, CHECKED, PINNED):
        lattice = Lattice(problem, 20, 1)
        for owner in range(len(lattice.book)):
            lattice.bring(owner, 0)
    assert len(made) == 1 and asked == made
