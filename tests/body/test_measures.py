"""Names, aliases and believable values of the tape measures."""

from math import exp

import pytest
from hypothesis import given
from hypothesis import strategies as st

from toilewright.body.measures import all_measures, find_measure, read_measure
from toilewright.errors import InputError, NameUnknown

CONTRACT = (
    "stature", "bust girth", "upper bust girth", "under-bust girth", "waist girth", "high hip girth", "hip girth",
    "neck base girth", "shoulder length", "shoulder slope", "across back width", "across front width",
    "back neck point to waist", "neck shoulder point to bust point", "neck shoulder point to waist",
    "bust point width", "waist to hip", "armscye depth", "upper arm girth", "wrist girth", "arm length",
    "waist height", "neck shoulder point to waist back", "crotch depth")


def test_every_measure_is_known_and_no_name_means_two():
    assert {m.name for m in all_measures()} >= set(CONTRACT)
    names = [n.lower().replace("-", " ") for m in all_measures() for n in {m.name.lower().replace("-", " "),
             *(a.lower().replace("-", " ") for a in m.aliases)}]
    assert len(names) == len(set(names))


def test_every_measure_says_how_and_how_sure():
    for m in all_measures():
        assert m.how.endswith(".") and m.how.count(". ") == 0
        assert 0 < m.spread <= 9 and m.low < m.high


@pytest.mark.parametrize(("alias", "name"), [
    ("bust", "bust girth"), ("Chest round", "bust girth"), ("round the fullest part", "bust girth"),
    ("nape to waist", "back neck point to waist"), ("back_length", "back neck point to waist"),
    ("underbust", "under-bust girth"), ("HIPS", "hip girth"), ("bicep", "upper arm girth"),
    ("shoulder to bust", "neck shoulder point to bust point")])
def test_everyday_names(alias, name):
    assert find_measure(alias).name == name


def test_an_unknown_name_is_answered_with_the_nearest():
    with pytest.raises(NameUnknown, match="waist girth"):
        find_measure("waste girth")


@pytest.mark.parametrize(("name", "kind", "mm"), [
    ("stature", "height", 4), ("back neck point to waist", "segment", 5), ("bust girth", "large girth", 9),
    ("upper arm girth", "small girth", 4), ("across back width", "breadth", 4), ("crotch depth", "depth", 5)])
def test_tape_error_of_iso_20685_from_memory(name, kind, mm):
    measure = find_measure(name)
    assert (measure.kind, measure.spread) == (kind, mm)


@pytest.mark.parametrize(("value", "unit", "hint"), [
    ("720 cm", "cm", "probably 720 mm = 72.0 cm"), (720, "cm", "720 mm"), ("34.5", "mm", "34.5 in"),
    (34.5, "cm", "34.5 in"), ("9000 cm", "cm", "bodies have"), (-72, "cm", "bodies have")])
def test_a_waist_nobody_has(value, unit, hint):
    with pytest.raises(InputError) as caught:
        read_measure(find_measure("waist"), value, unit, "the sheet")
    assert hint in str(caught.value) and "waist girth" in str(caught.value)


def test_a_slope_is_in_degrees():
    slope = find_measure("shoulder slope")
    assert read_measure(slope, "21°", "cm", "x") == read_measure(slope, 21, "in", "x") == 21.0
    with pytest.raises(InputError, match="degrees"):
        read_measure(slope, 210, "cm", "x")
    with pytest.raises(InputError, match="not an angle"):
        read_measure(slope, "steep", "cm", "x")


@given(st.sampled_from(all_measures()), st.floats(0.001, 0.999), st.sampled_from(["cm", "mm", "in"]))
def test_what_a_body_can_have_is_read_in_any_unit(measure, share, unit):
    mm = measure.low + share * (measure.high - measure.low)
    if measure.is_angle:
        assert read_measure(measure, mm, unit, "x") == mm
        return
    text = f"{mm / {'cm': 10, 'mm': 1, 'in': 25.4}[unit]:.6f} {unit}"
    assert read_measure(measure, text, "m", "x") == pytest.approx(min(max(mm, measure.low), measure.high), abs=1e-3)


# Medians in mm and standard deviations of the logarithm, of 2208 women of the US Army survey of 1988 (public data of
# the US Army Natick; computed by us). The survey's front length ends at the neck's hollow, so it is left out.
WOMEN = (
    ("stature", 1628.1, 0.0390), ("bust girth", 904.9, 0.0692), ("waist girth", 722.9, 0.0850),
    ("hip girth", 965.0, 0.0620), ("upper bust girth", 885.5, 0.0594), ("under-bust girth", 768.0, 0.0653),
    ("bust point width", 184.1, 0.0881), ("neck shoulder point to bust point", 267.1, 0.0828),
    ("neck base girth", 345.8, 0.0471), ("shoulder length", 144.2, 0.0752),
    ("back neck point to waist", 366.5, 0.0681), ("upper arm girth", 290.6, 0.0834), ("wrist girth", 151.1, 0.0454),
    ("waist height", 1055.3, 0.0490), ("waist to hip", 216.8, 0.1152), ("armscye depth", 185.2, 0.0777),
    ("arm length", 546.3, 0.0553), ("across back width", 351.0, 0.0754),
)


@pytest.mark.parametrize(("name", "median", "spread"), WOMEN)
def test_nearly_all_women_of_a_published_survey_are_believed(name, median, spread):
    measure = find_measure(name)
    for sign in (-3, 0, 3):
        assert measure.low < median * exp(sign * spread) < measure.high
