"""The lay on paper, to hang over the table: the picture to scale, the order of work, the cut list (A4, landscape)."""

from __future__ import annotations

import os
from collections.abc import Sequence

from reportlab.pdfgen.canvas import Canvas

from toilewright.files import replacing
from toilewright.geometry.path import Path
from toilewright.output.cut_list import cut_list
from toilewright.output.flow import Flow, pages_for
from toilewright.output.lay_edges import ABOVE, BELOW, BESIDE, drawn_repeat
from toilewright.output.lay_looks import LOOKS, QUIET, Look
from toilewright.output.lay_paper import draw_scale, draw_scene
from toilewright.output.lay_scene import lay_scene
from toilewright.output.lay_sheet import (
    CARE,
    LaySheet,
    checked_words,
    end_of_lay,
    height_of,
    size_words,
    sure_words,
)
from toilewright.output.lay_steps import before_steps, order_table
from toilewright.output.paper import MM, canvas, trace, width_of, wrap, write

PAGE = (297.0, 210.0)
"""mm; A4, landscape (ISO 216)."""

SCALES = (3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50)
"""mm of cloth for one on paper; scales that a ruler is easily read in."""

OVERLAP = 100.0
"""mm of cloth that two sheets of one lay both show."""

_WHOLE = 15
"""A lay that would need a smaller scale than 1:15 to go on one sheet runs over several."""

_MARGIN, _HEAD, _FOOT, _RIGHT = 10.0, 14.0, 13.0, 4.0
"""mm; at all sides, for title and scale, and on the right for the word that joins two sheets."""


def write_lay_pdf(sheets: Sequence[LaySheet], path: str | os.PathLike[str]) -> None:
    """Write the lays of all cloths, each on sheets of its own, then what is cut (PDF).

    Args:
        sheets: one for each cloth.
        path: PDF to write; replaced in one step.
    """
    with replacing(path) as name:
        pdf = canvas(name, *PAGE, sheets[0].title)
        for sheet in sheets:
            _pictures(pdf, sheet)
            _work(pdf, sheet)
        flow = Flow(pdf, PAGE, f"{sheets[0].title}: cut list", foot=CARE)
        for sheet in sheets:
            flow.table(cut_list(sheet), ticks=True, bold=0)
        flow.end()
        pdf.save()


def scale_for(sheet: LaySheet) -> tuple[int, int]:
    """At which scale a lay is drawn, and on how many sheets."""
    long, tall = end_of_lay(sheet.lay), _tall(sheet)
    wide_room, tall_room = _rooms()
    fits = [n for n in SCALES if tall / n <= tall_room]
    for n in fits:
        if n <= _WHOLE and long / n <= wide_room:
            return n, 1
    scale = next((n for n in fits if n >= 10), SCALES[-1])
    return scale, pages_for(long, wide_room * scale, OVERLAP)


def _rooms() -> tuple[float, float]:
    """How much cloth has room on a sheet, along and across (mm on paper)."""
    return (PAGE[0] - 2 * _MARGIN - BESIDE - _RIGHT, PAGE[1] - 2 * _MARGIN - _HEAD - _FOOT - ABOVE - BELOW)


def _tall(sheet: LaySheet) -> float:
    return max([height_of(sheet.lay, s) for s in sheet.lay.sections] or [sheet.lay.cloth.width])


def _pictures(pdf: Canvas, sheet: LaySheet) -> None:
    """The lay, on one sheet or on several that overlap."""
    scale, count = scale_for(sheet)
    end = end_of_lay(sheet.lay)
    room = (end + (count - 1) * OVERLAP) / count
    for k in range(count):
        start = k * (room - OVERLAP)
        window = (start, min(start + room, end))
        _heading(pdf, sheet, f"sheet {k + 1} of {count}" if count > 1 else "", scale)
        scene = lay_scene(sheet, scale, window)
        corner = complex(_MARGIN, _MARGIN + _FOOT)
        draw_scene(pdf, scene, corner)
        for x, other in ((window[0] + OVERLAP, k), (window[1] - OVERLAP, k + 2)):
            if 1 <= other <= count:
                at = corner + (complex(x, 0) - complex(scene.box[0], scene.box[1])) / scale
                tall = (scene.box[3] - scene.box[1]) / scale - BELOW - 6
                _join(pdf, at, tall, f"edge of sheet {other}")
        _foot(pdf, sheet, scale)
        pdf.showPage()


def _heading(pdf: Canvas, sheet: LaySheet, place: str, scale: float) -> None:
    y = PAGE[1] - _MARGIN - 4.0
    title = f'{sheet.title}: cloth "{sheet.lay.cloth.name}"'
    room = PAGE[0] - 2 * _MARGIN - 30.0
    write(pdf, title, complex(_MARGIN, y), min(3.6, room / width_of(title, 1.0, True)), bold=True)
    write(pdf, place, complex(PAGE[0] - _MARGIN, y), 2.4, bold=True, anchor="end")
    write(pdf, size_words(sheet), complex(_MARGIN, y - 6.0), 2.2)
    key, size = _key(sheet, scale), size_words(sheet)
    wide = PAGE[0] - 2 * _MARGIN - width_of(size, 2.2) - 6.0
    for k, line in enumerate(wrap(key, 1.6, wide)):
        write(pdf, line, complex(PAGE[0] - _MARGIN, y - 6.0 - 3.2 * k), 1.6, colour=QUIET, anchor="end")


def _key(sheet: LaySheet, scale: float) -> str:
    """What the colours mean, as far as they are there."""
    lay = sheet.lay
    said = []
    if any(s.fold_depth is not None for s in lay.sections):
        said += ["darker cloth lies double"]
    if any(one.piece.on_fold for one in lay.laid):
        said += ["blue edges lie on the fold and are not cut"]
    if lay.cloth.one_way:
        said += ["the cloth has a direction, so every arrow points the same way"]
    if lay.cloth.flaws:
        said += ["red are flaws"]
    repeat, shown = lay.cloth.repeat, drawn_repeat(lay.cloth.repeat, scale)
    if shown.along or shown.across:
        said += ["pale blue lines are the repeat"]
    elif repeat.along or repeat.across:
        said += ["the repeat is too fine to be drawn"]
    return "; ".join([*said, "small circles are drill marks"]).capitalize() + "."


def _foot(pdf: Canvas, sheet: LaySheet, scale: float) -> None:
    draw_scale(pdf, complex(_MARGIN, _MARGIN + 5.5), scale, sheet.unit)
    left, wide = _MARGIN + 116.0, PAGE[0] - 2 * _MARGIN - 116.0
    lines = [*wrap(checked_words(sheet.lay), 1.6, wide), *wrap(sure_words(sheet.lay), 1.6, wide)]
    for k, line in enumerate(lines[:4]):
        write(pdf, line, complex(left, _MARGIN + 7.5 - 2.9 * k), 1.6, colour=QUIET)


def _join(pdf: Canvas, at: complex, tall: float, text: str) -> None:
    """The line on which the neighbouring sheet's edge comes to lie."""
    pen = LOOKS[Look.JOIN]
    pdf.saveState()
    pdf.setStrokeColor(pen.colour)
    pdf.setLineWidth(pen.width * MM)
    pdf.setDash([d * MM for d in pen.dash])
    pdf.drawPath(trace(pdf, Path.line(at - 9j, at + tall * 1j)), stroke=1, fill=0)
    pdf.restoreState()
    write(pdf, text, at + complex(0, tall + 0.8), 1.7, colour=pen.colour, anchor="middle")


def _work(pdf: Canvas, sheet: LaySheet) -> None:
    """What is done before, and every cut by its number."""
    flow = Flow(pdf, PAGE, f'{sheet.title}: cloth "{sheet.lay.cloth.name}", order of work', 2, CARE)
    flow.heading("Before you lay")
    flow.steps(before_steps(sheet))
    if sheet.lay.notes:
        flow.heading("Also")
        for note in sheet.lay.notes:
            flow.say(note)
    flow.table(order_table(sheet), ticks=True, bold=0)
    flow.end()
