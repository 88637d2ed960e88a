"""A careful first fit: the largest piece first, each as far left as it will go and then as low.

What a dressmaker with patience does by hand: pieces in the order of their area, or those for the fold before the
others, every allowed way round tried in the first gap that takes it. Both orders are laid and the shorter one is kept.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np

from toilewright.errors import GeometryError
from toilewright.packing.nofit import HAIR, NoFit, Shape, forbidden_shapes
from toilewright.packing.problem import Packing, Placed, Problem, Stop
from toilewright.packing.room import SLACK, Room, rooms

STEP, WIDE_STEP, MANY = 8.0, 24.0, 40
"""Columns are looked at so far apart (mm), wider for so many pieces and more, of which every column costs time; the
first that is free is then followed back to the left."""
FINER = 12
"""Columns between two neighbours at each of three finer looks: 8 mm, 0.6, 0.05, 0.004."""

FAR = 1e5
"""Farther across than any strip (mm)."""


def first_fit(problem: Problem, stop: Stop | None = None) -> Packing:
    """The better of two first fits; every constraint of the problem is kept.

    Args:
        stop: asked before every piece; once it says so, the rest is laid one behind the other. A strip that ends
            somewhere is laid with care all the same, as it might not take them so.

    Raises:
        GeometryError: an item cannot lie on the strip at all, or the strip ends before all have a place; the sentence
            names the item.
    """
    may_lie = [rooms(problem, i) for i in range(len(problem.items))]
    known: dict[tuple[int, int], NoFit] = {}
    best, failed = None, None
    hurry = stop if stop is not None and problem.longest is None else _never
    for order in _orders(problem, may_lie):
        if best is not None and hurry():
            break
        try:
            found = _laid(problem, order, may_lie, known, hurry)
        except GeometryError as error:
            failed = failed or error
            continue
        if best is None or found.length < best.length:
            best = found
    if best is None:
        raise failed or GeometryError("There is nothing to lay.")
    return best


def _orders(problem: Problem, may_lie: list[tuple[Room, ...]]) -> list[list[int]]:
    """Items, one entry a copy, in the orders to be tried."""
    def by_area(i: int) -> tuple[float, int]:
        return -may_lie[i][0].shape.area, i

    copies = [i for i, item in enumerate(problem.items) for _ in range(item.count)]
    plain = sorted(copies, key=by_area)
    tied = sorted(copies, key=lambda i: (problem.items[i].origin_y is None, *by_area(i)))
    return [plain, tied] if tied != plain else [plain]


@dataclass(slots=True)
class _Table:
    """What lies already: shapes, where, and the no-fit regions that were needed so far.

    Attributes:
        step: between two columns that are looked at (mm).
        full: by the identity of a room, up to which x no place is left in it: what is full stays so.
    """

    known: dict[tuple[int, int], NoFit]
    shapes: list[Shape] = field(default_factory=list)
    at: list[complex] = field(default_factory=list)
    step: float = STEP
    full: dict[int, float] = field(default_factory=dict)

    def against(self, shape: Shape) -> list[NoFit]:
        """The regions of `shape` against all that lies."""
        for other in self.shapes:
            if (id(other), id(shape)) not in self.known:
                self.known[id(other), id(shape)] = NoFit(other, shape)
        return [self.known[id(other), id(shape)] for other in self.shapes]


def _laid(problem: Problem, order: list[int], may_lie: list[tuple[Room, ...]],
          known: dict[tuple[int, int], NoFit], hurry: Stop) -> Packing:
    table = _Table(known, step=STEP if len(order) < MANY else WIDE_STEP)
    for shape in forbidden_shapes(problem):
        table.shapes.append(shape)
        table.at.append(0j)
    placed: list[Placed] = []
    copies = [0] * len(problem.items)
    for item in order:
        best: tuple[float, float, Room, complex] | None = None
        behind = hurry()
        for room in may_lie[item]:
            last = np.inf if best is None else best[0] - room.shape.right
            at = _behind(room, table, problem.gap) if behind else _first_place(room, table, last)
            if at is not None:
                end = at.real + room.shape.right
                if best is None or (round(end, 2), at.imag) < (round(best[0], 2), best[1]):
                    best = end, at.imag, room, at
        if best is None:
            key = problem.items[item].key
            strip = "the strip" if problem.longest is None else f"the {problem.longest / 10:.1f} cm of the strip"
            raise GeometryError(f'"{key}" finds no place left on {strip}; give more length, or lay fewer pieces there.')
        _, _, room, at = best
        table.shapes.append(room.shape)
        table.at.append(at)
        placed.append(Placed(item, copies[item], room.pose, at))
        copies[item] += 1
    placed.sort(key=lambda p: (p.item, p.copy))
    length = max((p.real for one in placed for p in one.outline(problem)), default=0.0)
    return Packing(length, tuple(placed), "first fit by area")


def _first_place(room: Room, table: _Table, last: float) -> complex | None:
    """The leftmost place, and the lowest there; None where the strip ends, or `last` is passed, before one."""
    regions = table.against(room.shape)
    contacts = np.array([room.left, *(at.real + r.right for at, r in zip(table.at, regions, strict=True))])
    columns = room.columns(min(last, float(contacts.max())), table.step, contacts)
    columns = columns[max(int(np.searchsorted(columns, table.full.get(id(room), -np.inf))) - 1, 0):]

    def lowest(x: np.ndarray) -> np.ndarray:
        return _lowest(x, room, table.at, regions)

    k, y = _first_free(columns, lowest)
    if len(columns):
        table.full[id(room)] = float(columns[-1 if k is None else max(k - 1, 0)])
    if k is None:
        return None
    x = float(columns[k])
    if room.beat_x is None:
        before = float(columns[k - 1]) if k > 0 else x
        for _ in range(3):
            finer = np.linspace(before, x, FINER + 2)[1:]
            k, found = _first_free(finer, lowest)
            if k is None or x - before < SLACK:
                break
            x, y, before = float(finer[k]), found, float(finer[k - 1]) if k > 0 else before
    return complex(x, y)


def _behind(room: Room, table: _Table, gap: float) -> complex:
    """The first place beyond all that lies."""
    end = max((at.real + shape.right + gap for at, shape in zip(table.at, table.shapes, strict=True)), default=0.0)
    x = max(room.left, end - room.shape.left)
    return complex(room.along(x), float(room.up(np.array(room.low))))


def _never() -> bool:
    return False


def _first_free(columns: np.ndarray, lowest: Callable[[np.ndarray], np.ndarray]) -> tuple[int | None, float]:
    """Index of the first column with a place, and its y; some columns at a time."""
    many = 64
    for begin in range(0, len(columns), many):
        rows = lowest(columns[begin:begin + many])
        free = np.flatnonzero(np.isfinite(rows))
        if len(free):
            return begin + int(free[0]), float(rows[free[0]])
    return None, np.inf


def _lowest(x: np.ndarray, room: Room, at: list[complex], regions: list[NoFit]) -> np.ndarray:
    """The lowest free y in each column; inf where there is none."""
    start = float(room.up(np.array(room.low)))
    columns, lows, highs = [], [], []
    least, most = float(x.min()), float(x.max())
    for place, region in zip(at, regions, strict=True):
        if place.real + region.right <= least or place.real + region.left >= most:
            continue
        dx = x - place.real
        near = np.flatnonzero((dx > region.left) & (dx < region.right))
        if len(near) and start - place.imag < region.high and room.high - place.imag > region.low:
            column, low, high = region.intervals(dx[near])
            keep = (high > start - place.imag) & (low < room.high - place.imag)
            columns.append(near[column[keep]])
            lows.append(low[keep] + place.imag)
            highs.append(high[keep] + place.imag)
    # One interval below the floor and one above all for each column, so that the gaps between them are all there is.
    each = np.arange(len(x))
    column = np.concatenate([each, *columns, each])
    low = np.concatenate([np.full(len(x), -FAR), *lows, np.full(len(x), FAR)])
    high = np.concatenate([np.full(len(x), start), *highs, np.full(len(x), FAR)])
    order = np.lexsort((low, column))
    column, low, high = column[order], low[order], high[order]
    so_far = np.maximum.accumulate(high + 3 * FAR * column) - 3 * FAR * column
    after = room.up(np.maximum(so_far[:-1], start))
    free = (after <= low[1:] + HAIR) & (after <= room.high + SLACK) & (column[:-1] == column[1:])
    found = np.full(len(x), np.inf)
    first = np.flatnonzero(free)[::-1]
    found[column[first]] = np.minimum(after[first], max(room.high, start))
    return found
