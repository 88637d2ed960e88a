"""The packing library's search, for strips that it can express, with what it lacks put around it.

It has no mirror: pieces that may lie either hand up are dealt a hand. Its numbers are single precision: every lay is
squeezed by :mod:`compaction`, which also makes it a little shorter, before it counts.
"""

from __future__ import annotations

import queue
import random
from collections import Counter
from collections.abc import Iterator
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

AFTER_A_STOP, LONGEST_SQUEEZE = 0.2, 3.0
"""s for squeezing the library's lay."""

LOSS = 0.01
"""mm; corners that make less of a difference than this only slow the library down."""


def can_express(problem: Problem) -> bool:
    """Is this a plain strip: no flaws, folds, bands or repeats?"""
    return not problem.forbidden and all(
        i.origin_y is None and i.band is None and i.beat_x is None and i.beat_y is None for i in problem.items)


def by_engine(problem: Problem, seconds: float, seed: int, start: Packing, tell: Tell | None = None,
              stop: Stop | None = None, workers: int = 2) -> Packing:
    """The shortest lay that the library finds, squeezed; the start where it finds none that is shorter.

    Args:
        problem: one that it :func:`can_express`; its `longest` is left to the caller.
        seconds: whole ones are used; at least 2.
        start: a packing without faults.
    """
    dealt = tuple(_dealt(problem, random.Random(seed)))
    heard = _heard(_task(problem, dealt, seconds, seed, workers), seconds, start.length, tell, stop)
    if not heard:
        return start
    stopped = stop is not None and stop()
    end = monotonic() + (AFTER_A_STOP if stopped else LONGEST_SQUEEZE)
    rough = _packing(problem, dealt, heard[-1][1] if stopped else _settled(heard, seconds), seed)
    exact = compact(problem, rough, lambda: monotonic() > end, loss=COARSE if stopped else FINE)
    return exact if exact.length < start.length and not faults(problem, exact) else start


def _task(problem: Problem, dealt: tuple[tuple[int, bool, Shape], ...], seconds: float, seed: int, workers: int
          ) -> Task:
    """Long searches end with a squeeze of the library's own; short ones gain more by ours alone."""
    squeeze = round(seconds * COMPRESS) if seconds >= LONG else 0
    explore = int(seconds) - squeeze if squeeze else int(seconds) + 2  # ended from here
    return Task(problem.height, tuple(shape for _, _, shape in dealt), problem.gap, seed, workers, explore,
                max(squeeze, 1))


def _heard(task: Task, seconds: float, shortest: float, tell: Tell | None, stop: Stop | None
           ) -> list[tuple[float, Found]]:
    """Every lay that the library finds in the time, with the seconds until then."""
    begun, heard = monotonic(), []
    if task.explore < seconds:  # it ends by itself; what it took to start is not taken off its squeeze
        seconds += STARTING
    inbox: queue.Queue[Found] = queue.Queue()
    with Engine(inbox) as engine:
        engine.start(task)
        while engine.busy and monotonic() - begun < seconds:
            if stop is not None and stop():
                break
            try:
                found = inbox.get(timeout=TICK)
            except queue.Empty:
                continue
            if engine.heard(found) and not found.done:
                heard.append((monotonic() - begun, found))
                if tell is not None and found.length < shortest:
                    tell(found.length, heard[-1][0])
    return heard


def _settled(heard: list[tuple[float, Found]], seconds: float) -> Found:
    """The lay to take: the last one, or one before it that is as good and after which a while nothing came.

    With a seed the library finds the same lays in the same order, only not at the same moments; a lay before a pause
    is the one that another run would end with as well.
    """
    last = heard[-1][1]
    until = [at for at, _ in heard[1:]] + [seconds]
    for (at, found), after in zip(reversed(heard), reversed(until), strict=True):
        if found.length > last.length * AS_GOOD:
            break
        if after - at >= PAUSE * seconds:
            return found
    return last


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

