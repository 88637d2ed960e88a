"""Is the store sound? Looked at when it is opened, before anything is written to it."""

from __future__ import annotations

from pathlib import Path

from toilewright.errors import FileError


class DamagedStore(FileError):
    """The file of the store is damaged or gone; nothing was written to it."""


def damaged(path: Path, why: str) -> DamagedStore:
    """The error for a damaged store."""
    return DamagedStore(f'The store "{path}" is damaged ({why}).')
