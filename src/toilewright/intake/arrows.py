"""Grain arrows and fold brackets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi

import numpy as np

from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, parallel, turn
from toilewright.intake.corners import SHARP, Bit, EndGrid, between_corners, corner_nodes
from toilewright.intake.sketch import Sketch

SHAFT = 20.0
"""mm; shorter arrows are not grain arrows."""

HEAD = 18.0
"""mm; longest wing of an arrow head."""


@dataclass(frozen=True, slots=True)
class Arrow:
    """A straight line with heads: its ends, which of them carry one, and the bits and shapes it is drawn with."""

    a: Point
    b: Point
    head_a: bool
    head_b: bool
    bits: tuple[int, ...]
    shapes: tuple[int, ...] = ()

    @property
    def length(self) -> float:
        """Length in mm."""
        return abs(self.b - self.a)

    @property
    def tail_and_head(self) -> tuple[Point, Point]:
        """Tail first; an arrow with two heads points up (or right, when level)."""
        if self.head_a != self.head_b:
            return (self.b, self.a) if self.head_a else (self.a, self.b)
        return upwards(self.a, self.b)


def upwards(a: Point, b: Point) -> tuple[Point, Point]:
    """The lower of two points first (the left one, when level): how a grain line without one clear head is read."""
    tail, head = sorted((a, b), key=lambda p: (round(p.imag, 1), p.real))
    return tail, head


@dataclass(frozen=True, slots=True)
class Bracket:
    """A fold mark: a line with both ends turned towards the edge that lies on the fold."""

    a: Point
    b: Point
    towards: Point
    bits: tuple[int, ...]
    shapes: tuple[int, ...] = ()


def find_arrows(bits: Sequence[Bit], shapes: Sequence[Sketch]) -> list[Arrow]:
    """All straight lines that carry a head at an end, longest first."""
    found, ends = [], EndGrid(bits)
    for i, shaft in enumerate(bits):
        if shaft.length < SHAFT or not shaft.straight:
            continue
        (wings_a, caps_a, tip_a), (wings_b, caps_b, tip_b) = (
            _head(i, end, way, ends, shapes) for end, way in ((shaft.a, -shaft.way), (shaft.b, shaft.way)))
        head_a, head_b = bool(wings_a or caps_a), bool(wings_b or caps_b)
        if head_a or head_b:
            found.append(Arrow(tip_a, tip_b, head_a, head_b, (i, *wings_a, *wings_b), (*caps_a, *caps_b)))
    return sorted(found, key=lambda arrow: -arrow.length)


def _head(shaft: int, end: Point, way: Point, ends: EndGrid,
          shapes: Sequence[Sketch]) -> tuple[list[int], list[int], Point]:
    """Wings (two short lines that run back from the end) or a pointed shape at one end of a line, and its tip."""
    wings, bits = [], ends.bits
    longest = 0.6 * bits[shaft].length if shaft >= 0 else HEAD
    for j, tip, other in ends.near(end, 1.2):
        if (j != shaft and j not in wings and 1.5 < bits[j].length < min(HEAD, longest) and bits[j].straight
                and 0.1 < abs(turn(-way, other - tip)) < 1.35):
            wings.append(j)
    sides = {turn(-way, bits[j].a + bits[j].b - 2 * end) > 0 for j in wings}
    if len(sides) < 2:
        wings = []
    caps = [j for j, shape in enumerate(shapes) if _caps(shape, end)]
    tip = end
    for j in caps:
        far = max(shapes[j].points, key=lambda p: ((p - end) * way.conjugate()).real)
        ahead = (far - end) * way.conjugate()
        if ahead.real > 0 and abs(ahead.imag) < 1.0:
            tip = end + way * ahead.real
    return wings, caps, tip


def _caps(shape: Sketch, end: Point) -> bool:
    """Is this small pointed shape put on a line's end?"""
    if shape.span > 1.5 * HEAD or len(corner_nodes(shape.path, SHARP)) not in (3, 4):
        return False
    return shape.contains(end) or shape.nearest(end).distance < 1.0


def solid_arrow(shape: Sketch) -> Arrow | None:
    """The arrow that one long thin closed shape stands for, as some programs write it; None for other shapes."""
    if shape.span < SHAFT or len(shape.path.nodes) < 6:
        return None
    p = shape.points[:-1]
    a = complex(p[np.abs(p - p.mean()).argmax()])
    b = complex(p[np.abs(p - a).argmax()])
    size = abs(b - a)
    local = (p - a) * ((b - a).conjugate() / size)
    wide = np.abs(local.imag)
    widest = float(wide.max())
    if widest > HEAD or widest > 0.2 * size or abs(shape.area) > 0.35 * size * 2 * widest:
        return None
    heads = local.real[wide > 0.7 * widest] / size
    return Arrow(a, b, bool((heads < 0.5).any()), bool((heads > 0.5).any()), ())


def find_brackets(bits: Sequence[Bit], shapes: Sequence[Sketch], outline: Sketch) -> list[Bracket]:
    """Lines whose both ends are turned at right angles to the same side, towards the outline next to them."""
    found, ends = [], EndGrid(bits)
    for i, shaft in enumerate(bits):
        if shaft.length < SHAFT or not shaft.straight:
            continue
        arms = [_arm(i, end, shaft.way, ends) for end in (shaft.a, shaft.b)]
        if None in arms or arms[0][2] != arms[1][2]:
            continue
        (j, tip_a, left), (k, tip_b, _) = arms
        towards = shaft.way * (1j if left else -1j)
        # Drawn for one size, it may reach beyond the ends of another size's fold.
        if min(outline.nearest(tip_a).distance, outline.nearest(tip_b).distance) > 15:
            continue
        wings, caps = [], []
        for tip in (tip_a, tip_b):
            more, shaped, _ = _head(-1, tip, towards, ends, shapes)
            wings += more
            caps += shaped
        found.append(Bracket(shaft.a, shaft.b, towards, (i, j, k, *wings), tuple(caps)))
    return found


def _arm(shaft: int, end: Point, way: Point, ends: EndGrid) -> tuple[int, Point, bool] | None:
    """The line that turns off at right angles at one end: its number, far end, and whether it turns left."""
    for j, near, far in ends.near(end, 1.0):
        if (j != shaft and 3 < ends.bits[j].length < 70 and ends.bits[j].straight
                and abs(abs(turn(way, far - near)) - pi / 2) < 0.12):
            return j, far, turn(way, far - near) > 0
    return None


def straight_edges(outline: Path, shortest: float = 40.0) -> list[Bit]:
    """The straight stretches of an outline from corner to corner, longest first; none shorter than `shortest` mm."""
    edges = [Bit(stretch) for stretch in between_corners(outline)]
    return sorted((e for e in edges if e.length >= shortest and e.straight), key=lambda e: -e.length)


def edge_beside(edges: Sequence[Bit], a: Point, b: Point, reach: float, towards: Point | None = None) -> Bit | None:
    """The straight edge nearest to the line a-b that runs parallel beside it, within `reach` mm."""
    best: tuple[float, Bit] | None = None
    middle = (a + b) / 2
    for edge in edges:
        if not parallel(edge.way, b - a, 0.05):
            continue
        across = (middle - edge.a) * edge.way.conjugate()
        if not -0.05 * edge.length < across.real < 1.05 * edge.length or abs(across.imag) > reach:
            continue
        if towards is not None and ((edge.a - middle) * towards.conjugate()).real < -0.5:
            continue
        if best is None or abs(across.imag) < best[0]:
            best = (abs(across.imag), edge)
    return best[1] if best else None
