"""A file of a bearable size, read whole."""

from __future__ import annotations

import os

from toilewright.errors import FileError
from toilewright.intake.limits import MAX_FILE_BYTES


def whole_file(path: str | os.PathLike[str], name: str, instead: str) -> bytes:
    """The bytes of a file.

    Args:
        name: what to call it in messages.
        instead: what to do when it is too large, e.g. "save it without pictures".

    Raises:
        FileError: it cannot be opened, or is larger than any pattern.
    """
    try:
        if os.path.getsize(path) > MAX_FILE_BYTES:
            raise FileError(f'"{name}" is larger than {MAX_FILE_BYTES // 1_000_000} MB, more than a pattern needs; '
                            f"{instead}.")
        with open(path, "rb") as file:
            return file.read()
    except OSError as error:
        raise FileError(f'"{name}" cannot be opened ({error.strerror or error}).') from None
