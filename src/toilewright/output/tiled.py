"""The altered pieces at true scale over many printer pages, with a first page that says how to put them together."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from reportlab.pdfgen.canvas import Canvas

from toilewright.draw.figure import Figure, Pen
from toilewright.files import replacing
from toilewright.output.cover import SQUARE, draw_map, draw_steps, draw_test_square, room_for_square
from toilewright.output.layout import GAP, arrange
from toilewright.output.paper import canvas, draw_figure, ground, wrap, write
from toilewright.output.pens import INK
from toilewright.output.piece_figure import garment_figures
from toilewright.output.tiles import (
    Tile,
    TileGrid,
    clip_to_frame,
    draw_furniture,
    inked_tiles,
    paper_size,
    touches,
)
from toilewright.pattern.garment import Garment

_COLUMNS = 5
"""Pages side by side when the pieces allow it: as wide as a table."""

STEPS = (
    "Print this page first, at 100 % or actual size, never fitted to the page. Measure the square: each side must be "
    "10.0 cm (the line below it 4 in). If it is not, change the printer's scale and try again.",
    "Print the rest on one side of the paper. On each page trim or fold away what lies outside the frame at the top "
    "and at the left.",
    "Lay the pages out as on the map, each over its neighbours' edge until the round marks meet, and tape row by row.",
    "Cut paper along the plain outer line; dashed lines are the seams. Snip notches no deeper than 4 mm, pierce the "
    "small circles (in a dart 1 cm short of its point), lay the long arrow along the grain.",
    "Blades and hot irons: cut away from the hand, and iron paper dry and cool.",
)


@dataclass(frozen=True, slots=True)
class TilePlan:
    """How the pieces lie on the pages of a printer.

    Attributes:
        sheet: all pieces side by side, tints first.
        printed: the pages that have something on them.
    """

    sheet: Figure
    grid: TileGrid
    printed: frozenset[Tile]


def plan_tiles(garment: Garment, paper: str = "a4", *, note: str = "", unit: str = "cm") -> TilePlan:
    """Which page shows what, without writing anything; as for :func:`write_tiled`."""
    sheet, grid = _laid_out(garment_figures(garment, note, unit), paper_size(paper))
    sheet = replace(sheet, marks=tuple(sorted(sheet.marks, key=lambda m: m.pen is not Pen.FILL)))
    inked = [*(m.path for m in sheet.marks), *(ground(c) for c in sheet.captions)]
    return TilePlan(sheet, grid, inked_tiles(grid, inked))


def write_tiled(garment: Garment, path: str | os.PathLike[str], paper: str = "a4", *, title: str = "", note: str = "",
                unit: str = "cm", day: date | None = None) -> None:
    """Write the pieces over pages that a home printer takes.

    Page 1 has the test square, the map and what to do; pages with nothing on them are left out, and tinted on the map.

    Args:
        path: PDF to write; replaced in one step.
        paper: ``a4`` or ``letter``.
        title: what is printed at the head of page 1.
        note: size or for whom; stands on every piece.
        unit: ``cm`` or ``in``, for the allowance words.
        day: printed under the title, when given.

    Raises:
        NameUnknown: no such paper.
        GeometryError: a piece has no cutting line.
    """
    plan = plan_tiles(garment, paper, note=note, unit=unit)
    with replacing(path) as name:
        pdf = canvas(name, *plan.grid.paper, title or "Pattern pieces")
        _first_page(pdf, plan.grid, plan.printed, plan.sheet, title or "Pattern pieces",
                    [w for w in (note, day.isoformat() if day else "", _names(garment)) if w])
        for tile in plan.grid.tiles():
            if tile in plan.printed:
                _page(pdf, plan.grid, tile, plan.sheet, plan.printed)
        pdf.save()


def _laid_out(figures: Sequence[Figure], size: tuple[float, float]) -> tuple[Figure, TileGrid]:
    """The pieces in rows that fill whole pages, and the grid of pages under them."""
    widest = max(f.bounds()[2] - f.bounds()[0] for f in figures) + 2 * GAP
    columns = max(_COLUMNS, TileGrid(size, widest, 1.0).columns)
    empty = TileGrid(size, 1.0, 1.0)
    sheet, width, height = arrange(figures, columns * empty.step[0] + empty.overlap)
    return sheet, TileGrid(size, width, height)


def _names(garment: Garment) -> str:
    return "Pieces: " + ", ".join(p.name for p in garment.pieces) + "."


def _first_page(pdf: Canvas, grid: TileGrid, printed: frozenset[Tile], sheet: Figure, title: str,
                words: Iterable[str]) -> None:
    width, height = grid.paper
    left, right = 16.0, width - 16.0
    y = height - 24.0
    write(pdf, title, complex(left, y), 6.0, bold=True)
    y -= 9
    for text in words:
        for line in wrap(text, 2.4, right - left):
            write(pdf, line, complex(left, y), 2.4)
            y -= 4.8
    y = draw_steps(pdf, STEPS, (left, right), y - 3, 2.4)
    low = room_for_square(pdf, grid, y, inches=True)
    draw_test_square(pdf, complex(left, low), inches=True)
    follow = f"{len(printed)} pages follow" if len(printed) > 1 else "1 page follows"
    rows = f"{grid.rows} rows" if grid.rows > 1 else "1 row"
    write(pdf, f"{follow}, {rows} of up to {grid.columns}", complex(left, low - 15.5), 2.2)
    lines = [(m.path, INK) for m in sheet.marks if m.pen in (Pen.CUT, Pen.FOLD)]
    draw_map(pdf, grid, printed, lines, (left + 112, 14.0, right, low + SQUARE + 6))
    pdf.showPage()


def _page(pdf: Canvas, grid: TileGrid, tile: Tile, sheet: Figure, printed: frozenset[Tile]) -> None:
    window = grid.window(tile)
    shown = Figure(tuple(m for m in sheet.marks if touches(window, m.path.bounds)),
                   tuple(c for c in sheet.captions if touches(window, ground(c).bounds)))
    pdf.saveState()
    clip_to_frame(pdf, grid)
    draw_figure(pdf, shown, lambda p: grid.place(tile, p))
    pdf.restoreState()
    draw_furniture(pdf, grid, tile, printed)
    pdf.showPage()
