"""Where words fit on a piece without lying on a line."""

from __future__ import annotations

import cmath
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import pi

from toilewright.draw.figure import Caption
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.output.paper import width_of

LEADING = 1.7
"""Line spacing in letter heights."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a label: its words and letter height (mm)."""

    text: str
    height: float
    bold: bool = False


def place_label(lines: Sequence[Line], inside: Path, marks: Iterable[Path], clear: float = 3.0,
                avoid: Sequence[tuple[Point, Point, Point, Point]] = (),
                towards: Point | None = None) -> tuple[tuple[Caption, ...], tuple[Point, ...]]:
    """A block of text placed in the roomiest part of a piece, upright if it fits, else turned, else smaller.

    Args:
        lines: from the top.
        inside: closed outline that should contain the block.
        marks: lines it should not touch.
        clear: how far from them is far enough (mm).
        avoid: corners of other blocks.
        towards: where it should be near (the middle of the outline when None).

    Returns:
        The captions, and the four corners of the block.
    """
    from shapely import STRtree
    from shapely.geometry import LineString, Polygon

    room = Polygon([(p.real, p.imag) for p in inside.flatten(0.5)]).buffer(0)
    obstacles = [LineString([(p.real, p.imag) for p in m.flatten(0.5)]) for m in (inside, *marks)]
    obstacles += [Polygon([(p.real, p.imag) for p in block]) for block in avoid]
    tree = STRtree(obstacles)
    x0, y0, x1, y1 = inside.bounds
    wish = towards if towards is not None else complex(x0 + x1, y0 + y1) / 2
    # Upright first; turned up or smaller only where that does not fit.
    for scale in (1.0, 0.8, 0.65, 0.5, 0.4):
        wide = max(width_of(line.text, line.height, line.bold) for line in lines) * scale
        tall = sum(line.height for line in lines) * LEADING * scale
        for angle in (0.0, pi / 2):
            best: tuple[float, Point] | None = None
            for p in _grid(inside.bounds, 24):
                corners = _corners(p, wide, tall, angle)
                block = Polygon([(c.real, c.imag) for c in corners])
                if not room.contains(block):
                    continue
                gap = block.distance(obstacles[tree.nearest(block)])
                if gap < clear * scale:
                    continue
                # A little distance from the lines is worth more than the exact middle.
                worth = min(gap, 12.0) - 0.02 * abs(p - wish)
                if best is None or worth > best[0]:
                    best = worth, p
            if best:
                return _captions(lines, best[1], tall, angle, scale), _corners(best[1], wide, tall, angle)
    return _captions(lines, wish, tall, 0.0, 0.5), _corners(wish, wide, tall, 0.0)


def _grid(box: tuple[float, float, float, float], n: int) -> Iterable[Point]:
    x0, y0, x1, y1 = box
    step = max(x1 - x0, y1 - y0) / (2 * n)
    for j in range(1, int((y1 - y0) / step) + 1):
        for i in range(1, int((x1 - x0) / step) + 1):
            yield complex(x0 + i * step, y0 + j * step)


def _corners(at: Point, wide: float, tall: float, angle: float) -> tuple[Point, ...]:
    turn = cmath.rect(0.5, angle)
    return tuple(at + turn * complex(sx * wide, sy * tall) for sx, sy in ((-1, -1), (1, -1), (1, 1), (-1, 1)))


def _captions(lines: Sequence[Line], at: Point, tall: float, angle: float, scale: float) -> tuple[Caption, ...]:
    captions, y, turn = [], tall / 2, cmath.rect(1, angle)
    for line in lines:
        step = line.height * scale * LEADING
        y -= step
        start = at + turn * complex(0, y + 0.25 * step)
        captions.append(Caption(line.text, start, line.height * scale, angle, "middle"))
    return tuple(captions)
