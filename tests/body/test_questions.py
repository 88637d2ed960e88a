"""Wrong entries are questioned at once, right ones are left alone, and where one can guess, the number is offered."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from toilewright.body.measures import all_measures, find_measure
from toilewright.body.proportions import proportions
from toilewright.body.questions import questions
from toilewright.body.slips import Slip, guesses
from toilewright.body.tape import Body

ALTO = {
    "height": 1660, "bust": 955, "high bust": 900, "waist": 785, "hip": 1020, "nape to waist": 430,
    "shoulder to waist back": 434, "neck to bust point": 291, "front length": 450, "bust span": 200,
    "across back": 362, "shoulder": 125, "upper arm": 295, "arm length": 580, "waist to hip": 208,
    "forward shoulder": 12,
}


def sheet(unit="cm", date="2026-11-20", left=(), right=(), waist_place="natural", without=(), **changed):
    values = {find_measure(k).name: float(v) for k, v in ALTO.items() if k not in without}
    values |= {find_measure(k).name: float(v) for k, v in changed.items()}
    return Body("the alto", tuple(values.items()), tuple(left), tuple(right), date, unit, waist_place)


def one(body, *more):
    (found,) = questions(body, *more)
    return found


def test_a_good_sheet_raises_no_question():
    assert questions(sheet(), sheet(), "2026-11-25") == ()


@given(st.floats(0.88, 1.22), st.booleans())
def test_smaller_and_larger_women_of_the_same_build_are_left_alone(scale, inches):
    body = sheet("in" if inches else "cm")
    grown = Body(body.name, tuple((n, v * scale) for n, v in body.measures), unit=body.unit, waist_place="natural")
    assert questions(grown) == ()


@pytest.mark.parametrize(("changed", "code", "meant"), [
    ({"bust": 375}, "out-of-range", "It is inches: 37 1/2 in = 95.2 cm"),
    ({"arm_length": 230}, "out-of-range", "It is inches: 23 in = 58.4 cm"),
    ({"bust": 95.5}, "out-of-range", "Did you mean 95.5 cm?"),
    ({"hip": 10200}, "out-of-range", "Did you mean 102.0 cm?"),
    ({"arm_length": 850}, "out-of-range", "Did you mean 58.0 cm?"),
    ({"bust": 595}, "odd", "Did you mean 95.5 cm?"),
    ({"nape_to_waist": 340}, "out-of-proportion", "Did you mean 43.0 cm?"),
])
def test_a_slip_is_asked_about_and_the_right_number_offered(changed, code, meant):
    found = one(sheet(**changed))
    assert found.code == code
    assert meant in [a.words for a in found.answers]


def test_an_entry_that_no_rule_catches_but_all_the_others_speak_against():
    found = one(sheet(waist=905))
    assert found.code == "does-not-fit" and found.measures == ("waist girth",)
    assert found.text.startswith('90.5 cm is much for "waist girth" beside all the other measures')


def test_centimetres_on_a_sheet_in_inches():
    found = one(sheet("in", bust=95.5 * 25.4))
    assert [a.words for a in found.answers] == ["It is centimetres: 95.5 cm = 37 5/8 in"]
    assert found.answers[0].value == pytest.approx(955)


def test_swapped_digits_are_only_asked_about_when_the_others_speak_against_them():
    assert questions(sheet(bust=975)) == ()
    found = one(sheet(upper_arm=590))
    assert found.measures == ("upper arm girth", "bust girth") and found.code == "out-of-proportion"
    assert "22.0 cm to 43.3 cm" in found.text


def test_one_wrong_number_is_one_question_and_not_five():
    found = questions(sheet(height=1060))
    assert len(found) == 1 and found[0].measures[0] == "stature"
    assert found[0].answers[0].value == pytest.approx(1600)


def test_contradictions_name_both_and_never_raise():
    found = one(sheet(under_bust=1010))
    assert found.code == "contradiction" and set(found.measures) == {"under-bust girth", "bust girth"}
    assert "cannot be shorter" in found.text


def test_odd_but_possible_bodies_are_asked_once():
    assert one(sheet(without=("hip",), waist=1010)).code == "odd"


def test_sides():
    arm = "upper arm girth"
    assert questions(sheet(left=((arm, 295.0),), right=((arm, 305.0),))) == ()
    found = one(sheet(left=((arm, 280.0),), right=((arm, 305.0),)))
    assert found.code == "sides-differ" and "28.0 cm on the left" in found.text
    found = one(sheet(without=("upper arm",), left=((arm, 295.0),), right=((arm, 30.5),)))
    assert found.code == "out-of-range" and [(a.side, a.value) for a in found.answers] == [("right", 305.0)]
    slope = "shoulder slope"
    assert one(sheet(left=((slope, 18.0),), right=((slope, 27.0),))).text.count("degrees") == 2


def test_what_seldom_changes_is_compared_with_last_time():
    assert questions(sheet(height=1665, bust=990), sheet()) == ()
    found = one(sheet(nape_to_waist=412), sheet(date="2026-01-05"))
    assert found.code == "changed" and "2026-01-05" in found.text
    assert [(a.measure, a.value) for a in found.answers] == [("back neck point to waist", 430.0)]


def test_an_old_sheet_asks_to_be_taken_again():
    assert questions(sheet(date="2025-11-25"), None, "2026-11-25") == ()
    assert one(sheet(date="2025-11-20"), None, "2026-11-25").code == "old-sheet"
    assert questions(sheet(date="in spring"), None, "2026-11-25") == ()


def test_which_waist():
    assert one(sheet(waist_place="")).code == "which-waist"
    assert questions(sheet(waist_place="", without=("waist",))) == ()


def test_the_key_stays_while_the_numbers_stay():
    first, again = one(sheet(bust=595)), one(sheet(bust=595, arm_length=570))
    other = one(sheet(bust=596))
    assert first.key == again.key != other.key


VALUES = st.dictionaries(st.sampled_from([m.name for m in all_measures()]), st.floats(-100, 3000), max_size=25)


@given(VALUES, st.sampled_from(["cm", "in"]), VALUES)
def test_any_sheet_can_be_asked_about_and_every_offer_settles_its_measure(values, unit, last):
    body = Body("x", tuple(values.items()), unit=unit, waist_place="natural")
    found = questions(body, Body("x", tuple(last.items())), "2026-11-25")
    assert len({q.key for q in found}) == len(found)
    for question in found:
        assert question.text.endswith(".") and "\n" not in question.text
        if question.code == "changed":
            continue
        for answer in question.answers:
            changed = Body("x", tuple((n, answer.value if n == answer.measure else v) for n, v in values.items()),
                           unit=unit, waist_place="natural")
            assert all(answer.measure not in q.measures for q in questions(changed))


@given(st.integers(60, 2000), st.sampled_from(["cm", "in"]))
def test_guesses_undo_the_slip(mm, unit):
    found = {g.slip: [] for g in guesses(mm, unit)}
    for guess in guesses(mm, unit):
        found[guess.slip].append(guess.value)
    other = 25.4 / 10 if unit == "cm" else 10 / 25.4
    assert found[Slip.UNIT] == [pytest.approx(mm * other)]
    for value in found.get(Slip.DIGITS, ()):
        if unit == "cm" and len(str(round(value))) == len(str(mm)):
            back = [g.value for g in guesses(value, unit) if g.slip is Slip.DIGITS]
            assert any(v == pytest.approx(mm) for v in back)


def test_proportions_hold_their_own_mean_and_say_where_they_come_from():
    for row in proportions():
        assert 0 < row.low < row.high and row.source
        assert row.source.startswith(("ANSUR 1988", "common practice"))
        assert not find_measure(row.measure).is_angle
