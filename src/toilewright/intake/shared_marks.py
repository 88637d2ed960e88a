"""Marks drawn in one look for all sizes: which size each of them belongs to."""

from __future__ import annotations

from collections.abc import Sequence

from toilewright.geometry.point import turn
from toilewright.intake.arrows import find_arrows
from toilewright.intake.corners import bits
from toilewright.intake.dart_lines import DartLines, find_darts
from toilewright.intake.notches import SMALL
from toilewright.intake.raw import RawDart
from toilewright.intake.sketch import Sketch

TOUCHES = 1.0
"""mm; a mark whose end is this near to an outline is drawn on it."""

EXACT = 0.25
"""mm; a mark whose end is this near to an outline was drawn from it (printing and reading noise)."""

SAME_DART = 60.0
"""mm; apexes of one dart in neighbouring sizes are nearer than this."""


def share_out(common: Sequence[Sketch], outlines: Sequence[Sketch | None]) -> list[list[Sketch]]:
    """For each size the common marks that are its own or everybody's.

    A mark whose end lies on the outlines of some sizes belongs to these alone. Darts that stop short of every
    outline, as many of them as there are sizes, are dealt out from the inside to the outside.
    """
    present = [i for i, o in enumerate(outlines) if o]
    inward = _ticks_point_inward(common, outlines, present)
    heaps: list[list[Sketch]] = [[] for _ in outlines]
    floating: list[Sketch] = []
    arrows = _of_arrows(common)
    for mark in common:
        if id(mark) in arrows:
            for i in present:
                heaps[i].append(mark)
            continue
        touched = [] if mark.path.closed else _touched(mark, outlines, present, inward)
        if not touched and len(present) > 1 and not mark.path.closed and mark.length > 25:
            floating.append(mark)
            continue
        for i in touched or present:
            heaps[i].append(mark)
    dealt = _deal(floating, outlines, present) if floating else {}
    for k, mark in enumerate(floating):
        for i in dealt.get(k, present):
            heaps[i].append(mark)
    return heaps


def _touched(mark: Sketch, outlines: Sequence[Sketch | None], present: Sequence[int], inward: bool) -> list[int]:
    """Sizes on whose outline the mark begins; a tick's other end may meet a neighbour's outline by chance."""
    near = [(i, gap, end) for i in present for end in (0, -1)
            if (gap := outlines[i].nearest(mark.path.nodes[end]).distance) < TOUCHES]
    if mark.span <= SMALL:
        exact = [i for i, gap, end in near if gap < EXACT and _lies_inside(mark, outlines[i], end) == inward]
        if exact:
            return sorted(set(exact))
    return sorted({i for i, _, _ in near})


def _of_arrows(common: Sequence[Sketch]) -> set[int]:
    """The marks that arrows are drawn with: they are everybody's, whatever outline their ends come near."""
    lines = [s for s in common if not s.path.closed]
    found = bits([s.path for s in lines])
    shapes = [s for s in common if s.path.closed and s.span <= 1.5 * SMALL]
    return {id(lines[found[i].source]) for arrow in find_arrows(found, shapes) for i in arrow.bits}


def _lies_inside(mark: Sketch, outline: Sketch, end: int) -> bool:
    return outline.contains((mark.path.start + mark.path.end + mark.path.nodes[-1 - end]) / 3)


def _ticks_point_inward(common: Sequence[Sketch], outlines: Sequence[Sketch | None], present: Sequence[int]) -> bool:
    """Do more ticks begin on an outline and run inward than outward?"""
    votes = 0
    for mark in common:
        if mark.path.closed or mark.span > SMALL:
            continue
        sides = {_lies_inside(mark, outlines[i], end) for i in present for end in (0, -1)
                 if outlines[i].nearest(mark.path.nodes[end]).distance < EXACT}
        votes += (True in sides) - (False in sides)
    return votes >= 0


def _deal(floating: Sequence[Sketch], outlines: Sequence[Sketch | None],
          present: Sequence[int]) -> dict[int, list[int]]:
    """Number of a floating mark -> the sizes it belongs to, for darts that come in as many sizes as the piece."""
    largest = outlines[max(present, key=lambda i: outlines[i].area)]
    found = bits([s.path for s in floating])
    darts: DartLines = find_darts(found, largest)
    dealt: dict[int, list[int]] = {}
    for group in _alike(darts.darts):
        if len(group) != len(present):
            continue
        group.sort(key=lambda d: -min(largest.nearest(d.first).distance, largest.nearest(d.second).distance))
        order = sorted(present, key=lambda i: outlines[i].area)
        for size, dart in zip(order, group, strict=True):
            for bit in found:
                ends = (bit.a, bit.b)
                if any(abs(p - dart.apex) < 1.5 for p in ends) and any(
                        abs(p - foot) < 1.5 for p in ends for foot in (dart.first, dart.second)):
                    dealt.setdefault(bit.source, []).append(size)
    return dealt


def _alike(darts: Sequence[RawDart]) -> list[list[RawDart]]:
    """Darts that are one dart in several sizes: apexes near each other, axes nearly parallel."""
    groups: list[list[RawDart]] = []
    for dart in darts:
        for group in groups:
            last = group[-1]
            if abs(last.apex - dart.apex) < SAME_DART and abs(turn(_axis(last), _axis(dart))) < 0.4:
                group.append(dart)
                break
        else:
            groups.append([dart])
    return groups


def _axis(dart: RawDart) -> complex:
    return dart.apex - (dart.first + dart.second) / 2
