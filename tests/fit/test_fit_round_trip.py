"""Blocks that fit, disturbed by three alterations, and what the prescriptions make of them again."""

import importlib.util
from pathlib import Path

import pytest

from toilewright.blocks.concert import dress_for
from toilewright.fit.prescribe import USES
from toilewright.fit.prescribe.settling import settled

_spec = importlib.util.spec_from_file_location(
    "bench_fit_round_trip", Path(__file__).parents[2] / "benchmarks" / "bench_fit_round_trip.py")
bench = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(bench)

BODIES = 16


def test_prescriptions_bring_a_disturbed_block_back():
    trips = [bench.trip(i, draw=bench.drawn) for i in range(BODIES)]
    assert all(len({name for name, *_ in t["done"]}) == 3 for t in trips)
    bad = [t for t in trips if t["off"] > bench.WITHIN]
    assert len(bad) <= 1, bad


def test_the_distance_is_of_the_farthest_mark_of_all():
    body = next(bench.bodies(1, bench.drawn))
    one = dress_for(body)
    assert bench.farthest(one, one)[0] == 0.0
    longer = dress_for(body | {"neck shoulder point to bust point": body["neck shoulder point to bust point"] + 4})
    assert bench.farthest(one, longer)[0] >= 4.0


def test_everything_that_disturbs_has_a_rule():
    assert set(bench.DISTURBING) <= set(USES)


def test_amounts_that_act_on_one_another_are_settled():
    """Two lengths: the first amount brings half of the second along, the second a third of the first."""
    asked = []

    def found(x):
        asked.append(x)
        return [12.0 - x[0] - x[1] / 3, 9.0 - x[1] - x[0] / 2]

    first, second = settled(found, [12.0, 9.0], 1e-3)
    assert first + second / 3 == pytest.approx(12, abs=1e-3) and second + first / 2 == pytest.approx(9, abs=1e-3)
    assert len(asked) <= 7
    # What cannot be made leaves the amounts as they were, and what is settled is not asked twice.
    assert settled(lambda x: None, [3.0], 0.1) == [3.0]
    assert settled(lambda x: [0.0], [3.0], 0.1) == [3.0]
