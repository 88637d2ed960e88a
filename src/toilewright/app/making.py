"""Makes on the table: where each one stands, a new one from last time, and what she wanted to change next time."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from toilewright.app.steps import MarkOnTape, Place, State, tape_of
from toilewright.workroom.documents import ClothDoc, DiaryRow, Kind, MakeDoc
from toilewright.workroom.store import Thing, Workroom


@dataclass(frozen=True, slots=True)
class OnTable:
    """One make as it lies on the table.

    Attributes:
        tape: its steps with their states.
        next: the step that wants something, or None when all are settled.
        worn: how many times.
    """

    thing: Thing
    place: Place
    tape: tuple[MarkOnTape, ...]
    next: MarkOnTape | None
    worn: int


@dataclass(frozen=True, slots=True)
class Reminder:
    """What she wrote down to change next time, and from which make."""

    make_id: str
    title: str
    body: str
    pattern: str
    row: DiaryRow


def on_table(room: Workroom) -> tuple[OnTable, ...]:
    """All makes, last touched first."""
    bodies = {t.id: t.document for removed in (False, True) for t in room.things(Kind.BODY, removed=removed)}
    cloths = {t.id: t.document for t in room.things(Kind.CLOTH)}
    patterns = {t.id: t.document for removed in (False, True) for t in room.things(Kind.PATTERN, removed=removed)}
    return tuple(_laid_out(thing, Place(thing.id, thing.document, "", bodies.get(thing.document.body),
                                        patterns.get(thing.document.pattern), _cut_from(thing.document, cloths)))
                 for thing in room.things(Kind.MAKE))


def reminders(makes: Sequence[Thing], body: str = "", pattern: str = "", but: str = "") -> tuple[Reminder, ...]:
    """What was to be changed next time, of makes of the same body or the same pattern, last one first.

    Args:
        body, pattern: ids; with neither, of all makes.
        but: id of the make that is left out.
    """
    found = [Reminder(t.id, t.document.title, t.document.body, t.document.pattern, row)
             for t in makes if t.id != but and _alike(t.document, body, pattern)
             for row in t.document.diary if row.kind == "change"]
    return tuple(sorted(found, key=lambda r: r.row.date, reverse=True))


def begun(title: str, body: str, pattern: str, last: Thing | None, unit: str = "cm") -> MakeDoc:
    """A new make, from last time where there was one: its alterations, wishes for ease, and papers.

    Size and blend go by pattern, and so does what its toiles asked for: they are taken over only where it is the same.
    Where lengths are in inches, the printer at home takes letter sheets.
    """
    if last is None:
        return MakeDoc(title, body, pattern=pattern, papers=("letter",) if unit == "in" else ("a4",))
    old: MakeDoc = last.document
    same = pattern == old.pattern
    return MakeDoc(title, body or old.body, pattern=pattern, size=old.size if same else "auto",
                   sizes=old.sizes if same else {}, ease=old.ease, standing=old.standing, without=old.without,
                   alterations=tuple(r for r in old.alterations if same or not r.came_from), papers=old.papers,
                   started_from=last.id)


def worn(make: MakeDoc) -> int:
    """How many times it was worn."""
    return sum(row.kind == "worn" for row in make.diary)


def _laid_out(thing: Thing, place: Place) -> OnTable:
    tape = tape_of(place)
    wanting = next((m for m in tape if m.state is not State.SETTLED), None)
    return OnTable(thing, place, tape, wanting, worn(thing.document))


def _cut_from(make: MakeDoc, cloths: Mapping[str, ClothDoc]) -> dict[str, ClothDoc]:
    return {row.cloth: cloths[row.cloth] for row in make.lays if row.cloth in cloths}


def _alike(make: MakeDoc, body: str, pattern: str) -> bool:
    if not body and not pattern:
        return True
    return bool(body and make.body == body) or bool(pattern and make.pattern == pattern)
