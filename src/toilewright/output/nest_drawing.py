"""A multi-size pattern as it is printed: sizes nested, each with its own line; names, grain and folds once for all."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import ceil

from toilewright.cutting.allowances import cutting_line
from toilewright.draw.figure import Caption
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.output.layout import rows_of
from toilewright.output.marks import dart_legs, fold_bracket, fold_edges, grain_marks, notch_marks, outline
from toilewright.output.piece_figure import along, on_fold_words, reading
from toilewright.output.places import Line, place_label
from toilewright.output.words import cut_words, other_allowances, usual_allowance
from toilewright.pattern.nest import Pattern
from toilewright.pattern.parts import EdgeKind
from toilewright.pattern.piece import Piece

COMMON = "All sizes"
"""Name of the layer for what is printed once."""

_INK = "#1d1a17"
_GAP = 18.0
_COLOURS = ("#1d1a17", "#b3261e", "#1f5fa8", "#2e7d32", "#8e4ec6", "#b26a00", "#00838f", "#ad1457", "#5d4037",
            "#546e7a")
_DASHES: tuple[tuple[float, ...], ...] = (
    (), (7, 2), (1.2, 1.4), (9, 2, 1.2, 2), (3.4, 1.6), (9, 1.8, 1.2, 1.8, 1.2, 1.8), (5, 1.2, 2.2, 1.2), (14, 3),
    (2.2, 3), (12, 1.6, 3, 1.6, 3, 1.6))


@dataclass(frozen=True, slots=True)
class Ink:
    """A line of the sheet: where it runs, its layer, and how it looks (widths and dashes in mm)."""

    path: Path
    layer: str
    dash: tuple[float, ...] = ()
    width: float = 0.35
    colour: str = _INK


@dataclass(frozen=True, slots=True)
class NestSheet:
    """All nested pieces on one sheet with its lower left corner at 0 (mm)."""

    width: float
    height: float
    inks: tuple[Ink, ...]
    captions: tuple[Caption, ...]
    layers: tuple[str, ...]


def layer_of(size: str) -> str:
    """Name of a size's layer."""
    return f"Size {size}"


def nest_sheet(pattern: Pattern, width: float, told_by: str = "dash", whole: float = 0.0) -> NestSheet:
    """Set all pieces in all sizes on one sheet.

    Every size of a piece keeps the place its draft gives it, so that common corners coincide; pieces do not overlap.

    Args:
        width: of the sheet (mm); a wider piece widens it.
        told_by: ``dash`` (every size its own) or ``colour``.
        whole: where a wider piece widens the sheet, widen it by whole steps of this (mm).
    """
    looks = [_look(i, told_by) for i in range(len(pattern.sizes))]
    nests = [_Nest(pattern, i, looks) for i in range(len(pattern.garments[0].pieces))]
    boxes = [n.box for n in nests]
    widest = max(b[2] - b[0] for b in boxes) + 2 * _GAP
    if whole and widest > width:
        width += ceil((widest - width) / whole) * whole
    shifts, width, height = rows_of(boxes, width, _GAP)
    inks = [replace(ink, path=ink.path.moved(by)) for n, by in zip(nests, shifts, strict=True) for ink in n.inks()]
    captions = [replace(c, at=c.at + by) for n, by in zip(nests, shifts, strict=True) for c in n.captions()]
    return NestSheet(width, height, tuple(inks), tuple(captions), (*map(layer_of, pattern.sizes), COMMON))


def _look(i: int, told_by: str) -> tuple[tuple[float, ...], str]:
    if told_by == "colour":
        return (), _COLOURS[i % len(_COLOURS)]
    return _DASHES[i % len(_DASHES)], _INK


class _Nest:
    """One piece in all sizes."""

    def __init__(self, pattern: Pattern, index: int, looks: Sequence[tuple[tuple[float, ...], str]]) -> None:
        name = pattern.garments[0].pieces[index].name
        self.sizes, self.looks = pattern.sizes, looks
        self.pieces = [g.piece(name) for g in pattern.garments]
        self.outlines = [outline(p) for p in self.pieces]
        boxes = [o.bounds for o in self.outlines]
        self.box = (min(b[0] for b in boxes), min(b[1] for b in boxes),
                    max(b[2] for b in boxes), max(b[3] for b in boxes))
        self.usual = usual_allowance(pattern.garments[0].pieces)
        self.middle = self.pieces[len(self.pieces) // 2]

    def inks(self) -> Iterator[Ink]:
        for size, piece, ring, (dash, colour) in zip(self.sizes, self.pieces, self.outlines, self.looks, strict=True):
            layer = layer_of(size)
            yield Ink(ring, layer, dash, 0.4, colour)
            for line in _inner(piece):
                yield Ink(line, layer, dash, 0.25, colour)
            for mark in notch_marks(piece):
                yield Ink(mark.path, layer, (), 0.4, colour)
        for path in self._common():
            yield Ink(path, COMMON, (), 0.35)

    def _common(self) -> list[Path]:
        marks = list(grain_marks(self.middle))
        for edge in fold_edges(self.pieces[0]):
            marks += fold_bracket(self.pieces[0], edge.path)
        return [m.path for m in marks]

    def captions(self) -> Iterator[Caption]:
        lines = [ring for p in self.pieces for ring in _inner(p)]
        ticks = [m.path for p in self.pieces for m in notch_marks(p)]
        label, _ = place_label(self._label(), self.outlines[0], [*self.outlines, *lines, *ticks, *self._common()])
        words = [*label, *(along(line.path, line.name, 0.6) for line in self.middle.lines)]
        words += [on_fold_words(self.pieces[0], e.path) for e in fold_edges(self.pieces[0])]
        if self.middle.grain:
            words.append(along(Path.line(self.middle.grain.start, self.middle.grain.end), "grain", 0.75))
        for caption in words:
            yield replace(caption, layer=COMMON)
        yield from self._size_numbers()

    def _label(self) -> list[Line]:
        piece = self.middle
        amounts = ", ".join(f"{name} {amount / 10:g} cm" for name, amount in other_allowances(piece, self.usual))
        lines = [Line(piece.name.upper(), 6.0), Line(cut_words(piece), 3.8), Line(amounts, 3.2)]
        return [line for line in lines if line.text]

    def _size_numbers(self) -> Iterator[Caption]:
        """Each size's number on its own line, along the edge where the lines lie farthest apart."""
        lines = [cutting_line(p) for p in self.pieces]

        def apart(k: int) -> float:
            return abs(_at(lines[0][k], 0.35) - _at(lines[-1][k], 0.35))

        edge = max((k for k, e in enumerate(self.pieces[0].edges) if e.kind is not EdgeKind.FOLD), key=apart)
        for size, line in zip(self.sizes, lines, strict=True):
            s = 0.35 * line[edge].length
            way = line[edge].tangent_at(s)
            at = line[edge].point_at(s) + way * 1j * 1.2
            yield replace(reading(size, at, way, -0.7, 1.6), layer=layer_of(size))


def _at(path: Path, share: float) -> Point:
    return path.point_at(share * path.length)


def _inner(piece: Piece) -> list[Path]:
    """Dart legs and inner lines."""
    legs = [Path.polyline((a.start, a.end, b.start)) for a, b in (dart_legs(piece, d) for d in piece.darts)]
    return [*legs, *(line.path for line in piece.lines)]
