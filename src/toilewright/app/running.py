"""Is the worktable running already? One at a time for each store on one machine."""

from __future__ import annotations

import contextlib
import hashlib
import http.client
import json
import os
import secrets
import time
from pathlib import Path
from typing import IO

NAME = "worktable"
_FIRST = 1 << 20
"""byte that is locked; on some systems nobody can read what is locked."""


class Lock:
    """The lock of one store on this machine; the system lets go of it when the program ends, however it ends.

    Attributes:
        knock: a secret by which a second start of the program is told from a stranger.
    """

    def __init__(self, folder: Path, store: str = "") -> None:
        """In a folder that is hers alone.

        Args:
            store: tells the stores apart that have no folder of their own.
        """
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        mark = f"-{hashlib.sha256(store.encode()).hexdigest()[:12]}" if store else ""
        self._path, self._told = folder / f"{NAME}{mark}.lock", folder / f"{NAME}{mark}.json"
        self._file: IO[bytes] | None = None
        self.knock = secrets.token_urlsafe(32)

    def take(self) -> bool:
        """Take it, if nobody has it."""
        file = open(self._path, "ab")  # noqa: SIM115 - held until the program ends
        try:
            _lock(file)
        except OSError:
            file.close()
            return False
        self._file = file
        self._told.unlink(missing_ok=True)
        return True

    def tell(self, port: int) -> None:
        """Leave word for a second start where this one is to be found."""
        with contextlib.suppress(FileNotFoundError):
            self._told.unlink()
        handle = os.open(self._told, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(handle, "w", encoding="ascii") as file:
            json.dump({"port": port, "knock": self.knock}, file)

    def close(self) -> None:
        """Let go of it."""
        if self._file is not None:
            self._told.unlink(missing_ok=True)
            self._file.close()
            self._file = None

    def find(self, patience: float = 10.0) -> str | None:
        """The address, with a new key, of the program that has it; None when it does not answer."""
        end = time.monotonic() + patience
        while True:
            with contextlib.suppress(OSError, ValueError, LookupError, TypeError):
                told = json.loads(self._told.read_text(encoding="ascii"))
                return address(told["port"], _knock(told["port"], told["knock"]))
            if time.monotonic() > end:
                return None
            time.sleep(0.1)


def address(port: int, key: str) -> str:
    """Where a browser comes in."""
    return f"http://127.0.0.1:{port}/in?key={key}"


def _knock(port: int, secret: str) -> str:
    asked = http.client.HTTPConnection("127.0.0.1", port, timeout=5)
    with contextlib.closing(asked):
        asked.request("POST", "/knock", headers={"X-Toilewright-Knock": secret, "Accept": "application/json"})
        return json.loads(asked.getresponse().read(10_000))["key"]


def _lock(file: IO[bytes]) -> None:
    try:
        import fcntl
    except ImportError:
        import msvcrt

        file.seek(_FIRST)
        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined]
    else:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
