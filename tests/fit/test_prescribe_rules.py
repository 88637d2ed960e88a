"""The rules one by one, in worked numbers: what her tape says, what the piece has, what that makes."""

from dataclasses import replace
from math import radians

import pytest

from toilewright.blocks.chart import WHOLE_CHART
from toilewright.blocks.chart import body_of as chart_body
from toilewright.blocks.choir_trousers import choir_trousers
from toilewright.blocks.concert import concert_dress
from toilewright.body import body_of
from toilewright.body.measures import is_measure
from toilewright.fit.alterations import ALTERATIONS, alter
from toilewright.fit.flat import flat_of
from toilewright.fit.handbook import sitting_ease
from toilewright.fit.prescribe import RULES, USES, drafted_for, prescribe
from toilewright.fit.sides import SIDES

DRESS, TROUSERS = concert_dress().at("4"), choir_trousers().at("4")
CHART = {name: value for name, value in chart_body("4", WHOLE_CHART).items() if is_measure(name)}
CUP = CHART["bust girth"] - CHART["upper bust girth"]


def body(sides=None, posture=(), **more):
    measures = CHART | {k.replace("_", " "): v for k, v in more.items()}
    left, right = (tuple((sides or {}).get(s, {}).items()) for s in SIDES)
    return replace(body_of("Alto", measures, waist_place="natural"), left=left, right=right, posture=posture)


def worth(one, garment=DRESS, **more):
    more = {"drafted": drafted_for(garment, CHART), "drafted_cup": CUP} | more
    return [p for p in prescribe(garment, one, **more) if p.worth_doing]


def only(one, garment=DRESS, **more):
    (found,) = worth(one, garment, **more)
    return found


@pytest.mark.parametrize(("measure", "more", "name", "amount"), [
    ("shoulder length", 9, "shoulder width", 9),
    # Across the back and chest a half piece takes half of what she measures more.
    ("across back width", 20, "back width", 10), ("across front width", 16, "armhole in or out", 8),
    ("upper arm girth", 20, "upper arm", 20), ("armscye depth", 12, "armhole depth", 12),
    ("high hip girth", 30, "high hip in or out", 30), ("waist girth", -24, "waist in or out", -24),
    ("bust point width", -16, "bust dart point", 8), ("arm length", 15, "lengthen or shorten", 15)])
def test_one_measure_that_differs_asks_for_one_alteration(measure, more, name, amount):
    found = worth(body(**{measure.replace(" ", "_"): CHART[measure] + more}))
    assert found[0].name == name or name in [p.name for p in found]
    known = next(p for p in found if p.name == name)
    assert known.amount.value == pytest.approx(amount, abs=1.5)
    assert known.amount.spread > 1 and known.reason.endswith(".")


@pytest.mark.parametrize(("more", "name", "flat", "amount"), [
    ({"crotch depth": 14, "total crotch length": 28, "waist height": 14}, "crotch depth", "crotch depth", 14),
    ({"total crotch length": 18}, "crotch length back", "crotch length", 18),
    ({"calf girth": 20}, "calf", "calf", 20), ({"thigh girth": 24}, "thigh", "thigh", 24)])
def test_trousers(more, name, flat, amount):
    found = worth(body(**{k.replace(" ", "_"): CHART[k] + v for k, v in more.items()}), TROUSERS)
    assert next(p for p in found if p.name == name).amount.value == pytest.approx(amount, abs=2)
    fitted = alter(TROUSERS, [p.order for p in found]).garment
    was, now = (flat_of(g).lengths[flat].value for g in (TROUSERS, fitted))
    assert now - was == pytest.approx(amount, abs=1)


def test_sitting_ease_by_the_hip_girth_in_inches():
    """NMSU C-209: 1/2 in under 36, 3/4 from 36 to 38, 1 over 38."""
    assert [sitting_ease(inches * 25.4) / 25.4 for inches in (34, 37, 41)] == pytest.approx([0.5, 0.75, 1.0])


def test_a_square_shoulder_in_degrees():
    square = next(p for p in worth(body(shoulder_slope=CHART["shoulder slope"] - 4)) if p.name == "shoulder slope")
    # 4 degrees on a shoulder of 123.5 mm are 8.6 mm at the tip.
    assert square.amount.value == pytest.approx(123.5 * radians(4), abs=0.6)
    assert "falls by 17 degrees" in square.reason and "raise" in square.reason


def test_one_shoulder_lower_is_altered_on_its_own_side():
    uneven = body({"left": {"shoulder slope": 21.0}, "right": {"shoulder slope": 26.0}})
    rows = [p for p in worth(uneven) if p.name == "shoulder slope"]
    assert [p.options["side"] for p in rows] == ["right"]
    assert rows[0].amount.value == pytest.approx(-123.5 * radians(5), abs=0.8)


def test_one_hip_higher():
    # The left hip tape lies 12 mm farther below the waist there.
    rows = [p for p in worth(body({"left": {"waist to hip": 218.0}, "right": {"waist to hip": 206.0}}))
            if p.name == "hip higher"]
    assert [(p.options["side"], p.amount.value) for p in rows] == [("left", 12.0)]


def test_a_hump_is_no_deep_armhole():
    round_back = body(back_neck_point_to_waist=CHART["back neck point to waist"] + 14,
                      armscye_depth=CHART["armscye depth"] + 14)
    assert [p.name for p in worth(round_back)] == ["high round back"]


def test_a_short_back_is_a_sway_back_only_where_her_sheet_says_so():
    short = {"back_neck_point_to_waist": CHART["back neck point to waist"] - 12,
             "neck_shoulder_point_to_waist_back": CHART["neck shoulder point to waist back"] - 12}
    plain, swayed = only(body(**short)), only(body(posture=("a sway back",), **short))
    assert (plain.name, plain.amount.value) == ("back length", pytest.approx(-12, abs=0.2))
    assert (swayed.name, swayed.amount.value) == ("sway back", pytest.approx(12, abs=0.2))
    assert "notes a sway back" in swayed.reason


def test_an_erect_back_is_named_so():
    erect = only(body(back_neck_point_to_waist=CHART["back neck point to waist"] - 10,
                      armscye_depth=CHART["armscye depth"] - 10))
    assert (erect.name, erect.amount.value) == ("erect back", pytest.approx(10, abs=0.1))


def test_a_whole_figure_that_is_larger_is_no_full_bust():
    larger = body(bust_girth=CHART["bust girth"] + 24, upper_bust_girth=CHART["upper bust girth"] + 24)
    assert "full bust" not in [p.name for p in worth(larger)]
    full = body(bust_girth=CHART["bust girth"] + 24)
    assert "full bust" in [p.name for p in worth(full)]


def test_what_does_not_fit_at_once_is_made_as_far_as_it_goes():
    far = body(back_neck_point_to_waist=CHART["back neck point to waist"] + 60)
    hump = next(p for p in worth(far) if p.name == "high round back")
    assert hump.amount.value == pytest.approx(0.75 * 60) and "does not fit" in hump.reason


def test_every_rule_is_of_an_alteration_and_no_alteration_has_two():
    names = [n for r in RULES for n in (r.alteration, r.opposite) if n]
    assert len(names) == len(set(names)) and set(names) <= {a.name for a in ALTERATIONS}
    assert set(USES) == set(names) and all(r.threshold >= 5 for r in RULES)
