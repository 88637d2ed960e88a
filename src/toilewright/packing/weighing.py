"""The inner loops of the guided search, compiled: where one thing would be least in the way of all others.

A strip has some ten thousand places for a thing, and in most of them it would lie far too deep in others. Whole blocks
of them are ruled out at once: beside each map of depth lies one of the least depths in a block of BLOCK by BLOCK
places, wherever that block begins. Added up over all others they are a bound from below for every place of the block,
and only blocks that may hold a better place than the best so far are weighed place by place: about a dozen of eight
hundred. What is found is as good as if all had been weighed (branch and bound: A. H. Land and A. G. Doig, Econometrica
28, 1960).

Called from Python piece by piece, most of the time would go into the calls, so whole rounds are compiled (numba), over
plain arrays:

- ``pool``: all maps of depth one after the other (mm, float32), ``lows``: their least depths; ``book`` [owner, seat]
  says where those of a pair start (-1 while they are not built), whether columns and rows lie there in the opposite
  order, first column and row, columns and rows;
- ``limits`` [seat]: first and last column, first and last row, every how many columns and rows it may lie;
- ``seat``, ``at`` of the things and, behind them, of what is forbidden, which stays at 0;
- ``depth``, ``weight`` [thing or forbidden, thing].

Seats are numbered through, all poses of all items; what is forbidden is numbered behind them.

All of it is in one module, as compiled code that was kept is not made anew when another module changes.
"""

from __future__ import annotations

import numpy as np

from toilewright.packing.compiled import compiled

START, BACK, DOWN, FIRST_COLUMN, FIRST_ROW, COLUMNS, ROWS, LOWS = range(8)
"""What stands in ``book`` for a pair."""

LEFT, LAST, LOW, HIGH, EVERY, EVERY_ROW = range(6)
"""What stands in ``limits`` for a seat."""

X0, X1, Y0, Y1, STEP, STEP_ROW, ORIGIN, BOUNDS = range(8)
"""What stands in ``near`` for each thing that may be met: columns and rows of its map (from, to before), how far apart
they are in the pool and where that begins; where its least depths begin."""

LEAST, PATIENCE, NEXT, QUEUED = range(4)
"""What stands in ``mind``: the least overlap so far (mm), rounds left without a better one, the next thing of the round
and how many there are."""

DONE, BUSY, LACKING = range(3)
"""How :func:`settle` comes back: nothing overlaps or no patience is left; its quota is used up; a map is not built."""

SHIFT = 2
BLOCK = 1 << SHIFT
"""Places along each edge of a block (of 2, 4 and 8 the quickest, our own measurement)."""

SAME = np.float32(1e-6)
"""mm; places whose cost differs by less are as good as each other."""

A_MOVE, A_TILE = 1000.0, 250.0
"""Bounds in whose time the rest of a move is done, and a block is weighed place by place (our own measurement)."""


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
def _gather(i, s, limit, seat, at, weight, book, near, heavy):
    """Fill `near` and `heavy` (its weight) with whatever a thing in a seat can meet; returns how many there are."""
    n, count = weight.shape[1], 0
    for j in range(len(seat)):
        if j == i:
            continue
        pair = book[seat[j], s]
        x, y = at[j, 0] + pair[FIRST_COLUMN], at[j, 1] + pair[FIRST_ROW]
        if (x > limit[LAST] or x + pair[COLUMNS] <= limit[LEFT]
                or y > limit[HIGH] or y + pair[ROWS] <= limit[LOW]):
            continue
        one, origin = near[count], pair[START]
        one[X0], one[X1], one[Y0], one[Y1] = x, x + pair[COLUMNS], y, y + pair[ROWS]
        one[STEP], one[STEP_ROW] = pair[ROWS], 1
        if pair[BACK]:
            origin += (pair[COLUMNS] - 1) * pair[ROWS]
            one[STEP] = -one[STEP]
        if pair[DOWN]:
            origin += pair[ROWS] - 1
            one[STEP_ROW] = -1
        one[ORIGIN], one[BOUNDS] = origin, pair[LOWS]
        heavy[count] = weight[min(j, n), i]
        count += 1
    return count


@compiled
def _add(low, wide, high, limit, one, weight, lows):
    """Add the least depths in another thing to `wide` by `high` blocks; returns how many it meets.

    Blocks are counted without a sign, and both ways written out: only then does the compiler make vector code.
    """
    c, r = limit[LEFT] - one[X0] + BLOCK - 1, limit[LOW] - one[Y0] + BLOCK - 1
    columns, rows = one[X1] - one[X0] + BLOCK - 1, one[Y1] - one[Y0] + BLOCK - 1
    a, b = max(0, -(c >> SHIFT)), min(wide, ((columns - 1 - c) >> SHIFT) + 1)
    p, q = max(0, -(r >> SHIFT)), min(high, ((rows - 1 - r) >> SHIFT) + 1)
    if a >= b or p >= q:
        return 0
    back, down, count = one[STEP] < 0, one[STEP_ROW] < 0, np.uintp(q - p)
    across, along = (columns + BLOCK - 1) >> SHIFT, (rows + BLOCK - 1) >> SHIFT
    c, r = c + (a << SHIFT), r + (p << SHIFT)
    c, r = columns - 1 - c if back else c, rows - 1 - r if down else r
    k = one[BOUNDS] + (((c & (BLOCK - 1)) << SHIFT) + (r & (BLOCK - 1))) * across * along
    k += (c >> SHIFT) * along + (r >> SHIFT)
    for x in range(b - a):
        to, source = np.uintp((a + x) * high + p), np.uintp(k - x * along if back else k + x * along)
        if down:
            for y in range(count):
                low[to + y] += weight * lows[source - y]
        else:
            for y in range(count):
                low[to + y] += weight * lows[source + y]
    return (b - a) * (q - p)


@compiled
def _rule_out(low, high, limit):
    """Blocks between the places of a repeat hold none."""
    for k in range(len(low)):
        for n, every, last in ((k // high, limit[EVERY], limit[LAST] - limit[LEFT]),
                               (k % high, limit[EVERY_ROW], limit[HIGH] - limit[LOW])):
            first = ((n << SHIFT) + every - 1) // every * every
            if first >= (n + 1) << SHIFT or first > last:
                low[k] = np.inf


@compiled
def _least(bounds):
    """The least of them; none is below 0, and of such numbers the bits are in the same order, which is quicker told."""
    bits = bounds.view(np.int32)
    least = bits[0]
    for k in range(len(bits)):
        least = min(least, bits[k])
    return np.full(1, least, dtype=np.int32).view(np.float32)[0]


@compiled
def _weigh(tile, left, bottom, near, heavy, count, pool):
    """The costs of the places of one block, place by place."""
    tile[:] = 0.0
    for j in range(count):
        one = near[j]
        a, b = max(left, one[X0]), min(left + BLOCK, one[X1])
        p, q = max(bottom, one[Y0]), min(bottom + BLOCK, one[Y1])
        if a >= b or p >= q:
            continue
        for x in range(a, b):
            k = one[ORIGIN] + (x - one[X0]) * one[STEP] - one[Y0] * one[STEP_ROW]
            for y in range(p, q):
                tile[x - left, y - bottom] += heavy[j] * pool[k + y * one[STEP_ROW]]


@compiled
def _sought(low, high, limit, begin, best, place, near, heavy, count, pool):
    """The best place of a seat, if it is cheaper than `best`: into `place`; returns its cost and the work done.

    Blocks with the least bound come first; where several may hold free places, those from `begin` on.
    """
    tile, work = np.empty((BLOCK, BLOCK), dtype=np.float32), 0.0
    least = _least(low)
    if least > 0.0:
        begin = 0
    for ceiling in (least, best):
        for n in range(len(low)):
            k = begin + n
            if k >= len(low):
                k -= len(low)
            if low[k] > ceiling or low[k] >= best:
                continue
            left, bottom = limit[LEFT] + (k // high << SHIFT), limit[LOW] + (k % high << SHIFT)
            _weigh(tile, left, bottom, near, heavy, count, pool)
            low[k] = np.inf
            work += A_TILE
            for x in range(left, min(left + BLOCK, limit[LAST] + 1)):
                for y in range(bottom, min(bottom + BLOCK, limit[HIGH] + 1)):
                    if (tile[x - left, y - bottom] < best and (x - limit[LEFT]) % limit[EVERY] == 0
                            and (y - limit[LOW]) % limit[EVERY_ROW] == 0):
                        best = tile[x - left, y - bottom]
                        place[0], place[1] = x, y
            if best <= 0.0:
                return best, work
    return best, work


@compiled
def improve(i, first, count, turn, pick, seat, at, depth, weight, limits, book, pool, lows, room):
    """Put a thing where it is least in the way, in whichever of its `count` seats from `first` on.

    Args:
        turn: the seat to begin with, so that none is favoured where several are as good.
        pick: by chance from 0 to 1: of free places take the leftmost (up to a half) or any.
        room: for the bounds of blocks, at least as many as any seat has.

    Returns:
        The work done, in bounds added.
    """
    n = depth.shape[1]
    best = -SAME
    for j in range(n + 1):
        best += np.float32(weight[j, i] * depth[j, i])
    found, work, place = -1, A_MOVE, np.zeros(2, dtype=np.int64)
    near, heavy = np.empty((len(seat), 8), dtype=np.int64), np.empty(len(seat), dtype=np.float32)
    for step in range(count):
        s = first + (turn + step) % count
        limit = limits[s]
        if limit[LAST] < limit[LEFT] or limit[HIGH] < limit[LOW]:
            continue
        wide, high = ((limit[LAST] - limit[LEFT]) >> SHIFT) + 1, ((limit[HIGH] - limit[LOW]) >> SHIFT) + 1
        low = room[:wide * high]
        low[:] = 0.0
        met = _gather(i, s, limit, seat, at, weight, book, near, heavy)
        for j in range(met):
            work += _add(low, wide, high, limit, near[j], heavy[j], lows)
        if limit[EVERY] > 1 or limit[EVERY_ROW] > 1:
            _rule_out(low, high, limit)
        begin = int(max(2.0 * pick - 1.0, 0.0) * len(low))
        cost, weighed = _sought(low, high, limit, begin, best, place, near, heavy, met, pool)
        work += weighed + len(low)
        if cost < best:
            best, found = cost, s
            column, row = place
        if best <= 0.0:
            break
    if found >= 0:
        seat[i] = found
        at[i, 0], at[i, 1] = column, row
        measure(i, seat, at, depth, book, pool)
    return work


@compiled
def settle(quota, patience, near, chance, mind, queue, kept_seat, kept_at, firsts, counts, seat, at, depth, weight,
           limits, book, pool, lows, room):
    """Rounds in which each thing in conflict is put where it is least in the way, and pairs still in conflict weigh
    more; to be called again where it comes back busy or lacking, with everything as it is.

    Args:
        quota: of work, in bounds added.
        patience: rounds without a clearly lesser overlap before all is given up, at an overlap of `near` (mm); fewer
            where more overlaps, as there is less hope.
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
            work += improve(i, firsts[i], counts[i], turn, _random(chance), seat, at, depth, weight, limits, book, pool,
                            lows, room)
            mind[NEXT] += 1.0
        now = overlap(depth)
        mind[PATIENCE] -= min(max(mind[LEAST] / near, 0.5), 5.0)
        if now < 0.98 * mind[LEAST]:
            mind[PATIENCE] = patience
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
