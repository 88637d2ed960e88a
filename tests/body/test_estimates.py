"""Estimated measures: the arithmetic against NumPy, intervals that hold what they promise, and never for cutting."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from toilewright.body.conditioning import NotPositive, cholesky, left_out, narrow
from toilewright.body.estimates import (
    NEVER_CUT_FROM,
    NINETY,
    estimate,
    estimates,
    next_measures,
    unlikely,
)
from toilewright.body.measures import all_measures, find_measure
from toilewright.body.survey import survey
from toilewright.body.tape import Body
from toilewright.known import Origin

FOUR = {"stature": 1660.0, "bust girth": 955.0, "waist girth": 785.0, "hip girth": 1020.0}


def body(values, place="natural", **more):
    return Body("the alto", tuple(values.items()), waist_place=place, **more)


def drawn(count, who="women", place="natural", seed=7):
    """Bodies drawn from the model, as a tape takes them."""
    model, rng = survey(who, place), np.random.default_rng(seed)
    logs = rng.multivariate_normal(model.mean, np.array(model.covariance) + np.diag(model.differs), count)
    for row in np.exp(logs):
        tape = [rng.normal(0, find_measure(n).spread / NINETY) for n in model.names]
        yield tuple(dict(zip(model.names, values.tolist(), strict=True)) for values in (row, row + tape))


@st.composite
def systems(draw):
    size = draw(st.integers(1, 12))
    rng = np.random.default_rng(draw(st.integers(0, 10**6)))
    half = rng.normal(size=(size, size))
    return half @ half.T + 0.1 * np.eye(size), rng.normal(size=size), rng.normal(size=size)


@given(systems())
def test_conditioning_agrees_with_numpy(system):
    matrix, off, shared = system
    rows = matrix.tolist()
    lower = cholesky(rows)
    reference = np.linalg.cholesky(matrix)
    for i, row in enumerate(lower):
        assert row == pytest.approx(reference[i, :i + 1].tolist(), abs=1e-9)
    now, inverse = narrow(rows, off.tolist()), np.linalg.inv(matrix)
    weights = now.weights(shared.tolist())
    assert now.distance == pytest.approx(off @ inverse @ off, rel=1e-6)
    assert now.shift(weights) == pytest.approx(shared @ inverse @ off, rel=1e-6, abs=1e-9)
    assert sum(w * w for w in weights) == pytest.approx(shared @ inverse @ shared, rel=1e-6)
    for i, (distance, variance) in enumerate(left_out(rows, off.tolist())):
        keep = [k for k in range(len(off)) if k != i]
        among = np.linalg.inv(matrix[np.ix_(keep, keep)]) if keep else np.zeros((0, 0))
        told = matrix[i, keep] @ among
        assert distance == pytest.approx(off[i] - told @ off[keep], rel=1e-5, abs=1e-8)
        assert variance == pytest.approx(matrix[i, i] - told @ matrix[keep, i], rel=1e-5)


def test_a_matrix_of_no_distribution_is_refused():
    with pytest.raises(NotPositive, match="Row 2"):
        cholesky([[1.0], [2.0, 1.0]])


@pytest.mark.parametrize("who", ["women", "men"])
@pytest.mark.parametrize("place", ["", "natural", "half-way", "navel"])
def test_an_estimate_is_the_textbook_conditional_normal(who, place):
    model = survey(who, place)
    posture = ("man",) if who == "men" else ()
    given_names = list(FOUR)
    rows, target = [model.names.index(n) for n in given_names], model.names.index("upper arm girth")
    covariance = np.array(model.covariance)
    noise = [(find_measure(n).spread / NINETY / v) ** 2 + model.differs[i]
             for (n, v), i in zip(FOUR.items(), rows, strict=True)]
    solved = np.linalg.solve(covariance[np.ix_(rows, rows)] + np.diag(noise), covariance[rows, target])
    middle = model.mean[target] + solved @ (np.log(list(FOUR.values())) - np.array(model.mean)[rows])
    found = estimate(body(FOUR, place, posture=posture), "upper arm")
    assert found.value == pytest.approx(math.exp(middle), rel=1e-9) and found.origin is Origin.ESTIMATED


@pytest.mark.parametrize("who", ["women", "men"])
def test_intervals_hold_nine_of_ten_bodies_of_the_model(who):
    posture = ("man",) if who == "men" else ()
    hits = [e.low <= true[e.name] <= e.high
            for true, tape in drawn(300, who)
            for e in estimates(body({n: tape[n] for n in FOUR}, posture=posture))]
    assert 0.89 < sum(hits) / len(hits) < 0.94


def test_the_more_is_known_the_narrower():
    whole = {n: v for n, v in zip(survey().names, map(math.exp, survey("women", "natural").mean), strict=True)}
    names = [n for n in whole if n != "across back width"]
    before = math.inf
    for count in range(1, len(names) + 1):
        now = estimate(body({n: whole[n] for n in names[:count]}), "across back width")
        assert now.spread <= before + 1e-9 and now.value == pytest.approx(whole["across back width"], rel=1e-6)
        before = now.spread


def test_cloth_is_never_cut_by_lengths_that_differ_most():
    found = {e.name: e for e in estimates(body(FOUR))}
    assert {n for n in found if not found[n].may_cut} == set(NEVER_CUT_FROM) & set(found)
    assert {"back neck point to waist", "neck shoulder point to bust point", "upper bust girth"} <= set(NEVER_CUT_FROM)
    for one in found.values():
        assert ("before cloth is cut" in one.known.reason) == (not one.may_cut)
        assert one.low < one.known.value < one.high and one.known.spread == pytest.approx((one.high - one.low) / 2)


def test_bodies_unlike_the_sample_get_wider_intervals():
    def share(**changed):
        found = next(e for e in estimates(body(FOUR | changed)) if e.name == "upper arm girth")
        return found.wider, found.known.spread / found.known.value
    usual, large = share(), share(**{"bust girth": 1400.0, "waist girth": 1300.0, "hip girth": 1450.0})
    assert usual[0] == 1.0 and large[0] > 1.3 and large[1] > 1.3 * usual[1]


def test_nothing_to_go_by_is_no_estimate():
    assert estimates(Body("x", ())) == () and estimate(Body("x", ()), "bust") is None
    assert estimate(body({"stature": 1650.0}), "forward shoulder") is None
    assert estimate(body({"bust girth": 950.0}), "bust girth") is None


def test_a_measure_that_was_taken_is_estimated_from_the_others():
    told = [estimate(body(FOUR | {"hip girth": hip}), "hip girth").value for hip in (900.0, 1200.0)]
    assert told[0] == told[1]


def test_the_waist_that_is_meant_decides_the_lengths_to_it():
    lengths = {p: estimate(body(FOUR, p), "nape to waist") for p in ("natural", "half-way", "navel", "")}
    assert lengths["natural"].value + 30 < lengths["half-way"].value < lengths["navel"].value - 30
    assert lengths[""].spread > lengths["half-way"].spread + 15


def test_one_wrong_entry_is_found_and_honest_sheets_are_left_alone():
    right, wrong = 0, 0
    for _, tape in drawn(150, seed=5):
        right += bool(unlikely(body(tape)))
        found = unlikely(body(tape | {"neck base girth": tape["neck base girth"] * 1.45}))
        wrong += bool(found) and found[0].name == "neck base girth" and found[0].off > 0
        if found:
            assert abs(found[0].expected.value - tape["neck base girth"]) < 4 * found[0].expected.spread
    assert right <= 4 and wrong >= 147


def test_two_wrong_entries_are_both_found():
    tape = next(drawn(1, seed=3))[1]
    found = unlikely(body(tape | {"stature": tape["stature"] - 500, "arm length": tape["arm length"] + 170}))
    assert {u.name for u in found} == {"stature", "arm length"}


def test_two_numbers_alone_are_never_doubted():
    assert unlikely(body({"stature": 1660.0, "bust girth": 1900.0})) == ()


def test_next_comes_the_measure_that_narrows_most():
    wanted = {"upper arm girth": 1.0, "back neck point to waist": 1.0}
    ranked = next_measures(body(FOUR), wanted)
    assert [n.narrows for n in ranked] == sorted((n.narrows for n in ranked), reverse=True)
    assert ranked[0].name == "back neck point to waist" == ranked[0].most
    heavier = next_measures(body(FOUR), {"upper arm girth": 9.0, "back neck point to waist": 1.0})
    assert heavier[0].name == "upper arm girth"
    taken = next_measures(body(FOUR | {"back neck point to waist": 400.0}), wanted)
    assert "back neck point to waist" not in [n.name for n in taken]
    assert next_measures(body(FOUR), FOUR) == ()


def test_what_the_gain_says_is_what_taking_it_brings():
    ranked = next_measures(body(FOUR), ["crotch depth"])
    one = next(n for n in ranked if n.name == "waist height")
    before = estimate(body(FOUR), "crotch depth")
    middle = estimate(body(FOUR), "waist height").value
    after = estimate(body(FOUR | {"waist height": middle}), "crotch depth")
    assert before.spread - after.spread == pytest.approx(one.narrows, rel=0.05)


def test_what_the_survey_lacks_must_be_taken():
    ranked = next_measures(body(FOUR), ["forward shoulder", "across front width"])
    assert ranked[0].name == "across front width" and ranked[0].most == "across front width"


def test_without_any_measure_the_first_to_take_is_told():
    assert next_measures(Body("x", ()), ["hip girth"])[0].name == "hip girth"


def test_every_measure_of_the_survey_has_a_believable_middle():
    by_name = {m.name: m for m in all_measures()}
    for who in ("women", "men"):
        model = survey(who, "half-way")
        assert len(model.names) >= 20
        for name, middle in zip(model.names, model.mean, strict=True):
            assert by_name[name].low < math.exp(middle) < by_name[name].high
