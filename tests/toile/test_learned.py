"""What several makes had in common: more makes, surer; makes that disagree, less sure."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from toilewright.fit.toile.learned import BETWEEN_MAKES, USUAL, Lesson, learn

AMOUNTS = st.lists(st.floats(-40, 40), min_size=1, max_size=6)


def lessons(amounts, spread=4.0, name="high round back", **options):
    return [Lesson(f"make {n}", name, amount, spread, options) for n, amount in enumerate(amounts)]


def test_one_make_by_hand():
    [one] = learn(lessons([15.0], 8.0))
    # 8 and 6 make 10: weight 1/100 against 1/400 for nothing, so four fifths of 15, give or take sqrt(80).
    assert (one.amount, one.spread, one.makes) == (pytest.approx(12.0), pytest.approx(80**0.5), 1)
    assert not one.standing  # it may be the pattern's fault


def test_two_makes_that_agree_become_standing_with_their_reason():
    [one] = learn(lessons([15.0, 12.0]))
    assert one.standing and one.makes == 2 and 12.0 < one.amount < 13.5
    assert "2 makes asked for 1.5 cm, 1.2 cm" in one.say() and "5/8 in" in one.say("in")


def test_makes_that_disagree_are_not_believed():
    [one] = learn(lessons([25.0, -15.0]))
    assert not one.standing and one.spread > learn(lessons([6.0, 4.0]))[0].spread
    [zero] = learn(lessons([6.0, 0.0, 0.0]))
    assert abs(zero.amount) < 5.0 and not zero.standing


@given(AMOUNTS)
def test_it_lies_between_nothing_and_what_the_makes_said(amounts):
    [one] = learn(lessons(amounts))
    assert min(0.0, *amounts) - 1e-9 <= one.amount <= max(0.0, *amounts) + 1e-9
    assert 0 < one.spread < USUAL


@given(st.floats(8, 30), st.integers(1, 30))
def test_more_makes_that_agree_are_surer_and_nearer(amount, makes):
    [few], [more] = learn(lessons([amount] * makes)), learn(lessons([amount] * (makes + 1)))
    assert more.spread < few.spread and abs(more.amount - amount) < abs(few.amount - amount)
    assert more.spread >= min(4.0, BETWEEN_MAKES) / (makes + 1) ** 0.5 * 0.9


def test_of_one_make_the_later_lesson_counts():
    first, second = lessons([15.0, 12.0])
    again = Lesson(first.make, first.name, 9.0, 4.0)
    assert [(one.makes, one.lessons) for one in learn([first, second, again])] == [(2, (again, second))]


def test_each_alteration_and_each_side_is_learned_by_itself():
    found = learn([*lessons([15.0, 14.0]), *lessons([8.0, 8.0], name="forward shoulder", side="left"),
                   *lessons([1.0, 1.0], name="forward shoulder")])
    assert [(one.name, dict(one.options), one.standing) for one in found] == [
        ("high round back", {}, True), ("forward shoulder", {"side": "left"}, True), ("forward shoulder", {}, False)]
