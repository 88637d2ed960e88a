"""The pieces of a toile: wide allowances to let out, and balance lines to judge it by.

How wide, and where not so wide, is our own choice within what is usual in the trade (2.5 to 4 cm on seams that may have
to be let out; common practice, no published source).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from toilewright.cutting.allowances import cutting_line
from toilewright.errors import GeometryError
from toilewright.fit.levels import bodice_pieces, bust_levels, crossings, first_of, upright, upward
from toilewright.geometry.path import Path
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import Edge, EdgeKind, InnerLine
from toilewright.pattern.piece import Piece

WIDE = 30.0
"""mm; the allowance of seams that may have to be let out."""

CURVED = 15.0
"""mm; at neck, armhole and sleeve head, which have to be clipped before they lie."""

HEM = 40.0
"""mm; at the hem, so that it can be let down."""

_CURVES = ("neck", "armhole", "cap")
_ROUND_THE_BODY = (("armhole",), ("princess",), ("cap",), ("waist", "hem"))


def toile_of(garment: Garment) -> Garment:
    """The pieces that are sewn for a toile: bodice, sleeves, skirt or trousers, without facings, bands and ties.

    Their seam lines are as they are; their allowances are wide, and balance lines run right across them.
    """
    levels, _ = bust_levels(bodice_pieces(garment))
    pieces = tuple(_balanced(_wide(p), levels.get(p.name)) for p in garment.pieces if _is_main(p))
    names = {p.name for p in pieces}
    return Garment(pieces, tuple(s for s in garment.seams if {r.piece for r in (*s.a, *s.b)} <= names))


def _is_main(piece: Piece) -> bool:
    """Does it lie round the body or the arm, in the outer cloth?"""
    names = [e.name for e in piece.edges]
    return piece.cut.cloth == "self" and any(
        all(any(name.split(" ")[0] == part for name in names) for part in parts) for parts in _ROUND_THE_BODY)


def _wide(piece: Piece) -> Piece:
    """With wide allowances; narrower where the piece is too small for them."""
    for share in (1.0, 0.75, 0.5):
        drawn = replace(piece, edges=tuple(_with(e, share) for e in piece.edges))
        try:
            cutting_line(drawn)
        except GeometryError:
            continue
        return drawn
    return piece


def _with(edge: Edge, share: float) -> Edge:
    if edge.kind is EdgeKind.FOLD:
        return edge
    usual = HEM if edge.kind is EdgeKind.HEM else CURVED if edge.name.split(" ")[0] in _CURVES else WIDE
    return replace(edge, allowance=max(usual * share, edge.allowance))


def _balanced(piece: Piece, bust: float | None) -> Piece:
    """With its bust, waist and hip lines right across, and the grain from edge to edge.

    Args:
        bust: height of the bust on the piece stood upright (mm).
    """
    stood = upright(piece)
    turn = upward(piece) / 1j
    fresh = [(name, path.mapped(lambda z: z * turn)) for name, path in _lines(stood, bust)]
    names = {f"{name} line" for name, _ in fresh}
    kept = tuple(line for line in piece.lines if line.name not in names)
    return replace(piece, lines=(*kept, *(InnerLine(f"{name} balance line", path) for name, path in fresh)))


def _lines(piece: Piece, bust: float | None) -> Iterator[tuple[str, Path]]:
    """Balance lines of an upright piece."""
    for name in ("bust", "waist", "high hip", "hip"):
        drawn = piece.line(f"{name} line")
        height = (bust if name == "bust" else None) if drawn is None else (drawn.start.imag + drawn.end.imag) / 2
        found = None if height is None else _across(piece, height)
        if found is not None:
            yield name, found
    if piece.grain is not None:
        found = _down(piece, piece.grain.start.real)
        if found is not None:
            yield "grain", found
    if not any(e.name.startswith("centre ") for e in piece.edges) and piece.landmark("centre waist") is not None:
        found = _down(piece, first_of(piece, "centre waist").real)
        if found is not None:
            yield "centre", found


def _across(piece: Piece, y: float) -> Path | None:
    ends = crossings(piece.outline.flatten(), y)
    return Path.line(complex(ends[0], y), complex(ends[-1], y)) if len(ends) >= 2 else None


def _down(piece: Piece, x: float) -> Path | None:
    turned = [p * 1j for p in piece.outline.flatten()]
    ends = crossings(turned, x)
    return Path.line(complex(x, -ends[-1]), complex(x, -ends[0])) if len(ends) >= 2 else None

