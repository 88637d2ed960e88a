"""Alterations tried: what works is made as in a whole make, what does not leaves the others as if it were not there."""

from dataclasses import replace

import pytest

from toilewright.blocks.concert import concert_dress
from toilewright.body.tape import Wish, body_of
from toilewright.errors import Finding, InputError, Severity
from toilewright.make.finishing import finished
from toilewright.make.outcome import make_up, size_up
from toilewright.make.reading import Reading
from toilewright.make.recipe import Make
from toilewright.make.trying import Asked, Fate, try_alterations

MEASURES = {"height": 1660.0, "bust": 955.0, "high_bust": 900.0, "waist": 785.0, "hip": 1020.0, "nape_to_waist": 430.0,
            "neck_shoulder_point_to_bust_point": 291.0, "neck_shoulder_point_to_waist_back": 434.0,
            "forward_shoulder": 12.0}
ROW = (Wish("full bust", 15.0), Wish("lengthen or shorten", 20.0, {"piece": "skirt front"}),
       Wish("high round back", None), Wish("bust dart height", None), Wish("forward shoulder", None))


@pytest.fixture(scope="module")
def sized():
    body = body_of("an alto", MEASURES)
    nothing_printed = None  # the pieces are at hand, nobody looks at the sheet they came from
    reading = Reading(nothing_printed, nothing_printed, concert_dress(), (), True)
    return size_up(Make("Dress", size="5", alterations=ROW, standing=False), body, reading)


def asked(*wishes):
    return [Asked(f"row {k}", wish) for k, wish in enumerate(wishes)]


def test_alterations_that_all_work_are_made_as_in_the_whole_make(sized):
    trial = try_alterations(sized, asked(*ROW))
    outcome = make_up(sized)
    cut = finished(trial.altered.garment, sized.make).garment  # a trial ends before allowances and extra pieces
    assert replace(trial.altered, garment=cut) == outcome.altered
    assert [t.fate for t in trial.tried] == [Fate.MADE] * len(ROW)
    assert [t.done.order.name for t in trial.tried] == [wish.name for wish in ROW]  # in the order asked, not made
    assert trial.of("row 3").amount == next(d.order.amount for d in outcome.altered.done
                                            if d.order.name == "bust dart height")


@pytest.mark.parametrize("place", [0, 2, len(ROW)])
@pytest.mark.parametrize("wish", [
    Wish("bust dart height", 900.0),  # not by that much
    Wish("lengthen or shorten", 20.0, {"piece": "collar"}),  # no such piece
    Wish("lengthen or shorten", None, {"piece": "sleeve", "side": "left"}),  # no such option
])
def test_a_refused_one_leaves_the_others_as_if_it_were_not_there(sized, wish, place):
    rows = asked(*ROW)
    trial = try_alterations(sized, [*rows[:place], Asked("odd", wish), *rows[place:]])
    alone = try_alterations(sized, rows)
    assert trial.of("odd").fate is Fate.REFUSED and trial.of("odd").why.endswith(".") and trial.of("odd").done is None
    assert trial.altered == alone.altered
    assert [t for t in trial.tried if t.key != "odd"] == list(alone.tried)


def test_of_two_that_exclude_each_other_the_first_in_the_list_is_made(sized):
    big, bigger = Wish("bust dart height", 60.0), Wish("bust dart height", 70.0)
    trial = try_alterations(sized, asked(big, bigger))
    assert [t.fate for t in trial.tried] == [Fate.MADE, Fate.REFUSED]
    assert trial.altered == try_alterations(sized, asked(big)).altered


def test_what_the_measures_ask_too_little_of_is_not_made_but_what_she_asks_is(sized):
    body = replace(sized.body, measures=tuple((name, 1.0 if name == "forward shoulder" else value)
                                              for name, value in sized.body.measures))
    small = replace(sized, body=body)
    auto, own = try_alterations(small, asked(Wish("forward shoulder", None), Wish("forward shoulder", 1.0))).tried
    assert (auto.fate, auto.amount.value, auto.done) == (Fate.TOO_SMALL, 1.0, None)
    assert own.fate is Fate.MADE


def test_a_standing_one_without_a_place_is_left_out_and_one_of_this_make_is_refused(sized):
    skirt = replace(sized, before=replace(sized.before, seams=(), pieces=tuple(
        p for p in sized.before.pieces if p.name == "skirt tier")))
    wish = Wish("forward shoulder", 10.0)
    standing, own = try_alterations(skirt, [Asked("always", wish, standing=True), Asked("own", wish)]).tried
    assert (standing.fate, standing.why) == (Fate.NO_PLACE, "")
    assert own.fate is Fate.REFUSED and own.why


def test_a_sheet_that_must_be_put_right_stops_everything(sized):
    stop = Finding("open-outline", "The outline of the sleeve is open.", Severity.STOP)
    with pytest.raises(InputError, match="sleeve is open"):
        try_alterations(replace(sized, reading=replace(sized.reading, findings=(stop,))), asked(*ROW))


def test_nobody_is_found_under_an_unknown_key(sized):
    with pytest.raises(KeyError):
        try_alterations(sized, ()).of("row 0")
