"""Uneven figures: what is altered on one side becomes two pieces that sew together on both sides."""

import pytest
from fit.alter_kit import altered, dress, order

from toilewright.errors import AlterationError
from toilewright.fit.alterations import alter
from toilewright.fit.sides import hand


def total(walks, name):
    return next(w for w in walks if w.seam == name)


def test_hands_as_seen_from_before_and_from_behind():
    garment = dress()
    assert hand(garment.piece("bodice front")) == "left"
    assert hand(garment.piece("bodice back")) == "right"
    assert hand(garment.piece("skirt front")) == "left"
    mirrored = garment.piece("bodice front").mirrored(0j, 1j)
    assert hand(mirrored) == "right"
    assert hand(mirrored.mapped(lambda z: z * 1j)) == "right"


def test_the_sleeve_shows_its_side_by_its_front_notch():
    sleeve = dress().piece("sleeve")
    path = sleeve.edge("cap").path
    front = next(n for n in sleeve.notches if n.name == "front notch")
    middle = sum(e.path.start for e in sleeve.edges) / len(sleeve.edges)
    to_the_right = path.point_at(front.at).real > middle.real
    assert hand(sleeve) == ("right" if to_the_right else "left")


@pytest.mark.parametrize("side", ["left", "right"])
def test_one_hip_out_divides_the_skirt_and_leaves_the_bodice(side):
    found = altered(dress(), "hip in or out", 20.0, side=side)
    names = [p.name for p in found.garment.pieces]
    assert "bodice front" in names and "skirt front" in names, "the front is cut whole, opened out"
    assert "skirt back left" in names and "skirt back right" in names and "skirt back" not in names
    front = found.garment.piece("skirt front")
    assert not front.on_fold
    old = dress().piece("skirt front")
    assert front.line("centre front") is not None
    # The whole hip grows by what was asked: half of it on the front's one side, half on the back's.
    grown = front.area - 2 * old.area
    backs = sum(found.garment.piece(f"skirt back {s}").area for s in ("left", "right")) - 2 * dress().piece(
        "skirt back").area
    both = altered(dress(), "hip in or out", 20.0).garment
    assert grown + backs == pytest.approx(
        2 * (both.piece("skirt front").area - old.area + both.piece("skirt back").area - dress().piece(
            "skirt back").area), rel=0.02)
    other = "right" if side == "left" else "left"
    assert found.garment.piece(f"skirt back {other}").area == pytest.approx(dress().piece("skirt back").area)


@pytest.mark.parametrize(("name", "amount"), [("hip in or out", 20.0), ("waist in or out", 16.0),
                                              ("bust dart height", 15.0), ("forward shoulder", 8.0)])
@pytest.mark.parametrize("side", ["left", "right"])
def test_everything_still_sews(name, amount, side):
    found = altered(dress(), name, amount, side=side)
    assert [w.note for w in found.walks if not w.sews] == []
    assert found.uneven
    again = alter(dress(), [order(name, amount, side="left"), order(name, amount, side="right")])
    if name not in ("hip in or out", "waist in or out"):
        assert [p.name for p in again.garment.pieces] == [p.name for p in dress().pieces], "both sides alike: a pair"


def test_left_and_right_may_both_be_altered_by_their_own_amounts():
    found = alter(dress(), [order("bust dart height", 10.0, side="left"),
                            order("bust dart height", 25.0, side="right")])
    front = found.garment.piece("bodice front")
    left, right = (front.landmark(f"bust point {s}") for s in ("left", "right"))
    fold = front.line("centre front")
    down = (fold.end - fold.start) / abs(fold.end - fold.start)
    assert ((right - left) * down.conjugate()).real == pytest.approx(15.0, abs=1e-6)
    assert abs(fold.nearest(left)[1] - fold.nearest(right)[1]) < 1e-6, "as far from the centre on both sides"
    assert [d.order.options["side"] for d in found.done] == ["left", "right"]
    assert "on her left side only" in found.done[0].card.title


def test_the_girth_asked_on_one_side_is_what_the_whole_waist_gains():
    found = altered(dress(), "waist in or out", 16.0, side="left")
    was, now = (sum(p.sewn_length(e.name) * (1 if whole else 2) for p in g.pieces if p.name.startswith("bodice")
                    for e in p.edges if e.name.startswith("waist"))
                for g, whole in ((dress(), False), (found.garment, True)))
    assert now - was == pytest.approx(16.0, abs=0.05)
    band = found.garment.piece("waistband")
    assert band.edge("waist").path.length - dress().piece("waistband").edge("waist").path.length == pytest.approx(
        16.0, abs=0.05)
    assert any("waistband" in f.text for f in found.findings)


def test_bought_pieces_stand_under_the_same_names():
    found = altered(dress(), "hip in or out", 20.0, side="left")
    assert [p.name for p in found.bought.pieces] == [p.name for p in found.garment.pieces]
    assert found.bought.piece("skirt back right") == found.garment.piece("skirt back right")


def test_halves_that_no_longer_meet_on_the_fold_are_refused():
    with pytest.raises(AlterationError, match=r"differ by 2\.0 cm .* along the fold"):
        altered(dress(), "lengthen or shorten", 20.0, piece="bodice front", side="left")


def test_an_unknown_side_is_refused():
    with pytest.raises(AlterationError, match="middle"):
        altered(dress(), "hip in or out", 20.0, side="middle")


@pytest.mark.parametrize("side", ["left", "right"])
def test_what_is_eased_on_one_side_is_sewn_on_that_side(side):
    found = altered(dress(), "neckline gaping back", 3.0, side=side)
    assert all(w.sews for w in found.walks), [(w.seam, w.note) for w in found.walks if not w.sews]
    assert found.garment.piece("bodice back left") != found.garment.piece("bodice back right")
