"""What a toile will show before it is sewn, told from pieces and tape."""

import pytest

from toilewright.blocks.chart import body_of as chart_body
from toilewright.blocks.choir_trousers import choir_trousers
from toilewright.blocks.choir_tunic import choir_tunic
from toilewright.blocks.concert import concert_dress
from toilewright.blocks.princess_dress import princess_dress
from toilewright.body.tape import body_of
from toilewright.errors import NameUnknown
from toilewright.fit.alterations import alter
from toilewright.fit.result import Order
from toilewright.fit.toile.aim import _LINES
from toilewright.fit.toile.observations import find_sign
from toilewright.fit.toile.predict import predict
from toilewright.fit.toile.round_body import _TIGHT, LEVELS
from toilewright.geometry.affine import Affine
from toilewright.known import Origin, asked
from toilewright.pattern.garment import Garment

DRESS = concert_dress().at("4")
CHART = chart_body("4")


def body(without=(), **more):
    measures = {k: v for k, v in CHART.items() if k not in without}
    return body_of("Alto", measures | {k.replace("_", " "): v for k, v in more.items()}, waist_place="natural")


def test_on_the_body_it_was_drafted_for_everything_sits():
    told = predict(DRESS, body())
    assert told.observations == () and all(abs(a.by.value) < 15 for a in told.aims)
    assert told.at("dart height").sentence.startswith("The bust dart aims at the height of the bust point")


def test_there_is_ease_at_six_levels():
    told = predict(DRESS, body())
    assert [row.place for row in told.eases] == [f"ease at the {level}" for level in LEVELS]
    by = {row.place.removeprefix("ease at the "): row.by for row in told.eases}
    # The block gives 95 mm at the bust on the level of the bust line, 45 at the waist; see its own words.
    assert by["bust"].value == pytest.approx(82, abs=5) and by["waist"].value == pytest.approx(45, abs=1)
    assert all(k.spread > 5 for k in by.values())


def test_a_low_bust_point_is_told_with_the_distance_that_the_toile_will_show():
    # By hand: so much lower that the bust point lies 281 from the neck point, across as before.
    front = DRESS.piece("bodice front")
    neck, bust = front.landmark("neck point"), front.landmark("bust point")
    lower = (281.0**2 - (bust - neck).real ** 2) ** 0.5 - (neck - bust).imag
    row = predict(DRESS, body(neck_shoulder_point_to_bust_point=281.0)).at("dart height")
    assert row.by.value == pytest.approx(-lower, abs=0.05) and row.sign == "dart ends above the bust point"
    assert row.observation.amount == pytest.approx(lower, abs=0.05)


@pytest.mark.parametrize(("measure", "by", "place", "words"), [
    ("shoulder length", -12.0, "shoulder point", "1.2 cm beyond the shoulder point"),
    ("shoulder length", 12.0, "shoulder point", "1.2 cm inside the shoulder point"),
    ("across back width", 30.0, "across back", "1.6 cm narrower"),
    ("back neck point to waist", 18.0, "centre back waist line", "1.8 cm above the waist"),
    ("waist to hip", -20.0, "hip line", "2.0 cm below the fullest part"),
    ("bust point width", -30.0, "dart across", "1.5 cm too far out"),
])
def test_what_is_off_is_told_in_her_words(measure, by, place, words):
    row = predict(DRESS, body(**{measure.replace(" ", "_"): CHART[measure] + by})).at(place)
    assert words in row.sentence and "give or take" in row.sentence


def test_too_little_ease_is_told_with_what_is_lacking():
    row = predict(DRESS, body(waist_girth=CHART["waist girth"] + 60)).at("ease at the waist")
    assert row.by.value == pytest.approx(-15, abs=1) and "1.5 cm too little at the waist" in row.sentence
    assert row.observation.sign == "too tight at the waist"
    assert row.observation.amount == pytest.approx(15 + 12.7, abs=1)  # to the handbooks' least of 1/2 in


def test_a_measure_that_was_not_taken_is_estimated_and_said_so():
    row = predict(DRESS, body(["neck shoulder point to bust point"])).at("dart height")
    assert row.hers.origin is Origin.ESTIMATED and "take it before you cut the cloth" in row.sentence
    assert row.by.spread > predict(DRESS, body()).at("dart height").by.spread
    assert row.sign == "" or abs(row.by.value) > row.by.spread


def test_nothing_depends_on_where_the_pieces_lie():
    turned = Garment(tuple(p.mapped(Affine.turn(1.1)).moved(300 - 70j) for p in DRESS.pieces), DRESS.seams)
    here, there = predict(DRESS, body()), predict(turned, body())
    assert [r.place for r in here.rows] == [r.place for r in there.rows]
    for one, other in zip(here.rows, there.rows, strict=True):
        assert one.by.value == pytest.approx(other.by.value, abs=0.05), one.place


def test_an_alteration_shows():
    lower = alter(DRESS, [Order("bust dart height", asked(20.0))]).garment
    assert predict(lower, body()).at("dart height").by.value == pytest.approx(20.0, abs=0.1)


@pytest.mark.parametrize(("pattern", "levels"), [(princess_dress, 6), (choir_tunic, 6), (choir_trousers, 3)])
def test_patterns_of_other_kinds_are_told_too(pattern, levels):
    told = predict(pattern().at("4"), body())
    assert len(told.eases) == levels and all(row.by.value > 0 for row in told.eases)
    assert all(abs(row.by.value) < 20 for row in told.aims)
    assert not any("dart" in row.sentence for row in told.rows)  # none of them has a bust dart


def test_a_wrap_is_told_standing_sitting_and_stepping():
    told = predict(DRESS, body())
    assert [str(one.pose) for one in told.wrap] == ["standing", "sitting", "stepping"]
    assert all(one.text for one in told.wrap) and predict(princess_dress().at("4"), body()).wrap == ()


def test_every_sign_that_is_foretold_is_one_that_can_be_seen():
    for name in (*_TIGHT.values(), *(s for line in _LINES for s in line.signs if s)):
        assert find_sign(name).takes
    with pytest.raises(NameUnknown):
        find_sign("dart ends")
