"""Maps of depth, compiled: drawn from the convex parts of two outlines straight into the pools of the search.

A lay of many different pieces wants thousands of maps before its search can begin, so their quickness decides how much
of a short search is left for searching. A map is drawn in three steps:

- every pair of parts blocks a run of rows in each column: between the highest of the sides below and the lowest above;
- how far each blocked place lies from the nearest free one: first along its row, then, for all rows of a run at once,
  by the lower envelope of one parabola for each (A. Meijster and others, 2000; P. F. Felzenszwalb and D. P.
  Huttenlocher, 2012; from memory), exact and in time proportional to the places;
- the least depth in each block of places that meets the map, wherever the block begins; beyond its edges it is 0.

All of it is in one module, as compiled code that was kept is not made anew when another module changes; for the same
reason what other modules settle, such as the size of a block, is handed in.
"""

from __future__ import annotations

from math import ceil, floor, sqrt

import numpy as np

from toilewright.packing.compiled import compiled

STEEP = 1e-9
"""Sides whose unit normal has less than this across the strip bound no run of rows."""

NEARLY = 1e-6
"""Rows by which a place may lie inside an edge and is free all the same."""


@compiled
def draw(one, other, off, pitch, first, hair, loose, block, depths, lows):
    """Draw the map of `other` against `one`.

    Args:
        one, other: shapes as :attr:`toilewright.packing.nofit.Shape.plain` has them.
        off: x and y between the two in column 0, row 0 (mm).
        pitch: between columns, between rows (mm).
        first: first column and row of the map.
        hair: columns end this much before the edge of a pair of parts (mm).
        loose: depth that counts as none (mm).
        block: places along each edge of a block.
        depths: to be filled [column, row] (mm).
        lows: to be filled with least depths [column modulo block, row modulo block, column // block, row // block]: the
            block ends in that column and row. A move wants every block-th of both, and so finds them side by side.
    """
    columns, rows = depths.shape
    steps = np.zeros((columns, rows + 1), dtype=np.int32)
    _block(one, other, off, pitch, first, hair, steps)
    _deepen(steps, pitch, loose, depths)
    _least(depths, block, lows)


@compiled
def _block(one, other, off, pitch, first, hair, steps):
    """Enter where each run of blocked rows begins (+1) and where it has ended (-1)."""
    corners_a, sides_a, starts_a, bounds_a = one
    corners_b, sides_b, starts_b, bounds_b = other
    columns, rows = steps.shape[0], steps.shape[1] - 1
    bottom = off[1] + first[1] * pitch[1]
    x = np.empty(columns)
    for c in range(columns):
        x[c] = (first[0] + c) * pitch[0] + off[0]
    low, high = np.empty(columns), np.empty(columns)  # in rows of the map
    for p in range(len(starts_a) - 1):
        for q in range(len(starts_b) - 1):
            left, right = bounds_a[p, 0] - bounds_b[q, 1] + hair, bounds_a[p, 1] - bounds_b[q, 0] - hair
            begin, end = _columns(left, right, x, pitch[0])
            if begin >= end:
                continue
            low[begin:end], high[begin:end] = -1.0, rows
            for i in range(starts_a[p], starts_a[p + 1]):
                nx, ny, reach = sides_a[i, 0], sides_a[i, 1], sides_a[i, 2]
                reach += _support(-nx, -ny, corners_b, starts_b[q], starts_b[q + 1])
                _cut(nx, ny * pitch[1], reach - ny * bottom, x, begin, end, low, high)
            for j in range(starts_b[q], starts_b[q + 1]):
                nx, ny, reach = sides_b[j, 0], sides_b[j, 1], sides_b[j, 2]
                reach += _support(-nx, -ny, corners_a, starts_a[p], starts_a[p + 1])
                _cut(-nx, -ny * pitch[1], reach + ny * bottom, x, begin, end, low, high)
            for c in range(np.uintp(begin), np.uintp(end)):
                a, b = floor(low[c] + NEARLY) + 1, ceil(high[c] - NEARLY)
                if b > a:
                    steps[c, a] += 1
                    steps[c, b] -= 1


@compiled
def _columns(left, right, x, pitch):
    """From which column on, and before which, x lies between the two."""
    begin = min(max(floor((left - x[0]) / pitch), 0), len(x))
    while begin < len(x) and x[begin] <= left:
        begin += 1
    end = min(max(ceil((right - x[0]) / pitch) + 1, begin), len(x))
    while end > begin and x[end - 1] >= right:
        end -= 1
    return begin, end


@compiled
def _support(nx, ny, corners, start, end):
    """How far a part reaches along a direction (mm)."""
    most = -np.inf
    for k in range(start, end):
        most = max(most, nx * corners[k, 0] + ny * corners[k, 1])
    return most


@compiled
def _cut(nx, ny, reach, x, begin, end, low, high):
    """A half plane cut off the runs of all columns; `ny` for each row.

    Counted without a sign: only then does the compiler make vector code.
    """
    begin, end = np.uintp(begin), np.uintp(end)
    if ny < -STEEP:
        slope, height = -nx / ny, reach / ny
        for c in range(begin, end):
            y = slope * x[c] + height
            low[c] = y if y > low[c] else low[c]
    elif ny > STEEP:
        slope, height = -nx / ny, reach / ny
        for c in range(begin, end):
            y = slope * x[c] + height
            high[c] = y if y < high[c] else high[c]


@compiled
def _deepen(steps, pitch, loose, depths):
    """From runs to depths: how far each blocked place lies from the nearest free one; beyond the map all is free."""
    columns, rows = depths.shape
    across = np.zeros((columns + 2, rows), dtype=np.int32)  # columns to the nearest free place of the row
    for c in range(columns):
        many = 0
        for r in range(rows):
            many += steps[c, r]
            across[c + 1, r] = across[c, r] + 1 if many > 0 else 0
    square = np.zeros(rows + 2)  # of the distance along the row; the first and the last lie beyond the map
    best = np.empty(rows + 2)  # the same along any way
    halves = np.ones(rows + 2)
    for k in range(1, rows + 2):
        halves[k] = 0.5 / (k * pitch[1] * pitch[1])
    envelope = np.empty(rows + 2, dtype=np.int64), np.empty(rows + 2), np.empty(rows + 3)
    for c in range(columns, 0, -1):
        for r in range(np.uintp(rows)):
            near = min(across[c, r], across[c + 1, r] + 1)
            across[c, r] = near
            square[r + np.uintp(1)] = (near * pitch[0]) * (near * pitch[0])
            best[r + np.uintp(1)] = square[r + np.uintp(1)]
        r = 1
        while r <= rows:
            start = r
            while square[r] > 0.0:
                r += 1
            if r > start:
                _nearer(start, r, square, pitch[1], halves, envelope, best)
            r += 1
        for r in range(np.uintp(rows)):
            deep = np.float32(sqrt(best[r + np.uintp(1)])) - loose
            depths[c - 1, r] = deep if deep > np.float32(0.0) else np.float32(0.0)


@compiled
def _nearer(start, end, square, pitch, halves, envelope, best):
    """In a run of blocked rows of a column, squares of distances over all its rows, and the free ones at both ends.

    Args:
        square: of the distance along the row.
        halves: half of one over the square of the pitch, for each number of rows divided by it.
        envelope: room for the rows whose parabolas are lowest somewhere, their squares, and where each begins to be.
    """
    owner, height, since = envelope
    last, top = np.uintp(0), start - 1
    owner[last], height[last], since[last] = top, 0.0, -np.inf
    for r in range(start, end + 1):
        here = square[np.uintp(r)]
        while True:
            meet = 0.5 * (r + top) + (here - height[last]) * halves[np.uintp(r - top)]
            if meet > since[last]:
                break
            last -= np.uintp(1)
            top = owner[last]
        if meet < end:
            last += np.uintp(1)
            top = r
            owner[last], height[last], since[last] = r, here, meet
    since[last + np.uintp(1)] = np.inf
    k = np.uintp(0)
    for r in range(start, end):
        while since[k + np.uintp(1)] < r:
            k += np.uintp(1)
        far = (r - owner[k]) * pitch
        best[np.uintp(r)] = height[k] + far * far


@compiled
def _least(depths, block, lows):
    """The least depths of blocks of two places or more: none is deep that reaches beyond the map."""
    columns, rows = depths.shape
    lows[:] = np.float32(0.0)
    if rows < block:
        return
    wide = np.empty(rows, dtype=np.float32)  # least of as many columns as a block has
    low = np.zeros(lows.shape[3] * block, dtype=np.float32)
    every, many = np.uintp(block), np.uintp(rows)
    for c in range(block - 1, columns):
        for r in range(many):
            one, other = depths[c, r], depths[c - 1, r]
            wide[r] = one if one < other else other
        for n in range(2, block):
            for r in range(many):
                deep = depths[c - n, r]
                wide[r] = deep if deep < wide[r] else wide[r]
        for r in range(every - np.uintp(1), many):
            one, other = wide[r], wide[r - np.uintp(1)]
            low[r] = one if one < other else other
        for n in range(np.uintp(2), every):
            for r in range(every - np.uintp(1), many):
                deep = wide[r - n]
                low[r] = deep if deep < low[r] else low[r]
        for m in range(every):
            for k in range(np.uintp(lows.shape[3])):
                lows[c % block, m, c // block, k] = low[k * every + m]
