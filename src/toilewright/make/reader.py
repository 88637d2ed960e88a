"""Reads one pattern file in a process of its own, whose time, memory and places to write are bounded by the system.

    python -m toilewright.make.reader [--seconds N] [--memory BYTES]

takes a job (see :func:`pack_job`) on standard input, in a folder that is its own, tells the stages of the work on
standard error (a JSON object a line), and answers on standard output: ``R`` and the reading's bytes, or ``E`` and the
sentence that says what stops it.
"""

from __future__ import annotations

import argparse
import contextlib
import json
import os
import sys
import tempfile
from collections.abc import Iterator
from typing import Any, BinaryIO

import msgspec

SECONDS = 60
"""seconds of computing after which the system ends the process; the guard on reading stops at half of that."""

MEMORY = 2 << 30
"""bytes of address space; the largest honest sheet takes 200 MB beside the libraries' own."""

LARGEST = 100_000_000
"""bytes of the largest file that it may write: the pattern itself, for the readers."""

_OPEN_FILES = 64
_KEPT_OF_ENVIRONMENT = ("SYSTEMROOT", "TEMP", "TMP", "TMPDIR", "OPENBLAS_NUM_THREADS")

READING, ERROR = b"R", b"E"


class _Job(msgspec.Struct, frozen=True):
    name: str
    data: bytes
    labels: dict[str, Any] | None = None


class Refusal(msgspec.Struct, frozen=True):
    """Why a file could not be read: the kind of error, and its sentence."""

    kind: str
    text: str


def pack_job(name: str, data: bytes, labels: dict[str, Any] | None = None) -> bytes:
    """A job for the reader: a file's name and bytes, and its confirmed names as plain values."""
    return msgspec.msgpack.encode(_Job(name, data, labels))


def unpack_refusal(data: bytes) -> Refusal:
    """The refusal of such bytes.

    Raises:
        msgspec.DecodeError: they are something else.
    """
    return msgspec.msgpack.decode(data, type=Refusal)


def bound(seconds: int, memory: int) -> None:
    """Ask the system to bound this process; where it has no such bounds, the guard on reading remains."""
    try:
        import resource
    except ImportError:
        return
    for what, soft, hard in ((resource.RLIMIT_CPU, seconds, seconds + 1), (resource.RLIMIT_AS, memory, memory),
                             (resource.RLIMIT_FSIZE, LARGEST, LARGEST), (resource.RLIMIT_CORE, 0, 0),
                             (resource.RLIMIT_NOFILE, _OPEN_FILES, _OPEN_FILES)):
        # A system may refuse one of them, or hold it lower already.
        with contextlib.suppress(OSError, ValueError):
            resource.setrlimit(what, (soft, hard))


def main(words: list[str] | None = None) -> None:
    """Read the job, answer, and end."""
    asked = _words().parse_args(words)
    bound(asked.seconds, asked.memory)
    for name in set(os.environ) - set(_KEPT_OF_ENVIRONMENT):
        del os.environ[name]
    with _answering() as out:
        out.write(_answer(sys.stdin.buffer.read()))


def _words() -> argparse.ArgumentParser:
    words = argparse.ArgumentParser(description="Reads one pattern file from standard input.")
    words.add_argument("--seconds", type=int, default=SECONDS)
    words.add_argument("--memory", type=int, default=MEMORY)
    return words


@contextlib.contextmanager
def _answering() -> Iterator[BinaryIO]:
    """Standard output for the answer alone; whatever a library prints goes to nobody."""
    out: BinaryIO = os.fdopen(os.dup(1), "wb")
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.close(nowhere)
    with out:
        yield out


def _tell(stage: str) -> None:
    sys.stderr.write(json.dumps({"stage": stage}) + "\n")
    sys.stderr.flush()


def _answer(data: bytes) -> bytes:
    """The reading of a job, or its refusal."""
    from toilewright.errors import ToilewrightError

    try:
        return READING + _read(msgspec.msgpack.decode(data, type=_Job))
    except ToilewrightError as problem:
        return ERROR + msgspec.msgpack.encode(Refusal(type(problem).__name__, str(problem)))


def _read(job: _Job) -> bytes:
    from toilewright.make.keeping import labels_from, pack_reading
    from toilewright.make.reading import read_pattern

    labels = None if job.labels is None else labels_from(job.labels)
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, _file_name(job.name))
        with open(path, "wb") as file:
            file.write(job.data)
        return pack_reading(read_pattern(path, labels, _tell))


def _file_name(name: str) -> str:
    """The name she knows the file by, without anything that a system takes for a place."""
    plain = "".join(c for c in name.replace("\\", "/").rpartition("/")[2] if c.isprintable() and c not in '<>:"|?*')
    return plain.lstrip(".").encode()[-120:].decode(errors="ignore").strip() or "pattern"


if __name__ == "__main__":
    main()
