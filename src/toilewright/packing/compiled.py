"""Inner loops compiled to machine code (numba), once on a machine: what was compiled is kept for the next time.

It is kept beside the source or, where that cannot be written to, in the user's cache; where neither can, it is
compiled anew by every process.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from numba import njit


def compiled(function: Callable) -> Callable:
    """The function, compiled when it is first called; other threads, as of the worktable's pages, go on meanwhile."""
    try:
        return njit(cache=True, nogil=True)(function)
    except RuntimeError:  # no folder for it
        return njit(nogil=True)(function)


@cache
def ready() -> None:
    """Have all of it compiled: some ten seconds the first time, a fraction of one afterwards."""
    from toilewright.packing.compaction import COARSE, compact
    from toilewright.packing.problem import Item, Packing, Placed, Pose, Problem
    from toilewright.packing.table import warm

    square = (0j, 10 + 0j, 10 + 10j, 10j)
    problem = Problem(10.0, (Item("square", square, 2),))
    apart = Packing(25.0, (Placed(0, 0, Pose(), 0j), Placed(0, 1, Pose(), 15 + 0j)))
    compact(problem, apart, rounds=1, loss=COARSE)
    warm(problem, apart)


if __name__ == "__main__":
    ready()
