"""The lay of a make as the page keeps and shows it: pictures, widths as sold, stamps, what a stopped search leaves."""

from dataclasses import replace

import pytest

from toilewright.app import laying
from toilewright.app.lay_picture import lay_picture
from toilewright.app.lay_shown import shown_lay
from toilewright.app.table import Table
from toilewright.cutting.cloth import Cloth
from toilewright.cutting.lay.plan import Certificate, CutPiece, Laid, Lay, Layer, Section
from toilewright.make.cloth_wish import ClothWish
from toilewright.packing.problem import Pose
from toilewright.workroom.documents import ClothDoc, Kind, LayRow

SQUARE = (0j, 300 + 0j, 300 + 200j, 200j)
FLAW = (100 + 900j, 150 + 900j, 150 + 950j, 100 + 950j)


def lay_of(cloth, fold_depth=None, turn=0.0, at=400 + 100j, **piece):
    one = Laid(CutPiece("sleeve", SQUARE, **piece), 1, Layer.SINGLE, Pose(turn), at)
    return Lay(cloth, (Section(0.0, 1000.0, fold_depth),), (one,), 1000.0, Certificate(()))


def polygon(picture, name):
    text = str(picture).split(f'class="{name}" points="')[1].split('"')[0]
    return [complex(*map(float, pair.split(","))).conjugate() for pair in text.split()]


def heads(picture):
    return str(picture).split('class="grain" d="')[1].split('"')[0].count("M") - 1


@pytest.fixture
def make(choir):
    """A make of its own that is cut from cloth still to be bought."""
    document = choir.things(Kind.MAKE)[0].document
    return choir.add(Kind.MAKE, replace(document, lays=(LayRow("r1", "self", width=1400.0),)), "begun")


def test_a_flaw_on_folded_cloth_is_drawn_where_it_comes_to_lie():
    cloth = Cloth(width=1000.0, flaws=(FLAW,))
    open_cloth, folded = (polygon(lay_picture(lay_of(cloth, deep), "", "cm"), "flaw") for deep in (None, 500.0))
    assert {p.imag for p in open_cloth} == {900.0, 950.0}
    assert {p.imag for p in folded} == {400.0, 450.0}


def test_a_grain_arrow_has_one_head_on_one_way_cloth_and_none_where_no_grain_is_known():
    assert heads(lay_picture(lay_of(Cloth(one_way=True)), "", "cm")) == 1
    assert heads(lay_picture(lay_of(Cloth()), "", "cm")) == 2
    assert 'class="grain"' not in lay_picture(lay_of(Cloth(), grain=False), "", "cm")


def test_a_grain_arrow_points_the_way_its_piece_lies():
    for turn, at, sign in ((0.0, 400 + 100j, 1), (180.0, 800 + 500j, -1)):
        line = str(lay_picture(lay_of(Cloth(one_way=True), turn=turn, at=at), "", "cm")).split('class="grain" d="M')[1]
        foot, tip = line.split("M")[0].split("L")
        assert (float(tip.split()[0]) - float(foot.split()[0])) * sign > 50.0


def test_width_as_sold_is_told_beside_width_between_the_selvedges():
    lay = lay_of(Cloth(width=1380.0))
    told = "140.0 cm as sold; 138.0 cm between the selvedges"
    assert shown_lay(lay, ClothWish(lay.cloth, bought_width=1400.0), None, "cm").lies[0] == told
    assert len(shown_lay(lay, ClothWish(lay.cloth), None, "cm").lies) == 1
    inches = shown_lay(lay_of(Cloth(width=1371.6)), ClothWish(Cloth()), None, "in").short
    assert "54" in inches and "cm" not in inches


def test_a_stamp_changes_with_what_the_lay_rests_on(choir, make):
    table = Table(choir)
    first = laying.lay_stamp(table, make.id)
    assert laying.lay_stamp(table, make.id) == first
    thing = choir.change(make.id, make.revision, [(("lays", "r1", "width"), 1150.0)], "narrower")
    second = laying.lay_stamp(table, make.id)
    cloth = choir.add(Kind.CLOTH, ClothDoc("lawn", width=1400.0, length=3000.0), "bought")
    choir.change(make.id, thing.revision, [(("lays", "r1", "cloth"), cloth.id), (("cloths",), [cloth.id])], "chosen")
    third = laying.lay_stamp(table, make.id)
    choir.change(cloth.id, cloth.revision, [(("one_way",), True)], "velvet")
    assert len({first, second, third, laying.lay_stamp(table, make.id)}) == 4


def test_what_is_kept_comes_back_as_it_was_and_spoilt_bytes_are_no_lay(choir, make):
    kept = laying.KeptLay("stamp", (lay_of(Cloth(flaws=(FLAW,)), 300.0),), 3.0, stopped=True)
    table = Table(choir)
    assert laying.kept_lay(table, make.id) is None
    choir.keep(f"lay of {make.id}", laying._WRITER.encode(kept))
    assert laying.kept_lay(table, make.id) == kept
    choir.keep(f"lay of {make.id}", b"spoilt")
    assert laying.kept_lay(table, make.id) is None
