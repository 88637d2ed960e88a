"""What was seen, answered: which alteration, which way, how much, how likely."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from toilewright.blocks.chart import body_of as chart_body
from toilewright.blocks.choir_trousers import choir_trousers
from toilewright.blocks.choir_tunic import choir_tunic
from toilewright.blocks.concert import concert_dress
from toilewright.blocks.princess_dress import princess_dress
from toilewright.body.tape import body_of
from toilewright.errors import AlterationError, InputError
from toilewright.fit.alterations import ALTERATIONS, alter
from toilewright.fit.result import Order
from toilewright.fit.toile import answer, predict, read_saying
from toilewright.fit.toile.answer import chosen, stopped, unanswered, way_out
from toilewright.fit.toile.causes import STRONGEST, WEAKEST, odds_from_tape
from toilewright.fit.toile.observations import Observation, all_signs, find_sign
from toilewright.fit.toile.weigh import ONE_CAUSE
from toilewright.known import Known, Origin, asked

DRESS = concert_dress().at("4")
CHART = chart_body("4")
CAUSES = [(sign, way) for sign in all_signs() for cause in sign.causes for way in (cause, *cause.otherwise)]
NAMES = {one.name: one for one in ALTERATIONS}


def body(without=(), **more):
    measures = {k: v for k, v in CHART.items() if k not in without}
    return body_of("Alto", measures | {k.replace("_", " "): v for k, v in more.items()}, waist_place="natural")


def asked_for(*said, on=None, garment=DRESS):
    return answer([read_saying(words) for words in said], garment, on or body())


@pytest.mark.parametrize(("sign", "cause"), CAUSES, ids=lambda x: getattr(x, "name", getattr(x, "alteration", "")))
def test_every_cause_is_an_alteration_with_a_sane_amount(sign, cause):
    one = NAMES[cause.alteration]
    assert one.sane[0] <= cause.first <= one.sane[1], f"{sign.name}: {cause.first} is not within {one.sane}"
    assert set(cause.options) <= {o if isinstance(o, str) else o.name for o in one.options} | {"side"}
    assert cause.why and cause.look and not cause.look[0].isupper()


def test_a_dart_below_the_bust_point_moves_up_by_just_that_much():
    # Common practice: the dart moves by just the distance that was seen.
    first = asked_for("dart ends 2 cm below the bust point")[0]
    assert (first.alteration, first.first, first.called) == ("bust dart height", True, "raise bust dart")
    assert first.amount.value == pytest.approx(-20.0) and first.amount.origin is Origin.TOILE
    assert 3.0 < first.amount.spread < 6.0
    assert asked_for("dart ends 1 1/2 in above the bust point")[0].amount.value == pytest.approx(38.1)


SEEN = [
    ("back neck pulls, opened by 1.5 cm", "high round back", 15.0),
    ("shoulder seam 1 cm behind the top of the shoulder", "forward shoulder", 10.0),
    ("shoulder seam 1 cm before the top of the shoulder", "forward shoulder", -10.0),
    ("armhole seam 1 cm beyond the shoulder point", "shoulder width", -10.0),
    ("armhole seam 1 cm inside the shoulder point", "shoulder width", 10.0),
    ("folds at the small of the back, pinched 1.5 cm", "sway back", 15.0),
    ("drag lines from the neck to the underarm, pinched 2 cm", "shoulder slope", -10.0),
    ("too tight at the waist, opened by 3 cm", "waist in or out", 30.0),
    ("too loose at the hip, pinched 3 cm", "hip in or out", -30.0),
    ("too tight at the bust, opened by 4 cm", "full bust", 20.0),
    ("too tight across the back, opened by 2 cm", "back width", 10.0),
    ("too tight at the upper arm, opened by 2 cm", "upper arm", 20.0),
    ("bodice is too short by 2 cm", "lengthen or shorten", 20.0),
]


@pytest.mark.parametrize(("said", "name", "amount"), SEEN, ids=[s for s, *_ in SEEN])
def test_the_likeliest_cure_and_its_amount(said, name, amount):
    first = asked_for(said)[0]
    assert first.alteration == name and first.first
    assert first.amount.value == pytest.approx(amount) and first.amount.spread > 0


def test_without_a_measure_it_is_a_first_try_and_says_so():
    first = asked_for("folds at the small of the back")[0]
    assert first.amount.origin is Origin.TRADE and "first try" in first.reason
    assert first.amount.spread > asked_for("folds at the small of the back, pinched 1 cm")[0].amount.spread


def test_likelihoods_leave_something_to_what_is_not_known():
    for sign in all_signs():
        seen = Observation(sign.name, 15.0 if sign.takes else None)
        if unanswered([seen], DRESS):
            continue
        found = answer([seen], DRESS, body())
        assert 0.3 < sum(r.likelihood for r in found) < 1.0
        assert [r.likelihood for r in found] == sorted((r.likelihood for r in found), reverse=True)
        assert sum(r.first for r in found) <= 1


def test_two_causes_are_told_apart_by_what_to_look_at():
    found = asked_for("folds across at the small of the back, pinched 1 cm")
    sway, length = (next(r for r in found if r.alteration == n) for n in ("sway back", "back length"))
    assert "gone at the side seams" in sway.tells_apart and "short back" in sway.tells_apart
    assert "as deep to the side seams" in length.tells_apart.split(";")[0]


def test_her_tape_sheet_speaks_for_and_against():
    said = "back neck stands away, pinched 1 cm"
    plain = {r.alteration: r.likelihood for r in asked_for(said, on=body(["back neck point to waist"]))}
    hump = CHART["back neck point to waist"] + 14.0
    round_back = {r.alteration: r for r in asked_for(said, on=body(back_neck_point_to_waist=hump))}
    flat = {r.alteration: r.likelihood for r in asked_for(said)}
    assert round_back["high round back"].likelihood > plain["high round back"] > flat["high round back"]
    assert "tape sheet says so too (1.4 cm)" in round_back["high round back"].reason


@given(st.floats(-40, 40), st.floats(0, 10), st.floats(-40, 40))
def test_what_the_tape_says_is_bounded_and_goes_the_right_way(cause, spread, tape):
    odds = odds_from_tape(Known(cause, Origin.TOILE, spread), Known(tape, Origin.MEASURED, 5.0))
    assert WEAKEST <= odds <= STRONGEST
    if cause * tape < 0:
        assert odds <= 1.0
    assert odds_from_tape(Known(cause, Origin.TOILE, spread), None) == 1.0


def test_one_cause_of_two_signs_is_likelier_and_two_folds_are_never_corrected_twice():
    alone = {r.alteration: r.likelihood for r in asked_for("hem rises at the back by 1 cm", on=body(
        ["back neck point to waist"]))}
    both = asked_for("hem rises at the back by 1 cm", "back neck pulls, opened by 1.2 cm", on=body(
        ["back neck point to waist"]))
    hump = next(r for r in both if r.alteration == "high round back")
    assert hump.likelihood > alone["high round back"] and hump.explains == (0, 1) and ONE_CAUSE > 1
    assert 10.0 <= hump.amount.value <= 12.0
    seen = [at for r in both if r.first for at in r.explains]
    assert len(seen) == len(set(seen))


@settings(max_examples=25)
@given(st.lists(st.sampled_from([s.name for s in all_signs()]), min_size=2, max_size=5, unique=True), st.floats(6, 30))
def test_whatever_was_seen_each_has_one_cause(signs, mm):
    seen = [Observation(name, mm if find_sign(name).takes else None) for name in signs]
    if len(unanswered(seen, DRESS)) == len(seen):
        with pytest.raises(InputError, match="has a place"):
            answer(seen, DRESS, body())
        return
    found = answer(seen, DRESS, body())
    first = [r for r in found if r.first]
    explained = [at for r in first for at in r.explains]
    assert len(explained) == len(set(explained))
    ways = {}
    for r in first:  # never one alteration both ways at one place
        key = (r.alteration, tuple(sorted(r.options.items())))
        assert ways.setdefault(key, r.amount.value > 0) == (r.amount.value > 0)
    assert all(0 < r.likelihood <= 1 for r in found)


def test_more_than_is_usual_is_cut_off_and_said():
    first = asked_for("sleeve is too long by 15 cm")[0]
    assert first.amount.value == NAMES["sleeve length"].sane[0] and "look for a second cause" in first.reason
    assert "second cause" not in asked_for("sleeve is too long by 2 cm")[0].reason


def test_what_stops_a_reading_is_said():
    found = asked_for("hem dips at the back by 1.2 cm")
    flat = next(r for r in found if r.alteration == "full seat")
    assert "most that fits" in stopped(flat, DRESS)
    assert stopped(found[0], DRESS) == ""


def test_where_no_alteration_serves_the_way_out_is_said():
    assert "crotch" in way_out(read_saying("too tight over the seat"))
    with pytest.raises(InputError, match="lengthen or shorten"):
        asked_for("crotch is too high by 1 cm")


def test_left_and_right_are_answered_by_themselves():
    found = asked_for("armhole seam 1 cm beyond the shoulder point on the left",
                      "armhole seam 2 cm beyond the shoulder point on the right")
    by_side = {r.options["side"]: r.amount.value for r in found if r.alteration == "shoulder width"}
    assert by_side == {"left": pytest.approx(-10.0), "right": pytest.approx(-20.0)}


def test_two_readings_of_one_fold_cannot_both_be_accepted():
    found = asked_for("folds across at the small of the back, pinched 1 cm")
    assert chosen(found, [1, 1]) == found[:1]
    with pytest.raises(AlterationError, match="the same thing twice"):
        chosen(found, [1, 2])
    with pytest.raises(InputError, match="numbered 1 to"):
        chosen(found, [9])


@pytest.mark.parametrize(("pattern", "said", "name", "amount", "options"), [
    (choir_tunic, "too tight at the bust, opened by 3 cm", "full bust dartless", 15.0, {}),
    (choir_trousers, "too tight over the seat, opened by 3 cm", "crotch length back", 15.0, {"way": "seat"}),
    (choir_trousers, "crotch is too high by 1.5 cm", "crotch depth", 15.0, {}),
    (choir_trousers, "too tight at the thigh, opened by 2 cm", "thigh", 20.0, {}),
    (choir_trousers, "drag lines from the knee to the inside, 1 cm", "knees", 10.0, {}),
])
def test_patterns_of_other_kinds_are_cured_in_their_own_way(pattern, said, name, amount, options):
    first = asked_for(said, garment=pattern().at("4"))[0]
    assert (first.alteration, dict(first.options)) == (name, options)
    assert first.amount.value == pytest.approx(amount)
    assert alter(pattern().at("4"), [Order(name, first.amount, options)]).done


@pytest.mark.parametrize("said", ["hem rises in front by 1 cm", "hem dips in front by 1 cm",
                                  "hem rises at the back by 1 cm", "hem dips at the back by 1 cm"])
def test_a_hem_is_levelled_only_where_the_pattern_has_one(said):
    def offered(pattern):
        return {r.alteration for r in asked_for(said, garment=pattern().at("4"))}

    assert "hem level" in offered(concert_dress)
    assert offered(choir_trousers) and "hem level" not in offered(choir_trousers)


def test_what_this_pattern_cannot_take_is_said():
    with pytest.raises(InputError, match="has a place on this pattern"):
        asked_for("crotch is too high by 1 cm")
    seen = [read_saying("crotch is too high by 1 cm"), read_saying("dart ends 2 cm below the bust point")]
    assert unanswered(seen, DRESS) == (0,)
    assert answer(seen, DRESS, body())[0].explains == (1,)
    with pytest.raises(InputError, match="Nothing was seen"):
        answer([], DRESS, body())
    with pytest.raises(InputError, match="said twice"):
        asked_for("sleeve binds", "sleeve binds")


# -- closed loop ---------------------------------------------------------------------------------------

LOOPS = [(concert_dress, "bust dart height", 22.0), (concert_dress, "bust dart height", -18.0),
         (concert_dress, "shoulder width", 12.0), (concert_dress, "shoulder width", -12.0),
         (concert_dress, "armhole depth", -15.0), (concert_dress, "back length", 14.0),
         (concert_dress, "back length", -14.0), (princess_dress, "sleeve length", 20.0),
         (princess_dress, "sleeve length", -25.0), (choir_trousers, "crotch depth", 14.0),
         (choir_trousers, "crotch depth", -14.0)]


@pytest.mark.parametrize(("pattern", "name", "amount"), LOOPS, ids=[f"{n} {a:+.0f}" for _, n, a in LOOPS])
def test_a_pattern_that_was_put_out_is_put_right_again(pattern, name, amount):
    """What she would see is told from the pieces; what is answered undoes what was done, within its spread."""
    fits, on = pattern().at("4"), body()
    assert [r.sign for r in predict(fits, on).aims if r.sign] == []
    out = alter(fits, [Order(name, asked(amount))]).garment
    seen = predict(out, on).observations
    assert seen
    found = answer(seen, out, on)
    cure = next((r for r in found if r.first and r.alteration == name), None)
    assert cure is not None, found
    assert abs(cure.amount.value + amount) <= cure.amount.spread + 1.5
    back = alter(out, [Order(cure.alteration, replace(cure.amount, value=cure.amount.value))]).garment
    assert [r.sign for r in predict(back, on).aims if r.sign] == []
