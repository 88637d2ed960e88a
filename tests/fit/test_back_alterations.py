"""The back against what the handbooks agree on: what grows, by how much, and what stays.

Sources: New Mexico State University Cooperative Extension C-228; Texas AgriLife Extension E-372.
"""

import cmath

import pytest
from alter_kit import altered, assert_whole, dress, made, order
from canon_kit import block

from toilewright.errors import AlterationError
from toilewright.fit.alterations import alter
from toilewright.fit.flat import flat_of

BACK = "bodice back"
SIZES = pytest.mark.parametrize("size", ["1", "5", "10"])


def changes(before, after, piece):
    """Edges of a piece that are sewn to another length, and by how much (mm)."""
    found = {e.name: after.piece(piece).sewn_length(e.name) - before.piece(piece).sewn_length(e.name)
             for e in before.piece(piece).edges}
    return {name: by for name, by in found.items() if abs(by) > 0.1}


def flat(garment, name):
    return flat_of(garment).lengths[name].value


def only_piece_changed(before, after, piece):
    """Nothing else was touched, but for what is copied from the piece."""
    return {p.name for p in before.pieces if after.piece(p.name) is not p} <= {piece, "back neck facing"}


# -- width -------------------------------------------------------------------------------------------


@SIZES
@pytest.mark.parametrize("amount", [10.0, 4.0, -8.0])
def test_broad_and_narrow_back(size, amount):
    """Armhole and shoulder keep their lengths; each half gains what was asked, half way down the armhole."""
    before = dress(size)
    after = made(before, "back width", amount)
    assert flat(after, "across back") - flat(before, "across back") == pytest.approx(amount, abs=0.05)
    assert changes(before, after, BACK) == {}
    assert only_piece_changed(before, after, BACK)
    for mark in ("nape", "neck point", "underarm", "side waist"):
        assert after.piece(BACK).landmark(mark) == before.piece(BACK).landmark(mark)
    rise = after.piece(BACK).landmark("shoulder tip").imag - before.piece(BACK).landmark("shoulder tip").imag
    assert 0 < rise / amount < 1.1, "a flatter armhole of the same length reaches higher"


def test_a_broad_back_has_no_lump_in_the_armhole():
    path = made(dress(), "back width", 12.0).piece(BACK).edge("armhole").path
    step = 2.0
    turns = [abs(cmath.phase(path.tangent_at(s + step) / path.tangent_at(s)))
             for s in (k * step for k in range(1, int(path.length / step) - 2))]
    assert max(turns) < 0.12


@pytest.mark.parametrize("amount", [8.0, -8.0])
def test_width_there_and_back(amount):
    before = dress()
    back = made(made(before, "back width", amount), "back width", -amount)
    assert flat(back, "across back") == pytest.approx(flat(before, "across back"), abs=0.1)
    tips = [g.piece(BACK).landmark("shoulder tip") for g in (before, back)]
    assert abs(tips[1] - tips[0]) < 1.0


# -- length ------------------------------------------------------------------------------------------


@SIZES
@pytest.mark.parametrize(("name", "amount", "by"), [
    ("back length", 15.0, 15.0), ("back length", -12.0, -12.0), ("sway back", 14.0, -14.0)])
def test_length_at_the_centre_only(size, name, amount, by):
    """Folded out or opened at the centre, nothing at the side seam; the centre is ruled straight."""
    before = dress(size)
    found = altered(before, name, amount)
    after = found.garment
    assert changes(before, after, BACK) == {"centre back": pytest.approx(by)}
    assert only_piece_changed(before, after, BACK)
    assert all(w.sews for w in found.walks)
    old, new = before.piece(BACK), after.piece(BACK)
    assert new.grain == old.grain
    assert cmath.phase(new.edge("centre back").path.end_tangent / old.edge("centre back").path.end_tangent
                       ) == pytest.approx(0, abs=1e-9)
    assert flat(after, "centre back length") - flat(before, "centre back length") == pytest.approx(by)
    for edge in ("neck", "shoulder", "armhole"):
        assert new.edge(edge) == old.edge(edge)
    square = new.edge("centre back").path.end_tangent / new.edge("waist").path.start_tangent
    assert abs(cmath.phase(square)) == pytest.approx(cmath.pi / 2, abs=1e-6)


def test_the_fold_of_a_sway_back_lies_lower_than_that_of_a_short_back():
    def hinge(name, amount):
        figure = altered(dress(), name, amount).done[0].card.figures[0]
        return next(c.at.imag for c in figure.captions if c.text == "hinge")
    assert hinge("sway back", 10.0) < hinge("short back", 10.0) - 40


def test_sway_back_on_a_skirt():
    before = dress()
    after = made(before, "sway back", 12.0, piece="skirt back")
    assert changes(before, after, "skirt back") == {"centre back": pytest.approx(-12.0)}
    assert {p.name for p in before.pieces if after.piece(p.name) is not p} == {"skirt back"}
    old, new = before.piece("skirt back"), after.piece("skirt back")
    assert new.edge("hem") == old.edge("hem")
    assert new.landmark("centre waist") - old.landmark("centre waist") == pytest.approx(-12j)
    assert abs(new.landmark("side waist") - old.landmark("side waist")) < 4.0


def test_sway_back_on_trousers():
    before = block("choir trousers")
    found = altered(before, "sway back", 10.0)
    lengths = changes(before, found.garment, "trouser back")
    assert lengths == {"crotch seam": pytest.approx(-10.0, abs=0.3)}
    assert all(w.sews for w in found.walks)
    assert_whole(found.garment.piece("trouser back"))


def test_on_a_princess_seam_the_panel_at_the_centre_is_folded_alone():
    before = block("princess dress")
    found = altered(before, "sway back", 8.0)
    assert changes(before, found.garment, BACK)["centre back"] == pytest.approx(-8.0)
    assert "princess seam" not in changes(before, found.garment, BACK)
    assert found.garment.piece("bodice side back") is before.piece("bodice side back")


def test_a_longer_back_is_no_sway_back():
    with pytest.raises(AlterationError, match='use "back length"'):
        altered(dress(), "sway back", -8.0)


def test_all_of_them_in_one_row_still_sew():
    found = alter(dress(), [order("broad back", 6.0), order("long back", 10.0), order("sway back", 8.0),
                            order("high round back", 8.0), order("square shoulders", 5.0)])
    assert all(w.sews for w in found.walks), [(w.seam, w.note) for w in found.walks if not w.sews]
    for piece in found.garment.pieces:
        assert_whole(piece)
