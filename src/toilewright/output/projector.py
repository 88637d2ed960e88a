"""One page a piece for a projector over the cutting table: heavy lines, and a grid to set the scale by."""

from __future__ import annotations

import os

from reportlab.pdfgen.canvas import Canvas

from toilewright.draw.figure import Figure, Pen
from toilewright.files import replacing
from toilewright.output.cover import SQUARE
from toilewright.output.paper import MM, canvas, trace, write
from toilewright.output.pens import PENS
from toilewright.output.piece_figure import garment_figures
from toilewright.pattern.garment import Garment

_LINE = 2.0
"""mm; thinner lines vanish in a projector's pixels."""

_EDGE = 40.0
_GRID = 100.0
_SHOWN = (Pen.CUT, Pen.SEAM, Pen.FOLD, Pen.GRAIN, Pen.DART, Pen.NOTCH, Pen.MARK, Pen.GUIDE)


def write_projector(garment: Garment, path: str | os.PathLike[str], *, dark: bool = False, title: str = "",
                    note: str = "", unit: str = "cm") -> None:
    """Write a page with a 10 cm grid, then one page for each piece (PDF, true scale).

    Args:
        path: PDF to write; replaced in one step.
        dark: white lines on black, for a dim room.
        note: size or for whom; stands on every piece.
        unit: ``cm`` or ``in``, for the allowance words.
    """
    back, ink = ("#000000", "#ffffff") if dark else ("#ffffff", "#000000")
    with replacing(path) as name:
        pdf = canvas(name, 10 * _GRID + 2 * _EDGE, 6 * _GRID + 2 * _EDGE, title or "Pattern pieces")
        _grid_page(pdf, back, ink)
        for figure in garment_figures(garment, note, unit):
            _piece_page(pdf, figure, back, ink)
        pdf.save()


def _ground(pdf: Canvas, width: float, height: float, back: str) -> None:
    pdf.setPageSize((width * MM, height * MM))
    pdf.setFillColor(back)
    pdf.rect(0, 0, width * MM, height * MM, stroke=0, fill=1)


def _grid_page(pdf: Canvas, back: str, ink: str) -> None:
    """Squares of 10 cm, and one heavy test square among them."""
    width, height = 10 * _GRID + 2 * _EDGE, 6 * _GRID + 2 * _EDGE
    _ground(pdf, width, height, back)
    pdf.setStrokeColor(ink)
    pdf.setLineWidth(0.8 * MM)
    for k in range(11):
        pdf.line((_EDGE + k * _GRID) * MM, _EDGE * MM, (_EDGE + k * _GRID) * MM, (height - _EDGE) * MM)
    for k in range(7):
        pdf.line(_EDGE * MM, (_EDGE + k * _GRID) * MM, (width - _EDGE) * MM, (_EDGE + k * _GRID) * MM)
    pdf.setLineWidth(_LINE * MM)
    pdf.setLineJoin(0)
    pdf.rect((_EDGE + 4 * _GRID) * MM, (_EDGE + 2 * _GRID) * MM, SQUARE * MM, SQUARE * MM)
    middle = complex(_EDGE + 4.5 * _GRID, _EDGE + 2.5 * _GRID - 4)
    write(pdf, "10 cm (100 mm)", middle, 8.0, colour=ink, anchor="middle")
    words = ("Move or focus the projector until the heavy square measures 10 cm (100 mm) both ways,",
             "and the corners of the grid are square; then show the pieces without changing anything.")
    for k, text in enumerate(words):
        write(pdf, text, complex(_EDGE, _EDGE + 5 * _GRID + 55 - 16 * k), 7.0, colour=ink)
    pdf.showPage()


def _piece_page(pdf: Canvas, figure: Figure, back: str, ink: str) -> None:
    x0, y0, x1, y1 = figure.bounds()
    _ground(pdf, x1 - x0 + 2 * _EDGE, y1 - y0 + 2 * _EDGE, back)
    shift = complex(_EDGE - x0, _EDGE - y0)
    pdf.setStrokeColor(ink)
    pdf.setLineCap(1)
    pdf.setLineJoin(1)
    for mark in figure.marks:
        if mark.pen in _SHOWN:
            thin = mark.pen in (Pen.SEAM, Pen.GUIDE)
            pdf.setLineWidth((_LINE / 2 if thin else _LINE) * MM)
            pdf.setDash([3 * d * MM for d in PENS[mark.pen].dash] or [])
            pdf.drawPath(trace(pdf, mark.path, lambda p: p + shift), stroke=1, fill=0)
    pdf.setDash([])
    for c in figure.captions:
        write(pdf, c.text, c.at + shift, 1.25 * c.height, colour=ink, angle=c.angle, anchor=c.anchor)
    pdf.showPage()
