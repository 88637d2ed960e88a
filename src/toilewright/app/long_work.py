"""Work that takes longer than a breath: done beside the pages, with progress, and stopped when she says so."""

from __future__ import annotations

import asyncio
import json
import secrets
import threading
import time
from collections.abc import AsyncIterator, Callable
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any, Protocol

from starlette.requests import Request
from starlette.responses import JSONResponse, Response, StreamingResponse
from starlette.routing import Route

from toilewright.app.words import say
from toilewright.errors import InputError, NameUnknown, ToilewrightError

AT_ONCE = 4
"""jobs that may run at the same time; her machine has other things to do."""

KEPT = 900.0
"""seconds for which a finished job and its answer are remembered."""

_LOOK = 0.1
"""seconds between two looks at a job, for those who watch it."""


class Stopped(BaseException):
    """She stopped the work; no ``except Exception`` on the way may catch it."""


class Progress(Protocol):
    """Tells how far the work is; raises :class:`Stopped` when it is to end."""

    def __call__(self, words: str = "", done: int = 0, of: int = 0) -> None:
        """Say what is being done; without words only look whether to go on."""


class JobState(StrEnum):
    """How a job stands."""

    RUNNING = "running"
    DONE = "done"
    FAILED = "failed"
    STOPPED = "stopped"


@dataclass
class Job:
    """One piece of work.

    Attributes:
        words, done, of: what is being done now, and how much of it.
        answer: plain values, once it is done.
        error: what stopped it, in a sentence, with the kind of error.
        ended: when it ended, by the clock of its :class:`Work`.
        number: counts every change, for those who watch.
    """

    id: str
    title: str
    state: JobState = JobState.RUNNING
    words: str = ""
    done: int = 0
    of: int = 0
    answer: Any = None
    error: dict[str, str] | None = None
    ended: float = 0.0
    number: int = 0
    asked_to_stop: threading.Event = field(default_factory=threading.Event)

    def as_dict(self) -> dict[str, Any]:
        """As the browser sees it."""
        return {"id": self.id, "title": self.title, "state": self.state.value, "words": self.words, "done": self.done,
                "of": self.of, "answer": self.answer, "error": self.error}


class Work:
    """All long work of one program.

    Args:
        clock: seconds that never go back.
    """

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        """No work yet."""
        self._clock = clock
        self._lock = threading.Lock()
        self._jobs: dict[str, Job] = {}

    def start(self, title: str, function: Callable[[Progress], Any]) -> str:
        """Begin a piece of work in a thread of its own; its answer (plain values) is kept until it is fetched.

        Raises:
            InputError: too much is being done already.
        """
        job = Job(secrets.token_urlsafe(9), title)
        with self._lock:
            self._forget()
            if sum(j.state is JobState.RUNNING for j in self._jobs.values()) >= AT_ONCE:
                raise InputError(say("work.too_many", n=AT_ONCE))
            self._jobs[job.id] = job
        threading.Thread(target=self._do, args=(job, function), name=f"work {title}", daemon=True).start()
        return job.id

    def job(self, job_id: str) -> Job:
        """One piece of work.

        Raises:
            NameUnknown: there is none of that id, or it ended long ago.
        """
        with self._lock:
            self._forget()
            if job_id not in self._jobs:
                raise NameUnknown(say("work.unknown"))
            return self._jobs[job_id]

    def stop(self, job_id: str) -> None:
        """Ask a piece of work to end; what it had done is left out, nothing is half done.

        Raises:
            NameUnknown: there is none of that id.
        """
        self.job(job_id).asked_to_stop.set()

    def close(self) -> None:
        """Stop everything."""
        with self._lock:
            for job in self._jobs.values():
                job.asked_to_stop.set()

    def _do(self, job: Job, function: Callable[[Progress], Any]) -> None:
        def progress(words: str = "", done: int = 0, of: int = 0) -> None:
            if job.asked_to_stop.is_set():
                raise Stopped
            if words:
                job.words, job.done, job.of = words, done, of
                job.number += 1

        try:
            job.answer = function(progress)
            state = JobState.DONE
        except Stopped:
            state = JobState.STOPPED
        except ToilewrightError as problem:
            job.error, state = {"kind": type(problem).__name__, "text": str(problem)}, JobState.FAILED
        except Exception as problem:
            job.error = {"kind": "internal", "text": say("work.broken", title=job.title, kind=type(problem).__name__)}
            state = JobState.FAILED
        job.ended = self._clock()
        job.state = state
        job.number += 1

    def _forget(self) -> None:
        now = self._clock()
        old = [j.id for j in self._jobs.values() if j.state is not JobState.RUNNING and now - j.ended > KEPT]
        for job_id in old:
            del self._jobs[job_id]


# -- for the browser ---------------------------------------------------------------------------------


def _show(request: Request) -> Response:
    return JSONResponse(_job(request).as_dict())


async def _stop(request: Request) -> Response:
    job = _job(request)
    job.asked_to_stop.set()
    return JSONResponse(job.as_dict())


async def _events(request: Request) -> Response:
    """Every change of a job as a server-sent event; ends with the job, or when nobody listens any more."""
    return StreamingResponse(_changes(_job(request), request), media_type="text/event-stream",
                             headers={"cache-control": "no-store", "x-accel-buffering": "no"})


async def _changes(job: Job, request: Request) -> AsyncIterator[str]:
    seen = -1
    while not await request.is_disconnected():
        number, state = job.number, job.state
        if number != seen:
            seen = number
            yield f"event: {state.value}\ndata: {json.dumps(job.as_dict(), ensure_ascii=False)}\n\n"
        if state is not JobState.RUNNING:
            return
        await asyncio.sleep(_LOOK)


def _job(request: Request) -> Job:
    return request.app.state.table.work.job(request.path_params["id"])


ROUTES = [
    Route("/jobs/{id}", _show),
    Route("/jobs/{id}/events", _events),
    Route("/jobs/{id}/stop", _stop, methods=["POST"]),
]
