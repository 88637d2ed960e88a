"""The pieces of tissue with the tape on them, as they stand in the guide and on the page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from toilewright.draw.figure import Caption, Figure, Mark, Pen
from toilewright.fit.levels import upright
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.output.tape_on_tissue import tape_runs
from toilewright.pattern.piece import Piece

WIDE, PICTURE = 126.0, 84.0
"""mm; as wide and as tall as a piece is drawn at most."""

_NUMBER = 3.0
"""mm; letter height of the numbers on the page."""


@dataclass(frozen=True, slots=True)
class Row:
    """One length of the guide: its number, its name on the flat sheet, how to take it, how the tape runs, how much it
    matters (``must``, ``""`` or ``may``)."""

    number: int
    name: str
    how: str
    run: str
    weight: str = ""


@dataclass(frozen=True, slots=True)
class GuidePage:
    """One piece, and the lengths that are taken off it."""

    piece: Piece
    rows: tuple[Row, ...]


def piece_with_tape(piece: Piece, rows: Sequence[Row]) -> Figure:
    """A piece upright at its seam line, its darts, and the tape wherever it runs, numbered."""
    piece = upright(piece)
    marks = [Mark(piece.outline, Pen.MARK)]
    for dart in piece.darts:
        first, second = piece.feet(dart)
        marks.append(Mark(Path.polyline((first, dart.apex, second)), Pen.DART))
    drawn = [(row, tape_runs(piece, row.run)) for row in rows]
    marks += [Mark(path, Pen.TAPE) for _, runs in drawn for path in runs]
    x0, y0, x1, y1 = piece.outline.bounds
    page = max((x1 - x0) / WIDE, (y1 - y0) / PICTURE)
    lines = [z for mark in marks for z in _dotted(mark.path, 3 * page)]
    captions: list[Caption] = []
    for row, runs in drawn:
        if runs:
            captions.append(_number(row.number, max(runs, key=lambda p: p.length), lines, captions, page))
    return Figure(tuple(marks), tuple(captions), piece.name)


def _dotted(path: Path, every: float) -> list[Point]:
    count = max(int(path.length / every), 2)
    return [path.point_at(path.length * k / count) for k in range(count + 1)]


def _number(number: int, run: Path, lines: Sequence[Point], others: Sequence[Caption], page: float) -> Caption:
    """The number beside its tape, where it stands freest of lines and of the numbers that stand already.

    Args:
        page: mm of the piece in one mm of the page.
    """
    spots = [run.point_at(share * run.length) + side * 3.4 * page * run.normal_at(share * run.length)
             for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8) for side in (1, -1)]

    def free(at: Point) -> float:
        near = min(abs(at - z) for z in lines)
        return min(near, 3.4 * page, *(abs(at - c.at - 1.1j * page) / 2 for c in others))

    at = max(spots, key=free)
    return Caption(str(number), at - 1.1j * page, _NUMBER, anchor="middle")
