"""The library's searches one after another: when the next begins, and which lays are squeezed."""

from packing.test_solve import angles

from toilewright.packing import by_engine as rounds
from toilewright.packing.engine import Engine, Found, Task
from toilewright.packing.first_fit import first_fit
from toilewright.packing.valid import faults


def news(*rows):
    return [rounds._News(at, Found(0, 1, length, order=k)) for k, (at, length) in enumerate(rows)]


def test_a_search_that_finds_nothing_more_begins_again_with_another_seed(monkeypatch):
    seeds, start = [], Engine.start
    monkeypatch.setattr(rounds, "STALE", 1.2)
    monkeypatch.setattr(Engine, "start", lambda engine, task: (seeds.append(task.seed), start(engine, task))[1])
    problem = angles(2)
    found = rounds.by_engine(problem, 60.0, 5, first_fit(problem), stop=lambda: len(seeds) > 2)
    assert seeds == [5 + k * rounds.FAR_SEED for k in range(3)]
    assert faults(problem, found) == ()


def test_a_search_is_stale_after_as_long_again_as_it_took():
    task = Task(400.0, (), explore=400)
    assert not rounds._stale([], 100.0, task, 500.0)
    assert not rounds._stale(news((10.0, 900.0)), 39.0, task, 500.0)
    assert rounds._stale(news((10.0, 900.0)), 41.0, task, 500.0)
    assert not rounds._stale(news((80.0, 900.0)), 155.0, task, 500.0)
    assert rounds._stale(news((80.0, 900.0)), 165.0, task, 500.0)
    assert not rounds._stale(news((80.0, 900.0)), 480.0, task, 500.0)  # too late for another one
    assert not rounds._stale(news((10.0, 900.0)), 410.0, task, 500.0)  # the library squeezes


def test_a_short_search_is_squeezed_where_it_paused():
    heard = news((0.5, 1000.0), (2.0, 990.0), (6.0, 980.0), (9.6, 979.0), (9.8, 978.0))
    assert [f.length for f in rounds._to_squeeze(heard, 10.0)] == [980.0, 990.0, 1000.0]
    far = news((0.5, 1000.0), (9.6, 979.0), (9.9, 950.0))
    assert [f.length for f in rounds._to_squeeze(far, 10.0)] == [950.0, 979.0, 1000.0]
    assert rounds._to_squeeze([], 10.0) == []


def test_a_long_search_is_squeezed_at_its_end():
    heard = news(*((float(k), 1000.0 - k) for k in range(1, 60)))
    assert [f.length for f in rounds._to_squeeze(heard, 60.0)] == [941.0 + k for k in range(rounds.SQUEEZED)]
