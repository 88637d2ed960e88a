"""What is said of a piece wherever it is drawn: how often it is cut, how, and from which cloth."""

from __future__ import annotations

from toilewright.pattern.piece import Piece


def cut_words(piece: Piece) -> str:
    """How often and how the piece is cut.

    Examples: "cut 1 on the fold", "cut 2, a pair", "cut 2".
    """
    cut = piece.cut
    if piece.on_fold:
        return f"cut {cut.count} on the fold"
    if cut.mirrored:
        pairs = cut.count // 2
        return f"cut {cut.count}, {'a pair' if pairs <= 1 else f'{pairs} pairs'}"
    return f"cut {cut.count}"


def cloth_words(piece: Piece) -> str:
    """From which cloth, where it is not the garment's own: "lining", "interfacing", a name of hers, or ""."""
    return "" if piece.cut.cloth == "self" else piece.cut.cloth
