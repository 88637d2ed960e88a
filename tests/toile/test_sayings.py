"""What she says she saw: understood, or refused with what would be."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from toilewright.errors import InputError, UnitError
from toilewright.fit.toile.observations import SIDES, Observation, all_signs, find_sign
from toilewright.fit.toile.sayings import _meaning, example, read_saying

SAID = [
    ("dart ends 2 cm below the bust point", "dart ends below the bust point", 20.0, "both"),
    ("The dart ends below the bust point by 3/4 in", "dart ends below the bust point", 19.05, "both"),
    ("dart points above the bust apex, 15 mm", "dart ends above the bust point", 15.0, "both"),
    ("side seam swings to the back by 1 1/2 in at the hem", "side seam swings to the back", 38.1, "both"),
    ("too tight across the back, opened by 3 cm", "too tight across the back", 30.0, "both"),
    ("folds under the nape, pinched 1.5 cm", "folds across under the nape", 15.0, "both"),
    ("folds under the nape, pinned out by 1,5 cm", "folds across under the nape", 15.0, "both"),
    ("shoulder seam 1 cm in front of the top of the shoulder", "shoulder seam before the top of the shoulder", 10.0,
     "both"),
    ("armhole seam 1 cm past the shoulder point on the left", "armhole seam beyond the shoulder point", 10.0, "left"),
    ("armhole seam off the left shoulder point by 12 mm", "armhole seam beyond the shoulder point", 12.0, "left"),
    ("Drag lines from the neck to the underarm", "drag lines from the neck to the underarm", None, "both"),
    ("drag lines from the underarm to the neck", "drag lines from the neck to the underarm", None, "both"),
    ("back neck stands away, pinched 1 cm", "back neck stands away", 10.0, "both"),
    ("the armhole gapes on the right, pinched 8 mm", "armhole gapes in front", 8.0, "right"),
    ("waist is too tight, opened by 4 cm", "too tight at the waist", 40.0, "both"),
    ("hem dips at the back by ½ in", "hem dips at the back", 12.7, "both"),
    ("sleeve twists to the front, turned 1 cm", "sleeve twists to the front", 10.0, "both"),
    ("cannot sit", "cannot sit", None, "both"),
    ("can't sit", "cannot sit", None, "both"),
    ("Sleeve binds", "sleeve binds", None, "both"),
]


@pytest.mark.parametrize(("said", "sign", "amount", "side"), SAID)
def test_plain_sayings_are_understood(said, sign, amount, side):
    seen = read_saying(said)
    assert (seen.sign, seen.side) == (sign, side)
    assert seen.amount == (None if amount is None else pytest.approx(amount))


def test_a_number_without_a_unit_is_in_hers():
    assert read_saying("dart ends 2 below the bust point").amount == 20.0
    assert read_saying("dart ends 2 below the bust point", "in").amount == pytest.approx(50.8)


@pytest.mark.parametrize(("said", "offered"), [
    ("dart ends under the moon", "dart ends below the bust point"),
    ("dart ends 2 cm from the bust point", "dart ends"),
    ("the dart does not end below the bust point", "dart ends below the bust point"),
    ("folds over the nape", "folds across under the nape"),
    ("shoulder bone before the shoulder seam", "shoulder seam behind the top of the shoulder"),
    ("bust point below the dart ends", "dart ends"),
    ("hem dips", "hem dips"),
    ("side seam swings", "side seam swings"),
])
def test_what_is_not_understood_is_refused_with_what_is_near(said, offered):
    with pytest.raises(InputError, match=re.escape(offered)):
        read_saying(said)


@pytest.mark.parametrize("said", ["", " ", "x" * 400])
def test_what_is_no_saying_is_refused(said):
    with pytest.raises(InputError, match="one thing at a time"):
        read_saying(said)


def test_pinned_is_not_opened():
    with pytest.raises(InputError, match="is pinched, not opened"):
        read_saying("folds under the nape, opened by 1 cm")
    with pytest.raises(InputError, match="is opened, not pinched"):
        read_saying("too tight across the back, pinched 1 cm")


def test_one_length_at_a_time():
    with pytest.raises(UnitError, match="more than one length"):
        read_saying("dart ends 2 cm below the bust point, 1 cm")


@pytest.mark.parametrize("said", ["dart ends 40 cm below the bust point", "dart ends 0 cm below the bust point"])
def test_lengths_that_no_toile_shows_are_refused(said):
    with pytest.raises(InputError, match="lies between"):
        read_saying(said)


@pytest.mark.parametrize("minus", ["-", "\u2212"])
def test_less_than_nothing_is_no_length(minus):
    with pytest.raises(UnitError, match="say the opposite"):
        read_saying(f"dart ends {minus}2 cm below the bust point")
    assert read_saying(f"dart ends below the bust point {minus} 2 cm").amount == 20.0


def test_what_takes_no_measure_and_what_has_no_sides():
    with pytest.raises(InputError, match="takes no measure"):
        read_saying("cannot sit, 2 cm")
    with pytest.raises(InputError, match="leave out"):
        read_saying("folds under the nape on the left")


@pytest.mark.parametrize("sign", all_signs(), ids=lambda s: s.name)
def test_every_sign_is_understood_in_all_its_words(sign):
    for said in (sign.name, *sign.sayings, sign.name.capitalize() + "."):
        assert read_saying(said) == Observation(sign.name)
    if sign.takes:
        assert read_saying(example(sign)) == Observation(sign.name, 20.0) and sign.how
    assert sign.takes in ("distance", "pinch", "opening", "")


def test_no_two_sayings_mean_the_same_words():
    seen = {}
    for sign in all_signs():
        for said in (sign.name, *sign.sayings):
            assert seen.setdefault(_meaning(said), sign.name) == sign.name, said
    assert len(seen) > 150


@given(st.sampled_from([s.name for s in all_signs()]), st.floats(1, 199), st.sampled_from(SIDES),
       st.sampled_from(["cm", "mm"]))
def test_what_an_observation_says_is_read_back(name, mm, side, unit):
    sign = find_sign(name)
    seen = Observation(sign.name, round(mm) if sign.takes else None, side if sign.sided else "both")
    back = read_saying(seen.say(unit))
    assert (back.sign, back.side) == (seen.sign, seen.side)
    assert back.amount == (None if seen.amount is None else pytest.approx(seen.amount, abs=0.51))


def test_every_sign_leaves_something_to_what_is_not_known():
    for sign in all_signs():
        assert 0.02 <= sign.something_else < 0.5, sign.name
        assert all(c.share > 0 and c.per and (c.first > 0) == (c.per > 0) and 0 < c.spread < 1 for c in sign.causes)
        assert find_sign(sign.name) is sign


@pytest.mark.parametrize(("said", "sign"), [
    ("drag lines from the bust to the armhole", "too tight at the bust"),
    ("gaps at the front of the armhole, pinched by 1.2 cm", "armhole gapes in front"),
    ("the back waist pulls down when I sit", "drag lines from the crotch to the hip at the back"),
    ("smile lines at the front crotch", "drag lines from the crotch to the hip in front"),
    ("I cannot lift my arms", "sleeve binds"),
    ('shoulder seam sits 1/2" behind the top of the shoulder', "shoulder seam behind the top of the shoulder")])
def test_how_a_dressmaker_says_it(said, sign):
    assert read_saying(said).sign == sign
