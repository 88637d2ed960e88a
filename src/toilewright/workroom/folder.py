"""The folder of an SQLite store: made when it is not there, brought up to date when it is old."""

from __future__ import annotations

import datetime
import os
import sqlite3
import tempfile
from collections.abc import Callable
from contextlib import closing, suppress
from pathlib import Path

from sqlalchemy import create_engine

from toilewright.errors import FileError
from toilewright.workroom import schema
from toilewright.workroom.database import Database, on_file

NAME = "workroom.db"

MARK = 0x544F494C
"""by which the file of a store is told from any other SQLite file."""


def open_folder(folder: Path, clock: Callable[[], datetime.datetime]) -> Database:
    """The database in a folder."""
    path = folder / NAME
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        if not path.exists():
            _make(path)
    except OSError as problem:
        raise FileError(f'There can be no store in "{folder}" ({problem.strerror}); name another folder.') from None
    return on_file(path)


def _make(path: Path) -> None:
    """A new store, which appears whole; one that another program makes at the same time stands."""
    with tempfile.TemporaryDirectory(prefix=".new-", dir=path.parent) as work:
        new = Path(work) / path.name
        with closing(sqlite3.connect(new)) as connection:
            connection.execute("PRAGMA journal_mode = WAL")
            connection.execute(f"PRAGMA application_id = {MARK}")
        engine = create_engine("sqlite://", creator=lambda: sqlite3.connect(new))
        with engine.begin() as connection:
            schema.metadata.create_all(connection)
        engine.dispose()
        with suppress(FileExistsError):
            os.link(new, path)
