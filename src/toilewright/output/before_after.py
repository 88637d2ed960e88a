"""The altered piece drawn over the bought one."""

from __future__ import annotations

import os
from collections.abc import Mapping

from toilewright.draw.figure import Caption, Figure, Mark, Pen
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.output.paper import replacing
from toilewright.output.svg_ink import add_figure, add_group, stack, svg_bytes, svg_root
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

_LETTER = 9.0
"""mm; captions are read on a screen that shows the whole page."""

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
    for landmark in after.landmarks:
        if landmark.name == "bust point":
            marks.extend(_cross(landmark.at))
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
    figures = overlays(before, after)
    captioned = [_captioned(f, (notes or {}).get(f.title, "")) for f in figures]
    shifts = stack([f.bounds() for f in captioned], 40.0, 1600.0)
    placed = [f.mapped(lambda p, s=s: p + s) for f, s in zip(captioned, shifts, strict=True)]
    placed.append(_key(placed))
    box = Figure(sum((f.marks for f in placed), ())).bounds()
    root = svg_root((box[0] - 20, box[1] - 20, box[2] + 20, box[3] + 30), "Before and after")
    for figure in placed:
        add_figure(add_group(root, figure.title), figure, _WEIGHT)
    with replacing(path) as name, open(name, "wb") as file:
        file.write(svg_bytes(root))


def _captioned(figure: Figure, note: str) -> Figure:
    x0, _, x1, y1 = figure.bounds()
    lines = [figure.title, *([note] if note else [])]
    captions = tuple(Caption(text, complex(x0, y1 + 8 + (len(lines) - 1 - i) * 13), _LETTER if i == 0 else 7.0)
                     for i, text in enumerate(lines))
    # An unseen line keeps room for the captions when pieces are set side by side.
    room = Mark(Path.line(complex(x0, y1 + 32), complex(max(x1, x0 + 160), y1 + 32)), Pen.FILL)
    return Figure((*figure.marks, room), captions, figure.title) if note else Figure(figure.marks, captions,
                                                                                     figure.title)


def _key(placed: list[Figure]) -> Figure:
    """What grey and blue mean; or, where nothing changed, that nothing changed."""
    x0, y0, _, _ = Figure(sum((f.marks for f in placed), ())).bounds()
    y = y0 - 25
    if not placed:
        return Figure((Mark(Path.line(0, 160), Pen.GUIDE),),
                      (Caption("No piece was changed.", complex(0, 6), _LETTER),), "key")
    return Figure(
        (Mark(Path.line(complex(x0, y), complex(x0 + 40, y)), Pen.OLD),
         Mark(Path.line(complex(x0 + 150, y), complex(x0 + 190, y)), Pen.NEW)),
        (Caption("as bought", complex(x0 + 46, y - 2.5), 7.0), Caption("as altered, at the seam line",
                                                                      complex(x0 + 196, y - 2.5), 7.0)), "key")


def _legs(piece: Piece, i: int) -> Path:
    first, second = piece.feet(piece.darts[i])
    return Path.polyline((first, piece.darts[i].apex, second))


def _cross(at: Point) -> tuple[Mark, Mark]:
    return (Mark(Path.line(at - 5, at + 5), Pen.MARK), Mark(Path.line(at - 5j, at + 5j), Pen.MARK))
