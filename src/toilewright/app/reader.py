"""Reading files that somebody else made: in a process of its own, watched, bounded, and stopped when she says so.

Nothing of such a file is parsed here; what comes back is checked before it is believed.
"""

from __future__ import annotations

import contextlib
import json
import os
import queue
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass
from typing import IO, Any

import msgspec

from toilewright.app.long_work import Progress
from toilewright.app.words import say
from toilewright.errors import AlterationError, FileError, GeometryError, InputError, NameUnknown, SewError, UnitError
from toilewright.make import reader

STAGES = ("open", "join", "recognise", "name")
"""Of the reader's work, in order, as :data:`toilewright.make.reading.STAGES`."""

_KINDS = {k.__name__: k for k in (InputError, FileError, UnitError, NameUnknown, GeometryError, AlterationError,
                                  SewError)}
_LONGEST_SENTENCE = 2000
_MEGA = 1_000_000


@dataclass(frozen=True, slots=True)
class Bounds:
    """How much one file may ask for.

    Attributes:
        seconds: of computing, which the system watches.
        waiting: seconds by the clock on the wall, on a busy machine too.
        memory: bytes of address space.
        file: bytes of the file.
        answer: bytes of what comes back.
    """

    seconds: int = reader.SECONDS
    waiting: float = 240.0
    memory: int = reader.MEMORY
    file: int = 80 * _MEGA
    answer: int = 120 * _MEGA


USUAL = Bounds()


def read_file(data: bytes, name: str, labels: dict[str, Any] | None, progress: Progress,
              bounds: Bounds = USUAL) -> bytes:
    """Read a pattern file; the answer was checked by :func:`toilewright.make.keeping.unpack_reading`.

    Args:
        data, name: the file.
        labels: its confirmed names as plain values; None to guess them.
        progress: is told each stage, and may stop the work.

    Raises:
        InputError: the file or its names cannot be used, or asked for too much; one sentence says which.
        Stopped: she stopped it.
    """
    if len(data) > bounds.file:
        raise FileError(say("work.too_large", name=name, n=bounds.file // _MEGA))
    answer = _ask(reader.pack_job(name, data, labels), name, progress, bounds)
    kind, rest = answer[:1], answer[1:]
    if kind == reader.ERROR:
        raise _refused(rest, name)
    if kind != reader.READING:
        raise FileError(say("work.reader_broke", name=name))
    return _checked(rest, name)


def _checked(data: bytes, name: str) -> bytes:
    from toilewright.make.keeping import unpack_reading

    try:
        unpack_reading(data)
    except FileError:
        raise FileError(say("work.reader_broke", name=name)) from None
    return data


def _refused(data: bytes, name: str) -> InputError:
    try:
        said = reader.unpack_refusal(data)
    except msgspec.DecodeError:
        return FileError(say("work.reader_broke", name=name))
    return _KINDS.get(said.kind, InputError)(said.text[:_LONGEST_SENTENCE])


# -- the process -------------------------------------------------------------------------------------


def _ask(job: bytes, name: str, progress: Progress, bounds: Bounds) -> bytes:
    """The answer to a job; the process is gone when this returns, however it ends."""
    progress(say("work.stage_start"), 0, len(STAGES))
    with tempfile.TemporaryDirectory(prefix="toilewright-", ignore_cleanup_errors=True) as folder, \
            _process(folder, bounds) as child:
        stages: queue.SimpleQueue[str] = queue.SimpleQueue()
        answer = bytearray()
        threads = [threading.Thread(target=act, args=words, daemon=True) for act, words in (
            (_feed, (child.stdin, job)), (_collect, (child, answer, bounds.answer)), (_listen, (child.stderr, stages)))]
        for thread in threads:
            thread.start()
        try:
            _watch(child, stages, progress, name, bounds.waiting)
        finally:
            child.kill()
            for thread in threads:
                thread.join()
        if child.returncode != 0 or len(answer) > bounds.answer:
            raise FileError(_why(child.returncode, name))
        return bytes(answer)


@contextlib.contextmanager
def _process(folder: str, bounds: Bounds) -> Iterator[subprocess.Popen[bytes]]:
    """The reader, in an empty folder and with next to no environment."""
    environment = {"TMPDIR": folder, "TEMP": folder, "TMP": folder, "OPENBLAS_NUM_THREADS": "1"}
    if "SYSTEMROOT" in os.environ:  # without it Windows starts nothing
        environment["SYSTEMROOT"] = os.environ["SYSTEMROOT"]
    command = [sys.executable, "-I", "-m", "toilewright.make.reader", "--seconds", str(bounds.seconds),
               "--memory", str(bounds.memory)]
    with subprocess.Popen(command, cwd=folder, env=environment, close_fds=True, stdin=subprocess.PIPE,
                          stdout=subprocess.PIPE, stderr=subprocess.PIPE) as child:
        yield child


def _watch(child: subprocess.Popen[bytes], stages: queue.SimpleQueue[str], progress: Progress, name: str,
           waiting: float) -> None:
    """Until the process has ended: pass its stages on, and look whether to stop it."""
    end = time.monotonic() + waiting
    while child.poll() is None:
        if time.monotonic() > end:
            raise FileError(say("work.reader_stopped", name=name, what=say("work.reader_time")))
        try:
            stage = stages.get(timeout=0.05)
        except queue.Empty:
            progress()
        else:
            progress(say(f"work.stage_{stage}"), STAGES.index(stage), len(STAGES))


def _why(code: int, name: str) -> str:
    """The system ends a process that goes over its bounds; a Python that has no memory left ends by itself with 1."""
    if code < 0 or code == 1:
        return say("work.reader_stopped", name=name, what=say("work.reader_room"))
    return say("work.reader_broke", name=name)


def _feed(stream: IO[bytes], job: bytes) -> None:
    with contextlib.suppress(OSError), stream:
        stream.write(job)


def _collect(child: subprocess.Popen[bytes], answer: bytearray, most: int) -> None:
    """The answer; a process that answers without end is ended."""
    with contextlib.suppress(OSError, ValueError):
        while chunk := child.stdout.read1(1 << 16):
            answer += chunk
            if len(answer) > most:
                child.kill()
                return


def _listen(stream: IO[bytes], stages: queue.SimpleQueue[str]) -> None:
    """Stages that are told; anything else on that stream is let go."""
    with contextlib.suppress(OSError, ValueError):
        while line := stream.readline(1 << 12):
            try:
                stage = json.loads(line)["stage"]
            except (ValueError, LookupError, TypeError):
                continue
            if stage in STAGES:
                stages.put(stage)
