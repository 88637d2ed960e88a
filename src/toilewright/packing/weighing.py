"""The inner loops of the guided search, compiled: where one thing would be least in the way of all others.

A move weighs some hundred thousand places; called from Python piece by piece, array library or not, most of its time
would go into the calls. So whole moves are compiled (numba), over plain arrays:

- ``pool``: all maps of depth one after the other (mm, float32); ``book`` [owner, seat] says where the map of a pair
  starts (-1 while it is not built), whether its columns and its rows lie there in the opposite order, its first column
  and row, its columns and rows;
- ``limits`` [seat]: first and last column, first and last row, every how many columns and rows it may lie;
- ``seat``, ``at`` of the things and, behind them, of what is forbidden, which stays at 0;
- ``depth``, ``weight`` [thing or forbidden, thing].

Seats are numbered through, all poses of all items; what is forbidden is numbered behind them.
"""

from __future__ import annotations

import numpy as np

from toilewright.packing.compiled import compiled

START, BACK, DOWN, FIRST_COLUMN, FIRST_ROW, COLUMNS, ROWS = range(7)
"""What stands in ``book`` for a pair."""

LEFT, LAST, LOW, HIGH, EVERY, EVERY_ROW = range(6)
"""What stands in ``limits`` for a seat."""

SAME = np.float32(1e-6)
"""mm; places whose cost differs by less are as good as each other."""

A_MOVE = 3000.0
"""Places in whose time the rest of a move is done (our own measurement)."""

LEAST, PATIENCE, NEXT, QUEUED = range(4)
"""What stands in ``mind``: the least overlap so far (mm), rounds left without a better one, the next thing of the round
and how many there are."""

DONE, BUSY, LACKING = range(3)
"""How :func:`settle` comes back: nothing overlaps or no patience is left; its quota is used up; a map is not built."""


@compiled
def lacking(i, first, count, seat, book):
    """A pair (owner, seat) whose map is wanted for a thing in any of its `count` seats from `first` on and not built;
    (-1, -1) if there is none."""
    for s in range(first, first + count):
        for j in range(len(seat)):
            if j != i and book[seat[j], s, START] < 0:
                return seat[j], s
    return -1, -1


@compiled
def lacking_near(i, seat, at, box, pitch, book):
    """The same for a thing where it lies, only among those whose boxes meet its own.

    Args:
        box: for each seat, and what is forbidden, least and greatest x and y from its place in column 0, row 0 (mm).
        pitch: mm between columns and between rows.
    """
    s = seat[i]
    for j in range(len(seat)):
        if j == i or book[seat[j], s, START] >= 0:
            continue
        x, y = (at[j, 0] - at[i, 0]) * pitch[0], (at[j, 1] - at[i, 1]) * pitch[1]
        o = seat[j]
        if (x + box[o, 0] < box[s, 1] and x + box[o, 1] > box[s, 0]
                and y + box[o, 2] < box[s, 3] and y + box[o, 3] > box[s, 2]):
            return o, s
    return -1, -1


@compiled
def measure(i, seat, at, depth, book, pool):
    """The depths between a thing and all others, anew; what is forbidden is summed up in the last row.

    A pair whose map is not built is one whose boxes do not meet.
    """
    n = depth.shape[1]
    s = seat[i]
    forbidden = np.float32(0.0)
    for j in range(len(seat)):
        if j == i:
            continue
        pair = book[seat[j], s]
        c = at[i, 0] - at[j, 0] - pair[FIRST_COLUMN]
        r = at[i, 1] - at[j, 1] - pair[FIRST_ROW]
        deep = np.float32(0.0)
        if pair[START] >= 0 and 0 <= c < pair[COLUMNS] and 0 <= r < pair[ROWS]:
            c = pair[COLUMNS] - 1 - c if pair[BACK] else c
            r = pair[ROWS] - 1 - r if pair[DOWN] else r
            deep = pool[pair[START] + c * pair[ROWS] + r]
        if j < n:
            depth[i, j] = deep
            depth[j, i] = deep
        else:
            forbidden += deep
    depth[n, i] = forbidden


@compiled
def _add(cost, columns, rows, limit, pair, pool, column, row, weight):
    """Add a map, its origin at a column and a row, where it lies over the places; returns how many it covers.

    Places are counted without a sign, and the three ways written out: only then does the compiler make vector code.
    A map is read forwards in memory, also where its columns are in the opposite order: twice as quick as backwards.
    """
    every, every_row = limit[EVERY], limit[EVERY_ROW]
    c = limit[LEFT] - column - pair[FIRST_COLUMN]
    r = limit[LOW] - row - pair[FIRST_ROW]
    a = max(0, -(c // every))
    b = min(columns, (pair[COLUMNS] - 1 - c) // every + 1)
    p = max(0, -(r // every_row))
    q = min(rows, (pair[ROWS] - 1 - r) // every_row + 1)
    if a >= b or p >= q:
        return 0
    wide, count = pair[ROWS], np.uintp(q - p)
    r += p * every_row
    k = pair[START] + (wide - 1 - r if pair[DOWN] else r) + (pair[COLUMNS] - 1 - c if pair[BACK] else c) * wide
    step = -every * wide if pair[BACK] else every * wide
    for n in range(b - a):
        x = b - 1 - n if pair[BACK] else a + n
        to, source = np.uintp(x * rows + p), np.uintp(k + x * step)
        if every_row == 1 and not pair[DOWN]:
            for y in range(count):
                cost[to + y] += weight * pool[source + y]
        elif every_row == 1:
            for y in range(count):
                cost[to + y] += weight * pool[source - y]
        else:
            leap = np.uintp(-every_row if pair[DOWN] else every_row)
            for y in range(count):
                cost[to + y] += weight * pool[source + y * leap]
    return (b - a) * (q - p)


@compiled
def _least(places):
    """The least cost; none is below 0, and of such numbers the bits are in the same order, which is quicker told."""
    bits = places.view(np.int32)
    least = bits[0]
    for k in range(len(bits)):
        least = min(least, bits[k])
    return np.full(1, least, dtype=np.int32).view(np.float32)[0]


@compiled
def improve(i, first, count, turn, coin, pick, seat, at, depth, weight, limits, book, pool, cost):
    """Put a thing where it is least in the way, in whichever of its `count` seats from `first` on.

    Args:
        turn: the seat to begin with, so that none is favoured where several are as good.
        coin, pick: by chance from 0 to 1: of free places take the leftmost or any, and which.
        cost: room for the places, at least as many as any seat has.

    Returns:
        The work done, in places weighed.
    """
    n = depth.shape[1]
    best = np.float32(0.0)
    for j in range(n + 1):
        best += np.float32(weight[j, i] * depth[j, i])
    best -= SAME
    found, work = -1, A_MOVE
    best_column, best_row = 0, 0
    for step in range(count):
        s = first + (turn + step) % count
        limit = limits[s]
        if limit[LAST] < limit[LEFT] or limit[HIGH] < limit[LOW]:
            continue
        columns = (limit[LAST] - limit[LEFT]) // limit[EVERY] + 1
        rows = (limit[HIGH] - limit[LOW]) // limit[EVERY_ROW] + 1
        places = cost[:columns * rows]
        places[:] = 0.0
        work += columns * rows
        for j in range(len(seat)):
            if j != i:
                work += _add(places, columns, rows, limit, book[seat[j], s], pool, at[j, 0], at[j, 1],
                             np.float32(weight[min(j, n), i]))
        least = _least(places)
        if least >= best:
            continue
        chosen = _chosen(places, least, coin, pick)
        best, found = least, s
        best_column = limit[LEFT] + chosen // rows * limit[EVERY]
        best_row = limit[LOW] + chosen % rows * limit[EVERY_ROW]
    if found >= 0:
        seat[i] = found
        at[i, 0], at[i, 1] = best_column, best_row
        measure(i, seat, at, depth, book, pool)
    return work


@compiled
def _chosen(places, least, coin, pick):
    """The first of the cheapest places; among free ones half the time any."""
    limit = least + SAME
    any_of = least <= 0.0 and coin < 0.5
    wanted = 0
    if any_of:
        free = 0
        for k in range(len(places)):
            free += places[k] <= limit
        wanted = int(pick * free)
    for k in range(len(places)):
        if places[k] <= limit:
            if wanted == 0:
                return k
            wanted -= 1
    return 0


@compiled
def settle(quota, patience, chance, mind, queue, kept_seat, kept_at, firsts, counts, seat, at, depth, weight, limits,
           book, pool, cost):
    """Rounds in which each thing in conflict is put where it is least in the way, and pairs still in conflict weigh
    more; to be called again where it comes back busy or lacking, with everything as it is.

    Args:
        quota: of work, in places weighed.
        patience: rounds without a clearly lesser overlap before all is given up.
        chance: one number, the state of the generator.
        mind, queue: to be kept from call to call; LEAST in `mind` below 0 begins anew.
        kept_seat, kept_at: where everything lay at the least overlap.

    Returns:
        How it came back, the work done, and the thing for which a map is lacking.
    """
    work = 0.0
    if mind[LEAST] < 0.0:
        mind[LEAST], mind[PATIENCE] = overlap(depth), patience
        _keep(kept_seat, kept_at, seat, at)
        _queue(depth, queue, mind, chance)
    while mind[LEAST] > 0.0 and mind[PATIENCE] > 0.0:
        while mind[NEXT] < mind[QUEUED]:
            if work >= quota:
                return BUSY, work, -1
            i = queue[int(mind[NEXT])]
            if lacking(i, firsts[i], counts[i], seat, book)[0] >= 0:
                return LACKING, work, i
            turn = int(_random(chance) * counts[i])
            work += improve(i, firsts[i], counts[i], turn, _random(chance), _random(chance), seat, at, depth, weight,
                            limits, book, pool, cost)
            mind[NEXT] += 1.0
        now = overlap(depth)
        mind[PATIENCE] = patience if now < 0.98 * mind[LEAST] else mind[PATIENCE] - 1.0
        if now < mind[LEAST]:
            mind[LEAST] = now
            _keep(kept_seat, kept_at, seat, at)
        _raise(weight, depth)
        _queue(depth, queue, mind, chance)
    return DONE, work, -1


@compiled
def _keep(kept_seat, kept_at, seat, at):
    """Remember where everything lies."""
    for i in range(len(seat)):
        kept_seat[i], kept_at[i, 0], kept_at[i, 1] = seat[i], at[i, 0], at[i, 1]


@compiled
def _raise(weight, depth):
    """Pairs in conflict count more, the deepest most."""
    deepest = 0.0
    for j in range(depth.shape[0]):
        for i in range(depth.shape[1]):
            deepest = max(deepest, depth[j, i])
    if deepest > 0.0:
        for j in range(depth.shape[0]):
            for i in range(depth.shape[1]):
                weight[j, i] += depth[j, i] / deepest


@compiled
def overlap(depth):
    """Sum of all depths (mm), each pair once."""
    n = depth.shape[1]
    total = 0.0
    for i in range(n):
        total += depth[n, i]
        for j in range(i):
            total += depth[j, i]
    return total


@compiled
def _queue(depth, queue, mind, chance):
    """The things in conflict, in an order by chance."""
    count = 0
    for i in range(depth.shape[1]):
        for j in range(depth.shape[0]):
            if depth[j, i] > 0.0:
                queue[count] = i
                count += 1
                break
    for k in range(count - 1, 0, -1):
        other = int(_random(chance) * (k + 1))
        queue[k], queue[other] = queue[other], queue[k]
    mind[NEXT], mind[QUEUED] = 0.0, count


@compiled
def _random(chance):
    """From 0 up to 1 (splitmix64: G. Steele, D. Lea and C. Flood, 2014; constants from memory)."""
    chance[0] += np.uint64(0x9E3779B97F4A7C15)
    z = chance[0]
    z = (z ^ (z >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
    z = (z ^ (z >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
    z ^= z >> np.uint64(31)
    return (z >> np.uint64(11)) * (1.0 / 9007199254740992.0)
