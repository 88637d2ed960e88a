"""Inner loops compiled to machine code (numba), once on a machine: what was compiled is kept for the next time.

It is kept beside the source or, where that cannot be written to, in the user's cache; where neither can, it is
compiled anew by every process.
"""

from __future__ import annotations

from collections.abc import Callable

from numba import njit


def compiled(function: Callable) -> Callable:
    """The function, compiled when it is first called; other threads, as of the worktable's pages, go on meanwhile."""
    try:
        return njit(cache=True, nogil=True)(function)
    except RuntimeError:  # no folder for it
        return njit(nogil=True)(function)
