"""The ways in which a lay may be set out: which part of the cloth is folded, and what is cut from it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from toilewright.cutting.cloth import Cloth, Fold
from toilewright.cutting.lay.folding import spread
from toilewright.cutting.lay.matching import Matching
from toilewright.cutting.lay.pieces import whole_area
from toilewright.cutting.lay.plan import CutPiece
from toilewright.cutting.lay.sections import Part, Ways, all_open, cut_double, folded, key_of
from toilewright.errors import InputError

SPLITS = 4
"""How many divisions between the folded and the open part are compared."""

MANY = 40
"""Cut pieces; of more of them, where she does not say how it is folded, only the open cloth is looked at, and of a
part-folded one only one division: a first fit of each way takes its time."""


@dataclass(frozen=True, slots=True)
class Draft:
    """One way to lay the cloth.

    Attributes:
        fold: its name.
        parts: its sections, from the cut end.
        notes: what to say of it.
    """

    fold: Fold
    parts: tuple[Part, ...]
    notes: tuple[str, ...] = ()


def drafts(pieces: Sequence[CutPiece], cloth: Cloth, matching: Matching, free_fold: bool = False) -> tuple[Draft, ...]:
    """The ways to be compared: those of one fold, or, where she leaves it open, of every sensible one.

    Raises:
        InputError: a piece does not fit on the cloth in any of them.
    """
    ways = matching.ways(cloth)
    folds = (Fold.PART, Fold.OPEN) if free_fold else (cloth.fold,)
    if free_fold and sum(p.count for p in pieces) > MANY:
        folds = (Fold.OPEN, Fold.PART)
    found: list[Draft] = []
    problems: list[InputError] = []
    for fold in folds:
        try:
            found += _drafts(fold, pieces, cloth, ways)
        except InputError as problem:
            problems.append(problem)
        if found and free_fold and fold is Fold.OPEN and folds[0] is fold:
            break  # several makes together fill an open cloth well, and that is searched on the fastest
    if not found:
        raise problems[0]
    seen: set[tuple[object, ...]] = set()
    distinct = []
    for draft in found:
        shape = tuple((part.way, part.slots) for part in draft.parts)
        if shape not in seen:
            seen.add(shape)
            distinct.append(draft)
    return tuple(distinct)


def _border_notes(pieces: Sequence[CutPiece], cloth: Cloth, parts: Sequence[Part]) -> tuple[str, ...]:
    """What a border does to the grain, and which hems do not come to lie on it."""
    if cloth.border <= 0.0:
        return ()
    turned = dict.fromkeys(key_of(s.piece) for part in parts for s in part.slots
                           if s.item.poses[0].turn % 180.0 == 90.0)
    across = ", ".join(f'"{name}"' for name in turned)
    longer = ", ".join(f'"{key_of(p)}"' for p in pieces if p.hem and key_of(p) not in turned)
    notes = []
    if across:
        notes.append(f"With the hem on the border the grain runs across: {across}. There the cloth hangs more stiffly "
                     "and gives otherwise, so hold it up that way before you cut.")
    if longer:
        notes.append(f"Longer than the cloth is wide, so that no hem lies on the border: {longer}.")
    return tuple(notes)


def _drafts(fold: Fold, pieces: Sequence[CutPiece], cloth: Cloth, ways: Ways) -> list[Draft]:
    if fold is Fold.OPEN:
        parts = (all_open(pieces, spread(cloth, fold), ways),)
        return [Draft(fold, parts, _border_notes(pieces, cloth, parts))]
    outs: list[frozenset[str]] = [frozenset()]
    if fold is Fold.PART and sum(p.count for p in pieces) <= MANY:
        outs += _splits(pieces, cloth)
    return [d for d in (_folded_draft(fold, pieces, cloth, ways, out) for out in outs) if d is not None]


def _folded_draft(fold: Fold, pieces: Sequence[CutPiece], cloth: Cloth, ways: Ways,
                  out: frozenset[str]) -> Draft | None:
    """A folded section and, where something cannot be cut from it, an open one."""
    part, rest = folded(pieces, spread(cloth, fold), ways, out)
    if not part.slots and out:
        return None
    parts = [part] if part.slots else []
    notes: tuple[str, ...] = ()
    if rest:
        parts.append(all_open(rest, spread(cloth, Fold.OPEN), ways))
        if fold is not Fold.PART:
            names = ", ".join(f'"{key_of(p)}"' for p in rest)
            notes = (f"{names} cannot be cut {'double' if fold is Fold.LENGTHWISE else 'so'}, so the cloth is opened "
                     "out for the last part of its length.",)
    kind = fold
    if fold is Fold.LENGTHWISE and rest:
        kind = Fold.PART if part.slots else Fold.OPEN
    elif fold is Fold.PART and not rest:
        kind = Fold.LENGTHWISE
    elif fold is Fold.PART and not part.slots:
        kind = Fold.OPEN
    return Draft(kind, tuple(parts), (*notes, *_border_notes(pieces, cloth, parts)))


def _splits(pieces: Sequence[CutPiece], cloth: Cloth) -> list[frozenset[str]]:
    """Which pieces, though they could be cut from the folded part, go to the open one: all on the fold; the smallest
    ones, up to a third of the cloth; the single largest pair."""
    on_fold = frozenset(key_of(p) for p in pieces if p.on_fold)
    pairs = sorted((p for p in pieces if cut_double(p, cloth)), key=lambda p: whole_area(p) * p.count)
    total = sum(whole_area(p) * p.count for p in pieces)
    small: list[str] = []
    taken = 0.0
    for piece in pairs:
        taken += whole_area(piece) * piece.count
        if taken > total / 3:
            break
        small.append(key_of(piece))
    found = [on_fold, frozenset(small[:1]), frozenset(small), frozenset(key_of(p) for p in pairs[-1:])]
    return list(dict.fromkeys(s for s in found if s))[:SPLITS]
