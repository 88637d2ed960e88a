"""Longer work: progress is told, an answer kept, a stop obeyed, a fault said in a sentence."""

import asyncio
import json
import threading

import httpx
import pytest
from loops import run
from starlette.applications import Starlette

from toilewright.app.long_work import AT_ONCE, KEPT, ROUTES, JobState, Stopped, Work
from toilewright.errors import InputError, NameUnknown

PATIENCE = 20
"""seconds after which a test has failed; far more than anything here takes."""


class Clock:
    now = 0.0

    def __call__(self):
        return self.now


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def work(clock):
    one = Work(clock)
    yield one
    one.close()


class Step:
    """A piece of work that goes on when the test says so."""

    def __init__(self, end=lambda: {"pieces": 13}):
        self.begun, self.go_on, self.end, self.left = threading.Event(), threading.Event(), end, threading.Event()

    def __call__(self, progress):
        try:
            progress("Reading", 1, 3)
            self.begun.set()
            while not self.go_on.wait(0.01):
                progress()
            progress("Naming", 3, 3)
            return self.end()
        finally:
            self.left.set()


def ended(work, job):
    async def wait():
        while work.job(job).state is JobState.RUNNING:
            await asyncio.sleep(0.005)
        return work.job(job)
    return run(asyncio.wait_for(wait(), PATIENCE))


class Table:
    def __init__(self, work):
        self.work = work


def client(work):
    app = Starlette(routes=ROUTES)
    app.state.table = Table(work)
    return httpx.AsyncClient(transport=httpx.ASGITransport(app), base_url="http://127.0.0.1")


def test_progress_is_told_and_the_answer_kept(work):
    step = Step()
    job = work.start("Reading the dress", step)
    assert step.begun.wait(PATIENCE)
    now = work.job(job)
    assert (now.title, now.state) == ("Reading the dress", JobState.RUNNING)
    assert (now.words, now.done, now.of) == ("Reading", 1, 3)
    step.go_on.set()
    assert ended(work, job).as_dict() == {
        "id": job, "title": "Reading the dress", "state": "done", "words": "Naming", "done": 3, "of": 3,
        "answer": {"pieces": 13}, "error": None}


def test_a_stop_ends_it_where_it_is(work):
    step = Step()
    job = work.start("Reading", step)
    assert step.begun.wait(PATIENCE)
    work.stop(job)
    assert ended(work, job).state is JobState.STOPPED
    assert step.left.is_set()
    assert work.job(job).answer is None


def test_a_stop_goes_through_work_that_catches_everything(work):
    def stubborn(progress):
        while True:
            try:
                progress()
            except Exception:
                continue

    job = work.start("Reading", stubborn)
    work.stop(job)
    assert ended(work, job).state is JobState.STOPPED


def fails(problem):
    def function(progress):
        raise problem
    return function


def test_an_error_is_its_sentence(work):
    job = ended(work, work.start("Reading", fails(InputError("The sheet is torn."))))
    assert (job.state, job.error) == (JobState.FAILED, {"kind": "InputError", "text": "The sheet is torn."})


def test_a_fault_of_ours_is_a_sentence_without_places(work):
    job = ended(work, work.start("Reading", fails(LookupError("/home/her/secret.py"))))
    assert job.state is JobState.FAILED
    assert "no fault of yours" in job.error["text"] and "secret" not in job.error["text"]


def test_only_a_few_run_at_once(work):
    steps = [Step() for _ in range(AT_ONCE)]
    jobs = [work.start("Reading", step) for step in steps]
    with pytest.raises(InputError, match="running already"):
        work.start("One more", Step())
    steps[0].go_on.set()
    ended(work, jobs[0])
    work.start("One more", Step())


def test_what_ended_is_forgotten_after_a_while_and_what_runs_is_not(work, clock):
    running = Step()
    old, going = work.start("Done", lambda progress: 1), work.start("Going", running)
    ended(work, old)
    clock.now += KEPT
    assert work.job(old).answer == 1
    clock.now += 1
    with pytest.raises(NameUnknown):
        work.job(old)
    assert work.job(going).state is JobState.RUNNING


def test_everything_ends_with_the_program(clock):
    work = Work(clock)
    steps = [Step(), Step()]
    jobs = [work.start("Reading", step) for step in steps]
    work.close()
    assert {ended(work, job).state for job in jobs} == {JobState.STOPPED}


# -- for the browser ---------------------------------------------------------------------------------


def test_a_browser_sees_a_job_and_can_stop_it(work):
    job = work.start("Reading", Step())

    async def ask():
        async with client(work) as browser:
            shown = (await browser.get(f"/jobs/{job}")).json()
            await browser.post(f"/jobs/{job}/stop")
            return shown
    assert run(ask())["state"] == "running"
    assert ended(work, job).state is JobState.STOPPED


def events(text):
    for block in text.strip().split("\n\n"):
        name, data = block.split("\n")
        yield name.removeprefix("event: "), json.loads(data.removeprefix("data: "))


@pytest.mark.parametrize("how, last", [(lambda: 7, "done"), (lambda: fails(InputError("Torn."))(None), "failed")])
def test_events_tell_every_state_and_end_with_the_job(work, how, last):
    step = Step(how)
    job = work.start("Reading", step)
    assert step.begun.wait(PATIENCE)

    async def ask():
        async with client(work) as browser:
            asyncio.get_running_loop().call_later(0.2, step.go_on.set)
            return await asyncio.wait_for(browser.get(f"/jobs/{job}/events"), PATIENCE)
    answer = run(ask())
    assert answer.headers["content-type"].startswith("text/event-stream")
    told = list(events(answer.text))
    assert told[0][0] == "running" and told[0][1]["words"] == "Reading"
    assert [name for name, _ in told].count(last) == 1 and told[-1][0] == last


def test_events_of_a_job_that_ended_are_its_end(work):
    job = work.start("Reading", lambda progress: "there")
    ended(work, job)

    async def ask():
        async with client(work) as browser:
            return await browser.get(f"/jobs/{job}/events")
    assert [(name, data["answer"]) for name, data in events(run(ask()).text)] == [("done", "there")]


def test_nobody_is_told_who_does_not_listen_any_more(work):
    """The server's side ends when the browser is gone, while the job goes on."""
    step = Step()
    job = work.start("Reading", step)
    app = Starlette(routes=ROUTES)
    app.state.table = Table(work)

    async def ask():
        gone, sent, asked = asyncio.Event(), [], []

        async def receive():
            if not asked:
                asked.append(1)
                return {"type": "http.request", "body": b"", "more_body": False}
            await gone.wait()
            return {"type": "http.disconnect"}

        async def send(message):
            sent.append(message)
            if len(sent) == 2:
                gone.set()

        await asyncio.wait_for(app({
            "type": "http", "method": "GET", "path": f"/jobs/{job}/events", "raw_path": b"", "query_string": b"",
            "headers": [], "scheme": "http", "server": ("127.0.0.1", 1), "asgi": {"version": "3.0"}}, receive, send),
            PATIENCE)
        return sent
    assert len(run(ask())) >= 2
    assert work.job(job).state is JobState.RUNNING


def test_stopped_is_caught_by_nobody_on_the_way():
    assert not issubclass(Stopped, Exception)
