"""How deep one outline lies in another, for every displacement on a lattice: the map behind the guided search.

Whether two outlines overlap at a displacement of the lattice is settled exactly, from the no-fit region; how deep, by
the distance to the nearest displacement that is free (T. Imamichi, M. Yagiura and H. Nagamochi, 2009, measure the
penetration depth; A. K. Sato and others, 2019, look it up in raster maps; M. O. Mundim, L. R. Andretta and F. M. B.
Toledo, 2017, search no-fit rasters; all from memory). :mod:`depths` draws the maps; here is kept which pairs have
one, and which pairs, turned or mirrored, share it.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor, prod

import numpy as np

from toilewright.packing.depths import draw
from toilewright.packing.nofit import HAIR, Shape, forbidden_shapes, item_shape
from toilewright.packing.problem import Pose, Problem
from toilewright.packing.room import Room, rooms
from toilewright.packing.weighing import BLOCK

POOL = 1 << 18
"""Depths for which there is room at first."""

_AS_IT_IS, _MIRRORED, _TURNED = 0, 1, 2
"""What is done to both of a pair, or 3 for mirrored and turned by half."""


@dataclass(frozen=True, slots=True)
class Seat:
    """One pose of one item on the lattice.

    Attributes:
        room: where it may lie.
        off: what its places on the lattice lack of its true ones (mm).
        rows: first and last row.
        column: first column.
        stride: every how many columns and rows it may lie, and the first of them.
    """

    room: Room
    off: complex
    rows: tuple[int, int]
    column: int
    stride: tuple[tuple[int, int], tuple[int, int]]


class Lattice:
    """Places `pitch[0]` mm apart along the strip and `pitch[1]` across, and the depths of all pairs of poses on it.

    Attributes:
        seats: for each item its poses; `every` the same, one after the other, by which they are numbered.
        still: what is forbidden, numbered behind them.
        book, pool, lows: the maps, as :mod:`weighing` has them; built when :meth:`bring` is asked for them.
    """

    def __init__(self, problem: Problem, pitch: float, loose: float) -> None:
        """Build the lattice.

        Args:
            pitch: about how far apart places are (mm).
            loose: depth that counts as none (mm); the exact squeeze that follows takes it out again.
        """
        self.problem, self.loose = problem, loose
        self.pitch = (_fitting(pitch, [i.beat_x.pitch for i in problem.items if i.beat_x is not None]),
                      _fitting(pitch, [i.beat_y.pitch for i in problem.items if i.beat_y is not None]))
        self.seats = [tuple(self._seat(room) for room in rooms(problem, i)) for i in range(len(problem.items))]
        self.every = [seat for seats in self.seats for seat in seats]
        self.still = forbidden_shapes(problem)
        self.book = np.full((len(self.every) + len(self.still), len(self.every), 8), -1, dtype=np.int64)
        self._pool, self._lows = _Pool(), _Pool()
        self._sides = _Sides()
        self._numbers = [self._sides.number(s.room.item, s.room.pose) for s in self.every]
        self._numbers += [self._sides.number(-1 - k, Pose()) for k in range(len(self.still))]
        self._shapes: dict[int, Shape] = {}
        self._known: dict[tuple[int, int, complex], tuple[int, ...]] = {}

    @property
    def pool(self) -> np.ndarray:
        """All depths (mm)."""
        return self._pool.values

    @property
    def lows(self) -> np.ndarray:
        """Their least depths (mm)."""
        return self._lows.values

    def _seat(self, room: Room) -> Seat:
        gx, gy = self.pitch
        x = room.beat_x[0] % gx if room.beat_x is not None else 0.0
        y = room.beat_y[0] % gy if room.beat_y is not None else room.low % gy if room.low == room.high else 0.0
        low, high = ceil((room.low - y) / gy - 1e-6), floor((room.high - y) / gy + 1e-6)
        if low > high:  # less room than a row: its lower edge, exactly
            y, low, high = room.low % gy, floor(room.low / gy), floor(room.low / gy)
        strides = []
        for beat, off, g in ((room.beat_x, x, gx), (room.beat_y, y, gy)):
            every = 1 if beat is None else round(beat[1] / g)
            strides.append((every, 0 if beat is None else round((beat[0] - off) / g) % every))
        return Seat(room, complex(x, y), (low, high), ceil((room.left - x) / gx - 1e-6), (strides[0], strides[1]))

    def last_column(self, seat: Seat, length: float) -> int:
        """The last column in which it still ends within `length` (mm)."""
        return floor((min(length - seat.room.shape.right, seat.room.right) - seat.off.real) / self.pitch[0] + 1e-6)

    def place(self, seat: Seat, column: int, row: int) -> complex:
        """Where the origin lies (mm)."""
        y = row * self.pitch[1] + seat.off.imag
        if seat.room.low == seat.room.high:
            y = seat.room.low
        return complex(column * self.pitch[0] + seat.off.real, y)

    def nearest(self, seat: Seat, at: complex) -> tuple[int, int]:
        """Column and row nearest to a place."""
        found = []
        for value, g, (every, first) in ((at.real - seat.off.real, self.pitch[0], seat.stride[0]),
                                         (at.imag - seat.off.imag, self.pitch[1], seat.stride[1])):
            found.append(round((value / g - first) / every) * every + first)
        return max(found[0], seat.column), min(max(found[1], seat.rows[0]), seat.rows[1])

    def bring(self, owner: int, seat: int) -> bool:
        """Enter the map of a pair into the book; had it to be built? Not where one shows it turned or mirrored."""
        one, other, off, done = self._numbers[owner], self._numbers[seat], self.every[seat].off, _AS_IT_IS
        if owner < len(self.every):
            one, other, off, done = self._sides.likened(one, other, off - self.every[owner].off)
        entry = self._known.get((one, other, off))
        built = entry is None
        if entry is None:
            entry = self._known[one, other, off] = self._drawn(self._shape(one), self._shape(other), off)
            if owner < len(self.every):
                *back, undone = self._sides.likened(other, one, -off)
                self._known.setdefault(tuple(back), _flipped(_flipped(entry, _TURNED), undone))
        self.book[owner, seat] = _flipped(entry, done)
        return built

    def _shape(self, number: int) -> Shape:
        if number not in self._shapes:
            item, pose = self._sides.every[number]
            self._shapes[number] = item_shape(self.problem, item, pose) if item >= 0 else self.still[-item - 1]
        return self._shapes[number]

    def _drawn(self, a: Shape, b: Shape, off: complex) -> tuple[int, ...]:
        """Draw the map of `b` against `a` behind all others; what stands in the book for it."""
        (left, right, low, high), (b_left, b_right, b_low, b_high) = a.box, b.box
        first_column, columns = _span(left - b_right, right - b_left, off.real, self.pitch[0])
        first_row, rows = _span(low - b_high, high - b_low, off.imag, self.pitch[1])
        blocks = BLOCK, BLOCK, -(-(columns + BLOCK - 1) // BLOCK), -(-(rows + BLOCK - 1) // BLOCK)
        start, at = self._pool.more(columns * rows), self._lows.more(prod(blocks))
        draw(a.plain, b.plain, (off.real, off.imag), self.pitch, (first_column, first_row), HAIR,
             np.float32(self.loose), BLOCK, self.pool[start:self._pool.used].reshape(columns, rows),
             self.lows[at:self._lows.used].reshape(blocks))
        return start, 0, 0, first_column, first_row, columns, rows, at


class _Pool:
    """Numbers one behind the other, more and more of them.

    Attributes:
        values: those in use, and behind them room in which anything may stand.
        used: how many.
    """

    def __init__(self) -> None:
        self.values, self.used = np.empty(POOL, dtype=np.float32), 0

    def more(self, count: int) -> int:
        """Use so many more; where they begin."""
        start = self.used
        self.used += count
        if self.used > len(self.values):
            size = max(self.used, len(self.values) * 3 // 2)
            try:
                self.values.resize(size)  # hundreds of megabytes in a large lay: most systems move them without a copy
            except ValueError:  # somebody is looking at them
                kept, self.values = self.values, np.empty(size, dtype=np.float32)
                self.values[:start] = kept[:start]
        return start


class _Sides:
    """Items in their poses, by numbers: tens of thousands of pairs are likened, and poses are slow to compare.

    Attributes:
        every: by number the item, or -1, -2, ... for what is forbidden, and its pose.
    """

    def __init__(self) -> None:
        self.every: list[tuple[int, Pose]] = []
        self._number: dict[tuple[int, Pose], int] = {}
        self._ways: list[tuple[int, ...]] = []  # by number, its number when that is done to it
        self._like: list[int] = []  # by number, what is to be done so that it is neither mirrored nor turned by half

    def number(self, item: int, pose: Pose) -> int:
        """Its number; where it has none it gets one, and with it the same mirrored, turned by half, and both."""
        if (item, pose) not in self._number:
            first = len(self.every)
            for k, p in enumerate((pose, _mirrored(pose), _turned(pose), _turned(_mirrored(pose)))):
                self._number[item, p] = first + k
                self.every.append((item, p))
                self._ways.append(tuple(first + (k ^ done) for done in range(4)))
                self._like.append((_MIRRORED if p.mirrored else 0) | (_TURNED if p.turn == 180.0 else 0))
        return self._number[item, pose]

    def likened(self, one: int, other: int, off: complex) -> tuple[int, int, complex, int]:
        """A pair as it is with the first neither mirrored nor turned by half, and what was done to both for that."""
        done = self._like[one]
        if done & _MIRRORED:
            off = off.conjugate()
        if done & _TURNED:
            off = -off
        return self._ways[one][done], self._ways[other][done], off, done


def _mirrored(pose: Pose) -> Pose:
    return Pose(-pose.turn % 360.0, not pose.mirrored)


def _turned(pose: Pose) -> Pose:
    return Pose((pose.turn + 180.0) % 360.0, pose.mirrored)


def _span(low: float, high: float, off: float, pitch: float) -> tuple[int, int]:
    """The first of the places that hold all between the two, and how many they are."""
    first = floor((low - off) / pitch)
    return first, ceil((high - off) / pitch) - first + 1


def _flipped(entry: tuple[int, ...], done: int) -> tuple[int, ...]:
    """A map in the book as it is when that was done to both of the pair."""
    start, back, down, column, row, columns, rows, lows = entry
    if done & _TURNED:
        back, column = 1 - back, -(column + columns - 1)
    if done in (_MIRRORED, _TURNED):
        down, row = 1 - down, -(row + rows - 1)
    return start, back, down, column, row, columns, rows, lows


def _fitting(pitch: float, beats: list[float]) -> float:
    """A pitch near the wanted one that goes into the first repeat without a rest."""
    return float(beats[0] / max(1, round(beats[0] / pitch)) if beats else pitch)  # compiled code has types
