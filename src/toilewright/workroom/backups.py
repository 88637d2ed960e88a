"""Dated back-ups of the store, made by themselves and thinned; putting one back.

They lie in a folder beside the store, each a whole store of its own without what can be computed again.
"""

from __future__ import annotations

import datetime
import hashlib
import os
import re
import shutil
import sqlite3
import time
from collections.abc import Callable, Sequence
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from toilewright.errors import FileError, NameUnknown
from toilewright.files import replacing
from toilewright.workroom.seals import SEALED, Unsound, check

if TYPE_CHECKING:
    from toilewright.workroom.store import Workroom

NAME = "workroom.db"
"""of the store in its folder."""

FOLDER = "backups"

NEWEST = 10
"""so many of the newest are kept, whatever their age."""

MONTHS = 12
"""before those, the last one of each month, for so many months."""

_BROKEN_OFF = 3600
"""seconds after which something unfinished is one that nobody is writing any more."""

BROKEN = "does not hold together any more"

_STAMP = "%Y-%m-%d-%H%M%S"
_NAMED = re.compile(r"workroom-(\d{4}-\d\d-\d\d-\d{6})\.(?:db|zip)")


class DamagedStore(FileError):
    """The file of the store is damaged or gone; nothing was written to it.

    Attributes:
        folder: of the store.
        backup: the last good back-up; None when there is none.
    """

    def __init__(self, text: str, folder: Path, backup: Backup | None) -> None:
        """What is wrong, and what can be put back."""
        super().__init__(text)
        self.folder, self.backup = folder, backup


@dataclass(frozen=True, slots=True)
class Backup:
    """One back-up.

    Attributes:
        name: of its file.
        made: when (UTC).
        size: bytes.
    """

    name: str
    path: Path
    made: datetime.datetime
    size: int


def backups(folder: Path) -> tuple[Backup, ...]:
    """The back-ups of the store in a folder, newest first."""
    found = []
    for path in (folder / FOLDER).glob("workroom-*"):
        named = _NAMED.fullmatch(path.name)
        if named and path.is_file():
            made = datetime.datetime.strptime(named[1], _STAMP).replace(tzinfo=datetime.UTC)
            found.append(Backup(path.name, path, made, path.stat().st_size))
    return tuple(sorted(found, key=lambda one: one.name, reverse=True))


def damaged(path: Path, why: str) -> DamagedStore:
    """The error for a damaged store, with the last good back-up of it.

    Args:
        why: what is wrong, to follow "it".
    """
    good = last_good(path.parent)
    if good:
        way = (f"the back-up of {good.made:%Y-%m-%d %H:%M} (UTC) is sound and can be put back; the damaged file is "
               "then kept beside it")
    else:
        way = "there is no back-up of it; move that file elsewhere to begin a new store, and keep it"
    return DamagedStore(f'The store "{path}" is damaged: it {why}; {way}.', path.parent, good)


def back_up(room: Workroom, folder: Path | None = None) -> Backup:
    """Make a back-up now.

    Args:
        folder: where the folder of back-ups is; needed where the store is on a server, whose back-up is the file
            that holds everything exported.

    Raises:
        FileError: it cannot be written, or the store has been damaged.
    """
    if room.folder is not None:
        return copy_of(room.folder / NAME, room.now())
    if folder is None:
        raise FileError("The store is on a server, so its back-up needs a folder on this machine; name one.")
    from toilewright.workroom.packing import export_all

    data = export_all(room)
    return _kept(folder, room.now(), "zip", lambda work: work.write_bytes(data))


def copy_of(store: Path, now: datetime.datetime) -> Backup:
    """Make a back-up of the store in a file, while others may go on using it.

    Raises:
        DamagedStore: it has been damaged; no back-up was made.
        FileError: it cannot be written.
    """
    return _kept(store.parent, now, "db", lambda work: _copy(store, work))


def restore(folder: Path, which: str, now: datetime.datetime | None = None) -> Path | None:
    """Put a back-up in the place of the store.

    The present file is set aside under a dated name beside it, never deleted. Programs that have the store open go on
    with the back-up at their next transaction.

    Args:
        which: name of the back-up.
        now: for the dated name; None for this moment.

    Returns:
        where the present file is now; None when there was none.

    Raises:
        NameUnknown: there is no such back-up.
        FileError: it is damaged too, or the files cannot be moved.
    """
    known = {one.name: one for one in backups(folder) if one.path.suffix == ".db"}
    if which not in known:
        raise NameUnknown.among("back-up", which, known)
    if not is_sound(known[which].path):
        raise FileError(f'The back-up "{which}" is damaged too; take an older one.')
    store = folder / NAME
    aside = _free_name(folder, f"workroom-set-aside-{(now or datetime.datetime.now(datetime.UTC)).strftime(_STAMP)}")
    try:
        with replacing(store) as work:
            _put_in_place(known[which].path, Path(work))
            there = store.exists()
            if is_sound(store):
                with closing(opened(store)) as present:
                    present.execute("PRAGMA wal_checkpoint(TRUNCATE)")
            # The store goes first: whoever opens it meanwhile finds it gone, and not without its log. The log goes
            # with it, since on another file it would do damage.
            for end in ("", "-wal", "-shm"):
                if (beside := Path(f"{store}{end}")).exists():
                    os.replace(beside, f"{aside}{end}")
        synced(folder)
    except OSError as problem:
        raise FileError(f'The back-up "{which}" cannot be put back ({problem.strerror}); nothing was deleted, so make '
                        "room there or close other programs, and try again.") from None
    return aside if there else None


def last_good(folder: Path) -> Backup | None:
    """The newest back-up that is sound."""
    return next((one for one in backups(folder) if one.path.suffix == ".db" and is_sound(one.path)), None)


def is_sound(path: Path) -> bool:
    """Is it a store without damage, down to the last document and file?"""
    try:
        with closing(sqlite3.connect(f"{path.resolve().as_uri()}?mode=ro", uri=True)) as connection:
            return _is_sound(connection)
    except (sqlite3.DatabaseError, ValueError, TypeError):
        return False


_ROWS = f"SELECT kind, document, seal, {', '.join(SEALED)} FROM revision LEFT JOIN thing ON thing.id = revision.thing"


def _is_sound(connection: sqlite3.Connection) -> bool:
    if connection.execute("PRAGMA integrity_check(1)").fetchone() != ("ok",):
        return False
    connection.row_factory = sqlite3.Row
    try:
        for row in connection.execute(_ROWS):
            check(dict(row))
    except Unsound:
        return False
    return all(hashlib.sha256(row["data"]).hexdigest() == row["sha"]
               for row in connection.execute("SELECT data, sha FROM file"))


def synced(folder: Path) -> None:
    """See that names that came into a folder are on the disk, and not only on their way there."""
    if os.name == "posix":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _copy(store: Path, work: Path) -> None:
    """The store as it is at this moment, without what can be computed again, as one plain file."""
    with closing(opened(store)) as source, closing(sqlite3.connect(work, isolation_level=None)) as copy:
        source.backup(copy)
        copy.execute("PRAGMA journal_mode = DELETE")
        if copy.execute("DELETE FROM kept").rowcount:
            copy.execute("VACUUM")
        if not _is_sound(copy):
            raise sqlite3.DatabaseError("malformed")


def _put_in_place(backup: Path, work: Path) -> None:
    with closing(opened(backup)) as source, closing(sqlite3.connect(work, isolation_level=None)) as copy:
        source.backup(copy)
        copy.execute("PRAGMA journal_mode = WAL")


def opened(path: Path) -> sqlite3.Connection:
    """The SQLite file that stands there; none is begun."""
    return sqlite3.connect(f"{path.resolve().as_uri()}?mode=rw", uri=True, timeout=30, isolation_level=None)


def _free_name(folder: Path, name: str) -> Path:
    numbers = ("", *(f"-{n}" for n in range(2, 1000)))
    return next(path for path in (folder / f"{name}{n}.db" for n in numbers) if not path.exists())


def _superfluous(found: Sequence[Backup]) -> list[Backup]:
    """Those that are neither among the newest nor the last of one of the last twelve months."""
    last_of_month = {f"{one.made:%Y-%m}": one for one in reversed(found)}
    months = sorted(last_of_month)[-MONTHS:]
    wanted = {one.name for one in (*found[:NEWEST], *(last_of_month[m] for m in months))}
    return [one for one in found if one.name not in wanted]


def _kept(folder: Path, now: datetime.datetime, ending: str, write: Callable[[Path], object]) -> Backup:
    """Write a new back-up, whole or not at all, and thin the older ones."""
    place = folder / FOLDER
    made = now.astimezone(datetime.UTC).replace(microsecond=0)
    path = place / f"workroom-{made.strftime(_STAMP)}.{ending}"
    try:
        place.mkdir(mode=0o700, exist_ok=True)
        clear(place)
        with replacing(path) as work:
            write(Path(work))
        synced(place)
        for old in _superfluous(backups(folder)):
            old.path.unlink(missing_ok=True)
        return Backup(path.name, path, made, path.stat().st_size)
    except sqlite3.OperationalError as problem:
        raise FileError(f'No back-up can be written to "{place}" ({problem}); make room there.') from None
    except sqlite3.DatabaseError:
        raise damaged(folder / NAME, BROKEN) from None
    except OSError as problem:
        raise FileError(f'No back-up can be written to "{place}" ({problem.strerror}); make room there.') from None


def clear(place: Path) -> None:
    """Take away what was left by a program that was broken off while it made a store or a back-up."""
    for path in (*place.glob(".workroom*"), *place.glob(".new-*")):
        if time.time() - path.stat().st_mtime > _BROKEN_OFF:
            shutil.rmtree(path) if path.is_dir() else path.unlink(missing_ok=True)
