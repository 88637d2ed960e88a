"""What is written on a piece: how it is cut, from which cloth, with which allowances."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from toilewright.cutting.words import cut_words as cut_words
from toilewright.pattern.parts import EdgeKind
from toilewright.pattern.piece import Piece
from toilewright.units import show_length


def usual_allowance(pieces: Iterable[Piece], kind: EdgeKind = EdgeKind.SEAM) -> float | None:
    """The allowance that most edges of one kind have (mm); None when there is no such edge."""
    counts = Counter(e.allowance for p in pieces for e in p.edges if e.kind is kind)
    return counts.most_common(1)[0][0] if counts else None


def other_allowances(piece: Piece, usual: float | None) -> tuple[tuple[str, float], ...]:
    """Edges whose allowance differs from the usual one (edge name, mm); folds are left out."""
    return tuple((e.name, e.allowance) for e in piece.edges if e.kind is not EdgeKind.FOLD and e.allowance != usual)


def allowance_words(piece: Piece, usual: float | None, unit: str = "cm") -> str:
    """Allowances of a piece in one line, e.g. "seams 1.5 cm, centre back 2.0 cm"; "" when it has none."""
    parts = []
    others = other_allowances(piece, usual)
    plain = [e for e in piece.edges if e.kind is not EdgeKind.FOLD and e.allowance == usual]
    if plain and usual is not None:
        parts.append(f"seams {show_length(usual, unit)}")
    parts += [f"{name} {show_length(amount, unit)}" for name, amount in others]
    return ", ".join(parts)
