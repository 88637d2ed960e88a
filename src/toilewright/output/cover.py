"""The first page: test square, how to print and put together, map of the pages, body chart."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from reportlab.pdfgen.canvas import Canvas

from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.output.paper import INK, MM, trace, width_of, wrap, write
from toilewright.output.tiles import QUIET, Tile, TileGrid
from toilewright.pattern.nest import Pattern

SQUARE = 100.0
"""mm; side of the test square."""

_PALE = "#efe9df"


def draw_test_square(pdf: Canvas, at: Point, inches: bool = False) -> None:
    """The square to measure before anything is cut, its lower left corner at `at` (mm).

    Args:
        inches: add a rule of 4 in below it.
    """
    pdf.saveState()
    pdf.setStrokeColor(INK)
    pdf.setLineWidth(0.3 * MM)
    pdf.setLineJoin(0)
    pdf.rect(at.real * MM, at.imag * MM, SQUARE * MM, SQUARE * MM)
    pdf.restoreState()
    write(pdf, "Test square", at + complex(SQUARE / 2, SQUARE / 2 + 3), 4.0, bold=True, anchor="middle")
    write(pdf, "each side must measure 10 cm (100 mm)", at + complex(SQUARE / 2, SQUARE / 2 - 4), 2.4, anchor="middle")
    if inches:
        start = at - 7j
        pdf.saveState()
        pdf.setLineWidth(0.3 * MM)
        for a, b in ((start, start + 101.6), *((start + 25.4 * k - 1.5j, start + 25.4 * k + 1.5j) for k in range(5))):
            pdf.drawPath(trace(pdf, Path.line(a, b)), stroke=1, fill=0)
        pdf.restoreState()
        write(pdf, "4 in from end to end", start + complex(SQUARE / 2, -4), 2.0, anchor="middle")


def room_for_square(pdf: Canvas, grid: TileGrid, y: float, inches: bool = False) -> float:
    """Where the test square's lower side goes below the height y; on a new page when this one is full (mm)."""
    below = 16.0 if inches else 2.0
    low = y - 3.0 - SQUARE
    if low - below < grid.margin:
        pdf.showPage()
        low = grid.paper[1] - 24.0 - SQUARE
    return low


def draw_steps(pdf: Canvas, steps: Sequence[str], sides: tuple[float, float], y: float, height: float = 2.2) -> float:
    """Numbered sentences between two sides; returns the height below them (mm)."""
    for number, step in enumerate(steps, start=1):
        for k, line in enumerate(wrap(step, height, sides[1] - sides[0] - 6)):
            if k == 0:
                write(pdf, f"{number}", complex(sides[0], y), height, bold=True)
            write(pdf, line, complex(sides[0] + 6, y), height)
            y -= 1.9 * height
        y -= 0.5 * height
    return y


def chart_table(pdf: Canvas, pattern: Pattern, sides: tuple[float, float], y: float) -> float:
    """The envelope's body chart in cm; returns the height below it (mm). Nothing where the pattern has none."""
    chart = pattern.chart
    if chart is None:
        return y
    names = 62.0
    step = (sides[1] - sides[0] - names) / len(chart.sizes)
    write(pdf, "Body measures in cm", complex(sides[0], y), 2.4, bold=True)
    for i, size in enumerate(chart.sizes):
        write(pdf, size, complex(sides[0] + names + (i + 1) * step, y), 2.2, bold=True, anchor="end")
    y -= 1.6
    pdf.setStrokeColor(QUIET)
    pdf.setLineWidth(0.15 * MM)
    pdf.line(sides[0] * MM, y * MM, sides[1] * MM, y * MM)
    y -= 3.4
    for name, values in chart.rows:
        degrees = "slope" in name
        write(pdf, f"{name} (degrees)" if degrees else name, complex(sides[0], y), 1.9)
        for i, value in enumerate(values):
            text = f"{value:.1f}" if degrees else f"{value / 10:.1f}"
            write(pdf, text, complex(sides[0] + names + (i + 1) * step, y), 1.9, anchor="end")
        y -= 3.3
    return y


def draw_map(pdf: Canvas, grid: TileGrid, printed: frozenset[Tile], lines: Iterable[tuple[Path, str]],
             box: tuple[float, float, float, float]) -> None:
    """The pages in their places, with the pieces drawn small; blank pages are tinted.

    Args:
        box: (x min, y min, x max, y max) of the room for it on the page (mm).
    """
    wide = grid.columns * grid.step[0] + grid.overlap
    tall = grid.rows * grid.step[1] + grid.overlap
    scale = min((box[2] - box[0]) / wide, (box[3] - box[1] - 6) / tall)
    # The grid hangs from the sheet's top edge.
    corner = complex(box[0], box[3] - 6 - grid.height * scale)
    write(pdf, "Map of the pages", complex(box[0], box[3] - 3), 2.4, bold=True)
    pdf.saveState()
    pdf.setLineWidth(0.12 * MM)
    pdf.setStrokeColor(QUIET)
    pdf.setFillColor(_PALE)
    for tile in grid.tiles():
        x0, y0, x1, y1 = grid.core(tile)
        a = corner + complex(x0, y0) * scale
        pdf.rect(a.real * MM, a.imag * MM, (x1 - x0) * scale * MM, (y1 - y0) * scale * MM, fill=tile not in printed)
    pdf.setLineWidth(0.15 * MM)
    for path, colour in lines:
        pdf.setStrokeColor(colour)
        pdf.drawPath(trace(pdf, path, lambda p: p * scale + corner), stroke=1, fill=0)
    pdf.restoreState()
    for tile in grid.tiles():
        x0, _, x1, y1 = grid.core(tile)
        at = corner + complex((x0 + x1) / 2, y1) * scale
        height = min(2.0, (x1 - x0) * scale / max(width_of(tile.name, 1.0), 0.1) * 0.5)
        write(pdf, tile.name, at - 1.6j * height, height, colour=QUIET, anchor="middle")
    below = corner + complex(0, grid.height - tall) * scale
    if len(printed) < grid.rows * grid.columns:
        write(pdf, "Tinted pages are blank and not printed.", below - 3.5j, 1.7, colour=QUIET)
