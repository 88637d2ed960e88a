"""The folder of an SQLite store: made when it is not there, brought up to date when it is old, backed up each day."""

from __future__ import annotations

import datetime
import os
import sqlite3
import tempfile
import threading
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path

from sqlalchemy import Engine, create_engine, event

from toilewright.errors import FileError
from toilewright.workroom import schema
from toilewright.workroom.backups import (
    BROKEN,
    NAME,
    Backup,
    DamagedStore,
    backups,
    clear,
    copy_of,
    damaged,
    opened,
    synced,
)
from toilewright.workroom.database import Database, on_file
from toilewright.workroom.health import MARK, version_of
from toilewright.workroom.upgrading import bring_up_to_date, create_tables

Clock = Callable[[], datetime.datetime]


def open_folder(folder: Path, clock: Clock) -> Database:
    """The database in a folder.

    Raises:
        DamagedStore: the file in it is damaged, or gone from beside its back-ups.
        FileError: there can be no store, or it is of a newer program.
    """
    path = folder / NAME
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        clear(folder)
        if not path.exists():
            if backups(folder):
                raise damaged(path, "is gone")
            _make(path)
        if version_of(path) != schema.VERSION:
            copy_of(path, clock())
            _bring_up_to_date(path)
    except OSError as problem:
        raise FileError(f'There can be no store in "{folder}" ({problem.strerror}); name another folder.') from None
    return on_file(path)


class EachDay:
    """Makes a back-up before the first change of a day.

    Attributes:
        trouble: why the last one could not be made, in one sentence; "" when all is well.
    """

    def __init__(self, store: Path, clock: Clock) -> None:
        """For the store in a file."""
        self.trouble = ""
        self._store, self._clock = store, clock
        self._day, self._turn = datetime.date.min, threading.Lock()

    def on_opening(self) -> None:
        """Make a back-up when the last one is older than a day."""
        now = self._clock()
        newest = self._newest(now)
        if newest is None or now - newest.made > datetime.timedelta(days=1):
            self._copy(now)

    def before_change(self) -> None:
        """Make today's back-up unless there is one.

        A back-up for which the disk has no room does not keep her from saving.

        Raises:
            DamagedStore: the store has been damaged.
        """
        now = self._clock().astimezone(datetime.UTC)
        with self._turn:
            if self._day == now.date():
                return
            newest = self._newest(now)
            if (newest and newest.made.date() == now.date()) or self._copy(now):
                self._day = now.date()

    def _newest(self, now: datetime.datetime) -> Backup | None:
        """One that is dated later was made while the machine's clock was wrong, and says nothing."""
        return next((one for one in backups(self._store.parent) if one.made <= now), None)

    def _copy(self, now: datetime.datetime) -> bool:
        """Was it tried? A store in which there is nothing yet has no need of it."""
        try:
            if not _holds_anything(self._store):
                return False
            copy_of(self._store, now)
            self.trouble = ""
        except DamagedStore:
            raise
        except FileError as problem:
            self.trouble = str(problem)
        except sqlite3.OperationalError as problem:
            self.trouble = f"No back-up could be made ({problem}); it is tried again at the next change."
            return False
        except sqlite3.DatabaseError:
            raise damaged(self._store, BROKEN) from None
        return True


def _holds_anything(path: Path) -> bool:
    with closing(opened(path)) as connection:
        return connection.execute("SELECT 1 FROM thing LIMIT 1").fetchone() is not None


def _make(path: Path) -> None:
    """A new store, which appears whole; one that another program makes at the same time stands."""
    with tempfile.TemporaryDirectory(prefix=".new-", dir=path.parent) as work:
        new = Path(work) / path.name
        with closing(sqlite3.connect(new)) as connection:
            connection.execute("PRAGMA journal_mode = WAL")
            connection.execute(f"PRAGMA application_id = {MARK}")
        engine = create_engine("sqlite://", creator=lambda: sqlite3.connect(new))
        with _let_go(engine), engine.begin() as connection:
            create_tables(connection)
        with suppress(FileExistsError):
            _appear(new, path)
    synced(path.parent)
    synced(path.parent.parent)


def _appear(new: Path, path: Path) -> None:
    try:
        os.link(new, path)
    except FileExistsError:
        raise
    except OSError:  # a disk without hard links
        os.replace(new, path)


def _bring_up_to_date(path: Path) -> None:
    """On a connection that does not watch over foreign keys, since a step may make a table anew."""
    engine = create_engine("sqlite://", creator=lambda: sqlite3.connect(path, timeout=30, isolation_level=None))
    event.listen(engine, "begin", lambda connection: connection.exec_driver_sql("BEGIN IMMEDIATE"))
    with _let_go(engine), engine.begin() as connection:
        bring_up_to_date(connection)


@contextmanager
def _let_go(engine: Engine) -> Iterator[None]:
    """The engine holds no file open when the block ends, however it ends."""
    try:
        yield
    finally:
        engine.dispose()
