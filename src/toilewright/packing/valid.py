"""Is a packing what the problem asks for? Every constraint looked at anew, with an independent geometry library."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from math import isfinite

from toilewright.packing.problem import Beat, Item, Packing, Placed, Problem

AREA = 1e-3
"""Overlap below this is the noise of arithmetic (mm2)."""
NEAR = 1e-3
"""A gap or an edge may be missed by this much (mm)."""
ON_THE_LINE = 1e-6
"""A fold edge lies on the fold within this (mm)."""
ON_THE_BEAT = 0.01
"""A point lies on a line of the repeat within this (mm)."""


def faults(problem: Problem, packing: Packing) -> tuple[str, ...]:
    """Everything that is wrong with a packing, one plain sentence each; empty when it may be shown.

    Overlaps are measured with shapely (GEOS), and not with the arithmetic of the search.

    >>> from toilewright.packing.problem import Pose
    >>> square = Item("square", (0j, 10 + 0j, 10 + 10j, 10j))
    >>> faults(Problem(15.0, (square,)), Packing(10.0, (Placed(0, 0, Pose(), 6j),)))
    ('"square" reaches from y 6 to 16, outside 0 to 15.',)
    """
    found = [*_counted(problem, packing)]
    known = [p for p in packing.placed if 0 <= p.item < len(problem.items)]
    for placed in known:
        found += _alone(problem, placed)
    found += _together(problem, known)
    found += _length(problem, packing, known)
    return tuple(found)


def copy_name(problem: Problem, placed: Placed) -> str:
    """How a copy is called in a sentence: by its key, and its number where there are several."""
    item = problem.items[placed.item]
    return f'"{item.key}"' if item.count == 1 else f'"{item.key}" (copy {placed.copy + 1})'


def off_beat(beat: Beat, lies_at: float) -> float:
    """How far a coordinate is from the nearest line of the repeat (mm)."""
    away = (lies_at - beat.phase) % beat.pitch
    return min(away, beat.pitch - away)


def _counted(problem: Problem, packing: Packing) -> Iterator[str]:
    seen = Counter((p.item, p.copy) for p in packing.placed)
    wanted = {(i, c) for i, item in enumerate(problem.items) for c in range(item.count)}
    for i, c in sorted(wanted - seen.keys()):
        yield f'"{problem.items[i].key}" copy {c + 1} is missing.'
    for i, c in sorted(seen.keys() - wanted):
        yield f"Item {i} copy {c + 1} is placed but not asked for."
    for (i, c), times in sorted(seen.items()):
        if times > 1 and (i, c) in wanted:
            yield f'"{problem.items[i].key}" copy {c + 1} is placed {times} times.'


def _alone(problem: Problem, placed: Placed) -> Iterator[str]:
    """What one copy does wrong by itself."""
    item, name = problem.items[placed.item], copy_name(problem, placed)
    corners = placed.outline(problem)
    if not all(isfinite(p.real) and isfinite(p.imag) for p in corners):
        yield f"{name} has no place on the strip."
        return
    if placed.pose not in item.poses:
        yield f"{name} lies in a way that is not allowed for it: {_said(placed)}."
    low, high = item.band if item.band is not None else (0.0, problem.height)
    low, high = max(low, 0.0), min(high, problem.height)
    bottom, top = min(p.imag for p in corners), max(p.imag for p in corners)
    if bottom < low - NEAR or top > high + NEAR:
        yield f"{name} reaches from y {bottom:g} to {top:g}, outside {low:g} to {high:g}."
    left, right = min(p.real for p in corners), max(p.real for p in corners)
    if left < -NEAR:
        yield f"{name} begins at x {left:g}, before the end of the strip."
    if problem.longest is not None and right > problem.longest + NEAR:
        yield f"{name} ends at x {right:g}, past the end of the strip at {problem.longest:g}."
    if item.origin_y is not None and abs(placed.at.imag - item.origin_y) > ON_THE_LINE:
        yield f"{name} has its origin at y {placed.at.imag:g}; it must lie at {item.origin_y:g}."
    yield from _beats(item, placed, name)


def _said(placed: Placed) -> str:
    return f"turned by {placed.pose.turn:g} degrees" + (", mirrored" if placed.pose.mirrored else "")


def _beats(item: Item, placed: Placed, name: str) -> Iterator[str]:
    for beat, way, part in ((item.beat_x, "along", "real"), (item.beat_y, "across", "imag")):
        if beat is not None:
            missed = off_beat(beat, getattr(placed.pose.of(beat.point) + placed.at, part))
            if missed > ON_THE_BEAT:
                yield f"{name} misses the repeat {way} the strip by {missed:.3g} mm."


def _together(problem: Problem, placed: list[Placed]) -> Iterator[str]:
    """Overlaps and gaps that are too narrow, between copies and with what is forbidden."""
    import shapely

    if not all(isfinite(p.at.real) and isfinite(p.at.imag) for p in placed):
        return
    names = [copy_name(problem, p) for p in placed] + ["a forbidden place"] * len(problem.forbidden)
    outlines = [p.outline(problem) for p in placed] + list(problem.forbidden)
    shapes = [shapely.Polygon([(p.real, p.imag) for p in corners]) for corners in outlines]
    for name, shape in zip(names, shapes, strict=True):
        if not shape.is_valid:
            yield f"{name} crosses itself."
    if not all(s.is_valid for s in shapes):
        return
    tree = shapely.STRtree(shapes)
    pairs = tree.query(shapes, predicate="dwithin", distance=problem.gap) if shapes else ([], [])
    for i, j in sorted((int(a), int(b)) for a, b in zip(*pairs, strict=True) if a < b):
        if i >= len(placed):
            continue
        area = shapely.intersection(shapes[i], shapes[j]).area
        away = shapely.distance(shapes[i], shapes[j])
        if area > AREA:
            yield f"{names[i]} and {names[j]} overlap by {area:.3g} mm2."
        elif away < problem.gap - NEAR:
            yield f"{names[i]} and {names[j]} are {away:.3g} mm apart; {problem.gap:g} mm are asked for."


def _length(problem: Problem, packing: Packing, placed: list[Placed]) -> Iterator[str]:
    right = max((p.real for one in placed for p in one.outline(problem)), default=0.0)
    if abs(right - packing.length) > NEAR:
        yield f"The length is given as {packing.length:g} but the rightmost point lies at {right:g}."
