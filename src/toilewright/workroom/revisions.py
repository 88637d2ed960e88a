"""Things and their revisions as rows; how they hang together is in :mod:`toilewright.workroom.chain`."""


from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Row, Select, func, insert, select

from toilewright.errors import InputError, NameUnknown
from toilewright.workroom.chain import Record, Way, branch, undo_and_redo
from toilewright.workroom.checks import decoded, encoded
from toilewright.workroom.documents import Document, Kind
from toilewright.workroom.schema import revision as _revision
from toilewright.workroom.schema import thing as _thing
from toilewright.workroom.seals import Unsound, check, digest, seal


@dataclass(frozen=True, slots=True)
class Thing:
    """A body, pattern, cloth or make at one of its revisions.

    Attributes:
        changed: when this revision was saved (UTC).
        undo, redo: words of what would be undone or done again; None when there is nothing, or on an old revision.
    """

    id: str
    kind: Kind
    revision: int
    document: Document
    changed: datetime.datetime
    undo: str | None = None
    redo: str | None = None
    removed: bool = False


@dataclass(frozen=True, slots=True)
class Revision:
    """One line of a history.

    Attributes:
        words: what was done, in her words; after undoing and redoing, the words of what was undone or done again.
        at: UTC.
        by: the device.
    """

    number: int
    way: Way
    words: str
    at: datetime.datetime
    by: str = ""


# -- reading ------------------------------------------------------------------------------------------


def newest_of(connection: Connection, kind: Kind, removed: bool) -> tuple[Thing, ...]:
    """All things of a kind at their newest revision, last changed first."""
    c = _revision.c
    asked = _asked().where(_thing.c.kind == kind, c.number == _LAST, c.removed == removed)
    return tuple(_as_thing(row, True) for row in _rows(connection, asked.order_by(c.at.desc(), c.thing)))


def one(connection: Connection, thing_id: str, number: int | None = None, kind: Kind | None = None) -> Thing:
    """One thing at its newest or another revision.

    Raises:
        NameUnknown: there is none.
    """
    last = connection.scalar(select(_LAST).where(_thing.c.id == thing_id))
    row = _row(connection, thing_id, last if number is None else number)
    if row is None or (kind is not None and row.kind != kind):
        what = kind or "thing"
        raise NameUnknown(f'There is no {what} "{thing_id}" in this workroom; look for it among your {what}s.'
                          if number is None else f"There is no revision {number} of this; choose one of its history.")
    return _as_thing(row, row.number == last)


def locked(connection: Connection, thing_id: str) -> Thing:
    """One thing, which nobody else can change until this transaction ends."""
    lock(connection, thing_id)
    return one(connection, thing_id)


def lock(connection: Connection, thing_id: str) -> None:
    """Keep everybody else from changing a thing until this transaction ends."""
    connection.execute(select(_thing.c.id).where(_thing.c.id == thing_id).with_for_update())


def history(connection: Connection, thing_id: str) -> tuple[Revision, ...]:
    """All revisions of a thing, last first."""
    one(connection, thing_id)
    asked = _asked(documents=False).where(_revision.c.thing == thing_id).order_by(_revision.c.number.desc())
    return tuple(Revision(r.number, Way(r.way), r.words, _time(r.at), r.device) for r in _rows(connection, asked))


def words_of(connection: Connection, thing_id: str, number: int) -> str:
    """What was done at one revision."""
    return _row(connection, thing_id, number).words


# -- writing ------------------------------------------------------------------------------------------


def begin(connection: Connection, thing_id: str, kind: Kind, document: str, words: str, at: str, by: str) -> None:
    """A new thing with its first revision."""
    connection.execute(insert(_thing).values(id=thing_id, kind=kind.value))
    _insert(connection, kind, thing=thing_id, number=1, document=document, way=Way.ADD.value, words=words, at=at,
            device=by, removed=False, state=1, before=None, tip=1, undo=None, redo=None)


def go_on(connection: Connection, now: Thing, document: str, words: str, at: str, by: str,
          way: Way = Way.CHANGE) -> None:
    """A real change: a new state, at which every other branch ends."""
    number = now.revision + 1
    _append(connection, now, document=document, way=way, words=words, at=at, device=by, state=number,
            before=_newest(connection, now).state, tip=number, undo=words, redo=None)


def step(connection: Connection, now: Thing, way: Way, at: str, by: str) -> None:
    """Undo or redo: an earlier or later state of the same branch.

    Raises:
        InputError: there is nothing to undo or redo.
    """
    row, states = _newest(connection, now), _states(connection, now.id)
    along, here, there = _along(row, states, way)
    target = along[there]
    undo, redo = undo_and_redo(states, target.number, row.tip)
    _append(connection, now, document=_row(connection, now.id, target.number).document, way=way,
            words=along[max(here, there)].words, at=at, device=by, state=target.number, before=target.before,
            tip=row.tip, undo=undo, redo=redo)


def stepped(connection: Connection, now: Thing, way: Way) -> Document:
    """What undo or redo would put there, without doing it; errors as for :func:`step`."""
    along, _, there = _along(_newest(connection, now), _states(connection, now.id), way)
    return one(connection, now.id, along[there].number).document


def _along(row: Row[Any], states: dict[int, Row[Any]], way: Way) -> tuple[list[Row[Any]], int, int]:
    """The branch of a thing, where on it the thing is, and where a step leads."""
    along = branch(states, row.tip)
    here = next(place for place, state in enumerate(along) if state.number == row.state)
    there = here - 1 if way is Way.UNDO else here + 1
    if not 0 <= there < len(along):
        raise InputError(f"There is nothing to {way} here.")
    return along, here, there


def mark(connection: Connection, now: Thing, way: Way, at: str, by: str) -> None:
    """Remove or bring back: the same state, with the mark."""
    row = _newest(connection, now)
    _append(connection, now, document=row.document, way=way, words="", at=at, device=by, state=row.state,
            before=row.before, tip=row.tip, undo=row.undo, redo=row.redo, removed=way is Way.REMOVE)


# -- whole histories, for packing ---------------------------------------------------------------------


def ids_of_all(connection: Connection) -> tuple[str, ...]:
    """Of all things, removed or not."""
    return tuple(connection.scalars(select(_thing.c.id).order_by(_thing.c.id)))


def records_of(connection: Connection, thing_id: str) -> tuple[Kind | None, tuple[Record, ...]]:
    """The kind of a thing and all its revisions, first first; (None, ()) when there is none."""
    rows = _rows(connection, _asked().where(_revision.c.thing == thing_id).order_by(_revision.c.number))
    records = tuple(Record(row.number, decoded(Kind(row.kind), row.document), Way(row.way), row.words, row.at,
                           row.device, row.removed, row.state, row.before, row.tip) for row in rows)
    return (Kind(rows[0].kind) if rows else None), records


def put_records(connection: Connection, thing_id: str, kind: Kind, records: Sequence[Record], there: int = 0) -> None:
    """Write a history, or the rest of one of which so many revisions are there."""
    if not there:
        connection.execute(insert(_thing).values(id=thing_id, kind=kind.value))
    states = {record.number: record for record in records if record.state == record.number}
    for record in records[there:]:
        undo, redo = undo_and_redo(states, record.state, record.tip)
        _insert(connection, kind, thing=thing_id, number=record.number, document=encoded(record.document),
                way=record.way.value, words=record.words, at=record.at, device=record.device, removed=record.removed,
                state=record.state, before=record.before, tip=record.tip, undo=undo, redo=redo)


# -- rows ---------------------------------------------------------------------------------------------

_each = _revision.alias("each_revision")
_LAST = select(func.max(_each.c.number)).where(_each.c.thing == _thing.c.id).correlate(_thing).scalar_subquery()
"""The number of the newest revision of a thing."""


def _append(connection: Connection, now: Thing, way: Way, **values: Any) -> None:
    _insert(connection, now.kind, **{"removed": False} | values | {
        "thing": now.id, "number": now.revision + 1, "way": way.value})


def _insert(connection: Connection, kind: Kind, **values: Any) -> None:
    values["digest"] = digest(values["document"])
    connection.execute(insert(_revision).values(**values, seal=seal(kind.value, values)))


def _newest(connection: Connection, now: Thing) -> Row[Any]:
    return _row(connection, now.id, now.revision)


def _row(connection: Connection, thing_id: str, number: int | None) -> Row[Any] | None:
    asked = _asked().where(_revision.c.thing == thing_id, _revision.c.number == number)
    return next(iter(_rows(connection, asked)), None)


def _states(connection: Connection, thing_id: str) -> dict[int, Row[Any]]:
    asked = _asked(documents=False).where(_revision.c.thing == thing_id, _revision.c.state == _revision.c.number)
    return {row.number: row for row in _rows(connection, asked)}


def _asked(documents: bool = True) -> Select[Any]:
    columns = [column for column in _revision.c if documents or column is not _revision.c.document]
    return select(_thing.c.kind, *columns).join(_revision, _revision.c.thing == _thing.c.id)


def _rows(connection: Connection, asked: Select[Any]) -> list[Row[Any]]:
    try:
        rows = list(connection.execute(asked))
        for row in rows:
            check(row._mapping)
    except (ValueError, TypeError):
        raise Unsound from None  # bytes that are no text, a number that is none
    return rows


def _as_thing(row: Row[Any], is_newest: bool) -> Thing:
    kind = Kind(row.kind)
    return Thing(row.thing, kind, row.number, decoded(kind, row.document), _time(row.at),
                 row.undo if is_newest else None, row.redo if is_newest else None, row.removed)


def _time(text: str) -> datetime.datetime:
    return datetime.datetime.fromisoformat(text)
