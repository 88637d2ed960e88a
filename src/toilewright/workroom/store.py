"""The workroom: bodies, patterns, cloths and makes with every revision, files, and what was computed from them.

Everything that a call changes is saved whole or not at all, before it returns. Nothing saved is ever written over: a
change is a new revision, and undoing is one too.
"""

from __future__ import annotations

import datetime
import hashlib
import os
from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager
from pathlib import Path

from sqlalchemy import Connection, delete, func, select

from toilewright.errors import InputError, NameUnknown
from toilewright.workroom import revisions, schema
from toilewright.workroom.chain import Way
from toilewright.workroom.changes import Change, ConflictError, applied, check_conflicts
from toilewright.workroom.checks import check_values, checked, encoded, files_of, plain
from toilewright.workroom.database import Database, is_server, on_server
from toilewright.workroom.days import day
from toilewright.workroom.documents import Document, FileRef, Kind, new_id
from toilewright.workroom.folder import EachDay, open_folder
from toilewright.workroom.revisions import Revision, Thing
from toilewright.workroom.upsert import put

LARGEST_FILE = 200_000_000
"""bytes; a pattern with photographs in it is some 50 million."""

ROOM_FOR_KEPT = 60_000_000
"""bytes of computed things; the oldest make room."""

Clock = Callable[[], datetime.datetime]


def utc_now() -> datetime.datetime:
    """This moment."""
    return datetime.datetime.now(datetime.UTC)


class Workroom:
    """The store. All methods may be called from several threads and programs at once.

    Attributes:
        folder: where the store and its back-ups lie; None on a server.
    """

    def __init__(self, database: Database, clock: Clock = utc_now) -> None:
        """A store over an open database; :meth:`open` is the way to one."""
        self.database = database
        self.folder = database.path and database.path.parent
        self._clock = clock
        self._each_day = database.path and EachDay(database.path, clock)

    @classmethod
    def open(cls, address: str | os.PathLike[str] | None = None, *, clock: Clock = utc_now) -> Workroom:
        """Open a store, and make it when there is none yet.

        Args:
            address: a folder, or ``postgresql://...``; None for TOILEWRIGHT_HOME, else the system's data folder.

        Raises:
            DamagedStore: the file is damaged; carries the last good back-up.
            FileError: it cannot be opened, or is of a newer program.
        """
        place = place_of(address)
        if is_server(place):
            return cls(on_server(place), clock)
        room = cls(open_folder(Path(place), clock), clock)
        room._each_day.on_opening()
        return room

    def close(self) -> None:
        """Let go of the file or server."""
        self.database.close()

    # -- things -----------------------------------------------------------------------------------

    def things(self, kind: Kind, *, removed: bool = False) -> tuple[Thing, ...]:
        """All things of a kind, last changed first; without the removed ones, or only those."""
        with self.database.reading() as connection:
            return revisions.newest_of(connection, kind, removed)

    def get(self, thing_id: str, revision: int | None = None, kind: Kind | None = None) -> Thing:
        """One thing as it is, removed or not, or as it was.

        Raises:
            NameUnknown: there is no such thing, none of that kind, or no such revision of it.
        """
        with self.database.reading() as connection:
            return revisions.one(connection, thing_id, revision, kind)

    def history(self, thing_id: str) -> tuple[Revision, ...]:
        """What was done to a thing, last first."""
        with self.database.reading() as connection:
            return revisions.history(connection, thing_id)

    def add(self, kind: Kind, document: Document, words: str, by: str = "") -> Thing:
        """Keep a new thing.

        Args:
            words: what was done, in her words.
            by: the device it was done on.

        Raises:
            InputError: something in the document cannot be kept.
        """
        check_values([words, by], kind)
        document, thing_id = checked(kind, plain(encoded(document))), new_id()
        with self.writing() as connection:
            _must_have_files(connection, document)
            revisions.begin(connection, thing_id, kind, encoded(document), words, self._stamp(), by)
            return revisions.one(connection, thing_id)

    def change(self, thing_id: str, base: int, changes: Sequence[Change], words: str, by: str = "") -> Thing:
        """Change some entries of a thing.

        Args:
            base: the revision she saw.
            changes: (path, plain value); see :mod:`toilewright.workroom.changes`.

        Raises:
            ConflictError: one of the entries was changed elsewhere since.
            InputError: a path that leads nowhere, a value that cannot be kept, or a thing that was removed.
        """
        with self.writing() as connection:
            now = revisions.locked(connection, thing_id)
            check_values([words, by], now.kind)
            before, seen = plain(encoded(now.document)), revisions.one(connection, thing_id, base)
            check_conflicts(changes, plain(encoded(seen.document)), before, now)
            _must_be_here(now)
            document = checked(now.kind, applied(changes, before))
            if document == now.document:
                return now
            _must_have_files(connection, document)
            revisions.go_on(connection, now, encoded(document), words, self._stamp(), by)
            return revisions.one(connection, thing_id)

    def undo(self, thing_id: str, base: int, by: str = "") -> Thing:
        """Put back what stood before the last change that still holds.

        Raises:
            ConflictError: it was changed elsewhere since `base`.
            InputError: there is nothing to undo.
        """
        return self._step(thing_id, base, Way.UNDO, by)

    def redo(self, thing_id: str, base: int, by: str = "") -> Thing:
        """Make the change again that was undone last; as :meth:`undo`."""
        return self._step(thing_id, base, Way.REDO, by)

    def go_back(self, thing_id: str, base: int, revision: int, by: str = "") -> Thing:
        """Put the document of an older revision back, as a new change that can be undone; as :meth:`undo`."""
        with self.writing() as connection:
            now = self._unchanged(connection, thing_id, base)
            old = revisions.one(connection, thing_id, revision)
            revisions.go_on(connection, now, encoded(old.document), revisions.words_of(connection, thing_id, revision),
                            self._stamp(), by, Way.BACK)
            return revisions.one(connection, thing_id)

    def stepped(self, thing_id: str, way: Way) -> Document:
        """What undo or redo would put there, without doing it.

        Raises:
            InputError: there is nothing to undo or redo.
        """
        with self.database.reading() as connection:
            return revisions.stepped(connection, revisions.one(connection, thing_id), way)

    def remove(self, thing_id: str, by: str = "") -> Thing:
        """Take a thing off the lists; it stays in the store, and whatever names it goes on working."""
        return self._mark(thing_id, Way.REMOVE, by)

    def bring_back(self, thing_id: str, by: str = "") -> Thing:
        """Put a removed thing back on the lists."""
        return self._mark(thing_id, Way.BRING_BACK, by)

    def _step(self, thing_id: str, base: int, way: Way, by: str) -> Thing:
        with self.writing() as connection:
            now = self._unchanged(connection, thing_id, base)
            revisions.step(connection, now, way, self._stamp(), by)
            return revisions.one(connection, thing_id)

    def _mark(self, thing_id: str, way: Way, by: str) -> Thing:
        with self.writing() as connection:
            now = revisions.locked(connection, thing_id)
            if now.removed != (way is Way.REMOVE):
                revisions.mark(connection, now, way, self._stamp(), by)
            return revisions.one(connection, thing_id)

    def _unchanged(self, connection: Connection, thing_id: str, base: int) -> Thing:
        now = revisions.locked(connection, thing_id)
        _must_be_here(now)
        if now.revision != base:
            raise ConflictError("This was changed elsewhere since the page was opened, so nothing was put back; look "
                                "at what is there now, then do it again.", (), None, None, now)
        return now

    # -- files and what was computed ---------------------------------------------------------------

    def add_file(self, data: bytes, name: str, kind: str) -> FileRef:
        """Keep a file; the same bytes are kept once.

        Raises:
            InputError: it is too large.
        """
        if len(data) > LARGEST_FILE:
            raise InputError(f'"{name}" has {len(data) // 1_000_000} MB, and {LARGEST_FILE // 1_000_000} MB are the '
                             "most that is kept; export it smaller, or without photographs.")
        sha = hashlib.sha256(data).hexdigest()
        with self.writing() as connection:
            put(connection, schema.file, {"sha": sha, "size": len(data), "data": data}, replace=False)
        return FileRef(sha, name, kind, len(data))

    def file(self, sha: str) -> bytes:
        """The bytes of a file.

        Raises:
            NameUnknown: there is none.
        """
        with self.database.reading() as connection:
            data = connection.scalar(select(schema.file.c.data).where(schema.file.c.sha == sha))
        if data is None:
            raise NameUnknown(f'The file "{sha[:12]}" is not in the store; drop it again.')
        data = bytes(data)
        if hashlib.sha256(data).hexdigest() != sha:
            raise self.database.unsound()
        return data

    def keep(self, key: str, data: bytes) -> None:
        """Keep something that can be computed again; the oldest of its like make room."""
        table = schema.kept
        with self.writing() as connection:
            put(connection, table, {"key": key, "at": self._stamp(), "size": len(data), "data": data})
            room = ROOM_FOR_KEPT
            for old, size in connection.execute(select(table.c.key, table.c.size).order_by(table.c.at.desc())).all():
                room -= size
                if room < 0 and old != key:
                    connection.execute(delete(table).where(table.c.key == old))

    def kept(self, key: str) -> bytes | None:
        """What was kept under a key, or None."""
        with self.database.reading() as connection:
            data = connection.scalar(select(schema.kept.c.data).where(schema.kept.c.key == key))
        return None if data is None else bytes(data)

    def setting(self, name: str, default: str = "") -> str:
        """A setting of this store."""
        with self.database.reading() as connection:
            value = connection.scalar(select(schema.setting.c.value).where(schema.setting.c.name == name))
        return default if value is None else value

    def set_setting(self, name: str, value: str) -> None:
        """Keep a setting of this store."""
        with self.writing() as connection:
            put(connection, schema.setting, {"name": name, "value": value})

    # -- the store itself --------------------------------------------------------------------------

    def now(self) -> datetime.datetime:
        """This moment (UTC)."""
        return self._clock().astimezone(datetime.UTC)

    def today(self) -> str:
        """The day it is where she is (ISO 8601)."""
        return day(self.now())

    @property
    def trouble(self) -> str:
        """Why the last back-up could not be made, in one sentence; "" when all is well."""
        return self._each_day.trouble if self._each_day else ""

    def _stamp(self) -> str:
        return self.now().isoformat(timespec="microseconds")

    def writing(self) -> AbstractContextManager[Connection]:
        """A transaction; the first one of a day makes a back-up first."""
        if self._each_day:
            self._each_day.before_change()
        return self.database.writing()


def _must_be_here(thing: Thing) -> None:
    if thing.removed:
        raise InputError("This was removed, so it cannot be changed; bring it back first.")


def _must_have_files(connection: Connection, document: Document) -> None:
    table = schema.file
    for ref in files_of(document):
        found = connection.scalar(select(func.count()).select_from(table).where(table.c.sha == ref.sha,
                                                                                table.c.size == ref.size))
        if not found:
            raise InputError(f'The file "{ref.name}" is not in the store; drop it again.')


def place_of(address: str | os.PathLike[str] | None = None) -> str:
    """Where the store lies: what was asked for, else TOILEWRIGHT_HOME, else the system's data folder."""
    from platformdirs import user_data_dir

    return os.fspath(address or os.environ.get("TOILEWRIGHT_HOME") or user_data_dir("toilewright", appauthor=False))


__all__ = ["ConflictError", "Revision", "Thing", "Way", "Workroom", "place_of"]
