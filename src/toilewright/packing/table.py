"""Where everything lies on the lattice, how deep each pair overlaps, and where a piece would be least in the way."""

from __future__ import annotations

import random
from collections.abc import Callable

import numpy as np

from toilewright.packing.nofit import Shape
from toilewright.packing.problem import Placed
from toilewright.packing.rasters import Lattice, Seat
from toilewright.packing.weighing import (
    BUSY,
    HIGH,
    LACKING,
    LAST,
    LEAST,
    LEFT,
    LOW,
    SHIFT,
    lacking,
    lacking_near,
    measure,
    settle,
)

QUOTA = 4e6
"""Bounds added between two looks at whether it is time to end: a few milliseconds."""

A_MAP, AN_ENTRY = 0.3e6, 0.005e6
"""Bounds in whose time a map is built, and in which an earlier one is entered once more (our own measurement)."""

Spent = Callable[[float], bool]
"""Told of work done, in bounds added (see :mod:`weighing`): is it time to end?"""

FORBIDDEN = 3.0
"""What is forbidden weighs so much more than another piece: it will not move away."""


class TimeToEnd(Exception):
    """What may be spent is spent."""


class Table:
    """Things on a strip of a given length; they may overlap.

    Attributes:
        seat: for each thing the number of its seat, and `at` its column and row; behind them what is forbidden.
        depth: how deep each pair overlaps (mm), one more row for what is forbidden.
        weight: of each pair, raised while it stays in conflict.
    """

    def __init__(self, lattice: Lattice, placed: tuple[Placed, ...], spent: Spent) -> None:
        """The things are those of `placed`, in its order.

        Whatever takes long tells `spent` every few milliseconds, and raises TimeToEnd when that says so; things then
        lie anyhow.
        """
        self.lattice, self.spent = lattice, spent
        self.things = [(p.item, p.copy) for p in placed]
        n = self.count = len(placed)
        counts = [len(seats) for seats in lattice.seats]
        firsts = np.concatenate(([0], np.cumsum(counts)))
        self.first = np.array([firsts[item] for item, _ in self.things], dtype=np.int64)
        self.poses = np.array([counts[item] for item, _ in self.things], dtype=np.int64)
        self.seat = np.concatenate((self.first, len(lattice.every) + np.arange(len(lattice.still)))).astype(np.int64)
        self.at = np.zeros((len(self.seat), 2), dtype=np.int64)
        self.depth, self.weight = np.zeros((n + 1, n)), np.ones((n + 1, n))
        self.limits = np.zeros((len(lattice.every), 6), dtype=np.int64)
        self.room = np.zeros(0, dtype=np.float32)
        shapes = [(s.room.shape, s.off) for s in lattice.every] + [(still, 0j) for still in lattice.still]
        self.box = np.array([_box(shape, off) for shape, off in shapes])

    def put(self, placed: tuple[Placed, ...], length: float) -> None:
        """Everything as in a packing, pushed back into a strip of this length (mm); weights start anew."""
        self.weight[:] = 1.0
        self.weight[-1] = FORBIDDEN
        self._limit(length)
        order = {(p.item, p.copy): p for p in placed}
        for i, key in enumerate(self.things):
            p = order[key]
            seats = self.lattice.seats[p.item]
            self.seat[i] = self.first[i] + next(k for k, s in enumerate(seats) if s.room.pose == p.pose)
            self._sit(i, *self.lattice.nearest(self.here(i), p.at))
        self.measure()

    def _limit(self, length: float) -> None:
        """Where each seat may lie on a strip of this length."""
        for s, seat in enumerate(self.lattice.every):
            (every, first), (every_row, first_row) = seat.stride
            column, (low, high) = seat.column, seat.rows
            column += (first - column) % every
            low += (first_row - low) % every_row
            self.limits[s] = column, self.lattice.last_column(seat, length), low, high, every, every_row
        wide = ((self.limits[:, LAST] - self.limits[:, LEFT]) >> SHIFT) + 1
        high = ((self.limits[:, HIGH] - self.limits[:, LOW]) >> SHIFT) + 1
        most = int((np.maximum(wide, 0) * np.maximum(high, 0)).max())
        if most > len(self.room):
            self.room = np.zeros(most, dtype=np.float32)

    def here(self, thing: int) -> Seat:
        """The way in which it lies."""
        return self.lattice.every[self.seat[thing]]

    def _sit(self, i: int, column: int, row: int) -> None:
        """Put a thing down, within the strip."""
        first, last, _, _, every, _ = self.limits[self.seat[i]].tolist()
        self.at[i] = max(min(column, last - (last - first) % every), self.here(i).column), row

    def measure(self) -> None:
        """All depths anew."""
        for i in range(self.count):
            self._measure(i)

    def _measure(self, i: int) -> None:
        """The depths between a thing and all others."""
        self._bring(lacking_near, i, self.seat, self.at, self.box, self.lattice.pitch)
        measure(i, self.seat, self.at, self.depth, self.lattice.book, self.lattice.pool)

    def _bring(self, wanted: Callable[..., tuple[int, int]], *of: object) -> None:
        """Have every map at hand that `wanted`, asked `of` a thing, finds lacking in the book."""
        while (pair := wanted(*of, self.lattice.book))[0] >= 0:
            self._spend(A_MAP if self.lattice.bring(*pair) else AN_ENTRY)

    def _spend(self, work: float) -> None:
        if self.spent(work):
            raise TimeToEnd

    def settle(self, patience: int, near: float, chance: random.Random) -> float:
        """Things moved one by one until nothing overlaps or patience is at its end; as it was at the least overlap.

        Args:
            patience: rounds of raised weights without a lesser overlap, at an overlap of `near` (mm).

        Returns:
            That overlap (mm).
        """
        state = np.array([chance.getrandbits(64)], dtype=np.uint64)
        mind, queue = np.array([-1.0, 0.0, 0.0, 0.0]), np.zeros(self.count, dtype=np.int64)
        kept_seat, kept_at = self.seat.copy(), self.at.copy()
        while True:
            how, work, i = settle(QUOTA, patience, near, state, mind, queue, kept_seat, kept_at, self.first, self.poses,
                                  self.seat, self.at, self.depth, self.weight, self.limits, self.lattice.book,
                                  self.lattice.pool, self.lattice.lows, self.room)
            self._spend(work)
            if how == LACKING:
                self._bring(lacking, i, int(self.first[i]), int(self.poses[i]), self.seat)
            elif how != BUSY:
                break
        self.seat[:], self.at[:] = kept_seat, kept_at
        self.measure()
        return float(mind[LEAST])

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
        self.seat[i] = self.first[i] + chance.randrange(int(self.poses[i]))
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


def _box(shape: Shape, off: complex) -> tuple[float, float, float, float]:
    """Least and greatest x and y of an outline as the maps take it, a little larger than it is (mm)."""
    (x0, y0), (x1, y1) = shape.bounds[0].min(axis=0), shape.bounds[1].max(axis=0)
    return x0 + off.real, x1 + off.real, y0 + off.imag, y1 + off.imag
