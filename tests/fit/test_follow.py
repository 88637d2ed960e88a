"""What is sewn to an altered piece follows it, seam by seam."""

from dataclasses import replace

import pytest
from alter_kit import altered, assert_whole, gap, order
from canon_kit import block

from toilewright.fit.alterations import alter
from toilewright.fit.follow import allow_ease, settle, trued
from toilewright.fit.moves.centre import run_centre_on
from toilewright.fit.moves.edges import match_length
from toilewright.geometry.affine import Affine
from toilewright.pattern.garment import EdgeRef, Seam
from toilewright.pattern.parts import Cut
from toilewright.pattern.walk import walk

FRONT, BACK = "bodice front", "bodice back"
DRESS, TUNIC = "concert dress", "choir tunic"


def with_longer(garment, piece, edge, end, by):
    """One edge longer at one of its corners, nothing else asked."""
    old = garment.piece(piece)
    return garment.with_piece(match_length(old, edge, end, old.sewn_length(edge) + by))


def differences(garment):
    return {w.seam: w.difference for w in walk(garment)}


def changed(before, after):
    return {p.name for p, q in zip(before.pieces, after.pieces, strict=True) if p is not q}


def test_nothing_changed_nothing_follows():
    garment = block(DRESS)
    assert settle(garment, garment) == (garment, ())
    nearly = with_longer(garment, FRONT, "side seam", "waist", 0.2)  # within a pen line
    assert settle(garment, nearly)[0] is nearly


@pytest.mark.parametrize("by", [-6.0, 9.0])
@pytest.mark.parametrize(("piece", "partner", "edge", "end"), [
    (FRONT, BACK, "side seam", "waist"), (BACK, FRONT, "side seam", "waist"),
    ("skirt front", "skirt back", "side seam", "hem")])
def test_an_equal_partner_grows_at_its_free_end(piece, partner, edge, end, by):
    before = block(DRESS)
    moved = with_longer(before, piece, edge, end, by)
    after, _ = settle(before, moved)
    assert after.piece(piece) is moved.piece(piece) or piece in changed(moved, after)
    old, new = before.piece(partner), after.piece(partner)
    assert new.sewn_length(edge) - old.sewn_length(edge) == pytest.approx(by, abs=0.1)
    for kept in ("armhole", "neck", "shoulder"):
        if old.has_edge(kept):
            assert new.edge(kept).path == old.edge(kept).path
    assert differences(after)[{"skirt front": "skirt side seam"}.get(piece, edge)] == pytest.approx(0, abs=0.1)


def test_a_shoulder_follows_at_the_end_that_moved():
    before = block(DRESS)
    at_tip, _ = settle(before, with_longer(before, FRONT, "shoulder", "armhole", 7.0))
    assert at_tip.piece(BACK).edge("neck").path == before.piece(BACK).edge("neck").path
    at_neck, _ = settle(before, with_longer(before, FRONT, "shoulder", "neck", -7.0))
    assert at_neck.piece(BACK).edge("armhole").path == before.piece(BACK).edge("armhole").path
    for after in (at_tip, at_neck):
        assert differences(after)["shoulder"] == pytest.approx(differences(before)["shoulder"], abs=0.3)


def lowered(garment, piece, centre, by):
    """The neck lower at the centre, drawn to nothing at the shoulder."""
    return garment.with_piece(run_centre_on(garment.piece(piece), centre, "neck", -by))


def test_a_facing_is_copied_from_its_altered_neck():
    before = block(DRESS)
    after, _ = settle(before, lowered(before, FRONT, "centre front", 18.0))
    facing, neck = after.piece("front neck facing"), after.piece(FRONT).edge("neck").path
    assert_whole(facing)
    assert facing.edge("neck").path.length == pytest.approx(neck.length, abs=1e-6)
    assert facing.edge("centre front").path.length == pytest.approx(60, abs=1e-6)  # as deep as before
    assert facing.edge("shoulder").path == before.piece("front neck facing").edge("shoulder").path
    low = [p.edge("outer edge").path for p in (before.piece("front neck facing"), facing)]
    assert abs(low[1].start - low[0].start) == pytest.approx(18, abs=0.01)
    assert low[1].end == low[0].end
    assert after.piece("back neck facing") is before.piece("back neck facing")


def test_a_facing_that_lies_elsewhere_and_turned_over_is_copied_all_the_same():
    plain = block(DRESS)
    facing = plain.piece("front neck facing")
    put = facing.mirrored(0j, 1j).mapped(Affine.turn(0.7).then(Affine.shift(900 - 40j)))
    seams = tuple(replace(s, b=tuple(replace(r, reverse=not r.reverse) if r.piece == facing.name else r for r in s.b),
                          a=tuple(replace(r, reverse=not r.reverse) if r.piece == facing.name else r for r in s.a))
                  for s in plain.seams)
    before = replace(plain.with_piece(put), seams=seams)
    after, _ = settle(before, lowered(before, FRONT, "centre front", 18.0))
    usual, _ = settle(plain, lowered(plain, FRONT, "centre front", 18.0))
    back = after.piece(facing.name).mapped(Affine.turn(0.7).then(Affine.shift(900 - 40j)).inverse()).mirrored(0j, 1j)
    assert gap(usual.piece(facing.name), back) < 0.01


def test_a_lining_is_altered_like_its_piece():
    plain = block(DRESS)
    front = plain.piece(FRONT)
    lining = replace(front, name="bodice front lining", cut=Cut(1, False, "lining"))
    before = replace(plain, pieces=(*plain.pieces, lining))
    found = altered(before, "full bust", 15.0)
    new = found.garment.piece(lining.name)
    assert lining.name in found.done[0].changed
    for edge in ("neck", "armhole", "shoulder", "waist", "side seam"):
        assert new.edge(edge).path.length == pytest.approx(found.garment.piece(FRONT).edge(edge).path.length, abs=0.3)


@pytest.mark.parametrize("by", [-8.0, 10.0])
def test_a_collar_is_opened_where_the_neck_has_grown(by):
    before = block(TUNIC)
    after, _ = settle(before, with_longer(before, FRONT, "neck", "shoulder", by))
    old, new = before.piece("collar"), after.piece("collar")
    assert differences(after)["collar"] == pytest.approx(differences(before)["collar"], abs=0.6)
    assert new.sewn_length("top") - old.sewn_length("top") == pytest.approx(
        new.sewn_length("neck") - old.sewn_length("neck"), abs=0.1)
    assert (new.sewn_length("neck") - old.sewn_length("neck")) * by > 0


@pytest.mark.parametrize(("piece", "corner"), [(FRONT, "underarm front"), (BACK, "underarm back")])
@pytest.mark.parametrize("by", [-7.0, 11.0])
def test_the_sleeve_goes_out_at_the_underarm_of_the_half_that_grew(piece, corner, by):
    before = block(DRESS)
    after, findings = settle(before, with_longer(before, piece, "armhole", "side seam", by))
    assert differences(after)["armhole"] == pytest.approx(differences(before)["armhole"], abs=0.3)
    assert not findings
    old, new = before.piece("sleeve"), after.piece("sleeve")
    ends = {"underarm front": "start", "underarm back": "end"}
    for name, end in ends.items():
        shift = abs(getattr(new.edge("cap").path, end) - getattr(old.edge("cap").path, end))
        assert shift == pytest.approx(abs(by) if name == corner else 0.0, abs=2.0), name
    assert differences(after)["underarm"] == pytest.approx(differences(before)["underarm"], abs=0.3)


def test_more_than_a_sleeve_can_follow_is_told_with_what_would_restore_it():
    before = block(DRESS)
    after, findings = settle(before, with_longer(before, FRONT, "armhole", "side seam", 24.0))
    assert after.piece("sleeve") is before.piece("sleeve")
    assert [f.code for f in findings] == ["sleeve-head"]
    assert '"upper arm"' in findings[0].text and '"sleeve head height"' in findings[0].text


def test_gathers_keep_their_ratio():
    before = block(DRESS)
    moved = with_longer(before, "skirt front", "hem", "side seam", 12.0)
    after, _ = settle(before, moved)
    ratio = next(s.ratio for s in before.seams if s.name == "skirt tier")
    grown = after.piece("skirt tier").sewn_length("top") - before.piece("skirt tier").sewn_length("top")
    assert differences(after)["skirt tier"] == pytest.approx(differences(before)["skirt tier"], abs=0.3)
    assert grown > 0.3 * ratio * 12.0


def test_the_skirt_follows_a_waist():
    before = block(DRESS)
    after, _ = settle(before, with_longer(before, FRONT, "waist", "side seam", 8.0))
    assert differences(after)["waist"] == pytest.approx(differences(before)["waist"], abs=0.3)
    assert {"skirt front", "skirt back"} <= changed(before, after)


def test_what_was_eased_on_purpose_is_left():
    before = block(DRESS)
    longer = allow_ease(with_longer(before, FRONT, "neck", "shoulder", 5.0), FRONT, "neck", 5.0)
    after, _ = settle(before, longer)
    assert after.piece("front neck facing") is before.piece("front neck facing")


def test_a_seam_that_the_alteration_drew_anew_is_left():
    before = block(DRESS)
    moved = with_longer(before, FRONT, "side seam", "waist", 9.0)
    other = Seam("side seam", (EdgeRef(FRONT, "side seam"),), (EdgeRef(BACK, "side seam"),), (-9.0, 0.0))
    moved = replace(moved, seams=tuple(other if s.name == "side seam" else s for s in moved.seams))
    assert settle(before, moved)[0].piece(BACK) is before.piece(BACK)


def test_a_row_leaves_every_seam_as_it_was():
    row = [order("high round back", 10.0), order("forward shoulder", 8.0), order("full bust", 12.0),
           order("armhole gaping", 6.0), order("waist in or out", 16.0), order("hip in or out", 20.0)]
    found = alter(block(DRESS), row)
    was = differences(block(DRESS))
    assert all(w.sews for w in found.walks)
    for seam, now in differences(found.garment).items():
        if seam != "neck facing":  # eased on purpose
            assert now == pytest.approx(was[seam], abs=0.9), seam


def with_neck_dart(by=30.0):
    """The dress for a high round back: an open dart in the back neck."""
    return order("high round back", by, **{"takes up": "neck dart"})


@pytest.mark.parametrize("row", [
    [with_neck_dart()],
    [with_neck_dart(), order("neckline gaping back", 9.0)],
    [with_neck_dart(), order("neckline gaping back", 9.0, side="right")],
    [with_neck_dart(28.6), order("neckline gaping back", 6.0), order("neckline gaping back", 5.0, side="right"),
     order("forward shoulder", 20.0)]])
def test_the_back_facing_is_as_long_as_the_neck_with_its_dart_closed(row):
    """The facing has no dart; truing the dart of the neck leans its seam line, and the facing follows that too."""
    found = alter(block(DRESS), row)
    assert any(d.edge == "neck" for p in found.garment.pieces for d in p.darts)
    facings = {name: gap for name, gap in differences(found.garment).items() if "facing" in name}
    assert facings
    for name, miss in facings.items():
        assert miss == pytest.approx(0.0, abs=0.3), name  # a pen line
    assert not [f for f in found.findings if f.code == "does-not-sew"]


def test_a_facing_follows_a_dart_that_is_trued():
    before = alter(block(DRESS), [with_neck_dart()]).garment
    back = before.piece(BACK)
    dart = back.darts_on("neck")[0]
    lean = replace(dart, apex=dart.apex - 40)  # one leg much longer than the other
    after = trued(before, before.with_piece(replace(back, darts=tuple(lean if d is dart else d for d in back.darts))))
    neck, facing = after.piece(BACK).sewn_length("neck"), after.piece("back neck facing")
    assert abs(neck - back.sewn_length("neck")) > 1.0
    assert facing.sewn_length("neck") == pytest.approx(neck, abs=0.01)
    assert_whole(facing)
