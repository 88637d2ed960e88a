"""The pieces of a make or a pattern, small, as they stand in lists: drawn once, then kept in the store."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Sequence

from toilewright import __version__
from toilewright.geometry.path import Path
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece
from toilewright.workroom.store import Workroom

_ROOM = (300.0, 300.0)
"""px."""

_TABLE, _GAP = 1150.0, 40.0
"""mm; how wide the pieces lie beside each other at least, and what is left between them."""


def drawn_once(room: Workroom, shows: str, draw: Callable[[], str]) -> str:
    """A picture that is kept; an empty one is not.

    Args:
        shows: everything that it shows, so that another one is drawn as soon as any of it changes.
    """
    key = hashlib.sha256(f"picture {shows} {__version__}".encode()).hexdigest()
    kept = room.kept(key)
    if kept is not None:
        return kept.decode()
    drawn = draw()
    if drawn:
        room.keep(key, drawn.encode())
    return drawn


def small_pieces(pieces: Sequence[Piece], title: str, bought: Garment | None = None) -> str:
    """Pieces beside each other, over what was bought where they differ from it.

    Args:
        title: what it shows, for those who do not see it.
    """
    from toilewright.app.figures import pieces_svg
    from toilewright.output.layout import rows_of

    boxes = [p.outline.bounds for p in pieces]
    shifts, _, height = rows_of(boxes, max(_TABLE, max(b[2] - b[0] for b in boxes) + 60), _GAP)
    width = max(b[2] + shift.real for b, shift in zip(boxes, shifts, strict=True))
    lines: list[tuple[Path, str]] = []
    for piece, shift in zip(pieces, shifts, strict=True):
        if bought and bought.has(piece.name) and bought.piece(piece.name) != piece:
            lines.append((bought.piece(piece.name).outline.moved(shift), "pen-as-bought"))
    lines += [(piece.outline.moved(shift), "pen-as-altered") for piece, shift in zip(pieces, shifts, strict=True)]
    return pieces_svg(lines, (0.0, 0.0, width, height), _ROOM, title)
