"""The packing library behind a pipe: tasks go in, better and better lays come out, and it can be ended at any time.

The library searches strips without flaws, folds, bands or repeats, knows turns but no mirror, and cannot be called
off: it runs in processes of its own (`engine_worker`), which are ended from here. Its numbers are single precision,
so a lay of its own may overlap by a hair: `compaction` sets that right.
"""

from __future__ import annotations

import contextlib
import json
import queue
import subprocess
import threading
import weakref
from dataclasses import dataclass

from toilewright.packing.worker import start_worker

Corners = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Shape:
    """An outline as the library takes it: corners (mm), how often, and the turns allowed (degrees)."""

    corners: Corners
    count: int
    turns: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Task:
    """One search.

    Attributes:
        height: of the strip (mm).
        gap: least distance between two outlines (mm).
        explore, compress: whole seconds for the two halves of the search, at most.
        early: may it end by itself when nothing more is found? One worker and a seed then give the same lay again.
    """

    height: float
    shapes: tuple[Shape, ...]
    gap: float = 0.0
    seed: int = 0
    workers: int = 1
    explore: int = 8
    compress: int = 2
    early: bool = False


@dataclass(frozen=True, slots=True)
class Found:
    """What a process says: a lay (length in mm; shape, turn in degrees, x, y for each copy), that it is done, or why
    it failed. `order` counts the lays of one task from 1."""

    engine: int
    ticket: int
    length: float = 0.0
    places: tuple[tuple[int, float, float, float], ...] = ()
    order: int = 0
    done: bool = False
    failed: str = ""


class Engine:
    """One process of the library; what it finds goes into `inbox`, which several engines may share.

    Use it in a ``with``: leaving ends the process. Starting a task while another runs ends that one first.
    """

    def __init__(self, inbox: queue.Queue[Found], name: int = 0) -> None:
        """Nothing is started before the first task; `name` is what its lays carry as their engine."""
        self.inbox, self.name = inbox, name
        self.ticket, self.busy = 0, False
        self._process: subprocess.Popen[str] | None = None
        self._gone: weakref.finalize | None = None

    def __enter__(self) -> Engine:
        return self

    def __exit__(self, *_: object) -> None:
        self.end()

    def start(self, task: Task) -> int:
        """Begin a search; returns the number that its lays will carry."""
        if self.busy:
            self.end()
        if self._process is None:
            self._open()
        self.ticket += 1
        self.busy = True
        try:
            self._process.stdin.write(_written(task, self.ticket) + "\n")
            self._process.stdin.flush()
        except OSError:
            self.inbox.put(Found(self.name, self.ticket, done=True, failed="The packing process ended by itself."))
        return self.ticket

    def heard(self, found: Found) -> bool:
        """Is this about the present task? Notes whether it is done."""
        if found.engine != self.name or found.ticket != self.ticket or not self.busy:
            return False
        self.busy = not found.done
        return True

    def end(self) -> None:
        """End the process, whatever it does; what it has said stays in the inbox."""
        if self._gone is not None:
            self._gone()
        self._process, self._gone, self.busy = None, None, False

    def _open(self) -> None:
        self._process = start_worker("engine_worker", text=True)
        reader = threading.Thread(target=_read, args=(weakref.ref(self), self._process), daemon=True)
        self._gone = weakref.finalize(self, _end, self._process, reader)
        reader.start()


def _written(task: Task, ticket: int) -> str:
    shapes = [{"outline": s.corners, "count": s.count, "turns": s.turns} for s in task.shapes]
    return json.dumps({"ticket": ticket, "height": task.height, "gap": task.gap, "seed": task.seed,
                       "workers": task.workers, "explore": task.explore, "compress": task.compress, "early": task.early,
                       "shapes": shapes})


def _read(engine: weakref.ref[Engine], process: subprocess.Popen[str]) -> None:
    """Pass on what the process says until it ends."""
    order = 0
    for line in process.stdout:
        here = engine()
        if here is None or here._process is not process:
            return
        words = json.loads(line)
        if "length" in words:
            order += 1
            places = tuple((int(k), turn, x, y) for k, turn, x, y in words["places"])
            here.inbox.put(Found(here.name, words["ticket"], words["length"], places, order))
        else:
            order = 0
            here.inbox.put(Found(here.name, words["ticket"], done=True, failed=words.get("failed", "")))
        del here
    here = engine()
    if here is not None and here._process is process:
        here.inbox.put(Found(here.name, here.ticket, done=True, failed="The packing process ended by itself."))


def _end(process: subprocess.Popen[str], reader: threading.Thread) -> None:
    """Kill, and wait: no process is left behind, not even a dead one."""
    process.kill()
    process.wait()
    if reader is not threading.current_thread():
        reader.join(1.0)
    for pipe in (process.stdin, process.stdout):
        with contextlib.suppress(OSError):
            pipe.close()
