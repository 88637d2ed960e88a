"""Amounts of alterations from the tape against the pieces."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from toilewright.blocks.chart import body_of as chart_body
from toilewright.blocks.choir_trousers import choir_trousers
from toilewright.blocks.concert import concert_dress
from toilewright.body import Body, body_of
from toilewright.body.measures import all_measures
from toilewright.errors import AlterationError, NameUnknown
from toilewright.fit.amounts import USES, auto_amount
from toilewright.fit.chart_size import drafted_cup
from toilewright.known import Origin

GARMENT = concert_dress().at("4")
CHART = chart_body("4")
CUPS = concert_dress().chart
EVERY = ("high round back", "bust dart height", "bust dart point", "full bust", "lengthen or shorten",
         "waist in or out", "hip in or out")


def body(without=(), **more):
    measures = {k: v for k, v in CHART.items() if k not in without}
    return body_of("Alto", measures | {k.replace("_", " "): v for k, v in more.items()}, waist_place="natural")


@pytest.mark.parametrize("name", EVERY)
def test_the_body_of_the_chart_needs_nothing(name):
    known = auto_amount(name, GARMENT, body())
    assert known.value == pytest.approx(0, abs=3.0)
    assert known.value == 0 or "not worth doing" in known.reason
    assert known.origin is Origin.MEASURED and known.spread > 0


@settings(max_examples=25, deadline=None)
@given(st.floats(6, 30))
def test_a_high_round_back_is_what_the_centre_alone_needs(more):
    hump = auto_amount("high round back", GARMENT, body(back_neck_point_to_waist=407 + more))
    assert hump.value == pytest.approx(more, abs=0.05) and "not worth" not in hump.reason
    # A long back is longer everywhere: no hump, but length.
    long = body(back_neck_point_to_waist=407 + more, neck_shoulder_point_to_waist_back=425 + more)
    assert auto_amount("high round back", GARMENT, long).value == pytest.approx(0, abs=0.05)
    assert auto_amount("lengthen or shorten", GARMENT, long).value == pytest.approx(more, abs=0.05)


def test_without_the_second_measure_the_reason_says_what_is_not_known():
    known = auto_amount("high round back", GARMENT, body(["neck shoulder point to waist back"],
                                                         back_neck_point_to_waist=422))
    assert known.value == pytest.approx(15, abs=0.05) and "round back from a long one" in known.reason
    assert known.spread > auto_amount("bust dart height", GARMENT, body()).spread


def test_a_flat_back_has_no_hump_to_take_away():
    assert auto_amount("high round back", GARMENT, body(back_neck_point_to_waist=390)).value == 0


def test_a_low_bust_point_lowers_the_dart():
    known = auto_amount("bust dart height", GARMENT, body(neck_shoulder_point_to_bust_point=281))
    front = GARMENT.piece("bodice front")
    neck, bust = front.landmark("neck point"), front.landmark("bust point")
    # Check: the bust point so much lower is 281 from the neck point.
    assert abs(bust - 1j * known.value - neck) == pytest.approx(281, abs=1e-6)
    assert 20 < known.value < 24 and "lower" in known.reason
    assert auto_amount("bust dart height", GARMENT, body(neck_shoulder_point_to_bust_point=240)).value < -15


def test_a_bust_point_told_from_the_dart_is_less_sure():
    front = GARMENT.piece("bodice front")
    bare = GARMENT.with_piece(replace(front, landmarks=tuple(m for m in front.landmarks if m.name != "bust point")))
    low = body(neck_shoulder_point_to_bust_point=281)
    sure, unsure = auto_amount("bust dart height", GARMENT, low), auto_amount("bust dart height", bare, low)
    assert unsure.value == pytest.approx(sure.value, abs=1.5) and unsure.spread > sure.spread


def test_bust_points_farther_apart_bring_the_dart_point_out():
    def into(width, **options):
        return auto_amount("bust dart point", GARMENT, body(bust_point_width=width), options=options).value
    assert into(212, way="in") == pytest.approx(-10, abs=0.05)
    assert into(172, way="in") == pytest.approx(10, abs=0.05)
    # Along the dart, which slopes, it is a little less.
    front = GARMENT.piece("bodice front")
    dart = front.dart("bust dart")
    axis = dart.apex - sum(front.feet(dart)) / 2
    assert into(172) == pytest.approx(10 * abs(axis.real) / abs(axis), abs=0.05)
    assert into(172) > 9


def test_full_bust_is_half_of_what_the_cup_has_more():
    # Full minus upper 94, drafted for 50.8: 43.2 more; the ease of 82 - 40 = 42 grows to 85.
    known = auto_amount("full bust", GARMENT, body(bust_girth=940))
    assert known.value == pytest.approx((940 - 846 - 50.8) / 2, abs=0.05)
    # The chart may say otherwise how the pattern is drafted.
    drafted = auto_amount("full bust", GARMENT, body(bust_girth=940), drafted_cup=drafted_cup(CUPS, "4"))
    assert drafted.value == pytest.approx(20, abs=0.05)
    # A size chosen by the full bust has room already: not beyond the usual ease.
    roomy = concert_dress().at("6")
    assert auto_amount("full bust", roomy, body(bust_girth=940)).value == 0


def test_small_bust_is_taken_in_only_as_the_ease_allows():
    size5 = concert_dress().at("5")
    known = auto_amount("full bust", size5, body(bust_girth=880, upper_bust_girth=870))
    assert known.value == pytest.approx(-(50.8 - 10) / 2, abs=0.05)
    assert auto_amount("full bust", GARMENT, body(bust_girth=900, upper_bust_girth=880)).value == pytest.approx(
        (900 + 76.2 - 981.9) / 2, abs=0.2)


def test_the_front_is_lengthened_over_the_bust():
    more = auto_amount("lengthen or shorten", GARMENT, body(neck_shoulder_point_to_waist=459),
                       options={"piece": "bodice front"})
    assert more.value == pytest.approx(20 - 5, abs=2)
    with pytest.raises(AlterationError, match="matter of taste"):
        auto_amount("lengthen or shorten", GARMENT, body(), options={"piece": "sleeve"})


def test_hip_out_to_the_usual_ease_and_to_the_wanted_one():
    wide = body(hip_girth=1000)
    assert auto_amount("hip in or out", GARMENT, wide).value == pytest.approx(1000 + 76.2 - 1032, abs=0.05)
    assert auto_amount("hip in or out", GARMENT, wide, {"hip": 60}).value == pytest.approx(28, abs=0.05)
    assert auto_amount("waist in or out", GARMENT, body(), {"waist": 25}).value == pytest.approx(-20, abs=0.05)
    assert auto_amount("hip in or out", GARMENT, wide).origin is Origin.HANDBOOK
    assert "bring it in" in auto_amount("waist in or out", GARMENT, body()).reason


def test_forward_shoulder_only_from_the_tape_sheet():
    assert auto_amount("forward shoulder", GARMENT, body(forward_shoulder=12)).value == 12
    with pytest.raises(AlterationError, match="toile"):
        auto_amount("forward shoulder", GARMENT, body())


@pytest.mark.parametrize(("name", "measure"), [
    ("high round back", "back neck point to waist"), ("bust dart height", "neck shoulder point to bust point"),
    ("bust dart point", "bust point width"), ("full bust", "upper bust girth"), ("waist in or out", "waist girth"),
    ("hip in or out", "hip girth")])
def test_a_missing_measure_is_asked_for(name, measure):
    with pytest.raises(AlterationError) as caught:
        auto_amount(name, GARMENT, body([measure]))
    assert measure in str(caught.value) and name in str(caught.value)


def test_what_the_pieces_do_not_show_is_said():
    skirt = replace(GARMENT, pieces=(GARMENT.piece("skirt front"), GARMENT.piece("skirt back")))
    for name in ("high round back", "bust dart height", "full bust", "lengthen or shorten"):
        with pytest.raises(AlterationError, match=name):
            auto_amount(name, skirt, body())
    plain = GARMENT.with_piece(replace(GARMENT.piece("bodice front"), darts=(), landmarks=()))
    with pytest.raises(AlterationError, match="bust point"):
        auto_amount("bust dart height", plain, body())


def test_an_unknown_alteration_is_answered_with_the_nearest():
    with pytest.raises(NameUnknown, match="full bust"):
        auto_amount("full busted", GARMENT, body())


def test_a_small_bust_in_close_pieces_says_what_taking_away_would_spend():
    known = auto_amount("full bust", GARMENT, body(bust_girth=920, upper_bust_girth=905))
    assert known.value == 0.0 and "taking room away would leave less than 7.6 cm" in known.reason


UNMARKED = replace(GARMENT, pieces=tuple(replace(p, lines=tuple(x for x in p.lines if x.name != "hip line"))
                                         for p in (*GARMENT.pieces, *choir_trousers().at("4").pieces)))


def told(name, one, **options):
    """What an amount comes out as, or why it does not, on pieces without a hip line."""
    try:
        return auto_amount(name, UNMARKED, one, options=options)
    except AlterationError as problem:
        return str(problem)


@pytest.mark.parametrize("name", USES)
def test_the_measures_that_an_amount_uses_are_those_that_make_a_difference(name):
    # Somebody with every measure, and each of them other than the pattern's.
    taken = {m.name: (m.low + m.high) / 2 for m in all_measures()} | {k: v + 17 for k, v in CHART.items()}
    taken |= {"bust girth": 960.0, "forward shoulder": 12.0, "waist to hip": 236.0, "back neck point to waist": 431.0}
    left = (("waist to hip", 221.0),)
    used = set()
    for way in ({}, {"piece": "bodice front"}, {"side": "right"}):
        # Nape to waist is the way out where the length beside it was not taken.
        for gone in ((), ("neck shoulder point to waist back",)):
            rows = tuple((k, v) for k, v in taken.items() if k not in gone)
            said = told(name, Body("Alto", rows, left), **way)
            used |= {k for k, _ in rows
                     if told(name, Body("Alto", tuple(r for r in rows if r[0] != k), left), **way) != said}
    assert used == set(USES[name])
