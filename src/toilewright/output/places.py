"""Where words fit on a piece without lying on a line."""

from __future__ import annotations

import cmath
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import pi
from typing import Any

from toilewright.draw.figure import Caption
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.output.paper import width_of

_STEPS = 48
"""Places tried along each side of a piece."""

FAR_ENOUGH = 12.0
"""mm; farther from all lines is no better."""

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
    import shapely

    room = shapely.Polygon(_flat(inside)).buffer(0)
    shapely.prepare(room)
    # Side by side the lines can be left out that are far away.
    sides = [side for m in (inside, *marks) for side in pairwise(_flat(m))]
    tree = shapely.STRtree([*shapely.linestrings(sides),
                            *(shapely.Polygon([(p.real, p.imag) for p in block]) for block in avoid)])
    x0, y0, x1, y1 = inside.bounds
    wish = towards if towards is not None else complex(x0 + x1, y0 + y1) / 2
    # Upright first; turned up or smaller only where that does not fit.
    for scale in (1.0, 0.8, 0.65, 0.5, 0.4):
        wide = max(width_of(line.text, line.height, line.bold) for line in lines) * scale
        tall = sum(line.height for line in lines) * LEADING * scale
        for angle in (0.0, pi / 2):
            best = _roomiest(room, tree, (wide, tall) if angle == 0 else (tall, wide), wish, clear * scale)
            if best is not None:
                return _captions(lines, best, tall, angle, scale), _corners(best, wide, tall, angle)
    return _captions(lines, wish, tall, 0.0, 0.5), _corners(wish, wide, tall, 0.0)


def _flat(path: Path) -> list[tuple[float, float]]:
    return [(p.real, p.imag) for p in path.flatten(0.5)]


def _roomiest(room: Any, tree: Any, size: tuple[float, float], wish: Point, clear: float) -> Point | None:
    """Where a block of this width and height lies inside, clear of all lines; None where it cannot."""
    import numpy as np
    import shapely

    x0, y0, x1, y1 = room.bounds
    tried = (np.linspace(low, high, _STEPS)[1:-1] for low, high in ((x0, x1), (y0, y1)))
    xs, ys = (a.ravel() for a in np.meshgrid(*tried))
    half_w, half_h = size[0] / 2, size[1] / 2
    blocks = shapely.box(xs - half_w, ys - half_h, xs + half_w, ys + half_h)
    inside = shapely.contains(room, blocks)
    if not inside.any():
        return None
    xs, ys = xs[inside], ys[inside]
    gap = np.full(len(xs), FAR_ENOUGH)
    found, gaps = tree.query_nearest(blocks[inside], max_distance=FAR_ENOUGH, return_distance=True, all_matches=False)
    gap[found[0]] = gaps
    # A little distance from the lines is worth more than the exact middle.
    worth = np.where(gap >= clear, gap - 0.02 * np.hypot(xs - wish.real, ys - wish.imag), -np.inf)
    i = int(np.argmax(worth))
    return complex(xs[i], ys[i]) if worth[i] > -np.inf else None


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
