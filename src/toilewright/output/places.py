"""Where words fit on a piece without lying on a line."""

from __future__ import annotations

import cmath
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
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

_SCALES = (1.0, 0.8, 0.65, 0.5, 0.4)
"""Sizes in which a block is tried."""

_AT_ONCE = 48
"""Blocks that are measured together, the most hopeful first."""

_NEAR = 1e-9
"""mm; room for rounding, where two ways to measure are compared."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a label: its words and letter height (mm)."""

    text: str
    height: float
    bold: bool = False


Label = tuple[tuple[Caption, ...], tuple[Point, ...]]
"""The captions of a block of text, and its four corners."""


@dataclass(frozen=True, slots=True)
class Ground:
    """A piece as words are put on it, looked over once for all that may be written there.

    Attributes:
        middle: of its outline (mm).
        drawn: all lines on which words should not lie.
        xs, ys: where the middle of a block is tried, from left to right and from below (mm).
        free: by row and column how far such a place is from all lines, less than 0 outside the piece (mm).
    """

    middle: Point
    drawn: Any
    xs: Any
    ys: Any
    free: Any


def ground(inside: Path, marks: Iterable[Path]) -> Ground:
    """A piece on which words are to be put.

    Args:
        inside: closed outline that should contain them.
        marks: lines that they should not touch.
    """
    import numpy as np
    import shapely

    room = shapely.Polygon(_flat(inside)).buffer(0)
    shapely.prepare(room)
    drawn = shapely.multilinestrings([shapely.linestrings(_flat(m)) for m in (inside, *marks)])
    shapely.prepare(drawn)
    x0, y0, x1, y1 = room.bounds
    xs, ys = (np.linspace(low, high, _STEPS)[1:-1] for low, high in ((x0, x1), (y0, y1)))
    across, up = np.meshgrid(xs, ys)
    within = shapely.contains_xy(room, across, up)
    free = np.full(across.shape, -1.0)
    free[within] = shapely.distance(drawn, shapely.points(across[within], up[within]))
    x0, y0, x1, y1 = inside.bounds
    return Ground(complex(x0 + x1, y0 + y1) / 2, drawn, xs, ys, free)


def place_label(lines: Sequence[Line], inside: Path, marks: Iterable[Path]) -> Label:
    """A block of text placed in the roomiest part of a piece, or over its lines where there is no room at all.

    Args:
        lines: from the top.
        inside: closed outline that should contain the block.
        marks: lines it should not touch.
    """
    on = ground(inside, marks)
    wide, tall = _size(lines, _SCALES[-1])
    return fitted(lines, on) or (_captions(lines, on.middle, tall, 0.0, 0.5), _corners(on.middle, wide, tall, 0.0))


def fitted(lines: Sequence[Line], on: Ground, clear: float = 3.0, least: float = 0.0) -> Label | None:
    """A block of text placed in the roomiest part of a piece, upright if it fits, else turned, else smaller.

    Args:
        lines: from the top.
        clear: how far from all lines is far enough (mm).
        least: how small it may be made, as a share of its size.

    Returns:
        None where it does not fit.
    """
    for scale in (s for s in _SCALES if s >= least):
        wide, tall = _size(lines, scale)
        for angle in (0.0, pi / 2):
            best = _roomiest(on, (wide, tall) if angle == 0 else (tall, wide), clear * scale)
            if best is not None:
                return _captions(lines, best, tall, angle, scale), _corners(best, wide, tall, angle)
    return None


def _size(lines: Sequence[Line], scale: float) -> tuple[float, float]:
    wide = max(width_of(line.text, line.height, line.bold) for line in lines)
    return wide * scale, sum(line.height for line in lines) * LEADING * scale


def _flat(path: Path) -> list[tuple[float, float]]:
    return [(p.real, p.imag) for p in path.flatten(0.5)]


def _roomiest(on: Ground, size: tuple[float, float], clear: float) -> Point | None:
    """Where a block of this width and height lies inside, clear of all lines; None where it cannot."""
    import numpy as np
    import shapely

    most = _most_room(on, size)
    rows, columns = np.nonzero(most >= max(clear, _NEAR))
    xs, ys = on.xs[columns], on.ys[rows]
    # A little distance from the lines is worth more than the exact middle.
    less = 0.02 * np.hypot(xs - on.middle.real, ys - on.middle.imag)
    hoped = np.minimum(most[rows, columns], FAR_ENOUGH) - less
    worth = np.full(len(xs), -np.inf)
    order, best = np.argsort(-hoped, kind="stable"), -np.inf
    for start in range(0, len(order), _AT_ONCE):
        some = order[start:start + _AT_ONCE]
        if hoped[some[0]] < best - _NEAR:
            break
        blocks = shapely.box(xs[some] - size[0] / 2, ys[some] - size[1] / 2,
                             xs[some] + size[0] / 2, ys[some] + size[1] / 2)
        gap = np.minimum(shapely.distance(on.drawn, blocks), FAR_ENOUGH)
        # Its middle is inside, and no line touches it: then all of it is.
        worth[some] = np.where((gap >= clear) & (gap > 0.0), gap - less[some], -np.inf)
        best = max(best, worth[some].max())
    if best == -np.inf:
        return None
    i = int(np.argmax(worth))
    return complex(xs[i], ys[i])


def _most_room(on: Ground, size: tuple[float, float]) -> Any:
    """By row and column of its middle: the most that a block of this size can have between it and all lines (mm).

    It holds a disc of half its height all along its middle line, so that no more is left than what is free there beyond
    the disc.
    """
    import numpy as np

    disc, spine = min(size) / 2, abs(size[0] - size[1]) / 2
    axis, places = (1, on.xs) if size[0] > size[1] else (0, on.ys)
    reach = int(spine / (places[1] - places[0])) if places[1] > places[0] else 0
    if reach >= len(places) / 2:
        return np.full(on.free.shape, -1.0)
    beyond = [(0, 0), (0, 0)]
    beyond[axis] = (reach, reach)
    tried = np.pad(on.free, beyond, constant_values=-1.0)
    return np.lib.stride_tricks.sliding_window_view(tried, 2 * reach + 1, axis).min(-1) - disc + _NEAR


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
