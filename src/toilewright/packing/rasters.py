"""How deep one outline lies in another, for every displacement on a lattice: the map behind the guided search.

Whether two outlines overlap at a displacement of the lattice is settled exactly, from the no-fit region; how deep, by
the distance to the nearest displacement that is free (T. Imamichi, M. Yagiura and H. Nagamochi, 2009, measure the
penetration depth; A. K. Sato and others, 2019, look it up in raster maps; M. O. Mundim, L. R. Andretta and F. M. B.
Toledo, 2017, search no-fit rasters; all from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor

import numpy as np

from toilewright.packing.nofit import NoFit, Shape, forbidden_shapes, item_shape
from toilewright.packing.problem import Pose, Problem
from toilewright.packing.room import Room, rooms
from toilewright.packing.weighing import least_of_blocks

POOL = 1 << 18
"""Depths for which there is room at first."""


_Side = tuple[int, Pose]
"""One of a pair: its item, or -1, -2, ... for what is forbidden; its pose."""

_Flips = tuple[bool, bool]
"""Is the sense of the columns, of the rows turned round?"""

_AS_IT_IS, _TURNED, _MIRRORED = (False, False), (True, True), (False, True)


@dataclass(frozen=True, slots=True)
class Depths:
    """Depth (mm) by displacement: `map[k - first[0], l - first[1]]` for k columns and l rows; 0 beyond."""

    first: tuple[int, int]
    map: np.ndarray


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
        self.pool, self._used = np.zeros(POOL, dtype=np.float32), 0
        self.lows, self._used_lows = np.zeros(POOL, dtype=np.float32), 0
        self._known: dict[tuple[_Side, _Side, complex], tuple[int, ...]] = {}

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

    def bring(self, owner: int, seat: int) -> None:
        """Enter the map of a pair into the book; builds it, unless one is there that shows it turned or mirrored."""
        if owner >= len(self.every):
            one, other = (len(self.every) - owner - 1, Pose()), self._side(seat)
            turn, off = _AS_IT_IS, self.every[seat].off
        else:
            one, other = self._side(owner), self._side(seat)
            off = self.every[seat].off - self.every[owner].off
            one, other, off, turn = _likened(one, other, off)
        if (one, other, off) not in self._known:
            entry = self._entered(self._built(self._shape(one), self._shape(other), off))
            self._known[one, other, off] = entry
            if one[0] >= 0:
                back = _likened(other, one, -off)
                self._known.setdefault(back[:3], _flipped(_flipped(entry, _TURNED), back[3]))
        self.book[owner, seat] = _flipped(self._known[one, other, off], turn)

    def _side(self, seat: int) -> _Side:
        room = self.every[seat].room
        return room.item, room.pose

    def _shape(self, side: _Side) -> Shape:
        item, pose = side
        return item_shape(self.problem, item, pose) if item >= 0 else self.still[-item - 1]

    def _entered(self, depths: Depths) -> tuple[int, ...]:
        lows = least_of_blocks(depths.map)
        start, at = self._used, self._used_lows
        self.pool, self._used = _appended(self.pool, start, depths.map)
        self.lows, self._used_lows = _appended(self.lows, at, lows)
        return (start, 0, 0, *depths.first, *depths.map.shape, at)

    def _built(self, a: Shape, b: Shape, off: complex) -> Depths:
        region = NoFit(a, b)
        gx, gy = self.pitch
        k0, k1 = floor((region.left - off.real) / gx), ceil((region.right - off.real) / gx)
        l0, l1 = floor((region.low - off.imag) / gy), ceil((region.high - off.imag) / gy)
        columns, rows = k1 - k0 + 1, l1 - l0 + 1
        column, low, high = region.intervals(np.arange(k0, k1 + 1) * gx + off.real)
        first = np.floor((low - off.imag) / gy + 1e-6).astype(int) + 1 - l0
        last = np.ceil((high - off.imag) / gy - 1e-6).astype(int) - l0
        keep = last > first
        steps = np.bincount((column * (rows + 1) + first)[keep], minlength=columns * (rows + 1))
        steps -= np.bincount((column * (rows + 1) + last)[keep], minlength=columns * (rows + 1))
        blocked = np.cumsum(steps.reshape(columns, rows + 1), axis=1)[:, :rows] > 0
        return Depths((k0, l0), _depth(blocked, self.pitch, self.loose))


def _appended(pool: np.ndarray, used: int, values: np.ndarray) -> tuple[np.ndarray, int]:
    """The pool, larger where need be, with these behind what is used of it."""
    end = used + values.size
    if end > len(pool):
        pool = np.concatenate((pool[:used], np.zeros(max(used, values.size, POOL), dtype=pool.dtype)))
    pool[used:end] = values.ravel()
    return pool, end


def _depth(blocked: np.ndarray, pitch: tuple[float, float], loose: float) -> np.ndarray:
    from scipy.ndimage import distance_transform_edt

    padded = np.pad(blocked, 1)
    deep = distance_transform_edt(padded, sampling=pitch)[1:-1, 1:-1].astype(np.float32)
    return np.maximum(deep - np.float32(loose), 0.0)


def _likened(one: _Side, other: _Side, off: complex) -> tuple[_Side, _Side, complex, _Flips]:
    """A pair as it is with the first neither mirrored nor turned by half, and how its map is to be flipped for that."""
    flips = _AS_IT_IS
    if one[1].mirrored:
        one, other = ((item, Pose(-pose.turn % 360.0, not pose.mirrored)) for item, pose in (one, other))
        off, flips = off.conjugate(), _MIRRORED
    if one[1].turn == 180.0:
        one, other = ((item, Pose((pose.turn + 180.0) % 360.0, pose.mirrored)) for item, pose in (one, other))
        off, flips = -off, (not flips[0], not flips[1])
    return one, other, off, flips


def _flipped(entry: tuple[int, ...], flips: _Flips) -> tuple[int, ...]:
    """A map in the book with the sense of its columns or rows turned round."""
    start, back, down, column, row, columns, rows, lows = entry
    if flips[0]:
        back, column = 1 - back, -(column + columns - 1)
    if flips[1]:
        down, row = 1 - down, -(row + rows - 1)
    return start, back, down, column, row, columns, rows, lows


def _fitting(pitch: float, beats: list[float]) -> float:
    """A pitch near the wanted one that goes into the first repeat without a rest."""
    return beats[0] / max(1, round(beats[0] / pitch)) if beats else pitch
