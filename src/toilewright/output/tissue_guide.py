"""The guide for measuring tissue: each piece with the places where the tape runs, and lines to write lengths on."""

from __future__ import annotations

import os
from collections.abc import Sequence

from reportlab.pdfgen.canvas import Canvas

from toilewright.files import replacing
from toilewright.output.paper import MM, canvas, draw_fitted, wrap, write
from toilewright.output.tissue_rows import PICTURE, WIDE, GuidePage, Row, piece_with_tape

_WIDTH, _HEIGHT, _MARGIN = WIDE + 22.0, 210.0, 11.0
"""mm; A5 (ISO 216), to lie beside the tissue."""

_TEXT, _LEAD = 2.2, 4.1

_WEIGHTS = {"must": "needed", "may": "if you like"}

_HEAD = ("Iron the tissue dry and cool, lay it flat, and measure along the lines of one size. Blue is the tape. "
         "Widths run from cut edge to cut edge: write the allowance on the flat sheet and it is taken off; everything "
         "else is taken between seam lines.")


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
    box = (_MARGIN + 4, y - PICTURE, _WIDTH - _MARGIN - 4, y - 3)
    draw_fitted(pdf, piece_with_tape(page.piece, page.rows), box, letters=1.0)
    y -= PICTURE + 5
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
