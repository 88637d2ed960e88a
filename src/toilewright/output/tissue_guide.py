"""The guide for measuring tissue: each piece with the places where the tape runs, and lines to write lengths on."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.pdfgen.canvas import Canvas

from toilewright.draw.figure import Caption, Figure, Mark, Pen
from toilewright.files import replacing
from toilewright.fit.levels import upright
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.output.paper import MM, canvas, draw_fitted, wrap, write
from toilewright.output.tape_on_tissue import tape_runs
from toilewright.pattern.piece import Piece

_WIDTH, _HEIGHT, _MARGIN = 148.0, 210.0, 11.0
"""mm; A5 (ISO 216), to lie beside the tissue."""

_TEXT, _LEAD = 2.2, 4.1
_PICTURE = 84.0
"""mm; as tall as a piece is drawn."""

_NUMBER = 3.0
"""mm; letter height of the numbers on the page."""

_WEIGHTS = {"must": "needed", "may": "if you like"}

_HEAD = ("Iron the tissue dry and cool, lay it flat, and measure along the lines of one size. Blue is the tape. "
         "Widths run from cut edge to cut edge: write the allowance on the flat sheet and it is taken off; everything "
         "else is taken between seam lines.")


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
    page = max((x1 - x0) / (_WIDTH - 2 * _MARGIN), (y1 - y0) / _PICTURE)
    lines = [z for mark in marks for z in _dotted(mark.path, 3 * page)]
    captions: list[Caption] = []
    for row, runs in drawn:
        if runs:
            captions.append(_number(row.number, max(runs, key=lambda p: p.length), lines, captions, page))
    return Figure(tuple(marks), tuple(captions), piece.name)


def write_guide(pages: Sequence[GuidePage], path: str | os.PathLike[str], title: str) -> None:
    """Write the guide: A5 (PDF), one page or more for each piece.

    Args:
        title: at the head of each page, before the piece.
    """
    with replacing(path) as name:
        pdf = canvas(name, _WIDTH, _HEIGHT, title)
        for i, page in enumerate(pages):
            _page(pdf, page, title, _HEAD if i == 0 else "")
        pdf.save()


def _page(pdf: Canvas, page: GuidePage, title: str, head: str) -> None:
    y = _top(pdf, f"{title}: {page.piece.name}")
    for line in wrap(head, _TEXT, _WIDTH - 2 * _MARGIN):
        write(pdf, line, complex(_MARGIN, y), _TEXT)
        y -= _LEAD
    box = (_MARGIN + 4, y - _PICTURE, _WIDTH - _MARGIN - 4, y - 3)
    draw_fitted(pdf, piece_with_tape(page.piece, page.rows), box, letters=1.0)
    y -= _PICTURE + 5
    for row in page.rows:
        y = _said(pdf, row, y, f"{title}: {page.piece.name}")
    pdf.showPage()


def _top(pdf: Canvas, title: str) -> float:
    y = _HEIGHT - _MARGIN - 4
    for line in wrap(title, 4.0, _WIDTH - 2 * _MARGIN, bold=True):
        write(pdf, line, complex(_MARGIN, y), 4.0, bold=True)
        y -= 7.0
    pdf.setLineWidth(0.3 * MM)
    pdf.line(_MARGIN * MM, (y + 2.5) * MM, (_WIDTH - _MARGIN) * MM, (y + 2.5) * MM)
    return y - 3.0


def _said(pdf: Canvas, row: Row, y: float, title: str) -> float:
    """One length in words, with a line to write it on; the height where the next one begins."""
    wide = _WIDTH - 2 * _MARGIN - 8 - 26
    name = f"{row.name} ({_WEIGHTS[row.weight]})" if row.weight in _WEIGHTS else row.name
    lines = wrap(row.how, _TEXT, wide)
    if y - (len(lines) + 1) * _LEAD < _MARGIN:
        pdf.showPage()
        y = _top(pdf, title)
    write(pdf, f"{row.number}", complex(_MARGIN, y), _TEXT, bold=True)
    write(pdf, name, complex(_MARGIN + 8, y), _TEXT, bold=True)
    pdf.setLineWidth(0.2 * MM)
    pdf.line((_WIDTH - _MARGIN - 22) * MM, (y - 1) * MM, (_WIDTH - _MARGIN) * MM, (y - 1) * MM)
    for line in lines:
        y -= _LEAD
        write(pdf, line, complex(_MARGIN + 8, y), _TEXT)
    return y - _LEAD - 1.2


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
