"""Amounts that act on one another, settled together.

A fuller bust lengthens the front, a waist let out widens the bust above it: each amount was found with those before it
made, but without those after it. Here all of them are made, every rule is asked again, and what it still finds is
added, until little is found. What one amount does to another is learnt on the way (Broyden's rule), so that few rounds
are needed.

Source: Broyden, A class of methods for solving nonlinear simultaneous equations, 1965 (from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

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
    best, answers = (max(map(abs, left), default=0.0), now), _identity(len(now))
    for _ in range(ROUNDS):
        if best[0] < enough:
            break
        step = [sum(a * r for a, r in zip(row, left, strict=True)) for row in answers]
        trial = [v + s for v, s in zip(now, step, strict=True)]
        after = found(trial)
        if after is None:
            break
        gone = [a - b for a, b in zip(left, after, strict=True)]
        answers = learnt(answers, step, gone)
        now, left = trial, after
        best = min(best, (max(map(abs, left)), now))
    return best[1]


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
