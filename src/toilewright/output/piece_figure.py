"""One piece as she needs it on paper: to tape, cut, mark and sew."""

from __future__ import annotations

from cmath import phase
from dataclasses import replace
from functools import lru_cache

from toilewright.cutting.marks import side_marks
from toilewright.cutting.words import cloth_words, cut_words
from toilewright.draw.figure import Caption, Figure, Mark
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, unit
from toilewright.output.marks import (
    cross_mark,
    cut_marks,
    dart_marks,
    fold_bracket,
    fold_depth,
    fold_edges,
    grain_marks,
    hole_marks,
    inner_marks,
    notch_marks,
    outline,
    seam_marks,
)
from toilewright.output.places import Line, place_label
from toilewright.output.words import allowance_words, usual_allowance
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

SMALL = 2.2
"""mm; letter height of names along lines."""

_STRIP = 60.0
"""mm; on narrower pieces the label stands in two long lines."""

_SHOWN = ("bust point", "nape", "shoulder tip")
"""Landmarks worth a cross: corners of the seam line show the others."""


def piece_figure(piece: Piece, note: str = "", usual: float | None = 15.0, unit: str = "cm") -> Figure:
    """A piece with everything that is needed to cut and mark it.

    Args:
        note: size, or for whom.
        usual: the allowance of plain seams (mm).
        unit: ``cm`` or ``in``, for the allowance words.

    Returns:
        Marks and captions; every one carries the piece's name as its layer.
    """
    marks = [*cut_marks(piece), *seam_marks(piece), *inner_marks(piece), *grain_marks(piece), *dart_marks(piece),
             *hole_marks(piece), *notch_marks(piece)]
    for edge in fold_edges(piece):
        marks += fold_bracket(piece, edge.path)
    for landmark in piece.landmarks:
        if _plain(landmark.name) in _SHOWN:
            marks += cross_mark(landmark.at)
    label, block = _label(piece, marks, note, usual, unit)
    captions = [*label, *_line_names(piece, block)]
    return Figure(tuple(replace(m, layer=piece.name) for m in marks),
                  tuple(replace(c, layer=piece.name) for c in captions), piece.name)


@lru_cache(maxsize=2)
def garment_figures(garment: Garment, note: str = "", unit: str = "cm") -> tuple[Figure, ...]:
    """The figures of all pieces, in the order of the garment."""
    usual = usual_allowance(garment.pieces)
    return tuple(piece_figure(p, note, usual, unit) for p in garment.pieces)


def _label(piece: Piece, marks: list[Mark], note: str, usual: float | None,
           unit: str) -> tuple[tuple[Caption, ...], tuple[Point, ...]]:
    cut = ", ".join(text for text in (cut_words(piece), cloth_words(piece)) if text)
    allowances = allowance_words(piece, usual, unit)
    x0, y0, x1, y1 = piece.outline.bounds
    if min(x1 - x0, y1 - y0) < _STRIP:
        words = (Line(f"{piece.name.upper()}   {cut}", 5.0),
                 Line(", ".join(text for text in (note, allowances) if text), 3.0))
    else:
        words = (Line(piece.name.upper(), 6.0), Line(note, 3.8), Line(cut, 3.8), Line(allowances, 2.8))
    lines = tuple(line for line in words if line.text)
    return place_label(lines, outline(piece), [m.path for m in marks])


def _line_names(piece: Piece, block: tuple[Point, ...]) -> list[Caption]:
    """Names along inner lines, the fold, the grain and the darts."""
    captions = [along(line.path, line.name, 0.72) for line in piece.lines]
    for edge in fold_edges(piece):
        captions.append(on_fold_words(piece, edge.path))
    if piece.grain and abs(piece.grain.end - piece.grain.start) > 40:
        captions.append(along(Path.line(piece.grain.start, piece.grain.end), "grain", 0.5))
    for dart in piece.darts:
        foot = sum(piece.feet(dart)) / 2
        captions.append(reading(dart.name, dart.apex + 0.45 * (foot - dart.apex), foot - dart.apex, 0.0))
    for landmark in piece.landmarks:
        if _plain(landmark.name) == "bust point":
            captions.append(Caption("bust point", landmark.at + complex(4, 1.5), SMALL))
    return captions + _sides(piece)


def _plain(name: str) -> str:
    """A name without the side of her that it belongs to on an opened-out piece."""
    return name.removesuffix(" left").removesuffix(" right")


def _sides(piece: Piece) -> list[Caption]:
    """On an uneven piece that is opened out: which half is her left, which her right, beside the centre line."""
    return [reading(mark.name, mark.at[0], mark.way, 0.0, 5.0) for mark in side_marks(piece)]


def along(path: Path, text: str, share: float) -> Caption:
    """Words on a line, at a share of its length."""
    s = share * path.length
    return reading(text, path.point_at(s), path.tangent_at(s), 1.3)


def on_fold_words(piece: Piece, path: Path) -> Caption:
    """Words in the bracket of a fold, beside its middle where a grain arrow may end."""
    s = 0.35 * path.length
    at = path.point_at(s) + path.normal_at(s) * (fold_depth(piece, path) / 2)
    return reading("place on the fold", at, path.tangent_at(s), -0.4 * SMALL)


def reading(text: str, at: Point, way: Point, lift: float, height: float = SMALL) -> Caption:
    """Words along a direction, never upside down, their baseline `lift` mm off the line."""
    way = unit(way)
    if way.real < -1e-6 or (abs(way.real) <= 1e-6 and way.imag < 0):
        way = -way
    return Caption(text, at + way * 1j * lift, height, phase(way), "middle")
