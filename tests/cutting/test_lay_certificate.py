"""A lay that was tampered with fails the check that it should, and no lay like that is ever handed out."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lay_kit import checks, one_behind_another
from shapely.geometry import Polygon

from toilewright.cutting.cloth import Cloth, Fold, Repeat
from toilewright.cutting.lay.arrange import Search, arrange
from toilewright.cutting.lay.certificate import certify
from toilewright.cutting.lay.certificate_repeat import Meeting
from toilewright.cutting.lay.plan import CutPiece, Layer, Mark
from toilewright.cutting.lay.reading import unfolded
from toilewright.errors import GeometryError
from toilewright.packing.first_fit import first_fit
from toilewright.packing.problem import Placed, Pose

SQUARE = (0j, 100 + 0j, 100 + 100j, 100j)
BENT = (0j, 100 + 0j, 60 + 60j, 100j)
PIECES = (CutPiece("back", SQUARE, on_fold=True, even=True), CutPiece("sleeve", BENT, count=2, mirrored=True),
          CutPiece("pocket", BENT, count=1))
SEARCH = Search(one_behind_another, 1.0)


def lay(fold=Fold.LENGTHWISE, pieces=PIECES, **of_cloth):
    return arrange(pieces, Cloth(width=600.0, fold=fold, **of_cloth), SEARCH)


def which(lay, name, copy=1):
    return next(k for k, one in enumerate(lay.laid) if (one.piece.name, one.copy) == (name, copy))


def moved(lay, k, by=0j, **changes):
    one = lay.laid[k]
    changed = replace(one, at=one.at + by, **changes)
    return replace(lay, laid=(*lay.laid[:k], changed, *lay.laid[k + 1:]))


@pytest.mark.parametrize("fold", [Fold.OPEN, Fold.LENGTHWISE])
def test_an_untouched_lay_passes(fold):
    assert certify(lay(fold), PIECES).passed


@given(by=st.floats(1.0, 90.0))
def test_a_piece_moved_into_another_overlaps(by):
    good = lay(Fold.OPEN)
    second = min((k for k in range(len(good.laid)) if min(p.real for p in good.laid[k].outline) > 50.0),
                 key=lambda k: min(p.real for p in good.laid[k].outline))
    assert "nothing overlaps" in checks(certify(moved(good, second, -by), PIECES))


def test_both_halves_of_a_piece_on_the_fold_count():
    """A single piece in the lower layer alone, laid over the fold piece."""
    good = lay()
    k = which(good, "back")
    other = replace(good.laid[which(good, "sleeve", 2)], at=good.laid[k].at)
    assert "nothing overlaps" in checks(certify(replace(good, laid=(*good.laid, other)), PIECES))


@pytest.mark.parametrize("by", [-1.0, 600.0, 1j * 600, -1j])
def test_a_piece_off_the_cloth(by):
    good = lay(Fold.OPEN, (CutPiece("pocket", SQUARE, even=True),))
    assert "all on the cloth" in checks(certify(moved(good, 0, by), (good.laid[0].piece,)))


def test_a_piece_on_a_flaw():
    good = lay(Fold.OPEN)
    flawed = replace(good, cloth=replace(good.cloth, flaws=((10 + 10j, 12 + 10j, 12 + 12j, 10 + 12j),)))
    assert checks(certify(flawed, PIECES)) == {"all on the cloth"}


@pytest.mark.parametrize("thin", [1.0, 0.02, 0.005, 0.0])
@pytest.mark.parametrize("along", [True, False])
def test_a_piece_over_a_pulled_thread(thin, along):
    """However thin a flaw is: what counts is how far the piece reaches over it."""
    good = lay(Fold.OPEN, (CutPiece("pocket", SQUARE, even=True),))
    for at, hit in ((50.0, True), (99.97, True), (100.1, False)):
        x, y = (at, -100.0) if along else (-100.0, at)
        wide, high = (thin, 400.0) if along else (400.0, thin)
        thread = (complex(x, y), complex(x + wide, y), complex(x + wide, y + high), complex(x, y + high))
        flawed = replace(good, cloth=replace(good.cloth, flaws=(thread,)))
        assert checks(certify(flawed, (good.laid[0].piece,))) == ({"all on the cloth"} if hit else set()), (at, thin)


@pytest.mark.parametrize("thin", [1.0, 0.1, 0.001])
@pytest.mark.parametrize("fold", [Fold.OPEN, Fold.LENGTHWISE])
@pytest.mark.parametrize("search", [SEARCH, Search(lambda problem, *_, **__: first_fit(problem), 1.0)])
def test_a_lay_keeps_clear_of_a_pulled_thread(thin, fold, search):
    thread = tuple(complex(40.0 + p.real * thin, 20.0 + 400.0 * p.imag) for p in (0j, 1 + 0j, 1 + 1j, 1j))
    made = arrange(PIECES, Cloth(width=600.0, fold=fold, flaws=(thread,)), search)
    assert made.certificate.passed
    assert all(unfolded(one, made).intersection(Polygon([(p.real, p.imag) for p in thread])).area < 1e-3
               for one in made.laid)


def test_a_flaw_that_crosses_itself_counts_on_both_sides():
    good = lay(Fold.OPEN, (CutPiece("pocket", SQUARE, even=True),))
    for bow in ((40 + 40j, 45 + 45j, 45 + 40j, 40 + 45j), (98 + 40j, 110 + 52j, 110 + 40j, 98 + 52j)):
        flawed = replace(good, cloth=replace(good.cloth, flaws=(bow,)))
        assert checks(certify(flawed, (good.laid[0].piece,))) == {"all on the cloth"}


# -- room between the pieces ------------------------------------------------------------------------


def gaps(good, gap=8.0):
    return next(c for c in certify(good, PIECES, gap=gap).checks if c.name == "gap kept")


@pytest.mark.parametrize("fold", list(Fold))
def test_the_gap_is_kept(fold):
    made = arrange(PIECES, Cloth(width=600.0, fold=fold, fold_depth=200.0), SEARCH, gap=8.0)
    assert gaps(made).passed and gaps(made).said.endswith("8.0 mm apart.")
    assert "gap kept" in {c.name for c in made.certificate.checks}


@pytest.mark.parametrize("by", [0.1, 3.0, 8.0])
def test_two_sections_too_near_each_other(by):
    """The open part of the cloth begins too soon behind the folded one."""
    made = arrange(PIECES, Cloth(width=600.0, fold=Fold.PART), SEARCH, gap=8.0)
    assert [s.fold_depth is None for s in made.sections] == [False, True] and gaps(made).passed
    first, last = made.sections
    near = replace(made, sections=(first, replace(last, start=last.start - by)), length=made.length - by,
                   laid=tuple(replace(one, at=one.at + (250j - by) * one.section) for one in made.laid))
    assert checks(certify(near, PIECES, gap=8.0)) == {"gap kept"}
    assert f"{8.0 - by:.2f} mm apart; 8 mm" in gaps(near).said


def test_two_pieces_of_a_section_too_near_each_other():
    made = arrange(PIECES, Cloth(width=600.0, fold=Fold.OPEN), SEARCH, gap=8.0)
    last = max(range(len(made.laid)), key=lambda k: made.laid[k].at.real)
    assert checks(certify(replace(moved(made, last, -1.0), length=made.length - 1.0), PIECES, gap=8.0)) == {"gap kept"}


def test_both_layers_may_reach_the_fold():
    """A pair cut double along the fold: its two copies are parted by cutting the fold open."""
    pair = (CutPiece("sleeve", BENT, count=2, mirrored=True),)
    made = arrange(pair, Cloth(width=600.0, fold=Fold.LENGTHWISE), SEARCH, gap=8.0)
    assert min(p.imag for one in made.laid for p in one.outline) == pytest.approx(0.0)
    assert made.certificate.passed


def test_a_flaw_in_the_upper_layer_is_found_where_it_lies_on_the_open_cloth():
    good = lay()
    k = which(good, "sleeve")
    x, y = min(p.real for p in good.laid[k].outline) + 5, min(p.imag for p in good.laid[k].outline) + 5
    for on_cloth in (300.0 - y, 300.0 + y):
        flaw = tuple(complex(x, on_cloth) + p * 0.02 for p in SQUARE)
        assert checks(certify(replace(good, cloth=replace(good.cloth, flaws=(flaw,))), PIECES)) == {"all on the cloth"}


def test_a_single_piece_where_the_cloth_lies_double():
    good = lay(Fold.DEPTH, fold_depth=200.0)
    k = which(good, "pocket")
    low = min(p.imag for p in good.laid[k].outline)
    assert "all on the cloth" in checks(certify(moved(good, k, -1j * (low - 150.0)), PIECES))


def test_a_double_piece_where_the_cloth_lies_single():
    good = lay(Fold.DEPTH, fold_depth=200.0)
    bad = moved(moved(good, which(good, "sleeve", 1), 150j), which(good, "sleeve", 2), 150j)
    assert "all on the cloth" in checks(certify(bad, PIECES))


@pytest.mark.parametrize(("turn", "tolerance", "fails"), [(0.5, 0.0, True), (0.5, 1.0, False), (1.5, 1.0, True),
                                                          (180.0, 0.0, False), (90.0, 1.0, True)])
def test_grain(turn, tolerance, fails):
    one = lay(Fold.OPEN, (CutPiece("pocket", SQUARE, even=True),), grain_tolerance=tolerance)
    turned = moved(one, 0, 200 + 200j, pose=Pose(turn))
    assert ("grain right" in checks(certify(turned, (one.laid[0].piece,)))) == fails


def test_a_piece_against_the_nap():
    one = lay(Fold.OPEN, (CutPiece("pocket", SQUARE, even=True),), one_way=True)
    assert "grain right" in checks(certify(moved(one, 0, 100 + 100j, pose=Pose(180.0)), (one.laid[0].piece,)))


def test_a_missing_copy():
    good = lay()
    assert "every piece there" in checks(certify(replace(good, laid=good.laid[:-1]), PIECES))


def test_a_copy_too_many():
    good = lay()
    extra = replace(good.laid[0], copy=2, at=good.laid[0].at + 300)
    assert "every piece there" in checks(certify(replace(good, laid=(*good.laid, extra)), PIECES))


def test_a_piece_of_another_garment():
    good = lay()
    assert "every piece there" in checks(certify(good, PIECES[:2]))


def test_a_mirrored_single_on_a_sided_cloth():
    good = lay(Fold.OPEN)
    k = which(good, "pocket")
    bad = moved(good, k, 100j, pose=Pose(mirrored=True))
    assert checks(certify(bad, PIECES)) == {"pairs right"}
    alike = replace(bad, cloth=replace(bad.cloth, sided=False))
    assert certify(alike, PIECES).passed


def test_a_pair_with_two_of_one_hand():
    good = lay(Fold.OPEN)
    k = next(k for k, one in enumerate(good.laid) if one.piece.name == "sleeve" and one.pose.mirrored)
    low = min(p.imag for p in good.laid[k].outline)
    bad = moved(good, k, pose=Pose())
    bad = moved(bad, k, 1j * (low - min(p.imag for p in bad.laid[k].outline)))
    assert checks(certify(bad, PIECES)) == {"pairs right"}


def test_two_layers_that_do_not_lie_on_each_other():
    good = lay()
    assert "pairs right" in checks(certify(moved(good, which(good, "sleeve", 2), 1.0), PIECES))


@pytest.mark.parametrize("off", [0.1, -0.1, 1e-3])
def test_a_fold_edge_off_the_fold(off):
    good = lay()
    assert "folds on the fold" in checks(certify(moved(good, which(good, "back"), 1j * off), PIECES))


def test_half_a_piece_in_one_layer():
    good = lay()
    assert "folds on the fold" in checks(certify(moved(good, which(good, "back"), layer=Layer.SINGLE), PIECES))


def test_a_whole_piece_laid_on_the_fold():
    good = lay()
    assert "folds on the fold" in checks(certify(moved(good, which(good, "sleeve"), layer=Layer.BOTH), PIECES))


@pytest.mark.parametrize("change", [lambda p: p * 0.99, lambda p: p + 0.1 if p.real > 90 else p,
                                    lambda p: complex(p.real, -p.imag)])
def test_a_shape_that_is_not_the_pieces_own(change):
    good = lay(Fold.OPEN)
    k = which(good, "pocket")
    outline = tuple(change(p) for p in BENT)
    outline = outline[::-1] if change(1j).imag < 0 else outline
    bad = moved(good, k, piece=replace(good.laid[k].piece, outline=outline))
    assert "shapes true" in checks(certify(bad, PIECES))


@pytest.mark.parametrize("by", [-5.0, 0.1, 20.0])
def test_a_length_that_is_not_the_lays(by):
    good = lay()
    assert "length right" in checks(certify(replace(good, length=good.length + by), PIECES))


def test_a_lay_longer_than_the_cloth_that_is_there():
    good = lay()
    short = replace(good, cloth=replace(good.cloth, length=good.length - 1.0))
    assert checks(certify(short, PIECES)) == {"all on the cloth"}


def test_a_corner_that_is_missing_of_a_remnant():
    good = lay(Fold.OPEN)
    corner = (20 + 0j, 9000 + 0j, 9000 + 600j, 600j, 20j)
    assert checks(certify(replace(good, cloth=replace(good.cloth, outline=corner)), PIECES)) == {"all on the cloth"}


@given(by=st.floats(0.6, 39.0))
def test_stripes_that_miss_each_other(by):
    striped = tuple(replace(p, marks=(Mark("notch", 50 + 0j),)) for p in PIECES)
    good = lay(Fold.OPEN, striped, repeat=Repeat(along=40.0))
    meeting = (Meeting("side seam", (("", "back"), ("", "pocket")), ("notch", "notch")),)
    apart = [replace(one, at=complex(k * 400.0, one.at.imag), pose=Pose()) for k, one in enumerate(good.laid)]
    good = replace(good, laid=tuple(apart), length=1300.0)
    assert "stripes meet" not in checks(certify(good, striped, meeting))
    off = moved(good, which(good, "pocket"), by)
    assert "stripes meet" in checks(certify(off, striped, meeting))


def test_a_lay_that_fails_is_never_handed_out():
    def careless(problem, seconds=1.0, seed=0, tell=None, stop=None):
        found = one_behind_another(problem)
        return replace(found, placed=tuple(Placed(p.item, p.copy, p.pose, p.at * 0.9) for p in found.placed))

    with pytest.raises(GeometryError, match=r"overlap.*report"):
        arrange(PIECES, Cloth(width=600.0), Search(careless, 1.0))


def test_every_check_says_its_figure():
    for one in lay().certificate.checks:
        assert one.said.endswith(".") and any(sign.isdigit() for sign in one.said), one


def test_a_piece_that_is_only_said_to_be_even():
    said = (CutPiece("tab", BENT, count=2, even=True),)
    with pytest.raises(GeometryError, match="own mirror image"):
        lay(Fold.LENGTHWISE, said)


STRIPES = Repeat(along=80.0)
SIDE = Meeting("side seam", (("", "back"), ("", "pocket")), ("waist", "waist"))


def striped():
    marked = tuple(replace(p, marks=(Mark("waist", 50 + 50j),)) if p.name != "sleeve" else p for p in PIECES)
    good = lay(Fold.OPEN, marked, repeat=STRIPES)
    k, other = which(good, "pocket"), which(good, "back")
    away = (good.laid[other].at - good.laid[k].at).real
    return moved(good, k, away), marked


def test_stripes_of_pieces_that_lie_head_against_head_do_not_meet():
    good, marked = striped()
    k = which(good, "pocket")
    assert "stripes meet" not in checks(certify(good, marked, [SIDE]))
    turned = moved(good, k, 100 + 100j, pose=Pose(180.0))  # the mark stays where it was
    assert "stripes meet" in checks(certify(turned, marked, [SIDE]))


def test_a_seam_to_a_piece_of_another_cloth_is_not_said_to_match():
    good, marked = striped()
    gone = Meeting("hem", (("", "back"), ("", "not there")), ("waist", "waist"))
    told = next(c.said for c in certify(good, marked, [SIDE, gone]).checks if c.name == "stripes meet")
    assert told.startswith("1 places matched") and "1 more" in told


def test_an_empty_lay_and_broken_outlines_are_told_and_no_traceback():
    good = lay(Fold.OPEN)
    assert not certify(replace(good, laid=()), PIECES).passed
    bow = replace(PIECES[2], outline=(0j, 100 + 100j, 100 + 0j, 100j))
    for broken in (moved(good, which(good, "pocket"), piece=bow), moved(good, which(good, "pocket"), complex("nan"))):
        assert checks(certify(broken, PIECES)) == {"outlines plain"}
