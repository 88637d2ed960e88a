"""The other sizes of each piece as lines, in the frame of the size that is shown."""

from __future__ import annotations

from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.output.path_data import short_data
from toilewright.pattern.nest import Pattern


def nest(pattern: Pattern, size: str) -> dict[str, str]:
    """SVG path data by the name of the piece.

    Sizes lie as they are printed in one nest; those that are printed apart are laid lower left corner to corner.
    """
    shown = pattern.at(size)
    others = [g for name, g in zip(pattern.sizes, pattern.garments, strict=True) if name != size]
    return {piece.name: short_data(_laid(g.piece(piece.name).outline, piece.outline)
                                   for g in others if g.has(piece.name)) for piece in shown.pieces}


def _laid(path: Path, shown: Path) -> Path:
    x0, y0, x1, y1 = shown.bounds
    apart = abs(_middle(path) - _middle(shown)) > 0.5 * max(x1 - x0, y1 - y0)
    return path.moved(complex(x0, y0) - complex(*path.bounds[:2])) if apart else path


def _middle(path: Path) -> Point:
    x0, y0, x1, y1 = path.bounds
    return complex(x0 + x1, y0 + y1) / 2
