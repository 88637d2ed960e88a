"""What the cloth step asks for: each cloth with its pieces, what shop and envelope say, where stripes may meet."""

from dataclasses import replace

import pytest

from toilewright.app.cutting_out import meeting_places, other_makes, uses_of
from toilewright.app.table import Table
from toilewright.workroom.documents import ClothDoc, Kind, LayRow


@pytest.fixture
def seen(choir):
    """A way to look at the uses of a make of its own with these lays."""
    def look(*lays, unit="cm", cloth=None):
        document = choir.things(Kind.MAKE)[0].document
        cloths = (cloth,) if cloth else ()
        make = choir.add(Kind.MAKE, replace(document, lays=lays, cloths=cloths), "begun")
        table = Table(choir)
        return uses_of(table, table.place(make.id, "cloth"), table.outcome(make.id, unit=unit), unit)
    return look


def test_without_a_word_every_piece_is_of_the_self_cloth(seen):
    (one,) = seen()
    assert (one.row, one.doc, one.width, one.shop, one.may_match) == (LayRow("", "self"), None, "", (), ())
    assert len(one.pieces) == 13 and not one.own


def test_a_piece_that_is_cut_from_another_cloth_is_there_alone(seen):
    rows = LayRow("r1", "self", width=1500.0), LayRow("r2", "contrast", pieces=("sleeve frill",))
    self_cloth, contrast = seen(*rows)
    assert contrast.pieces == ("sleeve frill",) and contrast.own
    assert "sleeve frill" not in self_cloth.pieces and len(self_cloth.pieces) == 12
    assert self_cloth.width == "150.0"


def test_the_shop_speaks_of_each_width_in_her_unit(seen):
    row = LayRow("r1", "self", envelope={"1150": 3200.4}, prices={"1150": 10.0, "900": 8.0})
    narrow, wide = seen(row)[0].shop
    assert narrow == ("900", "90.0 cm: 8.00 a metre")
    assert wide == ("1150", "115.0 cm: envelope 3.20 m, 10.00 a metre")
    assert seen(row, unit="in")[0].shop[1][1].endswith("envelope 3.50 yd, 9.14 a yard")


def test_stripes_meet_only_where_something_repeats_and_nothing_is_gathered(choir, seen):
    plain, striped = (choir.add(Kind.CLOTH, ClothDoc(n, width=1500.0, repeat_along=r), "bought")
                      for n, r in (("plain", 0.0), ("striped", 40.0)))
    assert seen(LayRow("r1", "self", cloth=plain.id), cloth=plain.id)[0].may_match == ()
    (use,) = seen(LayRow("r1", "self", cloth=striped.id, match=("side seam",)), cloth=striped.id)
    assert use.may_match[:2] == ("centre back", "centre front") and "side seam" not in use.may_match
    assert use.doc.name == "striped"


def test_a_gathered_seam_meets_no_stripe(choir):
    table = Table(choir)
    garment = table.outcome(choir.things(Kind.MAKE)[0].id, unit="cm").altered.garment
    gathered = {s.name for s in garment.seams if s.ratio is not None}
    assert gathered and not gathered & set(meeting_places(garment))


def test_a_cloth_that_is_gone_from_the_shelf_is_said(choir, seen):
    gone = choir.add(Kind.CLOTH, ClothDoc("sold"), "bought")
    choir.remove(gone.id)
    (use,) = seen(LayRow("r1", "self", cloth=gone.id), cloth=gone.id)
    assert use.gone and use.doc is None


def test_only_makes_with_a_body_and_a_pattern_may_be_cut_along(choir):
    document = choir.things(Kind.MAKE)[0].document
    whole = choir.add(Kind.MAKE, replace(document, title="whole"), "begun")
    choir.add(Kind.MAKE, replace(document, title="without a pattern", pattern=""), "begun")
    first = choir.add(Kind.MAKE, replace(document, title="first", lay_with=(whole.id,)), "begun")
    table = Table(choir)
    found = {one.title: one.along for one in other_makes(table, table.place(first.id, "cloth"))}
    assert found["whole"] and "without a pattern" not in found and "first" not in found
