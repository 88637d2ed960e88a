"""Lengths as written and as shown."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from toilewright.errors import UnitError
from toilewright.units import parse_length, show_length, unit_name


@pytest.mark.parametrize(("text", "mm"), [
    ("34 1/2 in", 876.3), ('34 1/2"', 876.3), ("34½ in", 876.3), ("34 ½ in", 876.3), ("½ in", 12.7), ("87,5 cm", 875),
    ("87.5", 875), ("875 mm", 875), ("3/8", 3.75), ("3/8 in", 9.525), ("-1 cm", -10), ("−1 cm", -10), ("+1.5", 15),
    ("5 ft 4 in", 1625.6), ("5' 4\"", 1625.6), ("5′4½″", 1638.3), ("1 yd", 914.4), ("1 m", 1000), ("2 inches", 50.8),
    ("34.5in", 876.3), ("10 centimetres", 100), (".5 cm", 5), ("12 in.", 304.8), (" 7 ", 70), ("1 m 20 cm", 1200),
    ("34\u00a01/2 in", 876.3), ("34-1/2 in", 876.3), ('-1-1/2"', -38.1), ("5 ft 4-1/2 in", 1638.3),
])
def test_what_people_write(text, mm):
    assert parse_length(text) == pytest.approx(mm, abs=1e-9)


def test_a_bare_number_takes_the_default_unit():
    assert parse_length(34.5, "in") == pytest.approx(876.3)
    assert parse_length("34 1/2", "in") == pytest.approx(876.3)
    assert parse_length("3/8", "inches") == pytest.approx(9.525)
    assert parse_length(0) == 0.0


@pytest.mark.parametrize("text", ["", "abc", "12 parsecs", "1/0", "4 in 5 ft", "5 6", "--1", "1 2 3", "34-1", "87.5.3",
                                  "cm", "nan", "5 ft 4", "34-1/2-1/4", float("nan"), float("inf"), None, True, [1],
                                  10**400, "9" * 5000, "1/" + "9" * 5000, "1" * 50 + " cm" * 3])
def test_what_is_no_length_is_said_in_one_sentence(text):
    with pytest.raises(UnitError) as caught:
        parse_length(text)
    assert str(caught.value).endswith(".") and "\n" not in str(caught.value)


def test_a_number_without_end_is_no_length():
    with pytest.raises(UnitError):
        parse_length(10**5000)


@given(st.integers(-4000, 4000))
def test_eighths_of_an_inch_come_back(eighths):
    mm = eighths * 25.4 / 8
    assert parse_length(show_length(mm, "in")) == pytest.approx(mm, abs=1e-9)


@given(st.floats(-3000, 3000))
def test_showing_loses_at_most_half_a_step(mm):
    assert abs(parse_length(show_length(mm)) - mm) <= 0.5 + 1e-9
    assert abs(parse_length(show_length(mm, "in")) - mm) <= 25.4 / 16 + 1e-9


@given(st.floats(0, 2000), st.sampled_from(["mm", "cm", "in", "ft", "yd", "m"]))
def test_a_sign_only_turns_the_length_round(number, unit):
    text = f"{number:.4f} {unit}"
    assert parse_length("-" + text) == -parse_length(text)


@given(st.text(max_size=12))
def test_any_text_is_a_length_or_a_unit_error(text):
    try:
        assert abs(parse_length(text)) < float("inf")
    except UnitError as error:
        assert str(error)


def test_shown_as_the_trade_writes_it():
    assert show_length(876.3, "in") == "34 1/2 in"
    assert show_length(875) == "87.5 cm"
    assert show_length(3.175, "in") == "1/8 in"
    assert show_length(0, "in") == "0 in"
    assert show_length(-0.2) == "0.0 cm"
    assert show_length(-0.2, "in") == "0 in"
    assert show_length(875, "mm") == "875 mm"
    assert unit_name("Inches") == "in"
