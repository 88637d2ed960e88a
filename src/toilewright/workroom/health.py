"""Is the store sound? Looked at when it is opened, before anything is written to it."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from toilewright.errors import FileError
from toilewright.workroom import schema
from toilewright.workroom.backups import BROKEN, DamagedStore, damaged

MARK = 0x544F494C
"""by which the file of a store is told from any other SQLite file."""

_HEAD = b"SQLite format 3\0"


def version_of(path: Path) -> str:
    """Of which version the tables in a store are, once the file has been looked through.

    Raises:
        DamagedStore: it is damaged; carries the last good back-up.
        FileError: it is of a newer program, or cannot be read.
    """
    with path.open("rb") as file:
        head = file.read(len(_HEAD))
    if head != _HEAD:
        raise damaged(path, "is something else than a store" if head else "is empty")
    try:
        with closing(sqlite3.connect(f"{path.resolve().as_uri()}?mode=rw", uri=True, timeout=30)) as connection:
            return _version(path, connection)
    except sqlite3.OperationalError as problem:
        if any(sign in str(problem) for sign in ("locked", "readonly", "unable to open", "disk")):
            raise FileError(f'The store "{path}" cannot be opened ({problem}); close other programs that use it, and '
                            "see that it may be read and written to.") from None
        raise damaged(path, BROKEN) from None
    except (sqlite3.DatabaseError, ValueError):
        raise damaged(path, BROKEN) from None


def _version(path: Path, connection: sqlite3.Connection) -> str:
    if connection.execute("PRAGMA integrity_check(1)").fetchone() != ("ok",):
        raise damaged(path, BROKEN)
    if connection.execute("PRAGMA application_id").fetchone() != (MARK,):
        raise damaged(path, "is something else than a store")
    row = connection.execute("SELECT version_num FROM alembic_version").fetchone()
    if row is None or not str(row[0]).isdecimal():
        raise damaged(path, "has lost its tables")
    check_version(row[0], f'store "{path}"')
    return row[0]


def check_version(version: str, what: str) -> None:
    """Raise FileError where a store is of a newer program than this one."""
    if int(version) > int(schema.VERSION):
        raise FileError(f"The {what} was made by a newer toilewright than this one, which would not understand it; "
                        "bring this program up to date, then open it again.")


__all__ = ["MARK", "DamagedStore", "check_version", "damaged", "version_of"]
