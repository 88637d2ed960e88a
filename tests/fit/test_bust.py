"""Bust and chest against what the handbooks agree on (C-228, E-372; Liechty and others, 1992, from memory)."""

from dataclasses import replace

import pytest
from alter_kit import altered, assert_whole, made, order
from canon_kit import block

from toilewright.errors import AlterationError
from toilewright.fit.alterations import ALTERATIONS, alter
from toilewright.fit.ease import measure_garment
from toilewright.pattern.parts import EdgeKind
from toilewright.pattern.walk import walk

FRONT, SIDE = "bodice front", "bodice side front"
DRESS, PRINCESS, TUNIC = "concert dress", "princess dress", "choir tunic"


def grown(before, after, piece, edge):
    return after.piece(piece).sewn_length(edge) - before.piece(piece).sewn_length(edge)


def mouth(piece, name):
    first, second = piece.feet(piece.dart(name))
    return abs(second - first)


def bust(garment):
    return next(g.value.value for g in measure_garment(garment) if g.place == "bust")


# -- full bust without darts, and with a princess seam ----------------------------------------------


@pytest.mark.parametrize("amount", [-20.0, 10.0, 24.0, 40.0])
def test_full_bust_on_a_princess_seam(amount):
    before = block(PRINCESS)
    found = altered(before, "full bust princess", amount)
    after = found.garment
    assert bust(after) - bust(before) == pytest.approx(2 * amount, abs=5)
    for piece, edge in ((SIDE, "armhole"), (SIDE, "shoulder"), (SIDE, "side seam"), (SIDE, "waist"), (FRONT, "waist"),
                        (FRONT, "neck"), (FRONT, "shoulder")):
        assert grown(before, after, piece, edge) == pytest.approx(0, abs=0.05), (piece, edge)
    assert grown(before, after, FRONT, "centre front") * amount > 0
    assert set(found.done[0].changed) == {FRONT, SIDE}
    seam = next(w for w in found.walks if w.seam == "princess seam front")
    assert seam.difference == pytest.approx(0, abs=0.01)
    for piece in (FRONT, SIDE):
        point = after.piece(piece).landmark("bust point")
        assert after.piece(piece).edge("princess seam").path.nearest(point)[1] < 0.01


def test_a_princess_seam_may_be_left_as_long_as_it_is():
    before = block(PRINCESS)
    after = made(before, "full bust princess", 16.0, length="leave")
    assert grown(before, after, FRONT, "centre front") == pytest.approx(0, abs=1e-6)
    assert grown(before, after, FRONT, "princess seam") < 3.0


@pytest.mark.parametrize("amount", [-10.0, 12.0, 25.0])
@pytest.mark.parametrize("fullness", ["dart", "ease", "gathers"])
def test_full_bust_without_darts(amount, fullness):
    before = block(TUNIC)
    after = made(before, "full bust dartless", amount, fullness=fullness)
    for edge in ("armhole", "shoulder", "neck"):
        assert grown(before, after, FRONT, edge) == pytest.approx(0, abs=0.05), edge
    assert grown(before, after, FRONT, "hem") == pytest.approx(amount, abs=0.1)
    assert grown(before, after, FRONT, "centre front") * amount > 0
    darts = [d.name for d in after.piece(FRONT).darts]
    assert darts == (["bust dart"] if fullness == "dart" and amount > 0 else [])
    side = next(w for w in walk(after) if w.seam == "side seam")
    assert side.sews
    if darts:
        assert grown(before, after, FRONT, "side seam") == pytest.approx(0, abs=0.3)
        made_dart = after.piece(FRONT).dart("bust dart")
        assert abs(made_dart.apex - after.piece(FRONT).landmark("bust point")) == pytest.approx(25, abs=5)  # 2.5 cm
    elif amount > 0:
        assert -side.difference == pytest.approx(grown(before, after, FRONT, "side seam"), abs=0.1)
        assert side.difference < -5


def test_a_front_without_a_bust_point_is_cut_at_its_usual_place_and_says_so():
    before = block(TUNIC)
    old = before.piece(FRONT)
    plain = before.with_piece(replace(old, landmarks=tuple(m for m in old.landmarks if m.name != "bust point")))
    found = altered(plain, "full bust dartless", 20.0)
    said = next(f for f in found.done[0].findings if f.code == "bust-point-supposed")
    assert "Mark yours" in said.text
    usual = made(before, "full bust dartless", 20.0).piece(FRONT).dart("bust dart")
    assert abs(found.garment.piece(FRONT).dart("bust dart").apex - usual.apex) < 12
    blank = plain.with_piece(replace(plain.piece(FRONT), lines=()))
    with pytest.raises(AlterationError, match="bust line"):
        altered(blank, "full bust dartless", 20.0)


def test_a_new_dart_is_a_bust_dart_like_any_other():
    """What is made can be altered on: lower it, then more room with the plain full bust."""
    tunic = made(block(TUNIC), "full bust dartless", 20.0)
    lower = made(tunic, "bust dart height", 15.0)
    assert mouth(lower.piece(FRONT), "bust dart") == pytest.approx(mouth(tunic.piece(FRONT), "bust dart"), abs=0.05)
    assert mouth(made(lower, "full bust", 8.0).piece(FRONT), "bust dart") > mouth(lower.piece(FRONT), "bust dart") + 3


@pytest.mark.parametrize(("name", "garment", "instead"), [
    ("full bust", PRINCESS, "full bust princess"), ("full bust", TUNIC, "full bust dartless"),
    ("full bust dartless", DRESS, "full bust"), ("full bust princess", DRESS, "full bust"),
    ("bust dart swung", TUNIC, "full bust dartless"), ("armhole gaping", TUNIC, "full bust dartless")])
def test_a_front_that_cannot_take_it_is_told_which_would_serve(name, garment, instead):
    with pytest.raises(AlterationError) as refused:
        altered(block(garment), name, 12.0)
    said = str(refused.value)
    assert f'"{instead}"' in said
    one = next(a for a in ALTERATIONS if a.name == instead)
    assert one.has_place(block(garment), {})


# -- the bust dart elsewhere ------------------------------------------------------------------------


@pytest.mark.parametrize("onto", ["shoulder", "armhole", "neck", "waist", "centre front"])
@pytest.mark.parametrize("share", [0.5, 1.0])
def test_bust_dart_swung(onto, share):
    before = block(DRESS)
    old = before.piece(FRONT)
    whole = mouth(old, "bust dart")
    found = altered(before, "bust dart swung", round(whole * share, 2), onto=onto)
    new = found.garment.piece(FRONT)
    assert_whole(new)
    for edge in ("side seam", "shoulder", "armhole", "neck"):
        assert grown(before, found.garment, FRONT, edge) == pytest.approx(0, abs=0.4), edge
    if share == 1.0:
        assert "bust dart" not in [d.name for d in new.darts]
    else:
        assert mouth(new, "bust dart") == pytest.approx(whole / 2, abs=0.1)
    opened = new.dart("waist dart" if onto == "waist" else f"{onto} dart")
    point = new.landmark("bust point")
    first, second = new.feet(opened)
    miss = ((first + second) / 2 - opened.apex) / (point - opened.apex)
    assert abs(miss.imag / miss.real) < 0.12  # it aims at the bust point
    if onto == "centre front":
        assert new.edge(onto).kind is EdgeKind.SEAM and (new.cut.count, new.cut.mirrored) == (2, True)
        assert any(f.code == "centre-seam" for f in found.done[0].findings)
    assert all(w.sews for w in found.walks)


def test_what_lies_there_already_is_said():
    with pytest.raises(AlterationError, match="bust dart split"):
        altered(block(DRESS), "bust dart swung", 10.0, onto="side seam")


def test_bust_dart_split():
    before = block(DRESS)
    found = altered(before, "bust dart split", 18.0)
    new = found.garment.piece(FRONT)
    whole = mouth(before.piece(FRONT), "bust dart")
    assert mouth(new, "bust dart") == pytest.approx(whole - 18.0, abs=0.1)
    assert mouth(new, "second bust dart") == pytest.approx(18.0, abs=3.0)  # the same angle, a little farther out
    assert grown(before, found.garment, FRONT, "side seam") == pytest.approx(0, abs=0.4)
    with pytest.raises(AlterationError, match="split already"):
        altered(found.garment, "bust dart split", 8.0)


@pytest.mark.parametrize("amount", [15.0, 36.0])
def test_bust_dart_to_gathers(amount):
    before = block(DRESS)
    found = altered(before, "bust dart to gathers", amount)
    side = next(w for w in found.walks if w.seam == "side seam")
    gathered = mouth(before.piece(FRONT), "bust dart") if amount > 30 else amount
    assert -side.difference == pytest.approx(gathered, abs=0.4)
    assert side.sews
    assert ("bust dart" in [d.name for d in found.garment.piece(FRONT).darts]) == (amount < 30)
    assert {"gather from here", "gather to here"} <= {n.name for n in found.garment.piece(FRONT).notches}


@pytest.mark.parametrize(("start", "amount"), [("shoulder", 60.0), ("armhole", 70.0)])
def test_bust_dart_to_princess_seam(start, amount):
    before = block(DRESS)
    found = altered(before, "bust dart to princess seam", amount, **{"from": start})
    after, old = found.garment, before.piece(FRONT)
    names = [p.name for p in after.pieces]
    assert names.index(SIDE) == names.index(FRONT) + 1
    assert set(found.done[0].changed) == {FRONT, SIDE}
    front, side = after.piece(FRONT), after.piece(SIDE)
    assert not front.darts and not side.darts
    for edge in ("shoulder", "armhole", "waist", "side seam", "neck"):
        total = sum(p.sewn_length(edge) for p in (front, side) if p.has_edge(edge))
        assert total == pytest.approx(old.sewn_length(edge), abs=0.4), edge
    walks = {w.seam: w for w in found.walks}
    assert walks["princess seam front"].difference == pytest.approx(0, abs=0.01)
    assert all(w.sews for w in found.walks), [(w.seam, w.note) for w in found.walks if not w.sews]
    assert walks["princess seam front"].notches[0].offset == pytest.approx(0, abs=0.2)
    assert side.cut.mirrored and side.cut.count == 2
    assert bust(after) == pytest.approx(bust(before), abs=6)
    wider = altered(after, "full bust princess", 12.0)  # and can be altered on
    assert bust(wider.garment) - bust(after) == pytest.approx(24, abs=5)


def test_the_bust_is_made_right_before_its_dart_goes_elsewhere():
    """In whatever order she asks: what turns the dart into something else comes after what needs the dart."""
    row = [order("bust dart to princess seam", 60.0), order("bust dart height", 8.0), order("full bust", 10.0)]
    found = alter(block(DRESS), row)
    assert [d.order.name for d in found.done] == ["bust dart height", "full bust", "bust dart to princess seam"]
    assert any(f.code == "re-ordered" for f in found.findings)
    assert all(w.sews for w in found.walks)


# -- chest and armhole ------------------------------------------------------------------------------


@pytest.mark.parametrize("name", [DRESS, PRINCESS, TUNIC])
@pytest.mark.parametrize("amount", [-10.0, 10.0])
def test_chest(name, amount):
    before = block(name)
    after = made(before, "chest hollow or full", amount)
    assert grown(before, after, FRONT, "centre front") == pytest.approx(amount, abs=0.01)
    for edge in ("armhole", "princess seam", "shoulder"):
        if before.piece(FRONT).has_edge(edge):
            assert grown(before, after, FRONT, edge) == pytest.approx(0, abs=0.05), edge
    assert abs(grown(before, after, FRONT, "neck")) < abs(amount)


def test_armhole_gaping():
    before = block(DRESS)
    found = altered(before, "armhole gaping", 10.0)
    after = found.garment
    assert grown(before, after, FRONT, "armhole") == pytest.approx(-10.0, abs=0.05)
    for edge in ("shoulder", "neck", "side seam", "centre front"):
        assert grown(before, after, FRONT, edge) == pytest.approx(0, abs=0.3), edge
    assert mouth(after.piece(FRONT), "bust dart") > mouth(before.piece(FRONT), "bust dart") + 5
    ease = [next(w.difference for w in walk(g) if w.seam == "armhole") for g in (before, after)]
    assert ease[1] == pytest.approx(ease[0], abs=0.3)
