"""The 'bought' pattern: a multi-size PDF with nested cutting lines, every size in its own layer."""

from __future__ import annotations

import io
import os
from collections.abc import Callable, Iterable, Iterator

from reportlab.pdfgen.canvas import Canvas

from toilewright.draw.figure import Caption
from toilewright.files import replacing
from toilewright.geometry.meeting import line_meetings
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.output.cover import SQUARE, chart_table, draw_map, draw_steps, draw_test_square, room_for_square
from toilewright.output.nest_drawing import COMMON, Ink, NestSheet, layer_of, nest_sheet
from toilewright.output.paper import MM, canvas, draw_caption, ground, trace, wrap, write
from toilewright.output.pdf_layers import PdfLayers
from toilewright.output.tiles import (
    Tile,
    TileGrid,
    clip_to_frame,
    draw_furniture,
    inked_tiles,
    paper_size,
    touches,
)
from toilewright.output.words import cut_words, usual_allowance
from toilewright.pattern.nest import Pattern
from toilewright.pattern.parts import EdgeKind

FURNITURE = "Page marks"
"""Name of the layer of frames, registration marks and page labels."""

_HEADER = 150.0
"""mm; room above the pieces on a single sheet for title, chart and test square."""

_COLUMNS = 6
"""Pages side by side when the pieces allow it."""

_STEPS = (
    "Print all pages at 100 % (actual size), not fitted to the page, and measure the test square first.",
    "Trim or fold each page along its frame at the top and at the left, lay it over its neighbour until the round "
    "marks meet, and tape.",
    "Cut along the line of your size; take another where you need another, and draw a smooth way between the two.",
    "Blades and hot irons: the usual care.",
)


def print_pattern(pattern: Pattern, path: str | os.PathLike[str], paper: str = "a4", *, layers: bool = True,
                  told_by: str = "dash", borders: str = "clip") -> None:
    """Print a multi-size pattern.

    Args:
        path: PDF to write; replaced in one step.
        paper: ``a4``, ``letter``, or ``sheet`` for one wide sheet.
        layers: give every size an optional-content layer; without, sizes are told apart by their lines alone.
        told_by: ``dash`` or ``colour``.
        borders: ``clip`` repeats whole lines under a clip on every page they touch; ``cut`` ends them at the border
            of each page's frame.

    Raises:
        NameUnknown: no such paper.
    """
    if paper == "sheet":
        sheet = nest_sheet(pattern, 1200.0, told_by)
        with replacing(path) as name:
            _finish(name, sheet, layers, lambda pdf, on: _one_sheet(pdf, pattern, sheet, on), pattern,
                    (sheet.width, sheet.height + _HEADER))
        return
    size = paper_size(paper)
    page = TileGrid(size, 1.0, 1.0)
    sheet = nest_sheet(pattern, _COLUMNS * page.step[0] + page.overlap, told_by, page.step[0])
    grid = TileGrid(size, sheet.width, sheet.height)
    with replacing(path) as name:
        _finish(name, sheet, layers, lambda pdf, on: _pages(pdf, pattern, sheet, grid, borders, on), pattern, size)


def _finish(name: str, sheet: NestSheet, layers: bool, draw: Callable[[Canvas, PdfLayers], None], pattern: Pattern,
            size: tuple[float, float]) -> None:
    kept = PdfLayers((*sheet.layers, FURNITURE) if layers else ())
    data = io.BytesIO()
    pdf = canvas(data, size[0], size[1], pattern.name)
    draw(pdf, kept)
    pdf.save()
    kept.save(data.getvalue(), name)


# -- pages -----------------------------------------------------------------------------------------


def _pages(pdf: Canvas, pattern: Pattern, sheet: NestSheet, grid: TileGrid, borders: str, layers: PdfLayers) -> None:
    printed = inked_tiles(grid, [*(i.path for i in sheet.inks), *(ground(c) for c in sheet.captions)])
    _cover(pdf, pattern, sheet, grid, printed, layers)
    pdf.showPage()
    for tile in grid.tiles():
        if tile in printed:
            _page(pdf, sheet, grid, tile, borders, layers)
            with layers.on(pdf, FURNITURE):
                draw_furniture(pdf, grid, tile, printed)
            pdf.showPage()


def _page(pdf: Canvas, sheet: NestSheet, grid: TileGrid, tile: Tile, borders: str, layers: PdfLayers) -> None:
    window = grid.window(tile)
    for layer in sheet.layers:
        inks = [i for i in sheet.inks if i.layer == layer and touches(window, i.path.bounds)]
        words = [c for c in sheet.captions if c.layer == layer and touches(window, ground(c).bounds)]
        if not inks and not words:
            continue
        with layers.on(pdf, layer):
            pdf.saveState()
            clip_to_frame(pdf, grid)
            _draw(pdf, inks, words, lambda p: grid.place(tile, p), window if borders == "cut" else None)
            pdf.restoreState()


def _draw(pdf: Canvas, inks: Iterable[Ink], words: Iterable[Caption], place: Callable[[Point], Point],
          window: tuple[float, float, float, float] | None = None) -> None:
    pdf.setLineCap(1)
    pdf.setLineJoin(1)
    for ink in inks:
        pdf.setStrokeColor(ink.colour)
        pdf.setLineWidth(ink.width * MM)
        pdf.setDash([d * MM for d in ink.dash] or [])
        for part in within(ink.path, window) if window else (ink.path,):
            pdf.drawPath(trace(pdf, part, place), stroke=1, fill=0)
    pdf.setDash([])
    for caption in words:
        draw_caption(pdf, caption, place)


def within(path: Path, window: tuple[float, float, float, float]) -> Iterator[Path]:
    """The parts of a path inside a window, cut exactly at its border."""
    x0, y0, x1, y1 = window
    corners = (complex(x0, y0), complex(x1, y0), complex(x1, y1), complex(x0, y1))
    places = [m.on_first for i in range(4) for m in line_meetings(path, corners[i], corners[(i + 1) % 4])]
    for part in path.cut_at(places):
        middle = part.point_at(part.length / 2)
        if x0 <= middle.real <= x1 and y0 <= middle.imag <= y1:
            yield part


# -- cover and sheet -------------------------------------------------------------------------------


def _cover(pdf: Canvas, pattern: Pattern, sheet: NestSheet, grid: TileGrid, printed: frozenset[Tile],
           layers: PdfLayers) -> None:
    width, height = grid.paper
    left, right = 16.0, width - 16.0
    with layers.on(pdf, COMMON):
        y = _title(pdf, pattern, complex(left, height - 20), right - left)
        y = chart_table(pdf, pattern, (left, right), y - 4)
        y = draw_steps(pdf, _STEPS, (left, right), y - 3)
    # A new page may begin here; what belongs to a layer may not run over it.
    low = room_for_square(pdf, grid, y)
    largest = [(i.path, i.colour) for i in sheet.inks if i.layer == layer_of(pattern.sizes[-1]) and i.path.closed]
    with layers.on(pdf, COMMON):
        draw_test_square(pdf, complex(left, low))
        draw_map(pdf, grid, printed, largest, (left + 112, 14.0, right, low + SQUARE + 6))


def _title(pdf: Canvas, pattern: Pattern, at: Point, room: float) -> float:
    write(pdf, pattern.name, at, 7.0, bold=True)
    y = at.imag - 9
    for text in _facts(pattern):
        for line in wrap(text, 2.4, room):
            write(pdf, line, complex(at.real, y), 2.4)
            y -= 4.6
    return y


def _facts(pattern: Pattern) -> list[str]:
    pieces = pattern.garments[0].pieces
    seam, hem = usual_allowance(pieces), usual_allowance(pieces, EdgeKind.HEM)
    amounts = f"Seam allowance {(seam or 0) / 10:g} cm included" + (f", hem {hem / 10:g} cm" if hem else "")
    facts = [f"Sizes {pattern.sizes[0]} to {pattern.sizes[-1]}, nested. {amounts}; other amounts stand on the pieces."]
    if pattern.cloth:
        facts.append(f"Cloth: {pattern.cloth}.")
    facts.append("Pieces: " + "; ".join(f"{p.name}, {cut_words(p)}" for p in pieces) + ".")
    return facts


def _one_sheet(pdf: Canvas, pattern: Pattern, sheet: NestSheet, layers: PdfLayers) -> None:
    top = sheet.height + _HEADER
    with layers.on(pdf, COMMON):
        y = _title(pdf, pattern, complex(150.0, top - 24), sheet.width - 640)
        draw_steps(pdf, (_STEPS[0], *_STEPS[2:]), (150.0, sheet.width - 490), y - 3)
        chart_table(pdf, pattern, (sheet.width - 450, sheet.width - 24), top - 20)
        draw_test_square(pdf, complex(24, top - 124))
    for layer in sheet.layers:
        with layers.on(pdf, layer):
            pdf.saveState()
            _draw(pdf, [i for i in sheet.inks if i.layer == layer], [c for c in sheet.captions if c.layer == layer],
                  lambda p: p)
            pdf.restoreState()
    pdf.showPage()
