"""A cloth that is too narrow for some pieces: which of them a join would bring onto it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from toilewright.cutting.extra.joins import JOIN, build_join, parts_for
from toilewright.cutting.lay.pieces import cut_piece, opened
from toilewright.cutting.lay.plan import CutPiece
from toilewright.cutting.offers import Join
from toilewright.errors import ToilewrightError
from toilewright.make.cloth_wish import ClothWish
from toilewright.pattern.garment import Garment

HAIR = 0.1
"""mm; a part that would be as wide as the cloth to this is divided once more."""

MOST = 4
"""Parts into which a piece is divided without being asked: more would be patchwork (our own bound)."""

Named = tuple[tuple[str, Garment], ...]
"""(make, its pieces)."""


@dataclass(frozen=True, slots=True)
class Work:
    """What there is to lay on one cloth.

    Attributes:
        wish: the cloth, and what she wants of it.
        pieces: of all makes.
    """

    wish: ClothWish
    pieces: tuple[CutPiece, ...]


def too_wide(work: Work) -> tuple[CutPiece, ...]:
    """The pieces that reach farther across than the cloth, in one layer."""
    return tuple(p for p in work.pieces if _across(p) > work.wish.cloth.width + 1e-6)


def joined(work: Work, garments: Named) -> tuple[Work, Named, tuple[Join, ...]] | None:
    """The same work with every piece that is too wide divided along its grain; None where none is, or that is no way.

    Args:
        garments: of which the pieces are; they come back divided likewise.
    """
    found: list[Join] = []
    pieces, divided = list(work.pieces), dict(garments)
    for piece in too_wide(work):
        try:
            garment = divided[piece.make]
            parts = parts_for(garment, piece.name, work.wish.cloth.width - HAIR, MOST)
            built = build_join(garment, JOIN.read({"piece": piece.name, "parts": parts}, "cm", JOIN.name))
            divided[piece.make] = built.put_into(garment)
            cut = [replace(cut_piece(p, piece.make), cloth=piece.cloth) for p in built.pieces]
        except (KeyError, ToilewrightError):
            return None
        at = pieces.index(piece)
        pieces[at:at + 1] = cut
        found.append(Join(piece.make, piece.name, parts))
    if not found:
        return None
    return replace(work, pieces=tuple(pieces)), tuple(divided.items()), tuple(found)


def way_out(joins: Sequence[Join]) -> str:
    """What to write for them, one sentence."""
    rows = ", and another with ".join(f'piece = "{j.piece}"' + (f" and parts = {j.parts}" if j.parts > 2 else "")
                                      for j in joins)
    return f'To divide {"it" if len(joins) == 1 else "them"}, add an [[extra]] with kind = "join" and {rows}.'


def _across(piece: CutPiece) -> float:
    ys = [p.imag for p in opened(piece).outline]
    return max(ys) - min(ys)
