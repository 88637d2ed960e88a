"""Pieces set side by side on a sheet for printing (no lay plan: grain stays upright, nothing is turned or packed)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from toilewright.draw.figure import Figure
from toilewright.geometry.point import Point

GAP = 14.0
"""mm between pieces: room to cut them apart roughly first."""

Box = tuple[float, float, float, float]


def rows_of(boxes: Sequence[Box], width: float, gap: float = GAP) -> tuple[tuple[Point, ...], float, float]:
    """Boxes in rows, tallest first, so that none overlap.

    Args:
        boxes: (x min, y min, x max, y max) in mm.
        width: of the sheet; a wider box widens the sheet.

    Returns:
        For each box the vector that moves it to its place, and the width and height of the sheet, which has its
        lower left corner at 0 and an empty edge of `gap` all round (mm).
    """
    sizes = [(b[2] - b[0], b[3] - b[1]) for b in boxes]
    width = max([width, *(w + 2 * gap for w, _ in sizes)])
    rows: list[list[float]] = []  # height, top (downwards from 0), free x
    places: dict[int, tuple[float, float]] = {}
    for i in sorted(range(len(boxes)), key=lambda i: (-sizes[i][1], i)):
        w, h = sizes[i]
        row = next((r for r in rows if r[2] + w + gap <= width), None)
        if row is None:
            row = [h, rows[-1][1] + rows[-1][0] + gap if rows else gap, gap]
            rows.append(row)
        places[i] = row[2], row[1]
        row[2] += w + gap
    height = rows[-1][1] + rows[-1][0] + gap if rows else 2 * gap
    shifts = tuple(complex(places[i][0] - boxes[i][0], height - places[i][1] - boxes[i][3]) for i in range(len(boxes)))
    return shifts, width, height


def arrange(figures: Sequence[Figure], width: float, gap: float = GAP) -> tuple[Figure, float, float]:
    """Figures in rows on one sheet.

    Returns:
        The sheet as one figure, its width and its height (mm).
    """
    shifts, width, height = rows_of([f.bounds() for f in figures], width, gap)
    moved = [_moved(f, by) for f, by in zip(figures, shifts, strict=True)]
    return Figure().plus(*moved), width, height


def _moved(figure: Figure, by: Point) -> Figure:
    return replace(figure, marks=tuple(replace(m, path=m.path.moved(by)) for m in figure.marks),
                   captions=tuple(replace(c, at=c.at + by) for c in figure.captions))
