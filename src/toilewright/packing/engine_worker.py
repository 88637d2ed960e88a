"""The packing library in a process of its own: a task a line on standard input, what it finds on standard output.

    -> {"ticket": 1, "height": 900.0, "gap": 0.0, "seed": 1, "workers": 1, "explore": 8, "compress": 2, "early": true,
        "shapes": [{"outline": [[x, y], ...], "count": 2, "turns": [0.0, 180.0]}, ...]}
    <- {"ticket": 1, "length": 1234.5, "places": [[shape, turn, x, y], ...]}      better and better
    <- {"ticket": 1, "done": true} or {"ticket": 1, "failed": "why"}

The library cannot be called off, and its threads do not outlive a fork: so this is started afresh and ended from
outside. When standard input closes, or the parent is no longer there, it ends.
"""

from __future__ import annotations

import json
import os
import sys
import threading
import time

TICK = 0.02
"""s; between two looks at what has been found."""

QUADTREE_DEPTH = 2
"""The library's way of finding what is near; with so few pieces a shallow one finds the same lays in 5 % less time than
its usual 4 (our own measurement)."""


def main() -> None:
    """Take tasks until the input closes."""
    parent = os.getppid()
    for line in sys.stdin:
        work = threading.Thread(target=_work, args=(json.loads(line), parent), daemon=True)
        work.start()
    os._exit(0)


def _work(task: dict, parent: int) -> None:
    try:
        _solve(task, parent)
    except BaseException as error:  # what the library panics with is no Exception
        _say({"ticket": task["ticket"], "failed": f"{type(error).__name__}: {error}"})


def _solve(task: dict, parent: int) -> None:
    import spyrrow

    shapes = [spyrrow.Item(str(k), [tuple(p) for p in s["outline"]], s["count"], s["turns"])
              for k, s in enumerate(task["shapes"])]
    strip = spyrrow.StripPackingInstance("", task["height"], shapes)
    config = spyrrow.StripPackingConfig(
        early_termination=task["early"], min_items_separation=task["gap"] or None, total_computation_time=None,
        exploration_time=task["explore"], compression_time=task["compress"], num_workers=task["workers"],
        seed=task["seed"], quadtree_depth=QUADTREE_DEPTH)
    found, failed, told = spyrrow.ProgressQueue(), [], [float("inf")]

    def solve() -> None:
        try:
            strip.solve(config, found)
        except BaseException as error:  # see above
            failed.append(error)

    solving = threading.Thread(target=solve, daemon=True)
    solving.start()
    while True:
        last = not solving.is_alive()
        _tell(task["ticket"], found.drain(), told)
        if last:
            break
        if os.getppid() != parent:
            os._exit(0)
        time.sleep(TICK)
    if failed:
        raise failed[0]
    _say({"ticket": task["ticket"], "done": True})


def _tell(ticket: int, reports: list, told: list[float]) -> None:
    """Say every feasible lay that is shorter than what was said before."""
    from spyrrow import ReportType

    for kind, lay in reports:
        if kind not in (ReportType.ExplInfeas, ReportType.ExplImproving) and lay.width < told[0]:
            told[0] = lay.width
            _say({"ticket": ticket, "length": lay.width,
                  "places": [[int(p.id), p.rotation, *p.translation] for p in lay.placed_items]})


def _say(words: dict) -> None:
    sys.stdout.write(json.dumps(words, separators=(",", ":")) + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
