"""Everything that is compiled, compiled: when the program is set up, or before the clock of a search starts."""

from __future__ import annotations

import random
from functools import cache

from toilewright.packing.compaction import COARSE, compact
from toilewright.packing.problem import Item, Packing, Placed, Pose, Problem
from toilewright.packing.rasters import Lattice
from toilewright.packing.table import Table


@cache
def ready() -> None:
    """Have all of it compiled: some ten seconds the first time, a fraction of one afterwards."""
    square = (0j, 10 + 0j, 10 + 10j, 10j)
    problem = Problem(10.0, (Item("square", square, 2),))
    apart = Packing(25.0, (Placed(0, 0, Pose(), 0j), Placed(0, 1, Pose(), 15 + 0j)))
    compact(problem, apart, rounds=1, loss=COARSE)
    lattice = Lattice(problem, 5.0, 1.0)
    lattice.bring(0, 0)  # things so far apart ask for no map
    table = Table(lattice, apart.placed, lambda _: False)
    table.put(apart.placed, apart.length)
    table.settle(1, 1.0, random.Random(0))


if __name__ == "__main__":
    ready()
