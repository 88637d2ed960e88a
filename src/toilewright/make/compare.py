"""What a change of a make changes further on: two outcomes side by side, told in sentences before it is done."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain

from toilewright.fit.ease import Ease
from toilewright.fit.result import Done
from toilewright.known import Known, Origin
from toilewright.make.outcome import Outcome, Sized
from toilewright.make.recipe import made_at
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece
from toilewright.pattern.walk import SeamWalk
from toilewright.tolerance import WORTH_DOING
from toilewright.units import show_length

MOVED = 0.1
"""mm; a line that moved by less is the same line on paper (a third of a pen line)."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that is not as it was.

    Attributes:
        kind: ``size``, ``ease``, ``alteration``, ``seam`` or ``pieces``.
        text: one sentence in her unit.
        about: the place, alteration or seam; for pieces their names.
        worse: does it ask for attention (less than the least ease, a seam that stops sewing)?
    """

    kind: str
    text: str
    about: tuple[str, ...] = ()
    worse: bool = False


def compare(before: Outcome, after: Outcome) -> tuple[Difference, ...]:
    """Everything that is another in the second outcome: sizes, ease, amounts, seams, pieces.

    Sentences are in the unit of the second one.
    """
    unit = after.sized.unit
    return (*_size(before.sized, after.sized), *_eases(before.ease, after.ease, unit, after.altered.done),
            *_amounts(before, after), *_seams(before.walks, after.walks),
            *_pieces(before.altered.garment, after.altered.garment))


def compare_sizes(before: Sized, after: Sized) -> tuple[Difference, ...]:
    """As :func:`compare`, of two makes that are come no farther than their size."""
    return (*_size(before, after), *_eases(before.ease, after.ease, after.unit),
            *_pieces(before.before, after.before))


def _size(before: Sized, after: Sized) -> Iterator[Difference]:
    if before.sizes != after.sizes:
        yield Difference("size", f"The size to cut is {after.size_name} instead of {before.size_name}.")


# -- ease --------------------------------------------------------------------------------------------


def _eases(before: Sequence[Ease], after: Sequence[Ease], unit: str,
           done: Sequence[Done] = ()) -> Iterator[Difference]:
    altered = ", with the alterations," if done else ""
    was = {row.place: row for row in before}
    for row in after:
        old = was.get(row.place)
        if row.ease is None and old is not None and old.ease is not None:
            what = f"The ease at {_the(row.place)}" if old.minimum is not None else f"The {row.place}"
            yield Difference("ease", f"{what} cannot be told any more.", (row.place,), True)
        if row.ease is None or (old is not None and old.ease is not None and _same(old.ease, row.ease, unit)):
            continue
        if row.minimum is None:  # a length: told only where cloth and hand can show it
            if old is not None and old.ease is not None and abs(row.ease.value - old.ease.value) < WORTH_DOING:
                continue
            where = f"The {row.place}, beyond the body's,"
        else:
            where = f"The ease at {_the(row.place)}{altered}"
        said = f"{where} is {show_length(row.ease.value, unit)}"
        said += f" instead of {show_length(old.ease.value, unit)}" if old is not None and old.ease is not None else ""
        short = row.enough is False
        if short and row.minimum is not None:
            said += f", less than the handbooks' least of {show_length(row.minimum, unit)}"
        elif old is not None and old.enough is False and row.enough:
            said += ", and that is enough now"
        yield Difference("ease", f"{said}.", (row.place,), short)


def _the(place: str) -> str:
    base, _, skirt = place.partition(", ")
    return f"the {base} of the {skirt}" if skirt else f"the {base}"


def _same(old: Known, new: Known, unit: str) -> bool:
    return show_length(old.value, unit) == show_length(new.value, unit)


# -- alterations ---------------------------------------------------------------------------------------


def _amounts(before: Outcome, after: Outcome) -> Iterator[Difference]:
    unit = after.sized.unit
    was, now = _made(before), _made(after)
    small = {name for name, _ in after.skipped}
    for key, amount in now.items():
        old = was.get(key)
        if old is None:
            text = f"{_named(key)} is made, {_much(amount, unit)}"
        elif _same(old, amount, unit):
            continue
        else:
            text = f"{_named(key)} is made {_much(amount, unit)} instead of {show_length(old.value, unit)}"
        yield Difference("alteration", text + (", worked out anew." if amount.origin is not Origin.ASKED else "."),
                         (key[0],))
    for key in was:
        if key not in now:
            why = "comes out too small to be worth doing" if key[0] in small else "is not made any more"
            yield Difference("alteration", f"{_named(key)} {why}.", (key[0],))


def _made(outcome: Outcome) -> dict[tuple[str, ...], Known]:
    return {made_at(d.order.name, d.order.options): d.order.amount for d in outcome.altered.done}


def _named(key: tuple[str, ...]) -> str:
    name, piece, _, side, _ = key
    said = name[0].upper() + name[1:] + (f" on the {piece}" if piece else "")
    return f"{said} on her {side} side" if side else said


def _much(amount: Known, unit: str) -> str:
    return f"by {show_length(amount.value, unit)}"


# -- seams and pieces ----------------------------------------------------------------------------------


def _seams(before: Sequence[SeamWalk], after: Sequence[SeamWalk]) -> Iterator[Difference]:
    was = {w.seam: w.sews for w in before}
    for w in after:
        if w.sews and was.get(w.seam) is False:
            yield Difference("seam", f"The seam {w.seam} sews again.", (w.seam,))
        elif not w.sews and was.get(w.seam) is not False:
            yield Difference("seam", f"The seam {w.seam} stops sewing: {w.note}.", (w.seam,), True)


def _pieces(before: Garment, after: Garment) -> Iterator[Difference]:
    old = {p.name: p for p in before.pieces}
    fresh = [p.name for p in after.pieces if p.name not in old]
    gone = [name for name in old if not after.has(name)]
    moved = [p.name for p in after.pieces if p.name in old and _moved(old[p.name], p)]
    if moved:
        every = len(moved) == len(after.pieces)
        which = f"All {len(moved)} pieces change" if every and len(moved) > 1 else (
            f"{_listed(moved)} {'changes' if len(moved) == 1 else 'change'}")
        stay = len(after.pieces) - len(moved) - len(fresh)
        yield Difference("pieces", f"{which}; {'the other stays' if stay == 1 else f'the other {stay} stay'} as "
                         "before." if stay else f"{which}.", tuple(moved))
    if fresh:
        yield Difference("pieces", f"New here: {', '.join(fresh)}.", tuple(fresh))
    if gone:
        yield Difference("pieces", f"Not there any more: {', '.join(gone)}.", tuple(gone))


def _listed(names: Sequence[str]) -> str:
    said = ", ".join(names[:-1]) + f" and {names[-1]}" if len(names) > 1 else names[0]
    return said[0].upper() + said[1:]


def _moved(old: Piece, new: Piece) -> bool:
    """Is any line, dart or notch of the piece another?"""
    if old is new:
        return False
    if [e.name for e in old.edges] != [e.name for e in new.edges] or len(old.notches) != len(new.notches):
        return True
    ends = zip(chain.from_iterable(_points(old)), chain.from_iterable(_points(new)), strict=False)
    return len(old.darts) != len(new.darts) or any(abs(a - b) > MOVED for a, b in ends)


def _points(piece: Piece) -> Iterator[Sequence[complex]]:
    for edge in piece.edges:
        yield [edge.path.point_at(edge.path.length * k / 8) for k in range(9)]
    yield [d.apex for d in piece.darts]
    yield [piece.edge(n.edge).path.point_at(n.at) for n in piece.notches if piece.has_edge(n.edge)]
