"""The bound on time and memory."""

import threading
import time

import numpy as np
import pytest

from toilewright.errors import FileError
from toilewright.make.guard import bounded


def test_work_without_end_is_stopped():
    with pytest.raises(FileError, match=r'"wild\.svg" asks for more time'), bounded("wild.svg", seconds=0.2):
        while True:
            sum(range(1000))


def test_even_where_every_error_is_swallowed():
    with pytest.raises(FileError, match="time"), bounded("wild.svg", seconds=0.2):
        while True:
            try:
                sum(range(1000))
            except Exception:
                continue


def test_memory_is_bounded():
    kept = []
    with pytest.raises(FileError, match="more memory"), bounded("wild.svg", memory=50_000_000):
        while True:
            kept.append(np.ones(100_000))
            time.sleep(0.002)
    assert sum(a.nbytes for a in kept) < 1_000_000_000


@pytest.mark.parametrize("problem", [MemoryError(), RuntimeError("std::bad_alloc")])
def test_a_machine_without_memory(problem):
    with pytest.raises(FileError, match="more memory"), bounded("wild.svg"):
        raise problem


def test_other_errors_pass_and_no_watcher_stays():
    with pytest.raises(ValueError, match="mine"), bounded("good.svg"):
        raise ValueError("mine")
    with bounded("good.svg", seconds=60):
        made = 1 + 1
    assert made == 2
    assert all(t.name != "guard" for t in threading.enumerate())


def test_stopped_while_another_error_is_looked_at():
    class Endless(Exception):
        def __str__(self):
            while True:
                sum(range(1000))

    with pytest.raises(FileError, match="time"), bounded("wild.svg", seconds=0.0):
        raise Endless
    assert all(t.name != "guard" for t in threading.enumerate())


def test_nothing_arrives_after_the_work():
    for _ in range(5):
        with pytest.raises(FileError), bounded("wild.svg", seconds=0.0):
            while True:
                sum(range(1000))
        for _ in range(10):
            sum(range(10_000))
