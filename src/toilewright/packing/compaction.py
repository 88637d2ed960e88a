"""A valid packing squeezed shorter by linear programmes, which keep every constraint exactly.

Two convex parts that a line tells apart stay apart as long as neither crosses the line; for moves without turns that
is a linear inequality. So, with one line for each near pair of parts, "as short as possible" is a linear programme
(Li and Milenkovic, Compaction and separation algorithms for non-convex polygons, European Journal of Operational
Research 84, 1995). From where it ends new lines are drawn, until nothing more is gained.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from math import inf
from typing import TYPE_CHECKING

from toilewright.packing.parts import gather, separators
from toilewright.packing.problem import Outline, Packing, Placed, Pose, Problem, Stop

if TYPE_CHECKING:
    import numpy as np

ROOM = 2e-5
"""mm; left between two outlines so that rounding cannot make them overlap (HiGHS keeps to 1e-7)."""
WORTH = 0.01
"""mm; a round that gains less is the last one."""
ROUNDS = 40
"""at most; a lay of a hundred pieces takes about ten."""
REACH = 0.04
"""of the strip's height: how far a thing may move in one round."""
FINE, COARSE = 0.02, 0.3
"""mm; by how much an outline may be taken for larger, at the end and on the way there."""
HOPE, GAIN = 0.25, 2.0
"""What may still be gained after the first round, in reaches; after any, in what that one gained."""
CLOSE = 4.0
"""mm; how far a thing may move in a round at the end."""


def compact(problem: Problem, packing: Packing, stop: Stop | None = None, rounds: int = ROUNDS, loss: float = FINE,
            wanted: float = inf) -> Packing:
    """The packing, squeezed: never longer, and valid if it was valid. Things keep their poses and their neighbours.

    It is given up as soon as it will hardly become shorter than `wanted` (mm).

    A packing whose outlines overlap by a hair (the search rounds to single precision) is set right on the way; then
    it may get longer by that hair.
    """
    for step in sorted({COARSE, loss}, reverse=True):
        if stop is not None and stop():
            break
        reach = max(REACH * problem.height, CLOSE) if step == COARSE else CLOSE
        packing = Press(problem, packing.placed, step, reach).squeezed(packing, stop, rounds, wanted)
    return packing


@dataclass(frozen=True, slots=True)
class _Lines:
    """A line for each near pair of parts: whose parts, the direction from the first to the second, the room between."""

    one: np.ndarray
    two: np.ndarray
    normal: np.ndarray
    room: np.ndarray


class Press:
    """The linear programmes of one arrangement: which things there are, in which poses; where they lie may change."""

    def __init__(self, problem: Problem, placed: tuple[Placed, ...], loss: float, reach: float) -> None:
        """The copies keep the order of `placed`; outlines may be taken for larger by `loss` mm; in a round a thing may
        move by `reach` mm."""
        self.problem, self.placed, self.count, self.reach = problem, placed, len(placed), reach
        bodies = [(problem.items[p.item].outline, p.pose) for p in placed]
        bodies += [(outline, Pose()) for outline in problem.forbidden]
        self.parts = gather(bodies, loss)
        self.bodies = len(bodies)
        self.low, self.high = _bounds(bodies)
        self._limits()

    def _limits(self) -> None:
        """Least and greatest y of each origin, and what may not move along or across."""
        import numpy as np

        items = [self.problem.items[p.item] for p in self.placed]
        bands = [i.band or (0.0, self.problem.height) for i in items]
        bottom = np.array([max(b[0], 0.0) for b in bands])
        top = np.array([min(b[1], self.problem.height) for b in bands])
        self.y_low, self.y_high = bottom - self.low[:self.count, 1], top - self.high[:self.count, 1]
        self.held_x = np.array([i.beat_x is not None for i in items])
        self.held_y = np.array([i.beat_y is not None or i.origin_y is not None for i in items])

    def where(self, placed: tuple[Placed, ...]) -> np.ndarray:
        """Where origins lie, as an array; what is forbidden lies at 0."""
        import numpy as np

        at = np.zeros((self.bodies, 2))
        at[:self.count] = [(p.at.real, p.at.imag) for p in placed]
        return at

    def length(self, at: np.ndarray) -> float:
        """Of strip taken up."""
        return float((at[:self.count, 0] + self.high[:self.count, 0]).max())

    def packing(self, at: np.ndarray, like: Packing) -> Packing:
        """The things at these places."""
        placed = tuple(replace(p, at=complex(x, y)) for p, (x, y) in zip(self.placed, at.tolist(), strict=False))
        return replace(like, placed=placed, length=self.length(at))

    def squeezed(self, packing: Packing, stop: Stop | None = None, rounds: int = ROUNDS,
                 wanted: float = inf) -> Packing:
        """See `compact`."""
        at = self.where(packing.placed)
        lines = self.lines(at)
        was_off = off = bool((lines.room < self.problem.gap - ROOM / 10).any())
        length = self.length(at)
        for k in range(rounds):
            if stop is not None and stop():
                break
            moved = self.round(at, lines)
            if moved is None:
                break
            gain = length - self.length(moved)
            at, length = moved, length - gain
            hope = GAIN * gain if k else max(GAIN * gain, HOPE * self.reach)
            if (gain < WORTH and not off) or length - hope > wanted:
                break
            off = False
            lines = self.lines(at)
        found = self.packing(at, packing)
        return found if found.length < packing.length or was_off else packing

    def lines(self, at: np.ndarray) -> _Lines:
        """The line with the most room for each pair of parts that could meet within a round."""
        import numpy as np

        far = 2 * self.reach + self.problem.gap + ROOM
        one, two = self._near(at, far)
        normal, room = separators(self.parts, at, one, two, 1.5 * far)
        slack = room - 2 * self.reach * np.abs(normal).sum(axis=1)
        keep = slack < self.problem.gap + ROOM
        return _Lines(self.parts.owner[one[keep]], self.parts.owner[two[keep]], normal[keep], room[keep])

    def _near(self, at: np.ndarray, far: float) -> tuple[np.ndarray, np.ndarray]:
        """Pairs of parts of different things whose boxes are nearer than that."""
        import shapely

        parts = self.parts
        low, high = parts.low + at[parts.owner], parts.high + at[parts.owner]
        boxes = shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1])
        wide = shapely.box(low[:, 0] - far, low[:, 1] - far, high[:, 0] + far, high[:, 1] + far)
        one, two = shapely.STRtree(boxes).query(wide)
        keep = (parts.owner[one] < parts.owner[two]) & (parts.owner[one] < self.count)
        return one[keep], two[keep]

    def round(self, at: np.ndarray, lines: _Lines, pull: np.ndarray | None = None) -> np.ndarray | None:
        """Where things lie after one programme; None if there is no way. `pull` [thing, 2]: what else to make small."""
        need = self.problem.gap + ROOM - lines.room
        import numpy as np

        for wanted in (need, np.minimum(need, 0.0)):  # where the height is full to the last hair, keep what is there
            moves = self._solve(at, lines, wanted, pull)
            if moves is not None:
                return at + moves
        return None

    def _solve(self, at: np.ndarray, lines: _Lines, need: np.ndarray, pull: np.ndarray | None) -> np.ndarray | None:
        import numpy as np
        from scipy.optimize import Bounds, LinearConstraint, milp

        n, reach = self.count, self.reach
        rows, rhs = self._rows(at, lines, need)
        cost = np.zeros(2 * n + 1)
        cost[-1] = 1.0
        if pull is not None:
            cost[:2 * n] = pull.T.ravel()
        low, high = self._box(at, reach)
        longest = self.problem.longest if self.problem.longest is not None else np.inf
        top = min(longest, self.length(at) + 4 * reach) if need.max(initial=0) > ROOM else min(longest, self.length(at))
        bounds = Bounds(np.append(low, 0.0), np.append(high, max(top, 0.0)))
        # Nothing is whole-numbered here: this is scipy's shorter way to the same solver (2.5 times quicker, measured).
        done = milp(cost, constraints=LinearConstraint(rows, -np.inf, rhs), bounds=bounds, options={"presolve": False})
        if done.status != 0:
            return None
        moves = np.zeros((self.bodies, 2))
        moves[:n] = done.x[:2 * n].reshape(2, n).T
        return moves

    def _box(self, at: np.ndarray, reach: float) -> tuple[np.ndarray, np.ndarray]:
        """Least and greatest move of each thing, x first, then y."""
        import numpy as np

        n = self.count
        x, y = at[:n, 0], at[:n, 1]
        low_x = np.where(self.held_x, 0.0, np.maximum(-reach, -(x + self.low[:n, 0])))
        high_x = np.where(self.held_x, 0.0, reach)
        low_y = np.where(self.held_y, 0.0, np.maximum(-reach, self.y_low - y))
        high_y = np.where(self.held_y, 0.0, np.minimum(reach, self.y_high - y))
        low, high = np.concatenate((low_x, low_y)), np.concatenate((high_x, high_y))
        return np.minimum(low, high), high

    def _rows(self, at: np.ndarray, lines: _Lines, need: np.ndarray) -> tuple[object, np.ndarray]:
        """The inequalities as a sparse matrix: no pair crosses its line, nothing lies beyond the length."""
        import numpy as np
        from scipy.sparse import coo_array

        n, pairs = self.count, len(lines.room)
        row, column, value = [], [], []
        for owner, sign in ((lines.one, 1.0), (lines.two, -1.0)):
            free = np.flatnonzero(owner < n)
            for axis in (0, 1):
                row.append(free)
                column.append(owner[free] + axis * n)
                value.append(sign * lines.normal[free, axis])
        each = np.arange(n)
        row += [pairs + each, pairs + each]
        column += [each, np.full(n, 2 * n)]
        value += [np.ones(n), -np.ones(n)]
        matrix = coo_array((np.concatenate(value), (np.concatenate(row), np.concatenate(column))),
                           shape=(pairs + n, 2 * n + 1)).tocsr()
        return matrix, np.concatenate((-need, -(at[:n, 0] + self.high[:n, 0])))


def _bounds(bodies: list[tuple[Outline, Pose]]) -> tuple[np.ndarray, np.ndarray]:
    """Least and greatest x and y of the true outlines, origins at 0."""
    import numpy as np

    boxes = np.array([_extent(outline, pose) for outline, pose in bodies])
    return boxes[:, :2], boxes[:, 2:]


@lru_cache(maxsize=4096)
def _extent(outline: Outline, pose: Pose) -> tuple[float, float, float, float]:
    corners = [pose.of(p) for p in outline]
    x, y = [p.real for p in corners], [p.imag for p in corners]
    return min(x), min(y), max(x), max(y)
