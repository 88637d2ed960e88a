"""The guided search on two cores: two seeds side by side, and the better of the two lays.

With a seed the lay is the same again as long as the work, not the clock, ended both searches.
"""

from __future__ import annotations

from dataclasses import replace
from time import monotonic

from toilewright.packing.guided import guided
from toilewright.packing.guided_worker import Aside
from toilewright.packing.problem import Packing, Problem, Stop, Tell

WORTH_A_PROCESS = 5.0
"""s; a shorter search is done here alone, as starting the other takes two."""

LATE = 2.5
"""s that the other process may be waited for beyond its time: it started later by its imports."""

FAR_SEED = 7919
"""Between the seeds of the two, so that neighbouring seeds of the user share nothing."""


def search(problem: Problem, seconds: float, seed: int, start: Packing, tell: Tell | None = None,
           stop: Stop | None = None, workers: int = 2) -> Packing:
    """The better of two guided searches; see :func:`toilewright.packing.guided.guided`.

    Args:
        start: a packing without faults.
        workers: processes at the same time; 1 searches here alone.
    """
    if seconds < WORTH_A_PROCESS or workers < 2:
        return guided(problem, seconds, seed, start, tell, stop)
    begun = monotonic()
    with Aside((problem, seconds, seed + FAR_SEED, start)) as aside:
        here = guided(problem, seconds, seed, start, tell, stop)
        there = None
        while there is None and not aside.failed() and monotonic() - begun < seconds + LATE:
            if stop is not None and stop():
                break
            there = aside.found(0.1)
    if there is None:
        return replace(here, repeatable=False)
    best = there if there.length < here.length - 1e-6 else here
    if tell is not None and best is there:
        tell(best.length, monotonic() - begun)
    return replace(best, seed=seed, repeatable=here.repeatable and there.repeatable)
