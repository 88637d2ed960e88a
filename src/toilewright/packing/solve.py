"""Packing as the rest of the program knows it: a problem and some seconds go in, a packing without faults comes out.

A first fit is there at once. Then a plain strip of many pieces, or one for which there is time, is searched by the
packing library and its lay squeezed; a short search of few pieces, the beginning of a long one, and what the library
cannot express (folds, flaws, bands, repeats, either hand up), is done by the guided search on both cores.
"""

from __future__ import annotations

import os
from dataclasses import replace
from time import monotonic

from toilewright.errors import GeometryError
from toilewright.packing.by_engine import by_engine, can_express
from toilewright.packing.compaction import compact
from toilewright.packing.first_fit import first_fit
from toilewright.packing.problem import Packing, Problem, Stop, Tell
from toilewright.packing.ready import ready
from toilewright.packing.two_cores import search

ENGINE_LEAST = 3.0
"""s; the library takes whole seconds, and one for starting."""

ENGINE_LONG, ENGINE_MANY = 30.0, 40
"""From so many seconds or more things than that on the library searches; below, the guided search alone finds the
shorter lays (15 and 22 pieces in 10 s, three seeds each: 0.5 to 1 % less cloth; our own measurement)."""

LEAD, LEAD_MOST = 0.15, 60.0
"""Share of a long search of few things, and s at most, in which the guided search goes first: what it finds in ten
seconds the library does not always find in minutes, nor the other way round (our own measurement)."""

TURN_OVER, TURN_OVER_MOST = 0.2, 12.0
"""Share of the time, and s at most, in which a lay of the library's is searched on from where pieces may lie either
hand up, which it does not try. Where they may not, the guided search never made such a lay shorter (six public
instances, our own measurement)."""


def pack(problem: Problem, seconds: float = 10.0, seed: int = 0, tell: Tell | None = None, stop: Stop | None = None,
         workers: int | None = None) -> Packing:
    """The shortest packing found in the time; it has no faults.

    Args:
        seconds: to search; 0 for the first fit, squeezed.
        seed: another one searches in another order.
        tell: told of every better length.
        stop: asked often; the best packing so far is returned within half a second.
        workers: processes at the same time; None for two, if there are two cores.

    Raises:
        GeometryError: something cannot lie on the strip, or the strip ends before all have a place; the sentence
            names the item.
    """
    if seconds > 0.0:
        ready()
    begun = monotonic()
    start, lacking = _start(problem, stop)
    if tell is not None:
        tell(start.length, monotonic() - begun)
    found = _searched(replace(problem, longest=None) if lacking else problem, start, seconds, seed, tell, stop,
                      workers or min(2, os.cpu_count() or 1), begun)
    if lacking is not None and found.length > (problem.longest or 0.0):
        raise lacking
    return found


def _start(problem: Problem, stop: Stop | None) -> tuple[Packing, GeometryError | None]:
    """The first fit; where the strip is too short for it, one on an endless strip, and what to say if that remains so.

    Raises:
        GeometryError: an item cannot lie there at all.
    """
    try:
        return first_fit(problem, stop), None
    except GeometryError as error:
        if problem.longest is None:
            raise
        lacking = error
    for item in problem.items:  # one that is by itself too long stays so
        first_fit(replace(problem, items=(replace(item, count=1),)))
    return first_fit(replace(problem, longest=None), stop), lacking


def _searched(problem: Problem, start: Packing, seconds: float, seed: int, tell: Tell | None, stop: Stop | None,
              workers: int, begun: float) -> Packing:
    things = sum(item.count for item in problem.items)
    if things < 2 or seconds <= 0.0 or (stop is not None and stop()):
        return start if stop is not None and stop() else replace(compact(problem, start, stop), seed=seed)
    best, left = start, seconds
    if can_express(problem) and seconds >= ENGINE_LEAST and (seconds >= ENGINE_LONG or things > ENGINE_MANY):
        either = any(len({p.mirrored for p in item.poses}) > 1 for item in problem.items)
        lead = min(seconds * LEAD, LEAD_MOST) if things <= ENGINE_MANY else 0.0
        if lead > 0.0:
            best = search(problem, lead, seed, start, _since(tell, begun), stop, workers)
            if stop is not None and stop():
                return best
        left = min(seconds * TURN_OVER, TURN_OVER_MOST) if either else 0.0
        found = by_engine(problem, seconds - lead - left, seed, best, _since(tell, begun), stop, workers)
        left = seconds if found is best else left  # the library found nothing, or could not be started
        best = found
    left = min(left, begun + seconds - monotonic())
    if stop is not None and stop():
        return best
    if left <= 0.0:
        return best if best is not start else replace(compact(problem, start, stop), seed=seed)
    better = search(problem, left, seed, best, _since(tell, begun), stop, workers)
    return replace(better, repeatable=better.repeatable and best.repeatable)


def _since(tell: Tell | None, begun: float) -> Tell | None:
    return None if tell is None else lambda length, _: tell(length, monotonic() - begun)
