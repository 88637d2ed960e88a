"""Where everything lies on the lattice, how deep each pair overlaps, and where a piece would be least in the way."""

from __future__ import annotations

import random

import numpy as np

from toilewright.packing.problem import Placed
from toilewright.packing.rasters import Depths, Lattice, Seat

FORBIDDEN = 3.0
"""What is forbidden weighs so much more than another piece: it will not move away."""


class Table:
    """Things on a strip of a given length; they may overlap.

    Attributes:
        seat: for each thing which of its poses, and `at` its column and row.
        depth: how deep each pair overlaps (mm), one more row for what is forbidden.
        weight: of each pair, raised while it stays in conflict.
    """

    def __init__(self, lattice: Lattice, placed: tuple[Placed, ...]) -> None:
        """The things are those of `placed`, in its order."""
        self.lattice = lattice
        self.things = [(p.item, p.copy) for p in placed]
        n = self.count = len(placed)
        self.seat = [0] * n
        self.at = np.zeros((n, 2), dtype=int)
        self.depth, self.weight = np.zeros((n + 1, n)), np.ones((n + 1, n))
        self.last: list[list[int]] = []

    def put(self, placed: tuple[Placed, ...], length: float) -> None:
        """Everything as in a packing, pushed back into a strip of this length (mm); weights start anew."""
        self.weight[:] = 1.0
        self.weight[-1] = FORBIDDEN
        self.last = [[self.lattice.last_column(s, length) for s in seats] for seats in self.lattice.seats]
        order = {(p.item, p.copy): p for p in placed}
        for i, key in enumerate(self.things):
            p, seats = order[key], self.seats(i)
            self.seat[i] = next(k for k, s in enumerate(seats) if s.room.pose == p.pose)
            self._sit(i, *self.lattice.nearest(seats[self.seat[i]], p.at))
        self.measure()

    def seats(self, thing: int) -> tuple[Seat, ...]:
        """The ways in which a thing may lie."""
        return self.lattice.seats[self.things[thing][0]]

    def here(self, thing: int) -> Seat:
        """The way in which it lies."""
        return self.seats(thing)[self.seat[thing]]

    def _sit(self, i: int, column: int, row: int) -> None:
        """Put a thing down, within the strip."""
        seat = self.here(i)
        every, first = seat.stride[0]
        last = self.last[self.things[i][0]][self.seat[i]]
        last -= (last - first) % every
        self.at[i] = max(min(column, last), seat.column), row

    def measure(self) -> None:
        """All depths anew."""
        for i in range(self.count):
            self._measure(i)

    def _measure(self, i: int) -> None:
        """The depths between a thing and all others."""
        seat, (c, r) = self.here(i), self.at[i].tolist()
        for j in range(self.count):
            if j != i:
                cj, rj = self.at[j].tolist()
                self.depth[i, j] = self.depth[j, i] = _at(self.lattice.depths(self.here(j), seat), c - cj, r - rj)
        self.depth[-1, i] = sum(_at(self.lattice.in_the_way(k, seat), c, r) for k in range(len(self.lattice.still)))

    def kept(self) -> tuple[list[int], np.ndarray]:
        """Where everything lies, for :meth:`restore`."""
        return list(self.seat), self.at.copy()

    def restore(self, kept: tuple[list[int], np.ndarray]) -> None:
        """Everything back to where it lay."""
        self.seat, self.at = list(kept[0]), kept[1].copy()
        self.measure()

    def overlap(self) -> float:
        """Sum of all depths (mm)."""
        return float(np.triu(self.depth[:-1]).sum() + self.depth[-1].sum())

    def in_conflict(self) -> list[int]:
        """The things that overlap anything."""
        return np.flatnonzero(self.depth.sum(axis=0) > 0.0).tolist()

    def raise_weights(self) -> None:
        """Pairs in conflict count more, the deepest most."""
        deepest = float(self.depth.max())
        if deepest > 0.0:
            self.weight += self.depth / deepest

    def improve(self, i: int, chance: random.Random) -> float:
        """Put a thing where it is least in the way, whichever way round; returns the places weighed."""
        now = float((self.weight[:, i] * self.depth[:, i]).sum())
        best, work = (now, None), 0.0
        order = list(range(len(self.seats(i))))
        chance.shuffle(order)
        for k in order:
            cost, place, places = self._best_place(i, k, best[0], chance)
            work += places
            if place is not None and cost < best[0] - 1e-9:
                best = cost, (k, *place)
        if best[1] is not None:
            self.seat[i], self.at[i] = best[1][0], best[1][1:]
            self._measure(i)
        return work

    def _best_place(self, i: int, k: int, under: float, chance: random.Random
                    ) -> tuple[float, tuple[int, int] | None, float]:
        """The place with the least weighted depth in one pose: cost, (column, row), places weighed."""
        seat = self.seats(i)[k]
        (every, first), (every_row, first_row) = seat.stride
        c0, c1 = seat.column, self.last[self.things[i][0]][k]
        r0, r1 = seat.rows
        c0 += (first - c0) % every
        r0 += (first_row - r0) % every_row
        if c1 < c0 or r1 < r0:
            return under, None, 0.0
        cost = np.zeros((c1 - c0 + 1, r1 - r0 + 1), dtype=np.float32)
        work = float(cost.size)
        for j in range(self.count):
            if j != i:
                depths = self.lattice.depths(self.here(j), seat)
                work += _add(cost, depths, self.at[j, 0] - c0, self.at[j, 1] - r0, self.weight[j, i])
        for which in range(len(self.lattice.still)):
            work += _add(cost, self.lattice.in_the_way(which, seat), -c0, -r0, self.weight[-1, i])
        cost = cost[::every, ::every_row]
        least = float(cost.min())
        if least >= under:
            return least, None, work
        free = np.flatnonzero(cost <= least + 1e-6)
        pick = int(free[0] if least > 0.0 or chance.random() < 0.5 else free[int(chance.random() * len(free))])
        column, row = divmod(pick, cost.shape[1])
        return least, (c0 + column * every, r0 + row * every_row), work

    def swap(self, chance: random.Random) -> None:
        """Two things of different items change places, middle for middle."""
        for _ in range(10):
            i, j = chance.randrange(self.count), chance.randrange(self.count)
            if self.things[i][0] != self.things[j][0]:
                a, b = self._middle(i), self._middle(j)
                self._middle_at(i, b)
                self._middle_at(j, a)
                self.measure()
                return

    def toss(self, chance: random.Random) -> None:
        """A thing goes anywhere, any way round."""
        i = chance.randrange(self.count)
        self.seat[i] = chance.randrange(len(self.seats(i)))
        where = self._middle(chance.randrange(self.count))
        self._middle_at(i, where)
        self._measure(i)

    def _middle(self, i: int) -> complex:
        s = self.here(i).room.shape
        return self.lattice.place(self.here(i), *self.at[i].tolist()) + complex(s.left + s.right, s.low + s.high) / 2

    def _middle_at(self, i: int, middle: complex) -> None:
        s = self.here(i).room.shape
        self._sit(i, *self.lattice.nearest(self.here(i), middle - complex(s.left + s.right, s.low + s.high) / 2))

    def placed(self) -> tuple[Placed, ...]:
        """Everything as it lies."""
        return tuple(Placed(item, copy, self.here(i).room.pose, self.lattice.place(self.here(i), *self.at[i].tolist()))
                     for i, (item, copy) in enumerate(self.things))

    def reach(self) -> float:
        """Length of strip taken up (mm)."""
        return max(self.lattice.place(self.here(i), *self.at[i].tolist()).real + self.here(i).room.shape.right
                   for i in range(self.count))


def _at(depths: Depths, column: int, row: int) -> float:
    """The depth at a displacement."""
    c, r = column - depths.first[0], row - depths.first[1]
    columns, rows = depths.map.shape
    return float(depths.map[c, r]) if 0 <= c < columns and 0 <= r < rows else 0.0


def _add(cost: np.ndarray, depths: Depths, column: int, row: int, weight: float) -> float:
    """Add a map, its origin shifted to a place, where it lies over the other; returns how many places."""
    c, r = int(column) + depths.first[0], int(row) + depths.first[1]
    columns, rows = depths.map.shape
    a, b = max(c, 0), min(c + columns, cost.shape[0])
    p, q = max(r, 0), min(r + rows, cost.shape[1])
    if a >= b or p >= q:
        return 0.0
    cost[a:b, p:q] += np.float32(weight) * depths.map[a - c:b - c, p - r:q - r]
    return float((b - a) * (q - p))
