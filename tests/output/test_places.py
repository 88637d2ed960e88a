"""Where words fit on a piece: the very place that looking at every place would give, with far less looking."""

import cmath

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from toilewright.geometry import Path
from toilewright.output import places
from toilewright.output.places import FAR_ENOUGH, Line, fitted, ground, place_label

WORDS = (Line("3  bodice front", 6.0, True), Line("cut 2, a pair", 3.8))


def ring(*points):
    return Path.polyline((*points, points[0]))


@st.composite
def pieces(draw):
    """A star of nine corners round the middle, so that it may be hollow, slim or round; and a few lines across it."""
    slim = draw(st.sampled_from([8, 60, 150]))
    sizes = draw(st.lists(st.integers(slim, 240), min_size=9, max_size=9))
    inside = ring(*(complex(17, 5) + cmath.rect(size, 2 * cmath.pi * k / 9) for k, size in enumerate(sizes)))
    ends = st.builds(complex, st.integers(-200, 200), st.integers(-200, 200))
    marks = draw(st.lists(st.tuples(ends, ends).filter(lambda e: e[0] != e[1]), max_size=3))
    return inside, [Path.line(a, b) for a, b in marks]


def everywhere(inside, marks, wide, tall, clear):
    """The best worth of all places, each block measured against every line."""
    flat = [[(p.real, p.imag) for p in m.flatten(0.5)] for m in (inside, *marks)]
    room = shapely.Polygon(flat[0])
    drawn = shapely.union_all([shapely.LineString(line) for line in flat])
    x0, y0, x1, y1 = room.bounds
    xs, ys = np.meshgrid(*(np.linspace(low, high, 48)[1:-1] for low, high in ((x0, x1), (y0, y1))))
    blocks = shapely.box(xs - wide / 2, ys - tall / 2, xs + wide / 2, ys + tall / 2)
    gap = np.minimum(shapely.distance(blocks, drawn), FAR_ENOUGH)
    worth = gap - 0.02 * np.hypot(xs - (x0 + x1) / 2, ys - (y0 + y1) / 2)
    return np.where((gap >= clear) & shapely.contains(room, blocks), worth, -np.inf).max()


@pytest.fixture(scope="module")
def one_by_one():
    """Blocks measured singly, so that a search which ends too early shows."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(places, "_AT_ONCE", 1)
        yield


@pytest.mark.usefixtures("one_by_one")
@given(pieces(), st.sampled_from([(12, 12), (60, 9), (9, 45), (150, 20)]))
def test_no_place_of_all_is_better_than_the_one_that_is_found(piece, size):
    (inside, marks), (wide, tall) = piece, size
    best = everywhere(inside, marks, wide, tall, 2.0)
    at = places._roomiest(ground(inside, marks), (wide, tall), 2.0)
    if at is None:
        assert best == -np.inf
        return
    block = shapely.box(at.real - wide / 2, at.imag - tall / 2, at.real + wide / 2, at.imag + tall / 2)
    gap = min(shapely.distance(block, shapely.union_all(
        [shapely.LineString([(p.real, p.imag) for p in m.flatten(0.5)]) for m in (inside, *marks)])), FAR_ENOUGH)
    x0, y0, x1, y1 = inside.bounds
    assert gap >= 2.0 and gap - 0.02 * abs(at - complex(x0 + x1, y0 + y1) / 2) == pytest.approx(best, abs=1e-6)


def test_most_places_are_left_out_unmeasured(monkeypatch):
    """Of the 2,116 places on a piece a few dozen blocks are measured; none where they could not fit."""
    seen = []
    box = shapely.box
    monkeypatch.setattr(shapely, "box", lambda *sides: seen.append(len(sides[0])) or box(*sides))
    assert places._roomiest(ground(ring(0j, 300 + 0j, 260 + 500j, 20 + 500j), []), (90.0, 20.0), 3.0) is not None
    assert 0 < sum(seen) <= 150
    seen.clear()
    assert places._roomiest(ground(ring(0j, 80 + 0j, 80 + 500j, 500j), []), (90.0, 20.0), 3.0) is None
    assert not seen


def test_a_label_is_made_smaller_only_as_far_as_it_may():
    narrow = ground(ring(0j, 44 + 0j, 44 + 44j, 44j), [])
    captions, _ = fitted(WORDS, narrow, 1.0)
    share = captions[0].height / WORDS[0].height
    assert 0.4 <= share < 1.0
    assert fitted(WORDS, narrow, 1.0, share) is not None
    assert fitted(WORDS, narrow, 1.0, share + 0.01) is None


def test_words_keep_as_far_from_the_lines_as_is_asked():
    strip = ground(ring(0j, 200 + 0j, 200 + 30j, 30j), [])
    assert places._roomiest(strip, (80.0, 20.0), 4.5) is not None
    assert places._roomiest(strip, (80.0, 20.0), 5.5) is None
    diamond = ground(ring(22.6 + 0j, 22.6j, -22.6 + 0j, -22.6j), [])
    assert places._roomiest(diamond, (20.0, 20.0), 0.5) is not None
    assert places._roomiest(diamond, (20.0, 20.0), 3.0) is None


def test_words_leave_the_middle_for_a_little_more_room():
    """1 mm of room is worth 50 mm of way, up to 12 mm: not where it takes 67 mm to win one, but where it takes 40."""
    at = places._roomiest(ground(ring(0j, 600 - 9j, 600 + 28j, 19j), []), (10.0, 10.0), 3.0)
    assert at.real == pytest.approx(300.0, abs=25)
    at = places._roomiest(ground(ring(0j, 600 - 15j, 600 + 29j, 14j), []), (10.0, 10.0), 3.0)
    assert at.real == pytest.approx(400.0, abs=25)


def test_words_without_any_room_are_written_over_the_middle():
    strip = ring(0j, 200 + 0j, 200 + 4j, 4j)
    assert fitted(WORDS, ground(strip, [])) is None
    captions, block = place_label(WORDS, strip, [])
    assert abs(sum(block) / 4 - (100 + 2j)) < 1e-9 and [c.text for c in captions] == [w.text for w in WORDS]


def test_a_small_mark_within_the_words_is_seen():
    """A drill mark as large as a letter: the block goes beside it, not round it."""
    hole = ring(99 + 49j, 101 + 49j, 101 + 51j, 99 + 51j)
    at = places._roomiest(ground(ring(0j, 200 + 0j, 200 + 100j, 100j), [hole]), (60.0, 20.0), 2.0)
    assert abs(at.real - 100) > 30 or abs(at.imag - 50) > 10
