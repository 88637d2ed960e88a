"""Things and their revisions as rows; how they hang together is in :mod:`toilewright.workroom.chain`."""


from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Row, Select, insert, select, update

from toilewright.errors import InputError, NameUnknown
from toilewright.workroom.chain import Record, Way, branch, undo_and_redo
from toilewright.workroom.checks import decoded, digest, encoded
from toilewright.workroom.documents import Document, Kind
from toilewright.workroom.schema import revision as _revision
from toilewright.workroom.schema import thing as _thing


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
    asked = _joined().where(_thing.c.kind == kind, _revision.c.number == _thing.c.revision,
                            _revision.c.removed == removed).order_by(_revision.c.at.desc(), _thing.c.id)
    return tuple(_as_thing(row) for row in connection.execute(asked))


def one(connection: Connection, thing_id: str, number: int | None = None, kind: Kind | None = None) -> Thing:
    """One thing at its newest or another revision.

    Raises:
        NameUnknown: there is none.
    """
    asked = _joined().where(_thing.c.id == thing_id)
    asked = asked.where(_revision.c.number == (_thing.c.revision if number is None else number))
    row = connection.execute(asked).first()
    if row is None or (kind is not None and row.kind != kind):
        what = kind or "thing"
        raise NameUnknown(f'There is no {what} "{thing_id}" in this workroom; look for it among your {what}s.'
                          if number is None else f"There is no revision {number} of this; choose one of its history.")
    return _as_thing(row)


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
    c = _revision.c
    asked = select(c.number, c.way, c.words, c.at, c.device).where(c.thing == thing_id).order_by(c.number.desc())
    return tuple(Revision(r.number, Way(r.way), r.words, _time(r.at), r.device) for r in connection.execute(asked))


def words_of(connection: Connection, thing_id: str, number: int) -> str:
    """What was done at one revision."""
    return connection.execute(select(_revision.c.words).where(
        _revision.c.thing == thing_id, _revision.c.number == number)).scalar_one()


# -- writing ------------------------------------------------------------------------------------------


def begin(connection: Connection, thing_id: str, kind: Kind, document: str, words: str, at: str, by: str) -> None:
    """A new thing with its first revision."""
    connection.execute(insert(_thing).values(id=thing_id, kind=kind.value, revision=1))
    connection.execute(insert(_revision).values(
        thing=thing_id, number=1, document=document, digest=digest(document), way=Way.ADD.value, words=words, at=at,
        device=by, removed=False, state=1, before=None, tip=1))


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
    along = branch(states, row.tip)
    here = next(place for place, state in enumerate(along) if state.number == row.state)
    there = here - 1 if way is Way.UNDO else here + 1
    if not 0 <= there < len(along):
        raise InputError(f"There is nothing to {way} here.")
    target = along[there]
    undo, redo = undo_and_redo(states, target.number, row.tip)
    _append(connection, now, document=_document(connection, now.id, target.number), way=way,
            words=along[max(here, there)].words, at=at, device=by, state=target.number, before=target.before,
            tip=row.tip, undo=undo, redo=redo)


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
    kind = connection.scalar(select(_thing.c.kind).where(_thing.c.id == thing_id))
    if kind is None:
        return None, ()
    rows = connection.execute(select(_revision).where(_revision.c.thing == thing_id).order_by(_revision.c.number))
    return Kind(kind), tuple(Record(
        row.number, decoded(Kind(kind), row.document, row.digest), Way(row.way), row.words, row.at, row.device,
        row.removed, row.state, row.before, row.tip) for row in rows)


def put_records(connection: Connection, thing_id: str, kind: Kind, records: Sequence[Record], there: int = 0) -> None:
    """Write a history, or the rest of one of which so many revisions are there."""
    if not there:
        connection.execute(insert(_thing).values(id=thing_id, kind=kind.value, revision=len(records)))
    states = {record.number: record for record in records if record.state == record.number}
    for record in records[there:]:
        document = encoded(record.document)
        undo, redo = undo_and_redo(states, record.state, record.tip)
        connection.execute(insert(_revision).values(
            thing=thing_id, number=record.number, document=document, digest=digest(document), way=record.way.value,
            words=record.words, at=record.at, device=record.device, removed=record.removed, state=record.state,
            before=record.before, tip=record.tip, undo=undo, redo=redo))
    connection.execute(update(_thing).where(_thing.c.id == thing_id).values(revision=len(records)))


def _append(connection: Connection, now: Thing, **values: Any) -> None:
    values = {"removed": False, "digest": digest(values["document"])} | values | {"way": values["way"].value}
    connection.execute(insert(_revision).values(thing=now.id, number=now.revision + 1, **values))
    connection.execute(update(_thing).where(_thing.c.id == now.id).values(revision=now.revision + 1))


def _newest(connection: Connection, now: Thing) -> Row[Any]:
    return connection.execute(select(_revision).where(
        _revision.c.thing == now.id, _revision.c.number == now.revision)).one()


def _document(connection: Connection, thing_id: str, number: int) -> str:
    return connection.execute(select(_revision.c.document).where(
        _revision.c.thing == thing_id, _revision.c.number == number)).scalar_one()


def _states(connection: Connection, thing_id: str) -> dict[int, Row[Any]]:
    c = _revision.c
    asked = select(c.number, c.before, c.words).where(c.thing == thing_id, c.state == c.number)
    return {row.number: row for row in connection.execute(asked)}


def _joined() -> Select[Any]:
    c = _revision.c
    return select(_thing.c.id, _thing.c.kind, _thing.c.revision.label("newest"), c.number, c.document, c.digest,
                  c.at, c.undo, c.redo, c.removed).join(_revision, c.thing == _thing.c.id)


def _as_thing(row: Row[Any]) -> Thing:
    kind, is_newest = Kind(row.kind), row.number == row.newest
    return Thing(row.id, kind, row.number, decoded(kind, row.document, row.digest), _time(row.at),
                 row.undo if is_newest else None, row.redo if is_newest else None, row.removed)


def _time(text: str) -> datetime.datetime:
    return datetime.datetime.fromisoformat(text)
