"""Amounts that act on one another, settled together.

A fuller bust lengthens the front, a waist let out widens the bust above it: each amount was found with those before it
made, but without those after it. Here all of them are made, every rule is asked again, and what it still finds is
added, until little is found. What one amount does to another is learnt on the way (Broyden's rule), so that few rounds
are needed.

Source: Broyden, A class of methods for solving nonlinear simultaneous equations, 1965 (from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import inf

ROUNDS = 6
"""How often all rules are asked again."""


def settled(found: Callable[[Sequence[float]], list[float] | None], start: Sequence[float],
            enough: float) -> list[float]:
    """The amounts for which nothing more is found.

    Args:
        found: what the rules still find with these amounts made; None when they cannot be made.
        start: amounts to begin with.
        enough: what is found may be as small as this (mm).

    >>> [round(v, 3) for v in settled(lambda x: [10 - x[0] - 0.6 * x[1], 6 - x[1] - 0.5 * x[0]], [10, 1], 1e-3)]
    [9.143, 1.429]
    """
    now, left = list(start), found(start)
    if left is None:
        return now
    free, answers = set(range(len(now))), _identity(len(now))
    best = (_most(left, free), now)
    for _ in range(ROUNDS):
        if best[0] < enough:
            break
        step = [sum(a * r for a, r in zip(row, left, strict=True)) if i in free else 0.0
                for i, row in enumerate(answers)]
        taken = _taken(found, now, step, free)
        if taken is None:
            break
        trial, after, held = taken
        if held is not None:
            free.discard(held)
            best = (inf, now)
        moved, gone = _less(trial, now), _less(left, after)
        answers = learnt(answers, moved, gone)
        now, left = trial, after
        best = min(best, (_most(left, free), now))
    return best[1]


def _taken(found: Callable[[Sequence[float]], list[float] | None], now: Sequence[float], step: Sequence[float],
           free: set[int]) -> tuple[list[float], list[float], int | None] | None:
    """Amounts after a step, what is found with them, and which one had to be held where it was, as no more of it fits.

    None when the step cannot be made even so.
    """
    trial = [v + s for v, s in zip(now, step, strict=True)]
    after = found(trial)
    if after is not None:
        return trial, after, None
    for i in sorted(free, key=lambda i: -abs(step[i])):
        part = [*trial[:i], now[i], *trial[i + 1:]]
        after = found(part)
        if after is not None:
            return part, after, i
    return None


def _less(one: Sequence[float], other: Sequence[float]) -> list[float]:
    return [a - b for a, b in zip(one, other, strict=True)]


def _most(left: Sequence[float], free: set[int]) -> float:
    return max((abs(left[i]) for i in free), default=0.0)


def _identity(size: int) -> list[list[float]]:
    return [[float(i == j) for j in range(size)] for i in range(size)]


def learnt(answers: list[list[float]], step: Sequence[float], gone: Sequence[float]) -> list[list[float]]:
    """The table that answers what is off with a step, so that it would have foretold this step's effect."""
    foretold = [sum(a * g for a, g in zip(row, gone, strict=True)) for row in answers]
    back = [sum(step[i] * answers[i][j] for i in range(len(step))) for j in range(len(step))]
    size = sum(b * g for b, g in zip(back, gone, strict=True))
    if abs(size) < 1e-12:
        return answers
    return [[a + (s - f) * b / size for a, b in zip(row, back, strict=True)]
            for row, s, f in zip(answers, step, foretold, strict=True)]
