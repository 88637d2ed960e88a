"""A guided search in a process of its own, so that a second core searches too; ended from outside at any time.

One pickled (problem, seconds, seed, start) on standard input, one pickled packing on standard output. Both ends are
this program: nothing that anybody else wrote is ever unpickled.
"""

from __future__ import annotations

import os
import pickle
import sys
import threading

from toilewright.packing.problem import Packing, Problem
from toilewright.packing.worker import start_worker

Task = tuple[Problem, float, int, Packing]


class Aside:
    """A search that runs beside this one. Use it in a ``with``: leaving ends it."""

    def __init__(self, task: Task) -> None:
        """It begins at once."""
        self._process = start_worker("guided_worker")
        self._said = b""
        self._talk = threading.Thread(target=self._speak, args=(pickle.dumps(task),), daemon=True)
        self._talk.start()

    def _speak(self, task: bytes) -> None:
        self._said, _ = self._process.communicate(task)

    def __enter__(self) -> Aside:
        return self

    def __exit__(self, *_: object) -> None:
        self._process.kill()
        self._talk.join(2.0)

    def found(self, wait: float) -> Packing | None:
        """What it found, waiting at most so many seconds; None if it is not done, or failed."""
        self._talk.join(max(wait, 0.0))
        if self._talk.is_alive() or not self._said:
            return None
        return pickle.loads(self._said)

    def failed(self) -> bool:
        """Has it ended without a lay?"""
        return not self._talk.is_alive() and not self._said


def main() -> None:
    """Search once; end early when the parent is no longer there."""
    from toilewright.packing.guided import guided
    from toilewright.packing.ready import ready

    parent = os.getppid()
    problem, seconds, seed, start = pickle.load(sys.stdin.buffer)
    ready()
    found = guided(problem, seconds, seed, start, stop=lambda: os.getppid() != parent)
    sys.stdout.buffer.write(pickle.dumps(found))


if __name__ == "__main__":
    main()
