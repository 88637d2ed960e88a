"""Stripes and checks meet where she asks, and what cannot meet is said."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lay_kit import one_behind_another

from toilewright.blocks.concert import concert_dress
from toilewright.cutting.cloth import Cloth, Fold, Repeat
from toilewright.cutting.lay.arrange import Search, arrange
from toilewright.cutting.lay.folding import spread
from toilewright.cutting.lay.matching import matching_of
from toilewright.cutting.lay.pieces import cut_pieces
from toilewright.cutting.lay.plan import Layer
from toilewright.errors import NameUnknown

DRESS = concert_dress().at("5")
PIECES = cut_pieces(DRESS)
CHECKED = Cloth(width=1500.0, repeat=Repeat(80.0, 60.0, 20.0, 13.0))
PLACES = ("centre front", "centre back", "side seam", "armhole")


def matched(cloth=CHECKED, places=PLACES, pieces=PIECES):
    return matching_of(cloth, places, pieces, (("", DRESS),))


def laid(cloth=CHECKED, places=PLACES):
    return arrange(PIECES, cloth, Search(one_behind_another, 1.0), matching=matched(cloth, places))


def places_of(lay, piece, mark):
    """Where a mark of every copy lies on the open cloth, worked out here anew."""
    for one in lay.laid:
        if one.piece.name == piece:
            at = one.pose.of(next(m.at for m in one.piece.marks if m.name == mark)) + one.at
            depth = lay.sections[one.section].fold_depth
            y = at.imag if depth is None else depth + (-at.imag if one.layer is Layer.UPPER else at.imag)
            yield at.real, y


def off(a, b, pitch):
    away = abs(a - b) % pitch
    return min(away, pitch - away)


@given(fold=st.sampled_from(list(Fold)), along=st.integers(20, 200), across=st.integers(20, 120),
       first=st.tuples(st.integers(0, 19), st.integers(0, 19)), sided=st.booleans())
@settings(max_examples=25)
def test_stripes_meet_on_every_cloth_however_it_lies(fold, along, across, first, sided):
    cloth = Cloth(width=1500.0, fold=fold, fold_depth=600.0, sided=sided, repeat=Repeat(along, across, *first))
    lay = laid(cloth)
    assert lay.certificate.passed and len(lay.certificate.checks) == 9
    levels = [x for piece in ("bodice front", "bodice back") for x, _ in places_of(lay, piece, "side notch")]
    assert all(off(x, levels[0], along) < 1e-6 for x in levels)
    for piece in ("bodice back", "skirt back"):
        assert all(off(y, first[1], across) < 1e-6 for _, y in places_of(lay, piece, "centre back start"))


def test_a_chain_of_seams_is_in_step_from_end_to_end():
    lay = laid()
    front = [x for x, _ in places_of(lay, "bodice front", "front notch")]
    sleeve = [x for x, _ in places_of(lay, "sleeve", "front notch")]
    assert all(off(x, front[0], 80.0) < 1e-6 for x in front + sleeve)


def test_the_first_in_her_list_wins_and_the_other_is_said():
    first, second = matched(places=("armhole", "side seam")), matched(places=("side seam", "armhole"))
    assert first.notes != second.notes
    said = [n for n in second.notes if "cannot meet" in n]
    assert any('"armhole"' in n and "cm off" in n for n in said)
    assert not any('"side seam" as well' in n for n in said)


def test_a_ring_of_seams_is_told_by_how_much_it_fails_to_close():
    """The sleeve is in step with the bodice front; how far off the back notch is then is worked out by hand."""
    work = matched(places=("side seam", "armhole"))
    at = {(p.name, m.name): m.at.real for p in PIECES for m in p.marks}
    phase = (at["bodice front", "side notch"] - at["bodice front", "front notch"] + at["sleeve", "front notch"]
             - at["sleeve", "back notch"] + at["bodice back", "back notch"] - at["bodice back", "side notch"])
    miss = min(phase % 80.0, -phase % 80.0)
    assert any(f"{miss / 10:.1f} cm off" in n for n in work.notes if '"armhole"' in n)


def test_what_is_matched_lengthways_lies_one_way():
    lay = laid()
    matched_names = {name for _, name in matched().along}
    assert {"bodice front", "bodice back", "sleeve"} <= matched_names
    assert {one.pose.turn for one in lay.laid if one.piece.name in matched_names} == {0.0}
    assert any("one way" in n for n in lay.notes)


def test_a_gathered_seam_is_not_matched():
    assert any("gathered" in n for n in matched(places=("skirt tier",)).notes)


def test_a_name_that_is_nowhere_is_refused_with_the_nearest():
    with pytest.raises(NameUnknown, match="side seam"):
        matched(places=("sied seam",))


def test_side_seam_means_the_skirts_too():
    names = {m.seam for m in matched(places=("side seam",)).meetings}
    assert names == {"side seam", "skirt side seam", "wrap side seam"}


def test_a_plain_cloth_has_nothing_to_match():
    plain = replace(CHECKED, repeat=Repeat())
    assert matched(plain, ()).notes == () and "Nothing repeats" in matched(plain).notes[0]
    assert "nothing is matched" in matched(places=()).notes[0]


@given(width=st.integers(600, 1600), pitch=st.integers(10, 300), first=st.integers(0, 200))
def test_the_fold_lies_on_a_main_stripe(width, pitch, first):
    way = spread(Cloth(width=width, repeat=Repeat(across=pitch, first_across=first % pitch)), Fold.LENGTHWISE)
    assert width / 2 - pitch < way.depth <= width / 2 and way.height == width - way.depth
    assert off(way.depth, first, pitch) < 1e-6 or way.depth == width / 2


def test_hems_lie_on_a_border_and_the_rest_keeps_off_it():
    lay = arrange(PIECES, Cloth(width=1500.0, border=150.0), Search(one_behind_another, 1.0))
    on_it = {one.piece.name for one in lay.laid if max(p.imag for p in one.outline) > 1350.0}
    assert on_it == {"sleeve frill", "skirt tier"}
    assert all(abs(max(p.imag for p in one.outline) - 1500.0) < 1e-6 for one in lay.laid if one.piece.name in on_it)
    assert any("grain runs across" in n for n in lay.notes)
    assert any(c.name == "hems on the border" and c.said.startswith("4 ") for c in lay.certificate.checks)
