"""The pieces on the table as plain values for ``<piece-table>``: mm, y down, each piece in its own frame.

A whole picture::

    {"unit": "cm", "box": [x, y, width, height], "changed": [names], "pieces": [piece, ...]}

A piece is what :func:`toilewright.app.piece_pictures.piece_picture` returns, and ``at``: the [x, y] by which its frame
is moved on the table. Of a piece that the browser has already (same name and version in `known`) only ``name``,
``version`` and ``at`` are sent.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from math import sqrt

from toilewright.app.piece_pictures import Picture, piece_picture
from toilewright.cutting.allowances import cutting_line
from toilewright.output.layout import Box, rows_of
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

SPARE = 40.0
"""mm round each bought piece, into which it may grow before it meets its neighbour's."""

_WIDER = 2.0
"""times the height; the shape of a table, and of a screen."""


def garment_picture(garment: Garment, before: Garment | None = None, unit: str = "cm",
                    known: Mapping[str, str] | None = None) -> Picture:
    """Every piece with its place on the table.

    Args:
        before: the pieces as bought; they set the places, so that nothing jumps while amounts change.
        unit: in which she reads lengths (they are sent in mm).
        known: version by name of the pieces that the browser has.
    """
    places, box = _places(before or garment, garment if before else None)
    old = {p.name: p for p in before.pieces} if before else {}
    pieces, changed = [], []
    for piece in garment.pieces:
        bought = old.get(piece.name)
        if bought is not None and (bought is piece or bought == piece):
            bought = None
        elif before:
            changed.append(piece.name)
        picture = piece_picture(piece, bought)
        if (known or {}).get(piece.name) == picture["version"]:
            picture = {"name": piece.name, "version": picture["version"]}
        pieces.append({**picture, "at": places[piece.name]})
    return {"unit": unit, "box": box, "changed": changed, "pieces": pieces}


def _places(first: Garment, now: Garment | None) -> tuple[dict[str, list[float]], list[float]]:
    """Where the frame of each piece lies: those of `first`, and any that only `now` has."""
    extra = tuple(p for p in now.pieces if not first.has(p.name)) if now else ()
    return _table((*first.pieces, *extra))


@lru_cache(maxsize=16)
def _table(pieces: tuple[Piece, ...]) -> tuple[dict[str, list[float]], list[float]]:
    boxes = [_room(p) for p in pieces]
    area = sum((b[2] - b[0]) * (b[3] - b[1]) for b in boxes)
    shifts, _, height = rows_of(boxes, max(sqrt(area * _WIDER) * 1.1, 1.0), 0.0)
    width = max(b[2] + s.real for b, s in zip(boxes, shifts, strict=True))
    return ({p.name: [round(s.real, 2), round(height - s.imag, 2)] for p, s in zip(pieces, shifts, strict=True)},
            [0.0, 0.0, round(width, 2), round(height, 2)])


def _room(piece: Piece) -> Box:
    """The piece as cut, with room to grow."""
    bounds = [path.bounds for path in cutting_line(piece)]
    return (min(b[0] for b in bounds) - SPARE, min(b[1] for b in bounds) - SPARE,
            max(b[2] for b in bounds) + SPARE, max(b[3] for b in bounds) + SPARE)
