"""Files that appear whole, or not at all."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


@contextmanager
def replacing(path: str | os.PathLike[str]) -> Iterator[str]:
    """A temporary name beside `path` that takes its place once the block ends well."""
    target = Path(path)
    handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
    os.close(handle)
    try:
        yield name
        os.chmod(name, 0o666 & ~_umask())
        os.replace(name, target)
    finally:
        Path(name).unlink(missing_ok=True)


def _umask() -> int:
    now = os.umask(0)
    os.umask(now)
    return now
