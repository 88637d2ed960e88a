"""Several observations weighed together: each has one cause, and one cause may explain several of them.

Every way of giving each observation one of its causes (or "something else") gets a weight: the shares of the causes,
times what the tape sheet says of each alteration in it, times :data:`ONE_CAUSE` for each further observation that an
alteration explains. An alteration's likelihood is the weight of all ways that have it. This is Bayes' rule with shares
that are judgement, not counts.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from toilewright.fit.toile.causes import Candidate, Key

ONE_CAUSE = 4.0
"""times; one cause of two signs is so much likelier than two causes that come together (judgement, our own choice)."""

MOST_KEPT = 400
"""ways that are followed at once; the others are far less likely (exact for four observations of three causes)."""


@dataclass(frozen=True)
class Way:
    """One cause for each observation so far (None: something else), and its weight."""

    chosen: tuple[Candidate | None, ...] = ()
    weight: float = 1.0


@dataclass(frozen=True)
class Weighed:
    """By alteration its likelihood; and the likeliest way as a whole."""

    likelihood: Mapping[Key, float]
    best: Way


def weigh(rows: Sequence[Sequence[Candidate]], left: Sequence[float], odds: Mapping[Key, float]) -> Weighed:
    """Weigh all observations together.

    Args:
        rows: for each observation its causes.
        left: for each observation the share of "something else".
        odds: by alteration, what the tape sheet says for or against it.
    """
    ways = [Way()]
    for causes, rest in zip(rows, left, strict=True):
        grown = [way for old in ways for way in _grown(old, causes, rest, odds)]
        ways = sorted(grown, key=lambda w: -w.weight)[:MOST_KEPT]
        total = sum(w.weight for w in ways)
        ways = [Way(w.chosen, w.weight / total) for w in ways]
    likelihood: dict[Key, float] = {}
    for way in ways:
        for key in {c.key for c in way.chosen if c is not None}:
            likelihood[key] = likelihood.get(key, 0.0) + way.weight
    return Weighed(likelihood, ways[0])


def _grown(old: Way, causes: Sequence[Candidate], rest: float, odds: Mapping[Key, float]) -> list[Way]:
    here = {c.key for c in old.chosen if c is not None}
    ways = [Way((*old.chosen, None), old.weight * rest)]
    for one in causes:
        if any(_against(one.key, key) for key in here):
            continue
        more = ONE_CAUSE if one.key in here else odds.get(one.key, 1.0)
        ways.append(Way((*old.chosen, one), old.weight * one.cause.share * more))
    return ways


def _against(one: Key, other: Key) -> bool:
    """Is it one alteration, made both ways at one place?"""
    return one[:2] == other[:2] and one[2] != other[2]
