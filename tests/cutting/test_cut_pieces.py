"""Pieces of a garment as they come to lie on the cloth."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon

from toilewright.blocks.concert import concert_dress
from toilewright.cutting.allowances import cutting_line
from toilewright.cutting.lay.pieces import area_of, cut_piece, cut_pieces, opened, other_hand, whole_area
from toilewright.errors import GeometryError
from toilewright.geometry.affine import Affine
from toilewright.geometry.path import Path
from toilewright.pattern.parts import Cut, Edge, EdgeKind, Grain
from toilewright.pattern.piece import Piece

DRESS = concert_dress().at("5")
NAMES = [p.name for p in DRESS.pieces]


def polygon(outline):
    return Polygon([(p.real, p.imag) for p in outline])


def drawn_area(piece):
    return Path.joined(cutting_line(piece)).area()


@pytest.mark.parametrize("name", NAMES)
def test_what_is_cut_is_the_cutting_line(name):
    piece, cut = DRESS.piece(name), cut_piece(DRESS.piece(name))
    assert polygon(cut.outline).is_valid
    times = 2 if piece.on_fold and not cut.on_fold else 1
    assert area_of(cut.outline) == pytest.approx(times * drawn_area(piece), rel=2e-4)
    assert (cut.count, cut.mirrored, cut.cloth) == (piece.cut.count, piece.cut.mirrored, piece.cut.cloth)
    assert min(p.real for p in cut.outline) == pytest.approx(0.0, abs=1e-9)
    assert min(p.imag for p in cut.outline) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("name", [p.name for p in DRESS.pieces if p.on_fold and p.name != "waist tie"])
def test_a_fold_edge_lies_exactly_on_the_axis(name):
    cut = cut_piece(DRESS.piece(name))
    assert cut.on_fold and cut.even
    on_axis = [p for p in cut.outline if p.imag == 0.0]
    assert len(on_axis) == 2 and min(p.imag for p in cut.outline) == 0.0
    fold = next(e for e in DRESS.piece(name).edges if e.kind is EdgeKind.FOLD)
    assert abs(on_axis[0] - on_axis[1]) >= fold.path.length - 1e-6


@given(angle=st.floats(-3.1, 3.1), name=st.sampled_from(NAMES), by=st.complex_numbers(max_magnitude=500))
def test_how_a_piece_lies_on_the_sheet_does_not_matter(angle, name, by):
    piece = DRESS.piece(name)
    once, again = cut_piece(piece), cut_piece(piece.mapped(Affine.turn(angle).then(Affine.shift(by))))
    assert (once.on_fold, once.even, once.hem) == (again.on_fold, again.even, again.hem)
    assert polygon(once.outline).symmetric_difference(polygon(again.outline)).area < 60.0
    for one, other in zip(once.marks, again.marks, strict=True):
        assert one.name == other.name and abs(one.at - other.at) < 0.05


@pytest.mark.parametrize("name", NAMES)
def test_the_head_of_the_grain_points_along_the_cloth(name):
    piece = DRESS.piece(name)
    cut = cut_piece(piece)
    turned = cut_piece(replace(piece, grain=Grain(piece.grain.end, piece.grain.start)))
    high = max(p.real for p in cut.outline)
    for mark, other in zip(cut.marks, turned.marks, strict=True):
        assert mark.name == other.name
        assert other.at.real == pytest.approx(high - mark.at.real, abs=0.05)


@pytest.mark.parametrize("name", ["bodice back", "sleeve", "wrap skirt front"])
def test_the_other_hand_of_the_other_hand_is_the_piece(name):
    cut = cut_piece(DRESS.piece(name))
    twice = other_hand(other_hand(cut))
    assert not cut.even
    assert polygon(twice.outline).symmetric_difference(polygon(cut.outline)).area < 1e-6
    assert polygon(other_hand(cut).outline).symmetric_difference(polygon(cut.outline)).area > 100.0


def test_a_fold_across_the_grain_is_opened_out_and_said():
    tie = cut_piece(DRESS.piece("waist tie"))
    assert not tie.on_fold and "opened out" in tie.notes[0]
    assert area_of(tie.outline) == pytest.approx(2 * drawn_area(DRESS.piece("waist tie")), rel=1e-6)


def test_a_fold_edge_a_hair_off_the_grain_is_the_grain():
    front = DRESS.piece("bodice front")
    leaning = replace(front, grain=Grain(front.grain.start, front.grain.end + 0.5))
    assert cut_piece(leaning).outline == cut_piece(front).outline


def test_a_piece_without_grain_lies_as_it_is_drawn_and_says_so():
    sleeve = replace(DRESS.piece("sleeve"), grain=None)
    cut = cut_piece(sleeve)
    assert not cut.grain and "as it is drawn" in cut.notes[0]
    assert cut.outline == cut_piece(DRESS.piece("sleeve")).outline


def test_even_pieces_are_known():
    assert {p.name for p in cut_pieces(DRESS) if p.even and not p.on_fold} == {"sleeve frill", "waistband", "waist tie"}


def test_straight_hems_are_known():
    assert {p.name for p in cut_pieces(DRESS) if p.hem} == {"sleeve frill", "skirt tier"}


def test_balance_marks_are_carried_along_with_their_edges():
    cut = cut_piece(DRESS.piece("sleeve"))
    marks = {m.name: m for m in cut.marks}
    assert marks["front notch"].edge == "cap" and marks["front notch"].count == 1
    at = marks["front notch"].at
    assert polygon(cut.outline).contains(Point(at.real, at.imag))


def test_opened_out_both_halves_carry_their_marks():
    whole = opened(cut_piece(DRESS.piece("bodice front")))
    top = max(p.imag for p in whole.outline)
    notches = [m.at for m in whole.marks if m.name == "front notch"]
    assert len(notches) == 2
    assert notches[0].imag + notches[1].imag == pytest.approx(top)
    assert polygon(whole.outline).area == pytest.approx(whole_area(cut_piece(DRESS.piece("bodice front"))))


FOLD = Path.line(0j, 100 + 0j)


def square(*kinds, fold=FOLD, allowance=15.0):
    sides = [fold, Path.line(100 + 0j, 100 + 200j), Path.line(100 + 200j, 200j), Path.line(200j, 0j)]
    return Piece("panel", tuple(Edge(f"edge {k}", p, kind, 0.0 if kind is EdgeKind.FOLD else allowance)
                                for k, (p, kind) in enumerate(zip(sides, kinds, strict=True))), cut=Cut(1))


def test_a_bent_fold_edge_cannot_lie_on_a_fold():
    bent = Path.polyline((0j, 50 - 5j, 100 + 0j))
    with pytest.raises(GeometryError, match="not straight"):
        cut_piece(square(EdgeKind.FOLD, *[EdgeKind.SEAM] * 3, fold=bent))


def test_a_fold_without_a_grain_arrow_runs_along_the_cloth():
    cut = cut_piece(square(EdgeKind.FOLD, *[EdgeKind.SEAM] * 3))
    assert cut.on_fold and cut.grain
    assert max(p.imag for p in cut.outline) == pytest.approx(215.0)
    assert max(p.real for p in cut.outline) == pytest.approx(130.0)


def test_whose_piece_it_is_stands_on_it():
    assert {p.make for p in cut_pieces(DRESS, "the alto")} == {"the alto"}
