"""Notches: bumps of the outline itself, small shapes on it, and ticks across it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from toilewright.geometry.fairing import hermite
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, turn
from toilewright.intake.corners import SHARP, Bit, between_corners, part, started_at, turns
from toilewright.intake.raw import RawNotch
from toilewright.intake.sketch import Place, Sketch
from toilewright.tolerance import READ_JOIN

SMALL = 16.0
"""mm; no notch mark is larger (common practice: 3 to 10 mm)."""

SMALL_SHAPE = 1.5 * SMALL
"""mm; diagonal of the largest triangle or square that is a notch or an arrow head (as high and wide as a mark)."""

BACK = 2.2
"""radians; an outline that turns back to the right by more runs round a dart (one narrower than 54 degrees)."""

TOGETHER = 13.0
"""mm; notches nearer than this along the edge are one double or triple notch (common practice: 6 to 10 mm)."""


def smooth_outline(ring: Path) -> tuple[Path, tuple[Point, ...]]:
    """Take notches that are part of the outline (triangles, castles, slits) out of it.

    Returns:
        The outline without them, and the point of the outline where each of them was.
    """
    found = _bumps(ring)
    if not found:
        return ring, ()
    first = found[0][0]
    n = len(ring.handles)
    ring = started_at(ring, first)
    nodes, handles, places = [ring.nodes[0]], [], []
    at = 0
    for i, size in [((i - first) % n, size) for i, size in found]:
        nodes.extend(ring.nodes[at + 1:i + 1])
        handles.extend(ring.handles[at:i])
        bridge = _bridge(ring, i, i + size)
        places.append(bridge.point_at(bridge.length / 2) if bridge else ring.nodes[i])
        if bridge:
            nodes.extend(bridge.nodes[1:])
            handles.extend(bridge.handles)
        at = i + size
    nodes.extend(ring.nodes[at + 1:])
    handles.extend(ring.handles[at:])
    nodes[-1] = nodes[0]
    return Path(tuple(nodes), tuple(handles)), tuple(places)


def _bridge(ring: Path, i: int, j: int) -> Path | None:
    """What the outline would be without the bump from node i to node j; None for a slit with no width."""
    a, b = ring.nodes[i], ring.nodes[j]
    if abs(b - a) < 0.05:
        return None
    before = part(ring, i - 1, i).end_tangent if i else part(ring, len(ring.handles) - 1, len(ring.handles)).end_tangent
    n = len(ring.handles)
    after = part(ring, j % n, j % n + 1).start_tangent
    if abs(turn(before, b - a)) < 0.01 and abs(turn(b - a, after)) < 0.01:
        return Path.line(a, b)
    return hermite(a, before, b, after)


def _bumps(ring: Path) -> list[tuple[int, int]]:
    """(first node, number of curves) of each bump: short straight lines that leave the outline and return to it."""
    n = len(ring.handles)
    if n < 5:
        return []
    nodes = np.array(ring.nodes[:-1])
    sizes = np.abs(np.roll(nodes, -1) - nodes)
    short = np.array([h is None for h in ring.handles]) & (sizes <= SMALL)
    if np.count_nonzero(short) < 2:
        return []
    angles = turns(ring)[:-1]
    sharp = np.abs(angles) > SHARP
    found, i = [], 0
    candidates = [int(i) for i in np.nonzero(short & sharp)[0]]
    taken: set[int] = set()
    for i in candidates:
        for size in (2, 3, 4):
            inside = [(i + k) % n for k in range(size)]
            if not all(short[k] for k in inside) or taken.intersection(inside):
                break
            if _is_bump(ring, angles, nodes, sizes, i, size):
                found.append((i, size))
                taken.update(inside)
                break
    return found


def _is_bump(ring: Path, angles: np.ndarray, nodes: np.ndarray, sizes: np.ndarray, i: int, size: int) -> bool:
    n = len(nodes)
    j = (i + size) % n
    inner = [(i + k) % n for k in range(size + 1)]
    before = part(ring, (i - 1) % n, (i - 1) % n + 1).end_tangent
    after = part(ring, j, j + 1).start_tangent
    if not all(abs(angles[k]) > 0.5 for k in (inner[0], inner[-1])) or abs(turn(before, after)) > 0.45:
        return False
    if max(abs(angles[k]) for k in inner[1:-1]) < SHARP:
        return False
    chord, run = nodes[j] - nodes[i], sum(sizes[k] for k in inner[:-1])
    if abs(chord) > SMALL or run < 1.2 * abs(chord) or run < 3.0:
        return False
    return abs(chord) < 1.5 or abs(turn(before, chord)) < 0.35


def shape_notches(shapes: Sequence[Sketch], outline: Sketch) -> list[Point]:
    """Where on the outline small closed shapes stand that are notches; other shapes are passed over."""
    places = []
    for shape in shapes:
        corners = shape.points[:-1]
        gaps = [outline.nearest(p) for p in (corners if len(corners) <= 8 else corners[::len(corners) // 8])]
        near = [g for g in gaps if g.distance < 1.2]
        sides = {outline.contains(p) for p in corners}
        if near or len(sides) == 2:
            places.append(_foot_of_shape(near, shape, outline))
    return places


def _foot_of_shape(near: Sequence[Place], shape: Sketch, outline: Sketch) -> Point:
    """Middle of the side on the outline, else the outline's point next to the shape's middle."""
    if len(near) >= 2:
        return outline.nearest((near[0].point + near[-1].point) / 2).point
    if len(near) == 1:
        return near[0].point
    return outline.nearest(complex(shape.points[:-1].mean())).point


def tick_notches(ticks: Sequence[Bit], outline: Sketch) -> list[Point]:
    """Where short straight lines touch or cross the outline; others (the bars of T-notches too) are passed over."""
    return [hit for tick in ticks if (hit := _on_outline(tick, outline)) is not None]


def _on_outline(tick: Bit, outline: Sketch) -> Point | None:
    a, b = outline.nearest(tick.a), outline.nearest(tick.b)
    if max(a.distance, b.distance, outline.nearest((tick.a + tick.b) / 2).distance) < READ_JOIN:
        return None  # the rest of a line that sizes share, which runs along the outline
    nearer = min(a, b, key=lambda place: place.distance)
    if abs((tick.way * nearer.along.conjugate()).imag) < 0.64:
        return None
    if nearer.distance <= READ_JOIN + 0.4:
        return nearer.point
    if a.distance + b.distance < 1.2 * tick.length and outline.contains(tick.a) != outline.contains(tick.b):
        crossing = tick.a + (tick.b - tick.a) * (a.distance / (a.distance + b.distance))
        return outline.nearest(crossing).point
    return None


def grouped(places: Sequence[Point], outline: Sketch) -> tuple[RawNotch, ...]:
    """Marks side by side become one notch with its count; order along the outline."""
    spots = sorted((outline.nearest(p) for p in places), key=lambda place: place.s)
    groups: list[list[Place]] = []
    for spot in spots:
        if groups and 1.0 < spot.s - groups[-1][-1].s <= TOGETHER:
            groups[-1].append(spot)
        elif not groups or spot.s - groups[-1][-1].s > 1.0:
            groups.append([spot])
    if len(groups) > 1 and groups[0][0].s + outline.length - groups[-1][-1].s <= TOGETHER:
        groups[0] = groups.pop() + groups[0]
    made = []
    for group in groups:
        at = group[0].point if len(group) == 1 else outline.nearest(sum(p.point for p in group) / len(group)).point
        made.append(RawNotch(at, len(group)))
    return tuple(made)


def cut_out_darts(ring: Path) -> tuple[Path, tuple[tuple[Point, Point, Point], ...]]:
    """Darts that the outline itself runs round: it goes in along one leg and out along the other.

    Returns:
        The outline with straight mouths in their place, and (first foot, second foot, apex) of each.
    """
    if not (turns(ring) < -BACK).any():
        return ring, ()
    legs = [Bit(stretch) for stretch in between_corners(ring)]
    kept: list[Path] = []
    darts = []
    i = 0
    while i < len(legs):
        if i + 1 < len(legs) and _runs_round(legs[i], legs[i + 1]):
            darts.append((legs[i].a, legs[i + 1].b, legs[i].b))
            kept.append(Path.line(legs[i].a, legs[i + 1].b))
            i += 2
        else:
            kept.append(legs[i].path)
            i += 1
    if not darts:
        return ring, ()
    outline = Path.joined(kept)
    inside = Sketch(outline)
    return (outline, tuple(darts)) if all(inside.contains(apex) for _, _, apex in darts) else (ring, ())


def _runs_round(one: Bit, two: Bit) -> bool:
    """Two straight lines of like length that turn sharply back, to the right where the outline runs left round."""
    if not (one.straight and two.straight) or min(one.length, two.length) < 25:
        return False
    if abs(two.b - one.a) > 0.8 * one.length or not -3.12 < turn(one.way, two.way) < -BACK:
        return False
    return min(one.length, two.length) > 0.7 * max(one.length, two.length)
