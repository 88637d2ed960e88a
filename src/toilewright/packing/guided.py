"""Guided search: a shorter strip, everything in it even if it overlaps, and then piece after piece put where it fits.

The strip is made a little shorter than the best lay so far. Pieces may overlap at first; one after the other goes to
the place and the way round where it is least in the way, and pairs that stay in conflict weigh more each time (guided
local search; for strips J. Egeblad, B. K. Nielsen and A. Odgaard 2007, for raster maps A. K. Sato and others 2019; from
memory). A strip without overlaps on the lattice is made exact by the squeeze of :mod:`compaction`, and the next one is
shorter still. Every constraint of a problem is kept, those that the packing library does not know among them.

Work is counted, not timed: the same seed and seconds give the same lay again, unless the clock had to end the search,
as on a slow machine; the packing says so.
"""

from __future__ import annotations

import random
from contextlib import suppress
from dataclasses import dataclass, replace
from itertools import cycle
from time import monotonic

from toilewright.packing.compaction import COARSE, compact
from toilewright.packing.first_fit import first_fit
from toilewright.packing.problem import Packing, Problem, Stop, Tell
from toilewright.packing.rasters import Lattice
from toilewright.packing.table import Table, TimeToEnd
from toilewright.packing.valid import faults

WORK_A_SECOND = 800.0e6
"""Bounds added for each second asked for: a little less than what a core does with the other one busy too, so that the
work ends before the clock (950 to 1250 million on two cores of 2024, our own measurement)."""

A_SQUEEZE, A_THING = 6.0e6, 0.6e6
"""Bounds in whose time an exact squeeze is done, and for each thing besides (our own measurement)."""

FIRST_SHARE = 0.08
LEAST_SHARE = 0.003
"""Share by which the strip is first made shorter, and the least one that is tried: with less, the lattice, which lets
pairs overlap a little, is content with the lay as it is."""

PLACES_ACROSS = (90, 97, 84)
FINEST, COARSEST = 4.0, 20.0
"""Rows of the lattices across the strip that are used in turn, and the bounds of their pitch (mm): what one lattice
misses by a few millimetres lies well on another."""

STALE = 300
"""Strips in vain, each the least bit shorter, before the next lattice is taken: 15 pieces on open cloth then take 0.8 %
less after 10 s of work (twelve seeds in pairs), 22 pieces the same (our own measurement)."""

LOOSE = 0.4
"""Pitches of overlap of a pair that count as none: the exact squeeze takes them out again."""

ROUNDS = 12
"""of the squeeze that makes a strip of the lattice exact."""

TRIES = 3
"""With a strip, before a longer one is tried."""

FUTILE = 15
"""Strips in vain, times the square of the number of things, after which nothing is left to find."""

LEFT_OVER = 3.0
"""Pitches of overlap in all that are left to the exact squeeze."""

PATIENCE = 60
"""Rounds of raised weights without a new least overlap before a strip is given up, where twice LEFT_OVER overlaps."""


def guided(problem: Problem, seconds: float, seed: int = 0, start: Packing | None = None, tell: Tell | None = None,
           stop: Stop | None = None) -> Packing:
    """The shortest packing found; never longer than its start, and never with a fault.

    Args:
        seconds: about how long to search.
        start: a packing without faults; None for the first fit.
        tell: told (length of the best packing in mm, seconds gone).
        stop: asked often; the best packing until then is returned.

    Raises:
        GeometryError: an item has no place on the strip.
    """
    begun = monotonic()
    best = start if start is not None else first_fit(problem)
    search = _Search(problem, best, seed, _Budget(begun, seconds, stop), tell)
    search.squeeze_start()
    if len(best.placed) > 1:
        search.run()
    return search.result()


@dataclass
class _Budget:
    """What may be spent: work first, the clock as a last resort."""

    begun: float
    seconds: float
    stop: Stop | None
    work: float = 0.0
    ended_by_clock: bool = False

    def over(self) -> bool:
        """Is it time to end?"""
        if monotonic() - self.begun > self.seconds or (self.stop is not None and self.stop()):
            self.ended_by_clock = True
        return self.ended_by_clock or self.work >= self.seconds * WORK_A_SECOND

    def spent(self, work: float) -> bool:
        """So much work more was done; is it time to end?"""
        self.work += work
        return self.over()


class _Search:
    """One search: its best packing, its lattice, its chance."""

    def __init__(self, problem: Problem, best: Packing, seed: int, budget: _Budget, tell: Tell | None) -> None:
        self.problem, self.best, self.seed, self.budget, self.tell = problem, best, seed, budget, tell
        self.chance = random.Random(seed)
        self.found = False
        self.share, self.failed = FIRST_SHARE, 0

    def squeeze_start(self) -> None:
        """The start itself, made short."""
        self._keep(compact(self.problem, self.best, self._halted, ROUNDS, COARSE))
        if self.tell:
            self.tell(self.best.length, monotonic() - self.budget.begun)

    def run(self) -> None:
        """Shorter and shorter strips until the budget is spent, on one lattice after the other."""
        floor = _least_length(self.problem)
        with suppress(TimeToEnd):
            for across in cycle(PLACES_ACROSS):
                pitch = min(max(self.problem.height / across, FINEST), COARSEST)
                lattice = Lattice(self.problem, pitch, LOOSE * pitch)
                self._strips(Table(lattice, self.best.placed, self.budget.spent), floor)
                if self._ended(floor):
                    break

    def _ended(self, floor: float) -> bool:
        return (self.budget.over() or self.best.length <= floor + 1e-6
                or self.failed >= FUTILE * len(self.best.placed) ** 2)

    def _strips(self, table: Table, floor: float) -> None:
        """Strips until all is at an end, or this lattice is stale."""
        stale = 0
        while not self._ended(floor) and stale < STALE:
            least = self.share <= LEAST_SHARE
            table.put(self.best.placed, max(self.best.length * (1.0 - self.share), floor))
            if least:
                self._shake(table)
            if self._tries(table):
                self.failed = stale = 0
            else:
                self.failed, stale = self.failed + 1, stale + least
                self.share = max(self.share / 2, LEAST_SHARE)

    def _tries(self, table: Table) -> bool:
        """One strip, tried from the best lay and then from what the tries before ended in, shaken; is one shorter?"""
        for _ in range(TRIES):
            if self._settle(table) and self._keep(self._exact(table)):
                return True
            if self.budget.over():
                return False
            self._shake(table)
        return False

    def result(self) -> Packing:
        """The best packing, squeezed to the hair, with how it was found."""
        self._keep(compact(self.problem, self.best, self._halted))
        return replace(self.best, seed=self.seed, repeatable=not self.budget.ended_by_clock,
                       how="guided search" if self.found else self.best.how)

    def _halted(self) -> bool:
        return self.budget.stop is not None and self.budget.stop()

    def _settle(self, table: Table) -> bool:
        """Pieces moved one by one until next to none overlap; False when given up.

        What is left when given up may still be little enough for the exact squeeze to spread it over the strip.
        """
        left_over = LEFT_OVER * table.lattice.pitch[0]
        return table.settle(PATIENCE, 2.0 * left_over, self.chance) <= left_over

    def _shake(self, table: Table) -> None:
        """Two pieces change places, or one goes anywhere: out of the valley that the last strips ended in."""
        for _ in range(self.chance.choice((1, 1, 2, 3))):
            if self.chance.random() < 0.7:
                table.swap(self.chance)
            else:
                table.toss(self.chance)

    def _exact(self, table: Table) -> Packing:
        self.budget.work += A_SQUEEZE + A_THING * table.count
        rough = Packing(table.reach(), table.placed(), "guided search")
        return compact(self.problem, rough, self._halted, ROUNDS, COARSE, self.best.length)

    def _keep(self, packing: Packing) -> bool:
        """Is it better and without a fault? Then it is the best."""
        if packing.length >= self.best.length - 1e-6 or faults(self.problem, packing):
            return False
        self.best, self.found = packing, self.found or packing.how == "guided search"
        if self.tell:
            self.tell(packing.length, monotonic() - self.budget.begun)
        return True


def _least_length(problem: Problem) -> float:
    """No packing is shorter: by area, and by the longest piece (mm)."""
    from toilewright.packing.nofit import item_shape

    shapes = [[item_shape(problem, i, pose) for pose in item.poses] for i, item in enumerate(problem.items)]
    area = sum(s[0].area * item.count for s, item in zip(shapes, problem.items, strict=True))
    return max(area / problem.height, *(min(one.right - one.left for one in s) for s in shapes))
