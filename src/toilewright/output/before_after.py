"""The altered piece drawn over the bought one."""

from __future__ import annotations

import os
from collections.abc import Mapping

from toilewright.draw.figure import Caption, Figure, Mark, Pen
from toilewright.files import replacing
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.output.layout import rows_of
from toilewright.output.svg_ink import add_figure, add_ground, add_group, svg_bytes, svg_root
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

_LETTER = 9.0
"""mm; captions are read on a screen that shows the whole page."""

_SMALL = 6.0

_WEIGHT = 3.0
"""times the pen width on paper, for the same reason."""


def changed_pieces(before: Garment, after: Garment) -> tuple[str, ...]:
    """Names of the pieces whose seam line, darts or marks are not what they were."""
    return tuple(p.name for p in after.pieces if not before.has(p.name) or before.piece(p.name) != p)


def overlay(before: Piece, after: Piece) -> Figure:
    """One piece: as bought in grey behind, as altered in blue, at the seam line (mm)."""
    marks = [Mark(before.outline, Pen.OLD), *(Mark(_legs(before, i), Pen.OLD) for i in range(len(before.darts))),
             *(Mark(_legs(after, i), Pen.NEW) for i in range(len(after.darts))), Mark(after.outline, Pen.NEW)]
    if after.grain:
        marks.append(Mark(Path.line(after.grain.start, after.grain.end), Pen.GUIDE))
    for piece, pen in ((before, Pen.OLD), (after, Pen.NEW)):
        marks.extend(Mark(tick, pen) for tick in _notches(piece))
        bust = piece.landmark("bust point")
        marks.extend(Mark(line, pen) for line in (_cross(bust) if bust is not None else ()))
    return Figure(tuple(marks), (), after.name)


def overlays(before: Garment, after: Garment) -> tuple[Figure, ...]:
    """A figure for each changed piece, in the pattern's order."""
    names = changed_pieces(before, after)
    return tuple(overlay(before.piece(n), after.piece(n)) for n in names if before.has(n))


def write_before_after(before: Garment, after: Garment, path: str | os.PathLike[str],
                       notes: Mapping[str, str] | None = None) -> None:
    """Write all changed pieces side by side at true scale (SVG, mm).

    Args:
        notes: by piece name, what was done to it, in a few words.
    """
    figures = [_captioned(f, (notes or {}).get(f.title, "")) for f in overlays(before, after)]
    boxes = [_room(f) for f in figures]
    shifts, _, _ = rows_of(boxes, 1600.0, 40.0)
    placed = [f.mapped(lambda p, s=s: p + s) for f, s in zip(figures, shifts, strict=True)]
    taken = [(x0 + s.real, y0 + s.imag, x1 + s.real, y1 + s.imag)
             for (x0, y0, x1, y1), s in zip(boxes, shifts, strict=True)] or [(0.0, 0.0, 260.0, 20.0)]
    foot = min(b[1] for b in taken)
    placed.append(_key(complex(min(b[0] for b in taken), foot - 25), bool(figures)))
    root = svg_root((min(b[0] for b in taken) - 20, foot - 45, max(max(b[2] for b in taken), 380.0) + 20,
                     max(b[3] for b in taken) + 20), "Before and after")
    add_ground(root)
    for figure in placed:
        add_figure(add_group(root, figure.title), figure, _WEIGHT)
    with replacing(path) as name, open(name, "wb") as file:
        file.write(svg_bytes(root))


def _captioned(figure: Figure, note: str) -> Figure:
    """Name and note above the piece."""
    x0, _, _, y1 = figure.bounds()
    lines = [(note, _SMALL)] if note else []
    captions = tuple(Caption(text, complex(x0, y1 + 8 + i * 13), height)
                     for i, (text, height) in enumerate([*lines, (figure.title, _LETTER)]))
    return Figure(figure.marks, captions, figure.title)


def _room(figure: Figure) -> tuple[float, float, float, float]:
    """The piece and its captions (mm); letters are taken as 0.85 of their height wide."""
    x0, y0, x1, _ = figure.bounds()
    wide = max(len(c.text) * c.height * 0.85 for c in figure.captions)
    return x0, y0, max(x1, x0 + wide), max(c.at.imag + c.height for c in figure.captions)


def _key(at: Point, changed: bool) -> Figure:
    """What grey and blue mean; or, where nothing changed, that nothing changed."""
    if not changed:
        return Figure((), (Caption("No piece was changed.", at, _LETTER),), "key")
    return Figure(
        (Mark(Path.line(at, at + 40), Pen.OLD), Mark(Path.line(at + 150, at + 190), Pen.NEW)),
        (Caption("as bought", at + 46 - 2.5j, _SMALL),
         Caption("as altered, at the seam line", at + 196 - 2.5j, _SMALL)), "key")


def _legs(piece: Piece, i: int) -> Path:
    first, second = piece.feet(piece.darts[i])
    return Path.polyline((first, piece.darts[i].apex, second))


def _notches(piece: Piece) -> tuple[Path, ...]:
    """A short tick inwards for each notch."""
    return tuple(Path.line(path.point_at(n.at), path.point_at(n.at) + path.normal_at(n.at) * 9)
                 for n in piece.notches for path in (piece.edge(n.edge).path,))


def _cross(at: Point) -> tuple[Path, Path]:
    return Path.line(at - 5, at + 5), Path.line(at - 5j, at + 5j)
