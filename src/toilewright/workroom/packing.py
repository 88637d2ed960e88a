"""One make with all it needs, or everything, as one file; and taking such a file in.

The file is a zip: ``manifest.json`` lists what is in it with its digests, ``things/ID.json`` holds a thing with all its
revisions, ``files/SHA`` the bytes of a file.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from sqlalchemy import Connection, select

from toilewright.errors import NameUnknown
from toilewright.workroom import revisions, schema
from toilewright.workroom.chain import Record, Way
from toilewright.workroom.checks import encoded
from toilewright.workroom.documents import Document, Kind, MakeDoc, name_of
from toilewright.workroom.packed import Pack, Packed, Refused, pack, shas_in
from toilewright.workroom.store import Workroom
from toilewright.workroom.upsert import put


class How(StrEnum):
    """What became of a thing that was brought in."""

    NEW = "new"
    SAME = "same"
    NEWER = "newer"
    COPY = "copy"


@dataclass(frozen=True, slots=True)
class Brought:
    """One thing that was brought in.

    Attributes:
        id: under which it is here.
        how: new; here already; what was here went on as in the file; or kept as a copy beside the one here.
    """

    id: str
    kind: Kind
    name: str
    how: How


@dataclass(frozen=True, slots=True)
class Report:
    """What became of everything in a file that was taken in."""

    things: tuple[Brought, ...]

    @property
    def text(self) -> str:
        """It in a few sentences.

        >>> Report((Brought("a1", Kind.BODY, "the alto", How.NEW), Brought("b2", Kind.MAKE, "dress", How.SAME))).text
        'New: "the alto". Here already: "dress".'
        """
        said = []
        for how, words in _TOLD.items():
            if names := [f'"{one.name}"' for one in self.things if one.how is how]:
                said.append(f"{words}: {', '.join(names)}.")
        return " ".join(said) or "There was nothing in that file."


_TOLD = {How.NEW: "New", How.NEWER: "Went on as in the file", How.SAME: "Here already",
         How.COPY: "Changed here and in the file, so both were kept, the file's one as"}


def export_make(room: Workroom, make_id: str) -> bytes:
    """One make with its body, pattern and cloths, all with their histories and files, as one file.

    Raises:
        NameUnknown: there is no such make.
    """
    with room.database.reading() as connection:
        make = revisions.one(connection, make_id, kind=Kind.MAKE)
        return _exported(room, connection, [make_id, *_needed(make.document)])


def export_all(room: Workroom) -> bytes:
    """Everything that is kept, with its history, as one file; settings stay with this store."""
    with room.database.reading() as connection:
        return _exported(room, connection, revisions.ids_of_all(connection))


def import_file(room: Workroom, data: bytes) -> Report:
    """Take a file in that :func:`export_make` or :func:`export_all` made, whole or not at all.

    A thing that is here already is not brought in twice; one that went another way here since is left as it is, and
    what the file has is kept as a copy.

    Raises:
        Refused: it is damaged, or of a newer program; nothing was changed.
    """
    found = Pack(data)
    with room.writing() as connection:
        _take_files(connection, found)
        ids: dict[str, str] = {}
        at = room.now().isoformat(timespec="microseconds")
        return Report(tuple(_take_in(connection, thing, ids, at)
                            for thing in sorted(found.things, key=lambda thing: thing.kind is Kind.MAKE)))


# -- out ----------------------------------------------------------------------------------------------


def _needed(make: MakeDoc) -> list[str]:
    return list(dict.fromkeys(one for one in (make.body, make.pattern, *make.cloths, *(row.cloth for row in make.lays))
                              if one))


def _exported(room: Workroom, connection: Connection, ids: Iterable[str]) -> bytes:
    things = []
    for thing_id in ids:
        kind, records = revisions.records_of(connection, thing_id)
        if kind is None:
            raise NameUnknown(f'This make names "{thing_id}", which is not in the store; choose another there first.')
        things.append(Packed(thing_id, kind, records))
    return pack(things, _files(room, connection, shas_in(things)), room.now())


def _files(room: Workroom, connection: Connection, shas: Iterable[str]) -> Iterator[tuple[str, bytes]]:
    for sha in shas:
        data = connection.scalar(select(schema.file.c.data).where(schema.file.c.sha == sha))
        if data is None or hashlib.sha256(data).hexdigest() != sha:
            raise room.database.unsound()
        yield sha, bytes(data)


# -- in -----------------------------------------------------------------------------------------------


def _take_files(connection: Connection, found: Pack) -> None:
    for sha in shas_in(found.things):
        if sha in found:
            data = found.file(sha)
            put(connection, schema.file, {"sha": sha, "size": len(data), "data": data}, replace=False)
        elif connection.scalar(select(schema.file.c.sha).where(schema.file.c.sha == sha)) is None:
            raise Refused("That file cannot be taken in, because a pattern or picture is missing in it; export it "
                            "again, and bring it over as it is.")


def _take_in(connection: Connection, thing: Packed, ids: dict[str, str], at: str) -> Brought:
    """Write one thing.

    Args:
        ids: under which those things are now that had to be kept as copies; added to.
    """
    records = tuple(replace(record, document=_renamed(record.document, ids)) for record in thing.records)
    revisions.lock(connection, thing.id)
    kind, here = revisions.records_of(connection, thing.id)
    name = name_of(records[-1].document)
    if kind is None:
        revisions.put_records(connection, thing.id, thing.kind, records)
        return Brought(thing.id, thing.kind, name, How.NEW)
    if kind is thing.kind and here[:len(records)] == records:
        return Brought(thing.id, kind, name, How.SAME)
    if kind is thing.kind and records[:len(here)] == here:
        revisions.put_records(connection, thing.id, kind, records, len(here))
        return Brought(thing.id, kind, name, How.NEWER)
    return _copied(connection, replace(thing, records=records), ids, at)


def _copied(connection: Connection, thing: Packed, ids: dict[str, str], at: str) -> Brought:
    """The same file taken in twice makes one copy: its id comes from what is in it."""
    copy_id = ids[thing.id] = _id_of(thing)
    _, here = revisions.records_of(connection, copy_id)
    if here:
        return Brought(copy_id, thing.kind, name_of(here[-1].document), How.SAME)
    last = thing.records[-1]
    document = _called(last.document, f"{name_of(last.document)} (brought in)")
    number = len(thing.records) + 1
    before = last.state
    more = Record(number, document, Way.IMPORT, "brought in", at, "", last.removed, number, before, number)
    revisions.put_records(connection, copy_id, thing.kind, (*thing.records, more))
    return Brought(copy_id, thing.kind, name_of(document), How.COPY)


def _id_of(thing: Packed) -> str:
    text = "\n".join(f"{record.at} {encoded(record.document)}" for record in thing.records)
    return hashlib.sha256(f"{thing.id} {thing.kind} {text}".encode()).hexdigest()[:10]


def _called(document: Document, name: str) -> Document:
    return replace(document, title=name) if isinstance(document, MakeDoc) else replace(document, name=name)


def _renamed(document: Document, ids: Mapping[str, str]) -> Document:
    """A make that names things by the ids under which they are here."""
    if not isinstance(document, MakeDoc):
        return document
    return replace(document, body=ids.get(document.body, document.body),
                   pattern=ids.get(document.pattern, document.pattern),
                   cloths=tuple(ids.get(cloth, cloth) for cloth in document.cloths),
                   lays=tuple(replace(row, cloth=ids.get(row.cloth, row.cloth)) for row in document.lays),
                   lay_with=tuple(ids.get(one, one) for one in document.lay_with))
