"""Rows of alterations that no one would write: made soundly, or refused in a sentence."""

import cmath
import random

import pytest
from alter_kit import altered, assert_whole, order, other_hand
from canon_kit import BLOCKS, block, most_that_fits

from toilewright.blocks.chart import body_of as chart_body
from toilewright.body.tape import Body
from toilewright.errors import AlterationError, InputError, Severity
from toilewright.fit.alterations import ALTERATIONS, alter
from toilewright.fit.prescribe import drafted_for, prescribe
from toilewright.geometry.affine import Affine

TURNED = Affine.turn(1.1).then(Affine.shift(-500 + 900j))


def some_row(rng, garment):
    ready = [one for one in ALTERATIONS if one.has_place(garment, {})]
    row = []
    for one in rng.choices(ready, k=rng.randint(1, 4)):
        said = {str(o): rng.choice(o.words) for o in one.options if getattr(o, "words", ()) and rng.random() < 0.4}
        if rng.random() < 0.25:
            said["side"] = rng.choice(("left", "right"))
        row.append(order(one.name, rng.choice((*one.sane, rng.uniform(*one.sane) / 3)), **said))
    return row


def is_whole(before, after):
    old = {p.name: p for p in before.pieces}
    for piece in after.pieces:
        was = old.get(piece.name)
        if piece is was:
            continue
        assert_whole(piece)
        if was is not None:
            assert 0.3 < piece.area / was.area < 2.5, piece.name
            turned = (piece.grain.end - piece.grain.start) / (was.grain.end - was.grain.start)
            assert abs(cmath.phase(turned)) < 1e-9, piece.name


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("name", BLOCKS)
def test_sound_or_refused(name, seed):
    rng = random.Random(f"{name} {seed}")
    garment = block(name) if seed % 2 else other_hand(block(name), TURNED)
    try:
        found = alter(garment, some_row(rng, garment))
    except (AlterationError, InputError) as refused:
        assert str(refused).endswith(".")
    else:
        is_whole(garment, found.garment)
        assert all(d.card.steps for d in found.done if d.changed)


@pytest.mark.parametrize(("name", "line"), [("choir trousers", "crotch line"), ("choir tunic", "biceps line")])
def test_a_line_through_a_corner_is_no_place_to_cut(name, line):
    with pytest.raises(AlterationError, match=r"at a corner of it; choose a line that clears"):
        altered(block(name), "lengthen or shorten", 27.0, line=line)


def test_a_fold_that_reaches_beyond_a_corner_says_the_most_that_fits():
    trousers = BLOCKS["choir trousers"]().at("1")
    with pytest.raises(AlterationError, match="folds one part over the other's corner") as refused:
        altered(trousers, "lengthen or shorten", -120.0, line="thigh line")
    most = most_that_fits(refused.value)
    assert -120 < most < -60
    is_whole(trousers, altered(trousers, "lengthen or shorten", most + 0.6, line="thigh line").garment)


def test_the_grain_is_never_turned():
    trousers = block("choir trousers")
    row = [order("full abdomen", 25.0, hem="follow"), order("full abdomen", 25.0, hem="keep")]
    is_whole(trousers, alter(trousers, row).garment)


def test_a_band_follows_on_one_side():
    row = [order("waist in or out", -38.0, piece="trouser front", side="left"),
           order("lengthen or shorten", -4.1), order("hem level", 50.0)]
    trousers = other_hand(BLOCKS["choir trousers"]().at("9"), TURNED)
    assert not any(f.code == "does-not-sew" for f in alter(trousers, row).findings)


def test_a_band_that_was_no_match_before_is_left():
    large, small = (BLOCKS["choir trousers"]().at(size) for size in ("9", "1"))
    found = altered(large.with_piece(small.piece("waistband")), "waist in or out", -100.0)
    assert [f.severity for f in found.findings if f.code == "does-not-sew"] == [Severity.LOOK]


def test_a_sleeve_head_cannot_be_flatter_than_flat():
    with pytest.raises(AlterationError, match="leaves the head no height; the most that fits is"):
        alter(block("concert dress"), [order("upper arm", 50.0, head="let fall")] * 3)


@pytest.mark.parametrize("one", ALTERATIONS, ids=lambda one: one.name)
def test_what_no_line_could_show_is_nothing(one):
    garment = next(block(name) for name in BLOCKS if one.has_place(block(name), {}))
    assert not altered(garment, one.name, -3e-14).done[0].changed


def test_a_band_follows_each_of_its_four_seams_in_every_size():
    for size in ("1", "9"):
        found = altered(BLOCKS["choir trousers"]().at(size), "waist in or out", -110.0)
        assert not [f for f in found.findings if f.severity is Severity.STOP], size


def test_the_most_of_a_girth_on_one_side_is_told_as_it_is_asked():
    with pytest.raises(AlterationError) as refused:
        altered(block("concert dress"), "waist in or out", -100.0, side="left")
    most = most_that_fits(refused.value)
    assert '"waist in or out" by -10.0 cm' in str(refused.value) and -100 < most < 0
    assert altered(block("concert dress"), "waist in or out", most + 0.6, side="left").done[0].changed


@pytest.mark.parametrize("seed", [17, 19, 36])
def test_all_that_is_prescribed_can_be_made_together(seed):
    rng, trousers, chart = random.Random(seed), block("choir trousers"), chart_body("5")
    singer = Body("a bass", tuple((name, value * rng.gauss(1, 0.05)) for name, value in chart.items()))
    told = [p for p in prescribe(trousers, singer, drafted=drafted_for(trousers, chart)) if p.worth_doing]
    is_whole(trousers, alter(trousers, [p.order for p in told]).garment)
