"""The packing library's search, for strips that it can express, with what it lacks put around it.

It has no mirror: pieces that may lie either hand up are dealt a hand. Its numbers are single precision: every lay is
squeezed by :mod:`compaction`, which also makes it a little shorter, before it counts.
"""

from __future__ import annotations

import queue
import random
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from time import monotonic

from toilewright.packing.compaction import COARSE, FINE, compact
from toilewright.packing.convex import simplified
from toilewright.packing.engine import Engine, Found, Shape, Task
from toilewright.packing.problem import Item, Packing, Placed, Pose, Problem, Stop, Tell
from toilewright.packing.valid import faults

NAME = "the packing library, then squeezed"

TICK = 0.1
"""s between two looks at whether to stop."""

LONG, COMPRESS = 30.0, 0.2
"""From so many seconds on the library squeezes for this share of them rather than searches."""

STARTING = 0.7
"""s that the library's process takes to start, at most."""

PAUSE, AS_GOOD = 0.05, 1.003
"""Share of the time without news, and how much longer a lay before it may be, to end with it rather than the last."""

STALE = 30.0
"""s without a better lay, and as long again as it took until then: another seed finds more (our own measurement)."""

FAR_SEED = 104729
"""Between the seeds of rounds."""

AFTER_A_STOP, SQUEEZE, SQUEEZE_SHARE = 0.2, 1.0, 0.1
"""s for squeezing the library's lays, at most; and the share of the search."""

SQUEEZED = 8
"""Lays of one search that are squeezed: an earlier one may gain more than the last."""

LOSS = 0.01
"""mm; corners that make less of a difference than this only slow the library down."""


def can_express(problem: Problem) -> bool:
    """Is this a plain strip: no flaws, folds, bands or repeats?"""
    return not problem.forbidden and all(
        i.origin_y is None and i.band is None and i.beat_x is None and i.beat_y is None for i in problem.items)


def by_engine(problem: Problem, seconds: float, seed: int, start: Packing, tell: Tell | None = None,
              stop: Stop | None = None, workers: int = 2) -> Packing:
    """The shortest lay that the library finds, squeezed; the start where it finds none that is shorter.

    A long search that finds nothing more begins again with another seed.

    Args:
        problem: one that it :func:`can_express`; its `longest` is left to the caller.
        seconds: at least 2.
        start: a packing without faults.
    """
    begun, best = monotonic(), start
    for k in range(int(seconds / STALE) + 1):
        gone = monotonic() - begun
        if k and (seconds - gone < STALE or (stop is not None and stop())):
            break
        best = _round(problem, _Round(seconds - gone, seed + k * FAR_SEED, workers, gone), best, tell, stop)
    return best


@dataclass(frozen=True, slots=True)
class _News:
    """A lay that the library found, and after how many seconds."""

    at: float
    found: Found


@dataclass(frozen=True, slots=True)
class _Round:
    """One search of the library: s that it may take, its seed, its threads, s gone before it."""

    seconds: float
    seed: int
    workers: int
    gone: float

    @property
    def squeeze(self) -> float:
        """s for our own squeeze."""
        return min(SQUEEZE, SQUEEZE_SHARE * self.seconds)

    def task(self, problem: Problem, shapes: tuple[Shape, ...]) -> Task:
        """Long searches end with a squeeze of the library's own; short ones gain more by ours alone."""
        whole = self.seconds - self.squeeze
        squeeze = round(whole * COMPRESS) if whole >= LONG else 0
        explore = int(whole) - squeeze if squeeze else int(whole) + 2  # ended from here
        return Task(problem.height, shapes, problem.gap, self.seed, self.workers, explore, max(squeeze, 1))


def _round(problem: Problem, this: _Round, best: Packing, tell: Tell | None, stop: Stop | None) -> Packing:
    dealt = tuple(_dealt(problem, random.Random(this.seed)))
    heard = _heard(this.task(problem, tuple(shape for _, _, shape in dealt)), this, best.length, tell, stop)
    stopped = stop is not None and stop()
    end = monotonic() + (AFTER_A_STOP if stopped else this.squeeze)
    for found in [news.found for news in heard[-1:]] if stopped else _to_squeeze(heard, this.seconds):
        rough = _packing(problem, dealt, found, this.seed)
        exact = compact(problem, rough, lambda: monotonic() > end, loss=COARSE if stopped else FINE)
        if exact.length < best.length and not faults(problem, exact):
            best = exact
        if monotonic() > end:
            break
    return best


def _heard(task: Task, this: _Round, shortest: float, tell: Tell | None, stop: Stop | None) -> list[_News]:
    """Every lay that the library finds in the time, with the seconds until then."""
    begun, seconds, heard = monotonic(), this.seconds - this.squeeze, []
    if task.explore < seconds:  # it ends by itself; what it took to start is not taken off its squeeze
        seconds += STARTING
    inbox: queue.Queue[Found] = queue.Queue()
    with Engine(inbox) as engine:
        engine.start(task)
        while engine.busy and (gone := monotonic() - begun) < seconds and not _stale(heard, gone, task, seconds):
            if stop is not None and stop():
                break
            try:
                found = inbox.get(timeout=TICK)
            except queue.Empty:
                continue
            if engine.heard(found) and not found.done:
                heard.append(_News(monotonic() - begun, found))
                if tell is not None and found.length < shortest:
                    tell(found.length, this.gone + heard[-1].at)
    return heard


def _stale(heard: list[_News], gone: float, task: Task, seconds: float) -> bool:
    """Has the search been at its end for long, with time for another one?"""
    return bool(heard) and gone < task.explore and seconds - gone > STALE and gone - heard[-1].at > max(
        STALE, heard[-1].at)


def _to_squeeze(heard: list[_News], seconds: float) -> list[Found]:
    """The lays to squeeze, the most promising first: the last ones.

    Of a short search they are those before a while without news, if those are as good. With a seed the library finds
    the same lays in the same order, only not at the same moments; a lay before a pause is the one that another run
    would end with as well.
    """
    last = len(heard)
    if heard and seconds < LONG:
        until = [news.at for news in heard[1:]] + [seconds]
        last = next((k + 1 for k in reversed(range(len(heard))) if until[k] - heard[k].at >= PAUSE * seconds), last)
        if heard[last - 1].found.length > heard[-1].found.length * AS_GOOD:
            last = len(heard)
    return [news.found for news in reversed(heard[max(last - SQUEEZED, 0):last])]


def _dealt(problem: Problem, chance: random.Random) -> Iterator[tuple[int, bool, Shape]]:
    """(item, mirrored, shape) for each hand of each item; copies that may lie either way are dealt a hand."""
    for k, item in enumerate(problem.items):
        hands = sorted({p.mirrored for p in item.poses})
        counts = Counter(chance.choice(hands) for _ in range(item.count))
        for hand, count in sorted(counts.items()):
            turns = tuple(sorted({p.turn for p in item.poses if p.mirrored == hand}))
            yield k, hand, Shape(_corners(item, hand), count, turns)


def _corners(item: Item, mirrored: bool) -> tuple[tuple[float, float], ...]:
    """The outline as the library takes it: mirrored beforehand, counter-clockwise."""
    outline = [Pose(0.0, mirrored).of(p) for p in simplified(item.outline, LOSS)]
    return tuple((p.real, p.imag) for p in (outline[::-1] if mirrored else outline))


def _packing(problem: Problem, dealt: tuple[tuple[int, bool, Shape], ...], found: Found, seed: int) -> Packing:
    """A lay of the library as ours."""
    copies: Counter[int] = Counter()
    placed = []
    for k, turn, x, y in found.places:
        item, hand, _ = dealt[k]
        pose = min((p for p in problem.items[item].poses if p.mirrored == hand),
                   key=lambda p, turn=turn: abs((p.turn - turn + 180.0) % 360.0 - 180.0))
        placed.append(Placed(item, copies[item], pose, complex(x, y)))
        copies[item] += 1
    placed.sort(key=lambda p: (p.item, p.copy))
    length = max(p.real for one in placed for p in one.outline(problem))
    return Packing(length, tuple(placed), NAME, seed, False)

