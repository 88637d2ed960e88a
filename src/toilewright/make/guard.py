"""A bound on time and memory for work on files that somebody else made.

The readers count what they draw; but a file can keep within every count and still ask for hours of sorting. A watcher
in a thread of its own stops the work then, wherever it is.
"""

from __future__ import annotations

import ctypes
import os
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager

from toilewright.errors import FileError

SECONDS = 30.0
"""seconds of computing on one file; the largest honest sheet took five where this was written, and her laptop may be
three times slower."""

MEMORY = 1_500_000_000
"""bytes of memory; the largest honest sheet takes 200 MB."""

_LOOK = 0.1
"""seconds between two looks at the clock."""


class _Stopped(BaseException):
    """Raised in the watched thread; no ``except Exception`` on the way may catch it."""


@contextmanager
def bounded(name: str, seconds: float = SECONDS, memory: int = MEMORY) -> Iterator[None]:
    """Watch over the work on one file.

    Args:
        name: the file, for the message.
        seconds: of computing by this process, not of waiting, so that a busy machine makes no difference.
        memory: bytes more than the process held before.

    Raises:
        FileError: the work took more than that, or the machine had no more memory.
    """
    watcher = _Watcher(threading.get_ident(), seconds, memory)
    watcher.start()
    try:
        try:
            yield
        except MemoryError:
            watcher.reason = watcher.reason or "memory"
        except Exception as problem:
            # GEOS says it in words of its own.
            if not watcher.reason and "bad_alloc" not in str(problem):
                raise
            watcher.reason = watcher.reason or "memory"
        finally:
            watcher.end()
    except _Stopped:
        watcher.end()  # the stop may have come on the way to the end above
    if watcher.reason:
        raise FileError(
            f'"{name}" asks for more {watcher.reason} than any pattern needs, so the reading was stopped; if it is an '
            "honest pattern, take hatching, pictures made of lines and lettering turned into curves out of it, and "
            "export it again.")


class _Watcher(threading.Thread):
    """Stops a thread that uses too much; `reason` says of what."""

    def __init__(self, watched: int, seconds: float, memory: int) -> None:
        super().__init__(name="guard", daemon=True)
        self.reason = ""
        self._watched = watched
        self._seconds, self._memory = time.process_time() + seconds, _memory_in_use() + memory
        self._done = threading.Event()

    def run(self) -> None:
        """Look again and again; a stop that some library swallowed is said again."""
        while not self._done.wait(_LOOK):
            if time.process_time() > self._seconds:
                self.reason = self.reason or "time"
            elif _memory_in_use() > self._memory:
                self.reason = self.reason or "memory"
            if self.reason:
                _raise_in(self._watched, _Stopped)

    def end(self) -> None:
        """No stop arrives after this."""
        while True:
            try:
                self._done.set()
                self.join()
                _raise_in(self._watched, None)
                return
            except _Stopped:
                continue


def _raise_in(thread: int, what: type[BaseException] | None) -> None:
    ctypes.pythonapi.PyThreadState_SetAsyncExc(ctypes.c_ulong(thread), what and ctypes.py_object(what))


def _memory_in_use() -> int:
    """Bytes of memory that this process holds now (at most so far, where the system does not tell more); else 0."""
    try:
        with open("/proc/self/statm", encoding="ascii") as file:
            return int(file.read().split()[1]) * os.sysconf("SC_PAGE_SIZE")
    except OSError:
        pass
    try:
        import resource
    except ImportError:
        return 0
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return most if sys.platform == "darwin" else most * 1024
