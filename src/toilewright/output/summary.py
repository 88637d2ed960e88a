"""The whole make on one A4 page, to pin over the table."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.pdfgen.canvas import Canvas

from toilewright.draw.figure import Figure
from toilewright.files import replacing
from toilewright.output.paper import MM, canvas, draw_fitted, wrap, write

_WIDTH, _HEIGHT = 210.0, 297.0
_MARGIN = 14.0
_GUTTER = 8.0
_BODY = 2.0
_LEAD = 3.9
_QUIET = "#6f675e"


@dataclass(frozen=True, slots=True)
class Table:
    """A small table: heading, column heads, and rows of text; `widths` are shares of the column."""

    heading: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Summary:
    """What the page says, as plain words.

    Attributes:
        title: the make.
        lines: who, which pattern, which size and why: one sentence each.
        tables: ease, alterations, walk.
        looks: what deserves a look, one sentence each.
        pictures: small before/after pictures.
    """

    title: str
    lines: tuple[str, ...]
    tables: tuple[Table, ...]
    looks: tuple[str, ...]
    pictures: tuple[Figure, ...]


class _Column:
    """A column of text that fills downwards; what does not fit is counted, never overprinted."""

    def __init__(self, pdf: Canvas, left: float, width: float, top: float, bottom: float) -> None:
        self.pdf, self.left, self.width, self.y, self.bottom = pdf, left, width, top, bottom

    def fits(self, needed: float) -> bool:
        return self.y - needed >= self.bottom

    def heading(self, text: str) -> None:
        write(self.pdf, text, complex(self.left, self.y), 2.5, bold=True)
        self.y -= 5.0

    def paragraph(self, text: str, indent: float = 0.0) -> bool:
        lines = wrap(text, _BODY, self.width - indent)
        if not self.fits(len(lines) * _LEAD):
            return False
        for line in lines:
            write(self.pdf, line, complex(self.left + indent, self.y), _BODY)
            self.y -= _LEAD
        self.y -= 0.9
        return True

    def table(self, table: Table) -> None:
        starts = [self.left + self.width * sum(table.widths[:i]) for i in range(len(table.widths))]
        room = [self.width * w - 1.0 for w in table.widths]
        self.heading(table.heading)
        for x, head in zip(starts, table.heads, strict=True):
            write(self.pdf, head, complex(x, self.y), 1.6, colour=_QUIET)
        self.y -= 1.4
        self._rule()
        self.y -= 3.2
        left_out = 0
        for row in table.rows:
            cells = [wrap(cell, _BODY, space) or [""] for cell, space in zip(row, room, strict=True)]
            tall = max(map(len, cells)) * _LEAD
            if not self.fits(tall + _LEAD):
                left_out += 1
                continue
            for x, lines in zip(starts, cells, strict=True):
                for k, line in enumerate(lines):
                    write(self.pdf, line, complex(x, self.y - k * _LEAD), _BODY)
            self.y -= tall + 0.5
        if left_out:
            write(self.pdf, f"... and {left_out} more in result.json", complex(self.left, self.y), _BODY, colour=_QUIET)
            self.y -= _LEAD
        self.y -= 3.5

    def _rule(self) -> None:
        self.pdf.setStrokeColor(_QUIET)
        self.pdf.setLineWidth(0.15 * MM)
        self.pdf.line(self.left * MM, self.y * MM, (self.left + self.width) * MM, self.y * MM)


def write_summary(summary: Summary, path: str | os.PathLike[str]) -> None:
    """Write the one-page summary (A4, PDF)."""
    with replacing(path) as name:
        pdf = canvas(name, _WIDTH, _HEIGHT, summary.title)
        top = _header(pdf, summary)
        floor = _MARGIN + 5
        if summary.pictures:
            floor += 56
            _pictures(pdf, summary.pictures, floor)
        width = (_WIDTH - 2 * _MARGIN - _GUTTER) / 2
        columns = [_Column(pdf, _MARGIN + i * (width + _GUTTER), width, top, floor) for i in range(2)]
        for table in summary.tables:
            max(columns, key=lambda c: c.y).table(table)
        _looks(columns, summary.looks)
        write(pdf, "The tool advises; the toile decides. Blades, needles and hot irons: the usual care.",
              complex(_MARGIN, _MARGIN - 5), 1.6, colour=_QUIET)
        pdf.showPage()
        pdf.save()


def _header(pdf: Canvas, summary: Summary) -> float:
    y = _HEIGHT - _MARGIN - 5
    write(pdf, summary.title, complex(_MARGIN, y), 5.0, bold=True)
    y -= 7.5
    for text in summary.lines:
        for line in wrap(text, 2.1, _WIDTH - 2 * _MARGIN):
            write(pdf, line, complex(_MARGIN, y), 2.1)
            y -= 4.1
        y -= 0.7
    return y - 4.5


def _looks(columns: Sequence[_Column], looks: Sequence[str]) -> None:
    """Findings go where there is more room."""
    if not looks:
        return
    column = max(columns, key=lambda c: c.y)
    if not column.fits(12):
        return
    column.heading("Look here")
    for i, text in enumerate(looks):
        if not column.paragraph(text):
            write(column.pdf, f"... and {len(looks) - i} more in result.json", complex(column.left, column.y), _BODY,
                  colour=_QUIET)
            return


def _pictures(pdf: Canvas, pictures: Sequence[Figure], top: float) -> None:
    """A row of small pictures along the foot of the page, all to one scale."""
    shown = pictures[:7]
    boxes = [f.bounds() for f in shown]
    gap, room, tall = 6.0, _WIDTH - 2 * _MARGIN, top - _MARGIN - 8
    widths = [b[2] - b[0] for b in boxes]
    scale = min((room - gap * (len(shown) - 1)) / sum(widths), (tall - 6) / max(b[3] - b[1] for b in boxes))
    x = _MARGIN
    for figure, box, width in zip(shown, boxes, widths, strict=True):
        wide = width * scale
        high = (box[3] - box[1]) * scale
        draw_fitted(pdf, figure, (x, _MARGIN + 4, x + wide, _MARGIN + 4 + high), weight=0.6)
        for k, line in enumerate(wrap(figure.title, 1.6, wide + gap - 1)):
            write(pdf, line, complex(x + wide / 2, _MARGIN + 1.4 - 2.6 * k), 1.6, anchor="middle", colour=_QUIET)
        x += wide + gap
