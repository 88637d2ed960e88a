"""In which order to cut (common practice, no published source).

From the cut end on, so that the cloth that is cut lies clear of the rest: whatever begins nearer to the end comes
first; of pieces that begin within a hand's breadth of each other, those on the fold come before the others, as their
fold must not shift any more, then the large before the small, which can still be shifted a little.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from toilewright.cutting.lay.pieces import area_of
from toilewright.cutting.lay.plan import Laid, Layer

REACH = 100.0
"""mm; pieces that begin within a hand's breadth of each other are neighbours (common practice, no published source)."""


def in_order(laid: Sequence[Laid]) -> tuple[Laid, ...]:
    """The pieces in the order in which to cut them, copies numbered anew in that order; both layers of a double one
    follow each other."""
    ones = sorted(laid, key=lambda one: (one.section, min(p.real for p in one.outline)))
    groups: list[list[Laid]] = []
    for one in ones:
        begin = min(p.real for p in one.outline)
        if groups and groups[-1][0].section == one.section and begin - _begin(groups[-1][0]) <= REACH:
            groups[-1].append(one)
        else:
            groups.append([one])
    ordered = [one for group in groups for one in sorted(group, key=_rank)]
    copies: dict[tuple[str, str], int] = {}
    numbered = []
    for one in ordered:
        key = (one.piece.make, one.piece.name)
        copies[key] = copies.get(key, 0) + 1
        numbered.append(replace(one, copy=copies[key]))
    return tuple(numbered)


def turns_of(laid: Sequence[Laid]) -> tuple[int, ...]:
    """For each piece in order the number of its cut, from 1: both layers are cut at once."""
    numbers: list[int] = []
    for k, one in enumerate(laid):
        before = laid[k - 1] if k else None
        together = (before is not None and one.layer is Layer.LOWER and before.layer is Layer.UPPER
                    and (before.pose, before.at, before.piece.name) == (one.pose, one.at, one.piece.name))
        numbers.append(numbers[-1] if together else (numbers[-1] if numbers else 0) + 1)
    return tuple(numbers)


def _begin(one: Laid) -> float:
    return min(p.real for p in one.outline)


def _rank(one: Laid) -> tuple[float, ...]:
    return (one.layer is not Layer.BOTH, -abs(area_of(one.outline)), one.at.real, one.at.imag,
            one.layer is Layer.LOWER)
