"""What must always hold, for every alteration, on the drafted blocks in any size, by any amount that fits."""

import cmath
from dataclasses import replace

import pytest
from alter_kit import CASES, altered, assert_whole, dress, gap, made, order, other_hand
from hypothesis import given, settings
from hypothesis import strategies as st

from toilewright.blocks.chart import SIZES
from toilewright.draw.figure import Pen
from toilewright.errors import AlterationError, NameUnknown
from toilewright.fit.alterations import ALTERATIONS, alter, find_alteration
from toilewright.geometry.affine import Affine
from toilewright.pattern.truing import true_darts

sizes = st.sampled_from(SIZES)
shares = st.floats(0.0, 1.0)


def amount_of(case, share):
    amount = round(case[1] + (case[2] - case[1]) * share, 1)
    return amount or 1.0


@settings(max_examples=40, deadline=None)
@given(size=sizes, case=st.sampled_from(CASES), share=shares)
def test_whole_sewable_on_grain(size, case, share):
    garment = dress(size)
    found = altered(garment, case[0], amount_of(case, share), **case[3])
    assert found.done[0].changed
    for before, after in zip(garment.pieces, found.garment.pieces, strict=True):
        assert_whole(after)
        assert (before is not after) == (before.name in found.done[0].changed)
        assert [e.name for e in after.edges] == [e.name for e in before.edges]
        old, new = before.grain.end - before.grain.start, after.grain.end - after.grain.start
        assert abs(cmath.phase(new / old)) < 1e-9
    assert all(w.sews for w in found.walks), [(w.seam, w.note) for w in found.walks if not w.sews]


@settings(max_examples=25, deadline=None)
@given(size=sizes, case=st.sampled_from([c for c in CASES if c[4]]), share=shares)
def test_there_and_back(size, case, share):
    garment = dress(size)
    amount = amount_of(case, share)
    there = made(garment, case[0], amount, **case[3])
    back = made(there, case[0], -amount, **case[3])
    for before, after in zip(garment.pieces, back.pieces, strict=True):
        assert gap(true_darts(before), after) < 0.1, before.name


@settings(max_examples=20, deadline=None)
@given(case=st.sampled_from(CASES), share=shares, turn=st.floats(-3.0, 3.0), x=st.floats(-900, 900))
def test_mirrored_in_mirrored_out(case, share, turn, x):
    move = Affine.turn(turn).then(Affine.shift(complex(x, 300)))
    garment = dress("5")
    amount = amount_of(case, share)
    straight = other_hand(made(garment, case[0], amount, **case[3]), move)
    mirrored = made(other_hand(garment, move), case[0], amount, **case[3])
    for one, other in zip(straight.pieces, mirrored.pieces, strict=True):
        # Which side of a cut stays is free, so a band may lie elsewhere.
        shift = one.edges[0].path.start - other.edges[0].path.start
        assert gap(one, other.mapped(Affine.shift(shift))) < 1e-3, one.name


@pytest.mark.parametrize("name", [a.name for a in ALTERATIONS])
def test_nothing_asked_nothing_done(name):
    found = altered(dress(), name, 0.0)
    assert all(p is q for p, q in zip(dress().pieces, found.garment.pieces, strict=True))
    assert found.done[0].changed == ()


@pytest.mark.parametrize("case", CASES, ids=lambda c: f"{c[0]} {' '.join(c[3].values())}")
def test_cards_tell_every_amount_in_a_form_the_printer_can_show(case):
    card = altered(dress(), case[0], case[2], **case[3]).done[0].card
    assert "mm}" in card.title
    assert len(card.steps) >= 2
    assert card.check
    assert card.source
    assert card.figures
    for words in (*card.steps, *card.check, *(c.text for figure in card.figures for c in figure.captions)):
        assert words.count("{") == words.count("}")
        for part in words.split("{")[1:]:
            number, unit = part.split("}")[0].split(" ")
            assert unit == "mm"
            float(number)
    pens = [str(m.pen) for figure in card.figures for m in figure.marks]
    assert {"as bought", "as altered"} <= set(pens)
    assert ("added paper" in pens) == (case[0] != "bust dart point")  # only its legs are drawn anew
    assert any("{" in c.text for figure in card.figures for c in figure.captions)


def tinted(card):
    """Area of the added paper in the last picture of a card (mm^2)."""
    return sum(abs(m.path.area()) for m in card.figures[-1].marks if m.pen is Pen.FILL)


def test_added_paper_is_what_the_piece_gains():
    """The altered piece's own area is the check: nothing is cut off where a piece is only opened."""
    for name, amount, options in (("lengthen or shorten", 30.0, {"piece": "bodice front"}), ("full bust", 20.0, {}),
                                  ("hip in or out", 40.0, {}), ("high round back", 15.0, {"takes up": "ease"})):
        found = altered(dress(), name, amount, **options)
        shown = found.done[0].card.figures[-1].title
        gained = found.garment.piece(shown).area - dress().piece(shown).area
        assert tinted(found.done[0].card) == pytest.approx(gained, rel=0.12), name


def test_paper_that_is_lost_is_hatched_and_none_is_added():
    card = altered(dress(), "waist in or out", -40.0).done[0].card
    assert tinted(card) == 0
    assert sum(m.pen is Pen.GUIDE for m in card.figures[0].marks) > 20


def test_pictures_do_not_depend_on_hand_and_turn():
    turned = other_hand(dress(), Affine.turn(1.1).then(Affine.shift(50 - 70j)))
    for name, amount in (("full bust", 20.0), ("high round back", 12.0), ("forward shoulder", 10.0)):
        one, other = (altered(g, name, amount).done[0].card for g in (dress(), turned))
        for a, b in zip(one.figures, other.figures, strict=True):
            assert [m.pen for m in a.marks].count(Pen.SLASH) == [m.pen for m in b.marks].count(Pen.SLASH)
            assert b.bounds()[3] - b.bounds()[1] == pytest.approx(a.bounds()[3] - a.bounds()[1], rel=0.05)
        assert tinted(one) == pytest.approx(tinted(other), rel=0.03)


def test_a_yoke_without_centre_or_side_seam_still_has_its_card():
    """What a picture needs must never stop an alteration."""
    def yoke(piece):
        names = {"side seam": "lower edge", "centre front": "side of the neck", "centre back": "side of the neck"}
        return replace(piece, edges=tuple(replace(e, name=names.get(e.name, e.name)) for e in piece.edges), darts=tuple(
            replace(d, edge=names.get(d.edge, d.edge)) for d in piece.darts), notches=(), grain=None)

    before = dress()
    for name in ("bodice front", "bodice back"):
        before = before.with_piece(yoke(before.piece(name)))
    before = replace(before, seams=tuple(s for s in before.seams if s.name != "side seam"))
    for name, amount in (("forward shoulder", 9.0), ("bust dart point", 8.0)):
        card = altered(before, name, amount).done[0].card
        assert len(card.figures) == 2


def test_a_row_is_made_in_the_order_of_the_trade():
    row = [order("waist out", 20.0), order("full bust", 10.0), order("high round back", 8.0),
           order("lengthen", 12.0, piece="bodice front")]
    found = alter(dress(), row)
    assert [d.order.name for d in found.done] == [
        "lengthen or shorten", "high round back", "full bust", "waist in or out"]
    assert any(f.code == "re-ordered" for f in found.findings)
    assert all(w.sews for w in found.walks)
    assert not alter(dress(), row[::-1][:1]).findings


@pytest.mark.parametrize(("asked", "name", "sign"), [
    ("raise bust dart", "bust dart height", -1.0), ("Lower bust dart", "bust dart height", 1.0),
    ("small bust", "full bust", -1.0), ("shorten", "lengthen or shorten", -1.0), ("waist in", "waist in or out", -1.0)])
def test_names_that_carry_a_sign(asked, name, sign):
    one, got = find_alteration(asked)
    assert (one.name, got) == (name, sign)


def test_an_unknown_alteration_offers_the_nearest():
    with pytest.raises(NameUnknown, match='did you mean "forward shoulder"'):
        altered(dress(), "foward shoulder", 5.0)


def test_an_unknown_option_offers_the_nearest():
    with pytest.raises(NameUnknown, match='did you mean "takes up"'):
        altered(dress(), "high round back", 8.0, **{"take up": "ease"})


@pytest.mark.parametrize(("name", "amount", "options"), [
    ("high round back", 90.0, {}), ("forward shoulder", 120.0, {}), ("forward shoulder", -120.0, {}),
    ("bust dart height", 200.0, {}), ("bust dart height", -80.0, {}), ("bust dart point", 40.0, {}),
    ("bust dart point", -200.0, {}), ("full bust", 110.0, {}), ("full bust", -60.0, {}),
    ("lengthen or shorten", -150.0, {"piece": "bodice front"}), ("waist in or out", -500.0, {}),
    ("hip in or out", 500.0, {})])
def test_too_much_says_how_much_fits_and_that_does_fit(name, amount, options):
    with pytest.raises(AlterationError) as caught:
        altered(dress(), name, amount, **options)
    assert "the most that fits is" in str(caught.value)
    most = float(str(caught.value).split("the most that fits is ")[1].split(" ")[0])
    assert 0 < most / amount < 1
    inside = most - 1 if amount > 0 else most + 1
    found = altered(dress(), name, inside, **options)
    for piece in found.garment.pieces:
        assert_whole(piece)
