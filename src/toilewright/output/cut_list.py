"""What is cut from each cloth: how many of each piece, how, and what is marked on it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from toilewright.cutting.lay.plan import Laid
from toilewright.cutting.marks import MarkKind, cut_marks
from toilewright.output.lay_sheet import LaySheet, key_of
from toilewright.output.summary import Table
from toilewright.pattern.piece import Piece

_PLURAL = {MarkKind.NOTCH: ("notch", "notches"), MarkKind.DOUBLE_NOTCH: ("double notch", "double notches"),
           MarkKind.TRIPLE_NOTCH: ("triple notch", "triple notches"), MarkKind.DRILL: ("drill mark", "drill marks")}


def cut_list(sheet: LaySheet) -> Table:
    """A row for each piece of one cloth, in the order of the first cut of each."""
    found: dict[tuple[str, str], list[Laid]] = {}
    numbers: dict[tuple[str, str], list[int]] = {}
    for cut in sheet.cuts:
        numbers.setdefault(key_of(cut.one), []).append(cut.turn)
    for one in sheet.lay.laid:
        found.setdefault(key_of(one), []).append(one)
    rows = tuple(_row(sheet, ones, numbers[key]) for key, ones in found.items())
    return Table(f'Cloth "{sheet.lay.cloth.name}": {len(found)} pattern {"piece" if len(found) == 1 else "pieces"}, '
                 f"{len(sheet.lay.laid)} cut", ("piece", "cut", "how", "to be marked", "numbers in the lay"), rows,
                 (30, 8, 22, 45, 16))


def _row(sheet: LaySheet, ones: Sequence[Laid], numbers: Sequence[int]) -> tuple[str, ...]:
    first = ones[0]
    name = f"{first.piece.name} ({first.piece.make})" if first.piece.make else first.piece.name
    piece = sheet.piece_of(first)
    return (name, str(len(ones)), how_words(ones, piece), marks_words(piece), ", ".join(map(str, numbers)))


def how_words(ones: Sequence[Laid], piece: Piece | None = None) -> str:
    """How the copies of a piece are cut: on the fold, as a pair, opened out, alike."""
    first, count = ones[0].piece, len(ones)
    if first.on_fold:
        return "on the fold"
    if first.mirrored and not first.even:
        return "a pair, left and right" if count == 2 else f"{count // 2} pairs, left and right"
    alike = "all alike" if count > 1 else "once"
    return f"opened out, {alike}" if piece is not None and piece.on_fold else alike


def marks_words(piece: Piece | None) -> str:
    """What is marked on a piece, with counts."""
    if piece is None:
        return ""
    counts = Counter(mark.kind for mark in cut_marks(piece))
    parts = [f"{counts[kind]} {words[counts[kind] > 1]}" for kind, words in _PLURAL.items() if counts[kind]]
    if piece.darts:
        parts.append(f"{len(piece.darts)} {'dart' if len(piece.darts) == 1 else 'darts'}")
    return ", ".join(parts) or "none"
