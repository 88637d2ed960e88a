"""Why a settled step wants another look: which part that it rests on was changed, and when."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from toilewright.app.steps import MarkOnTape, Place, State, changed_parts, part_stamps, tape_of
from toilewright.app.table import Table
from toilewright.app.words import say
from toilewright.workroom.days import day


def tape_told(table: Table, place: Place) -> tuple[MarkOnTape, ...]:
    """The tape of a make, on which the step where she is tells why it wants another look."""
    return tuple(replace(mark, why=_why(table, place)) if mark.here and mark.state is State.AGAIN else mark
                 for mark in tape_of(place))


def _why(table: Table, place: Place) -> tuple[str, ...]:
    parts = changed_parts(place.here, *place.rests)
    if not parts:
        return (say("common.again_why"),)
    settled = place.make.settled[place.here].partition(" ")[0]
    return tuple(say(f"common.again_{part}", date=day, settled=settled)
                 for part, day in zip(parts, changed_on(table, place, parts), strict=True))


def changed_on(table: Table, place: Place, parts: Sequence[str]) -> tuple[str, ...]:
    """The day on which each part became what it is now (the day here, not in Greenwich)."""
    found = dict.fromkeys(parts, "")
    now = part_stamps(*place.rests)
    rests = [("make", place.make_id), ("body", place.make.body), ("pattern", place.make.pattern)]
    for name, thing_id in (*rests, *(("cloths", cloth) for cloth in place.cloths)):
        left, later = set(parts), ""
        for revision in table.room.history(thing_id) if thing_id else ():
            document = table.room.get(thing_id, revision.number).document
            then = replace(place, **{name: {**place.cloths, thing_id: document} if name == "cloths" else document})
            was = part_stamps(*then.rests)
            for part in [one for one in left if was[one] != now[one]]:
                left.remove(part)
                found[part] = max(found[part], later)
            if not left:
                break
            later = day(revision.at)
    return tuple(found[part] for part in parts)
