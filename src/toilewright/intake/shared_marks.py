"""Marks drawn in one look for all sizes: which size each of them belongs to."""

from __future__ import annotations

from collections.abc import Sequence

from toilewright.geometry.point import turn
from toilewright.intake.arrows import find_arrows
from toilewright.intake.corners import bits
from toilewright.intake.dart_lines import REACH, find_darts
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

    Darts, as many of one kind as there are sizes, are dealt out from the inside to the outside; a mark whose end
    lies on the outlines of some sizes belongs to these alone; arrows and all else are everybody's.
    """
    present = [i for i, o in enumerate(outlines) if o]
    inward = _ticks_point_inward(common, outlines, present)
    arrows = _of_arrows(common)
    long = [s for s in common if not s.path.closed and s.length > SMALL and id(s) not in arrows]
    dealt = _deal(long, outlines, present) if len(present) > 1 else {}
    heaps: list[list[Sketch]] = [[] for _ in outlines]
    for mark in common:
        own = dealt.get(id(mark))
        if own is None and id(mark) not in arrows and not mark.path.closed:
            own = _touched(mark, outlines, present, inward)
        for i in own or present:
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


def _deal(marks: Sequence[Sketch], outlines: Sequence[Sketch | None],
          present: Sequence[int]) -> dict[int, list[int]]:
    """The id of a mark -> the sizes it belongs to, for darts that come in as many sizes as the piece."""
    order = sorted(present, key=lambda i: outlines[i].area)
    smallest, largest = outlines[order[0]], outlines[order[-1]]
    found = bits([s.path for s in marks])
    dealt: dict[int, list[int]] = {}
    grown = max(abs(a - b) for a, b in zip(smallest.box, largest.box, strict=True))
    for group in _alike(find_darts(found, largest, REACH + grown).darts):
        if len(group) != len(present):
            continue
        group = _outward(group, largest, largest.middle - smallest.middle)
        for size, dart in zip(order, group, strict=True):
            for bit in found:
                ends = (bit.a, bit.b)
                if any(abs(p - dart.apex) < 1.5 for p in ends) and any(
                        abs(p - foot) < 1.5 for p in ends for foot in (dart.first, dart.second)):
                    dealt.setdefault(id(marks[bit.source]), []).append(size)
    return dealt


def _outward(group: Sequence[RawDart], largest: Sketch, growth: complex) -> list[RawDart]:
    """The same dart of all sizes, smallest size first: by its distance from the largest outline.

    Where all stand on one line (a waist that all sizes share), by their place in the direction in which the
    piece grows.
    """
    depth = {id(d): largest.nearest(d.first).distance + largest.nearest(d.second).distance for d in group}
    if max(depth.values()) - min(depth.values()) > 1.0 * len(group):
        return sorted(group, key=lambda d: -depth[id(d)])
    return sorted(group, key=lambda d: ((d.first + d.second + d.apex) * growth.conjugate()).real)


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
