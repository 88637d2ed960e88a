"""Lays of random pieces on random cloths: every one passes its certificate, and cloth is neither lost nor won."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lay_kit import cloths, one_behind_another, piece_lists

from toilewright.cutting.cloth import Cloth, Fold
from toilewright.cutting.lay.arrange import Search, arrange
from toilewright.cutting.lay.order import turns_of
from toilewright.cutting.lay.pieces import area_of, opened, whole_area
from toilewright.cutting.lay.plan import CutPiece, Layer
from toilewright.cutting.lay.reading import other_hand, unfolded
from toilewright.errors import ToilewrightError
from toilewright.packing.first_fit import first_fit

BEHIND = Search(one_behind_another, 1.0)
FIRST_FIT = Search(lambda problem, seconds=1.0, seed=0, tell=None, stop=None: first_fit(problem), 1.0)


@given(pieces=piece_lists(), cloth=cloths())
@settings(max_examples=150)
def test_every_lay_passes_its_certificate(pieces, cloth):
    lay = arrange(pieces, cloth, BEHIND, gap=2.0)
    assert lay.certificate.passed
    assert len(lay.certificate.checks) == 9


@given(pieces=piece_lists(most=3), cloth=cloths(), free=st.booleans())
@settings(max_examples=50)
def test_every_first_fit_passes_too(pieces, cloth, free):
    lay = arrange(pieces, cloth, FIRST_FIT, free_fold=free)
    assert lay.certificate.passed
    assert lay.length <= arrange(pieces, cloth, BEHIND).length + 1e-6 or free


@given(pieces=piece_lists(), cloth=cloths())
@settings(max_examples=40)
def test_on_the_open_cloth_every_whole_piece_is_there_with_its_area(pieces, cloth):
    lay = arrange(pieces, cloth, BEHIND)
    wanted = sum(whole_area(p) * p.count for p in pieces)
    assert sum(unfolded(one, lay).area for one in lay.laid) == pytest.approx(wanted, rel=1e-9)


@given(pieces=piece_lists(), cloth=cloths(flawed=False))
@settings(max_examples=30)
def test_folded_and_open_lays_cut_the_same(pieces, cloth):
    counts = []
    for fold in (Fold.OPEN, Fold.LENGTHWISE, Fold.PART):
        lay = arrange(pieces, replace(cloth, fold=fold), BEHIND)
        counts.append(sorted((one.piece.name, one.copy) for one in lay.laid))
    assert counts[0] == counts[1] == counts[2]


@given(pieces=piece_lists(), cloth=cloths())
@settings(max_examples=40)
def test_nothing_is_mirrored_on_a_sided_cloth_but_for_pairs(pieces, cloth):
    lay = arrange(pieces, replace(cloth, sided=True), BEHIND)
    for piece in pieces:
        hands = [other_hand(one) for one in lay.laid if one.piece.name == piece.name]
        assert sum(hands) == (piece.count // 2 if piece.mirrored else 0)


@given(pieces=piece_lists(), cloth=cloths())
@settings(max_examples=30)
def test_a_cloth_with_direction_has_all_heads_one_way(pieces, cloth):
    lay = arrange(pieces, replace(cloth, one_way=True, grain_tolerance=0.0), BEHIND)
    assert {one.pose.turn for one in lay.laid} == {0.0}


@given(pieces=piece_lists(), cloth=cloths())
@settings(max_examples=30)
def test_the_order_to_cut_goes_along_the_cloth_and_takes_both_layers_at_once(pieces, cloth):
    lay = arrange(pieces, cloth, BEHIND)
    numbers = turns_of(lay.laid)
    assert numbers[0] == 1 and all(b - a in (0, 1) for a, b in pairwise(numbers))
    assert len(set(numbers)) == len({(one.piece.name, one.pose, one.at, one.section) for one in lay.laid})
    begins = [min(p.real for p in one.outline) for one in lay.laid]
    assert all(b >= a - 100.0 for a, b in pairwise(begins))


@given(pieces=piece_lists())
def test_a_piece_opened_out_is_twice_its_half_and_even(pieces):
    for piece in pieces:
        whole = opened(piece)
        assert area_of(whole.outline) == pytest.approx(whole_area(piece), rel=1e-12)
        if piece.on_fold:
            top = max(p.imag for p in whole.outline)
            assert {(round(p.real, 9), round(p.imag, 9)) for p in whole.outline} == {
                (round(p.real, 9), round(top - p.imag, 9)) for p in whole.outline}


SQUARE = (0j, 100 + 0j, 100 + 100j, 100j)
BENT = (0j, 100 + 0j, 60 + 60j, 100j)


def test_a_pair_is_cut_once_on_the_double_layer():
    lay = arrange((CutPiece("sleeve", BENT, count=2, mirrored=True),), Cloth(fold=Fold.LENGTHWISE), BEHIND)
    upper, lower = lay.laid
    assert (upper.layer, lower.layer) == (Layer.UPPER, Layer.LOWER)
    assert upper.outline == lower.outline
    assert lay.length == pytest.approx(100.0)


def test_a_piece_on_the_fold_lies_on_it_exactly():
    (one,) = arrange((CutPiece("back", SQUARE, on_fold=True, even=True),), Cloth(fold=Fold.LENGTHWISE), BEHIND).laid
    assert one.layer is Layer.BOTH
    assert {p.imag for p in one.outline} == {0.0, 100.0}


def test_what_cannot_be_cut_double_lies_on_the_opened_cloth():
    pieces = (CutPiece("sleeve", BENT, count=2, mirrored=True), CutPiece("pocket", BENT))
    lay = arrange(pieces, Cloth(fold=Fold.LENGTHWISE), BEHIND)
    assert [s.fold_depth for s in lay.sections] == [700.0, None]
    assert lay.cloth.fold is Fold.PART
    assert any("pocket" in note and "opened out" in note for note in lay.notes)


def test_the_third_copy_of_a_pair_lies_on_the_opened_cloth():
    lay = arrange((CutPiece("tab", BENT, count=3, mirrored=True),), Cloth(fold=Fold.LENGTHWISE), BEHIND)
    assert sorted(one.layer for one in lay.laid) == [Layer.LOWER, Layer.SINGLE, Layer.UPPER]


def test_beside_a_fold_to_a_depth_pieces_lie_single():
    pieces = (CutPiece("front", SQUARE, on_fold=True, even=True), CutPiece("pocket", BENT))
    lay = arrange(pieces, Cloth(fold=Fold.DEPTH, fold_depth=150.0), BEHIND)
    assert len(lay.sections) == 1
    pocket = next(one for one in lay.laid if one.piece.name == "pocket")
    assert min(p.imag for p in pocket.outline) >= 150.0


def test_an_even_piece_may_be_cut_double_and_has_no_hands():
    lay = arrange((CutPiece("band", SQUARE, count=2, even=True),), Cloth(fold=Fold.LENGTHWISE), BEHIND)
    assert [one.layer for one in lay.laid] == [Layer.UPPER, Layer.LOWER]
    assert not any(other_hand(one) for one in lay.laid)


def test_two_of_one_hand_are_not_cut_double_on_a_sided_cloth():
    piece = CutPiece("tab", BENT, count=2)
    sided = arrange((piece,), Cloth(fold=Fold.LENGTHWISE), BEHIND)
    alike = arrange((piece,), Cloth(fold=Fold.LENGTHWISE, sided=False), BEHIND)
    assert {one.layer for one in sided.laid} == {Layer.SINGLE}
    assert {one.layer for one in alike.laid} == {Layer.UPPER, Layer.LOWER}


def test_a_free_fold_keeps_the_shorter_way_and_says_what_it_saves():
    wide = tuple(p * 6 for p in BENT)  # folded, they lie one behind another; open, two beside each other
    pieces = tuple(CutPiece(f"flag {k}", wide) for k in range(2))
    lay = arrange(pieces, Cloth(width=1400.0), FIRST_FIT, free_fold=True)
    assert lay.cloth.fold is Fold.OPEN
    pair = CutPiece("flag", wide, count=2, mirrored=True)
    folded = arrange((pair, replace(pair, name="other")), Cloth(width=1240.0), BEHIND, free_fold=True)
    assert folded.cloth.fold is Fold.LENGTHWISE
    assert any("saves" in note for note in folded.notes)


@pytest.mark.parametrize("fold", [Fold.OPEN, Fold.LENGTHWISE])
def test_a_cloth_too_short_is_told_by_how_much_and_what_stays_over(fold):
    pieces = (CutPiece("first", SQUARE, count=2, even=True), CutPiece("last", SQUARE, count=2, even=True))
    with pytest.raises(ToilewrightError) as told:
        arrange(pieces, Cloth(fold=fold, length=150.0), BEHIND)
    short = {Fold.OPEN: "25.0 cm", Fold.LENGTHWISE: "5.0 cm"}[fold]
    assert f"{short} (" in str(told.value) and '"last"' in str(told.value) and "too short" in str(told.value)


def test_a_piece_wider_than_the_cloth_is_named():
    with pytest.raises(ToilewrightError, match=r'"banner" takes 100\.0 cm'):
        arrange((CutPiece("banner", tuple(p * 10 for p in SQUARE)),), Cloth(width=900.0), BEHIND)


def test_a_fold_deeper_than_half_the_cloth_is_refused():
    with pytest.raises(ToilewrightError, match="deep"):
        arrange((CutPiece("a", SQUARE),), Cloth(width=900.0, fold=Fold.DEPTH, fold_depth=500.0), BEHIND)


def test_an_irregular_remnant_is_kept_to():
    step = (0j, 600 + 0j, 600 + 300j, 300 + 300j, 300 + 600j, 600j)  # an L: nothing lies in its upper right corner
    cloth = Cloth(width=600.0, outline=step)
    piece = CutPiece("square", tuple(p * 2.5 for p in SQUARE), count=3, even=True)
    lay = arrange((piece,), cloth, FIRST_FIT)
    assert lay.length == pytest.approx(500.0, abs=0.1)
    with pytest.raises(ToilewrightError, match="too short"):
        arrange((replace(piece, count=4),), cloth, FIRST_FIT)


def test_a_flaw_in_either_layer_counts_where_it_lies_when_folded():
    for y in (100.0, 1300.0):  # the same place of the folded cloth
        flaw = tuple(complex(50, y) + p * 0.1 for p in SQUARE)
        lay = arrange((CutPiece("pair", tuple(p * 7 for p in SQUARE), count=2, even=True),),
                      Cloth(width=1400.0, fold=Fold.LENGTHWISE, flaws=(flaw,)), BEHIND)
        assert lay.length > 750.0


class Counted:
    """A search that leaves 5 cm to spare the first time that it is asked, and none when it is asked again."""

    def __init__(self):
        self.asked = []

    def __call__(self, problem, seconds=1.0, seed=0, tell=None, stop=None):
        self.asked.append(problem)
        found = one_behind_another(problem, seconds, seed)
        return found if self.again() else replace(found, length=found.length + 50.0)

    def again(self):
        return bool(self.asked) and self.asked[-1] in self.asked[:-1]


PAIR = CutPiece("sleeve", BENT, count=2, mirrored=True)


def test_when_stopped_the_ways_compared_until_then_are_kept_and_nothing_is_searched_again():
    search = Counted()
    lay = arrange((PAIR,), Cloth(), Search(search, 5.0, stop=lambda: True), free_fold=True)
    assert lay.certificate.passed and len(search.asked) == 1


def test_stopped_between_two_sections_the_better_first_one_is_kept():
    search = Counted()
    pieces = (PAIR, replace(PAIR, name="cuff"), CutPiece("pocket", BENT))
    lay = arrange(pieces, Cloth(fold=Fold.PART), Search(search, 5.0, stop=search.again))
    assert lay.certificate.passed and search.asked[-1].items[0].key == "sleeve double"  # nothing was searched after it
    assert lay.sections[1].start == pytest.approx(200.0) and lay.length == pytest.approx(300.0)


def test_of_very_many_pieces_not_every_way_to_fold_is_tried():
    search = Counted()
    arrange((replace(PAIR, count=50),), Cloth(), Search(search, 5.0), free_fold=True)
    assert len(search.asked) == 1 and search.asked[0].height == 1400.0


@pytest.mark.parametrize(("seconds", "last"), [(3.0, 3.0), (8.0, 6.0)])
def test_a_short_search_is_kept_whole_for_the_best_way(seconds, last):
    given_to = []

    def timed(problem, seconds=1.0, seed=0, tell=None, stop=None):
        given_to.append(seconds)
        return one_behind_another(problem, seconds, seed)

    arrange((PAIR,), Cloth(), Search(timed, seconds), free_fold=True)
    assert given_to[-1] == pytest.approx(last) and sum(given_to) <= seconds + 0.1 and len(given_to) > 2
