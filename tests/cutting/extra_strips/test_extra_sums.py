"""Worked examples of strips, each with its source, and what must hold for any numbers."""

from math import cos, hypot, pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from toilewright.cutting.extra import KINDS, find_kind
from toilewright.cutting.extra.bias import cut_width, square_for, strip_across, strip_length
from toilewright.cutting.extra.circle_skirt import arc, waist_radius
from toilewright.cutting.extra.strips import widths_for
from toilewright.errors import InputError, NameUnknown

INCH = 25.4


def work(kind, unit="cm", **options):
    found = find_kind(kind)
    written = {name.replace("_", " "): value for name, value in options.items()}
    return found.work(found.read(written, unit, f'"{kind}"', alone=True))


EXAMPLES = [(kind, example) for kind in KINDS for example in kind.examples]


@pytest.mark.parametrize("kind, example", EXAMPLES, ids=lambda v: getattr(v, "name", getattr(v, "source", None)))
def test_every_kinds_own_example_comes_out(kind, example):
    worked = kind.work(kind.read(example.options, "cm", "the example", alone=True))
    assert example.gives and example.source
    for name, value in example.gives.items():
        assert worked.of(name) == pytest.approx(value, abs=0.01), name


# Extension leaflets: a 12 in square cut 2 in wide gives 72 in; a 20 in edge at 2 1/2 takes 50 in. Arithmetic: a waist
# of 70 cm has a radius of 11.14 cm as a full circle and 22.28 cm as half a one; a tie takes twice its width and two
# allowances.
def test_the_leaflets_figures():
    assert work("bias", square="12 in", width="2 in").of("length") == pytest.approx(72 * INCH)
    assert work("bias", length="72 in", width="2 in").of("square_for_length") == pytest.approx(12 * INCH)
    assert work("frill", edge="20 in", cloth="fine").of("length") == pytest.approx(50 * INCH)
    assert work("frill", edge="20 in", weight="firm").of("length") == pytest.approx(30 * INCH)
    assert work("frill", edge="20 in", weight="medium").of("length") == pytest.approx(40 * INCH)
    assert work("circle", waist="70 cm", part="full").of("radius") == pytest.approx(111.4, abs=0.05)
    assert work("circle", waist="70 cm", part="half").of("radius") == pytest.approx(222.8, abs=0.05)
    tie = work("tie", width="2 cm", length="80 cm", allowance="1 cm")
    assert (tie.of("cut_width"), tie.of("cut_length")) == (60.0, 820.0)
    assert work("buttonhole", diameter="15 mm", thickness="3 mm").of("buttonhole") == 18.0


@given(st.floats(50, 2000), st.floats(10, 50))
def test_a_continuous_strip_has_the_area_of_its_square(square, width):
    length = strip_length(square, width)
    assert length * width == pytest.approx(square * square)
    assert square_for(length, width) == pytest.approx(square)


@given(st.floats(200, 5000), st.floats(10, 60))
def test_the_square_to_cut_holds_the_strip_and_what_its_seams_take(length, width):
    worked = work("bias", unit="mm", length=str(length), width=str(width))
    side, lost = worked.of("square_to_cut"), 4 * 6.0
    assert side > worked.of("square_for_length")
    # The area of the square, less two allowances along each of the two seams, holds the strip and one row.
    assert (side * side - lost * side) / width == pytest.approx(length + width)


@given(st.floats(600, 1600), st.floats(20, 60), st.floats(300, 9000))
def test_single_strips_with_their_joins_are_long_enough(cloth, width, length):
    worked = work("bias", unit="mm", length=str(length), width=str(width), cloth_width=str(cloth))
    number = worked.of("strips")
    assert worked.of("longest_strip") == pytest.approx(hypot(cloth, cloth))
    assert number * (cloth * sqrt(2) - width) >= length - 1e-6
    assert (number - 1) * strip_across(cloth, width) < length
    assert worked.of("joins") == number - 1 and worked.of("joins_take") == pytest.approx((number - 1) * width)


def test_a_binding_is_cut_four_or_six_times_its_width_and_what_the_folds_take():
    assert (cut_width(10, "single", 3), cut_width(10, "double", 3)) == (43, 63)
    assert work("bias", finished="1 cm", fold="double", length="1 m", turn="0").of("cut_width") == 60.0


@given(st.floats(100, 8000), st.floats(700, 1600), st.floats(5, 20), st.integers(1, 6))
def test_widths_are_as_few_as_will_do(total, cloth, allowance, step):
    number = widths_for(total, cloth, allowance, step)
    room = cloth - 2 * allowance
    assert number % step == 0
    assert number * room >= total - 1e-6
    assert (number - step) * room < total


@given(st.floats(200, 1500), st.sampled_from([1.0, 0.75, 0.5, 0.25, 1.5]))
def test_a_waist_goes_once_round_its_part_of_a_circle(waist, part):
    assert 2 * pi * part * waist_radius(waist, part) == pytest.approx(waist)


@given(st.floats(20, 1500), st.floats(-3, 3), st.floats(0.05, 6.2))
def test_an_arc_is_true_to_its_circle(radius, start, angle):
    path = arc(3 + 4j, radius, start, start + angle)
    assert path.length == pytest.approx(radius * angle, rel=1e-6, abs=1e-3)
    for k in range(41):
        assert abs(path.point_at(path.length * k / 40) - (3 + 4j)) == pytest.approx(radius, abs=radius * 1e-6)


def test_a_circle_that_does_not_fit_is_told_what_would():
    worked = work("circle", waist="70 cm", part="full", length="70 cm", cloth_width="140 cm")
    assert worked.of("fits") == 0 and worked.of("panel_across") > 1400
    said = worked.findings[0].text
    assert "4 seams" in said and "no longer than" in said
    assert work("circle", waist="70 cm", part="full", length="70 cm", cloth_width="140 cm", seams="4").of("fits") == 1
    longest = work("circle", waist="70 cm", part="full", length="56 cm", cloth_width="140 cm")
    assert longest.of("fits") == 1


def test_how_wide_a_quarter_lies_on_the_cloth_by_hand():
    worked = work("circle", waist="70 cm", part="half", length="60 cm", seams="2")
    outer = 700 / pi + 600 + 10
    assert worked.of("panel_across") == pytest.approx(2 * outer * cos(pi / 4) + 30)


def test_each_tier_is_gathered_onto_the_one_above():
    worked = work("frill", edge="1 m", ratio="2", tiers="3", depth="10 cm")
    assert [worked.of(f"length{n}") for n in ("", "_2", "_3")] == [2000.0, 4000.0, 8000.0]
    deeper = work("frill", edge="1 m", depth="10 cm + 12 cm")
    assert deeper.of("cut_depth_2") - deeper.of("cut_depth") == pytest.approx(25.0)  # and the hem, 5 mm more


def test_the_elastic_says_how_sure_it_is():
    worked = work("casing", elastic="2 cm", round="78 cm")
    figure = next(f for f in worked.figures if f.name == "elastic_length")
    assert figure.value == pytest.approx(0.92 * 780 + 20) and figure.spread == pytest.approx(39.0)


@pytest.mark.parametrize("kind, options, said", [
    ("tie", {"width": "-2 cm", "length": "80 cm"}, '"width"'),
    ("tie", {"width": "2 cm", "length": "80 m"}, "between"),
    ("tie", {"width": "2 cm"}, '"length"'),
    ("frill", {"edge": "20 in", "ratio": "0.8"}, "at least as long"),
    ("frill", {"edge": "20 in", "tiers": "0"}, '"tiers"'),
    ("frill", {"edge": "20 in", "tiers": "two"}, "whole number"),
    ("frill", {"edge": "20 in", "weight": "heavy"}, '"weight"'),
    ("frill", {"ratio": "2"}, '"edge"'),
    ("frill", {"edge": "sleeve"}, "sleeve"),
    ("bias", {"square": "1 in", "width": "2 in"}, "larger square"),
    ("bias", {"width": "2 in"}, "square"),
    ("bias", {"length": "1 m"}, "finished"),
    ("circle", {"waist": "70 cm", "part": "most"}, "three quarter"),
    ("circle", {"waist": "70 cm", "part": "3", "seams": "1"}, "seams = 5"),
    ("circle", {"waist": "70 cm", "part": "full", "seams": "1"}, "seams = 2"),
    ("circle", {"part": "half"}, '"waist"'),
    ("buttonholes", {"edge": "10 cm", "count": "30"}, "do not fit"),
])
def test_what_cannot_be_meant_is_refused_in_one_sentence(kind, options, said):
    with pytest.raises(InputError) as problem:
        work(kind, **options)
    text = str(problem.value)
    assert said in text and "\n" not in text and text.endswith((".", "?"))


def test_unknown_kinds_and_options_get_the_nearest_name():
    with pytest.raises(NameUnknown, match='did you mean "bias"'):
        find_kind("bais")
    with pytest.raises(NameUnknown, match='did you mean "square"'):
        work("bias", sqare="12 in")
