"""What the measures that were taken say of the others, as the measure page words it."""

from toilewright.app.estimating import guesses, take_next
from toilewright.body import body_of
from toilewright.body.estimates import estimate

SHORT = body_of("Soprano", {"stature": 1660, "bust girth": 920, "waist girth": 740, "hip girth": 980})


def test_only_what_was_not_taken_is_guessed_and_the_back_length_is_never_cut_from():
    found = guesses(SHORT, "cm")
    assert not {"stature", "bust girth", "waist girth", "hip girth"} & set(found)
    assert found["back neck point to waist"].endswith("Never cut from it.")
    assert found["high hip girth"].endswith("A stand-in until it is measured.")
    known = estimate(SHORT, "high hip girth")
    assert f"Estimated {known.value / 10:.1f} cm" in found["high hip girth"]


def test_a_guess_is_told_in_her_unit():
    assert " in " in guesses(SHORT, "in")["high hip girth"]
    assert "degrees" in guesses(SHORT, "cm")["shoulder slope"]


def test_the_next_measure_is_one_that_is_wanted_and_not_taken():
    wanted = ("bust girth", "back neck point to waist", "upper arm girth")
    assert take_next(SHORT, wanted) in wanted[1:]
    assert take_next(SHORT, ("bust girth",)) == ""
