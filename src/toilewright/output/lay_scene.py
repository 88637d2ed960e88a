"""A lay as a drawing, whole or a stretch of it: cloth, pieces with their marks, labels, rulers."""

from __future__ import annotations

from toilewright.cutting.lay.plan import Laid
from toilewright.geometry.path import Path
from toilewright.output.lay_details import details
from toilewright.output.lay_edges import (
    ABOVE,
    BELOW,
    BESIDE,
    cloth_shapes,
    edge_shapes,
    edge_words,
    flaw_shapes,
    repeat_shapes,
    rulers,
)
from toilewright.output.lay_labels import labels
from toilewright.output.lay_looks import Look, Scene, Shape, Words
from toilewright.output.lay_sheet import LaySheet, OneCut, end_of_lay, height_of

_AFTER = 3.0
"""mm on paper that stay free on the right."""


def lay_scene(sheet: LaySheet, scale: float, window: tuple[float, float] | None = None, brief: bool = False) -> Scene:
    """A lay to be printed at a scale.

    Args:
        scale: mm on the cloth for one on paper.
        window: (x from, x to) of the stretch that is shown (mm); None for all of it.
        brief: outlines, numbers and names alone, for small pictures.
    """
    lay = sheet.lay
    end = end_of_lay(lay)
    window = window or (0.0, end)
    cuts = [cut for cut in sheet.cuts if _in(cut.one, window)]
    shapes: list[Shape] = list(cloth_shapes(lay))
    shapes += (Shape(_ring(cut.one), Look.PIECE, name_of(cut)) for cut in cuts)
    shapes += (*repeat_shapes(lay, scale), *flaw_shapes(lay))
    words: list[Words] = [] if brief else list(edge_words(lay, sheet.unit, scale, window))
    shapes += edge_shapes(lay)
    for cut in cuts:
        inner, outer, said = _piece(sheet, cut, scale, window, brief)
        shapes += (*inner, *outer)
        words += said
    lines, numbers = rulers(lay, sheet.unit, scale, window, brief)
    tall = max([height_of(lay, s) for s in lay.sections] or [lay.cloth.width])
    beside, above = (1.0, 1.0) if brief else (BESIDE, ABOVE)
    box = (window[0] - beside * scale, -BELOW * scale, window[1] + _AFTER * scale, tall + above * scale)
    return Scene((*shapes, *lines), (*words, *numbers), box, window, scale)


def name_of(cut: OneCut) -> str:
    """What a cut is called in files: its number, its piece, its copy."""
    return f"{cut.turn} {cut.full_name} {cut.one.copy}"


def _piece(sheet: LaySheet, cut: OneCut, scale: float, window: tuple[float, float],
           brief: bool) -> tuple[tuple[Shape, ...], tuple[Shape, ...], tuple[Words, ...]]:
    """Marks, cutting line and label of one cut."""
    group = name_of(cut)
    piece = None if brief else sheet.piece_of(cut.one)
    inner = details(cut.one, piece, scale, group, sheet.lay.cloth.one_way) if piece is not None else ()
    outer = (Shape(_ring(cut.one), Look.CUT, group), *_fold_edge(cut.one, group))
    return inner, outer, labels(cut, group, [s.path for s in inner], scale, window, brief)


def _fold_edge(one: Laid, group: str) -> tuple[Shape, ...]:
    """The fold edge of a piece that lies on the fold: it is not cut."""
    if not one.piece.on_fold:
        return ()
    xs = [p.real for p in one.outline if p.imag == 0.0]
    return (Shape(Path.line(complex(min(xs), 0.0), complex(max(xs), 0.0)), Look.FOLD_EDGE, group),) if xs else ()


def _ring(one: Laid) -> Path:
    outline = one.outline
    return Path.polyline((*outline, outline[0]))


def _in(one: Laid, window: tuple[float, float]) -> bool:
    return any(window[0] <= p.real <= window[1] for p in one.outline) or (
        min(p.real for p in one.outline) < window[0] < max(p.real for p in one.outline))

