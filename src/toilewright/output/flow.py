"""Words and tables that run down a page in columns, and on to the next page."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from reportlab.pdfgen.canvas import Canvas

from toilewright.output.lay_looks import QUIET
from toilewright.output.paper import MM, wrap, write
from toilewright.output.summary import Table

BODY, LEAD = 2.0, 3.9
"""mm; height of capitals, and from line to line."""


class Flow:
    """Where the next line goes.

    Args:
        page: (width, height) of a sheet (mm).
        title: stands at the top of each page.
        columns: side by side.
        foot: stands at the foot of each page.
    """

    def __init__(self, pdf: Canvas, page: tuple[float, float], title: str, columns: int = 1, foot: str = "",
                 margin: float = 12.0, gutter: float = 9.0) -> None:
        """Begin at the top of a fresh page."""
        self.pdf, self.page, self.title, self.foot = pdf, page, title, foot
        self.margin, self.columns, self.gutter = margin, columns, gutter
        self.width = (page[0] - 2 * margin - gutter * (columns - 1)) / columns
        self.column, self.top, self.y = 0, 0.0, 0.0
        self._head()

    @property
    def left(self) -> float:
        """Of the column that is being filled (mm)."""
        return self.margin + self.column * (self.width + self.gutter)

    @property
    def low(self) -> float:
        """The lowest place for a line (mm)."""
        return self.margin + 6.0

    def room(self, needed: float) -> None:
        """Go on in the next column where so much does not fit (mm)."""
        if self.y - needed >= self.low or self.y >= self.top:
            return
        if self.column + 1 < self.columns:
            self.column, self.y = self.column + 1, self.top
        else:
            self.pdf.showPage()
            self._head()

    def heading(self, text: str, keep: float = 14.0) -> None:
        """A heading with room for at least `keep` mm below it."""
        self.room(keep)
        self.y -= 1.5 if self.y < self.top else 0.0
        for line in wrap(text, 2.5, self.width, True):
            write(self.pdf, line, complex(self.left, self.y), 2.5, bold=True)
            self.y -= 5.0

    def say(self, text: str, mark: str = "", height: float = BODY, indent: float = 0.0, colour: str = "") -> None:
        """A paragraph; `mark` stands in front of it."""
        lead = LEAD * height / BODY
        lines = wrap(text, height, self.width - indent)
        self.room(len(lines) * lead)
        for k, line in enumerate(lines):
            if mark and k == 0:
                write(self.pdf, mark, complex(self.left, self.y), height, bold=True)
            write(self.pdf, line, complex(self.left + indent, self.y), height, **({"colour": colour} if colour else {}))
            self.y -= lead
        self.y -= 1.0

    def steps(self, texts: Sequence[str]) -> None:
        """Numbered sentences."""
        for number, text in enumerate(texts, start=1):
            self.say(text, f"{number}", indent=6.0)

    def table(self, table: Table, ticks: bool = False, bold: int | None = None, strong: Sequence[int] = ()) -> None:
        """A table whose head comes again on each column.

        Args:
            ticks: a box in front of each row.
            bold: index of the cells that are printed bold.
            strong: numbers of the rows that are.
        """
        aside = 5.5 if ticks else 0.0
        wide = (self.width - aside) / sum(table.widths)
        starts = [aside + wide * sum(table.widths[:k]) for k in range(len(table.widths))]
        whole = len(table.rows) * (LEAD + 1.2) + 14.0
        if whole <= self.top - self.low:
            self.room(whole)
        if table.heading:
            self.heading(table.heading)
        self._heads(table, starts)
        for number, row in enumerate(table.rows):
            cells = [wrap(cell, BODY, wide * w - 1.5) or [""] for cell, w in zip(row, table.widths, strict=True)]
            tall = max(map(len, cells)) * LEAD + 1.2
            column = self.column, self.y
            self.room(tall)
            if (self.column, self.y) != column:
                self._heads(table, starts)
            if ticks:
                self.pdf.setLineWidth(0.2 * MM)
                self.pdf.setStrokeColor(QUIET)
                self.pdf.rect(self.left * MM, (self.y - 0.4) * MM, 2.8 * MM, 2.8 * MM)
            for k, (x, lines) in enumerate(zip(starts, cells, strict=True)):
                for n, line in enumerate(lines):
                    write(self.pdf, line, complex(self.left + x, self.y - n * LEAD), BODY,
                          bold=k == bold or number in strong)
            self.y -= tall
        self.y -= 3.0

    def end(self) -> None:
        """The page is full."""
        self.pdf.showPage()

    def _heads(self, table: Table, starts: Sequence[float]) -> None:
        for x, head in zip(starts, table.heads, strict=True):
            write(self.pdf, head, complex(self.left + x, self.y), 1.6, colour=QUIET)
        self.y -= 1.4
        self.pdf.setStrokeColor(QUIET)
        self.pdf.setLineWidth(0.15 * MM)
        self.pdf.line(self.left * MM, self.y * MM, (self.left + self.width) * MM, self.y * MM)
        self.y -= 3.6

    def _head(self) -> None:
        self.column = 0
        y = self.page[1] - self.margin - 3.6
        for line in wrap(self.title, 3.4, self.page[0] - 2 * self.margin, True):
            write(self.pdf, line, complex(self.margin, y), 3.4, bold=True)
            y -= 6.0
        lines = wrap(self.foot, 1.6, self.page[0] - 2 * self.margin)
        for k, line in enumerate(reversed(lines)):
            write(self.pdf, line, complex(self.margin, self.margin - 3.0 + 2.8 * k), 1.6, colour=QUIET)
        self.top = self.y = y - 3.0


def pages_for(length: float, room: float, overlap: float) -> int:
    """How many sheets a length takes, each showing `room` of it, neighbours sharing `overlap` (mm)."""
    return 1 if length <= room else ceil((length - overlap) / (room - overlap))
