"""Flat lengths read off drawn pieces, against the draft's own numbers."""

import cmath
from dataclasses import replace
from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from toilewright.blocks.chart import body_of as chart_body
from toilewright.blocks.concert import concert_dress
from toilewright.fit.flat import NAMES, flat_of
from toilewright.known import Origin

GARMENT = concert_dress().at("4")
CHART = chart_body("4")


@pytest.mark.parametrize(("name", "expected"), [
    # What size 4 of the chart was drafted to; halves where a half piece shows a half.
    ("neck point to bust point", 261), ("bust point to centre", 192 / 2), ("shoulder front", 123.5),
    ("shoulder back", 123.5 + 8), ("shoulder slope front", 21 + 2), ("shoulder slope back", 21 - 2),
    ("centre back length", 407 + 5), ("back length", 425 + 5), ("armhole depth", 194 + 16), ("waist to hip", 206),
    ("waist", 722 + 45), ("hip", 960 + 72), ("upper arm", 282 * 1.14 + 20), ("underarm length", 181.82),
    ("skirt length", 511), ("across back", 350 / 2 + 7), ("across chest", 327 / 2 + 4), ("overlap at waist", 274.36)])
def test_the_draft_is_read_back(name, expected):
    known = flat_of(GARMENT).lengths[name]
    # The armhole is straight only near the pitch point.
    assert known.value == pytest.approx(expected, abs=0.3)
    assert known.origin is Origin.READ and known.spread > 0 and known.reason


def test_the_way_to_the_dart_point_by_arithmetic():
    front, flat = GARMENT.piece("bodice front"), flat_of(GARMENT).lengths
    away = front.dart("bust dart").apex - front.landmark("neck point")
    assert flat["neck point to dart point"].value == pytest.approx(hypot(away.real, away.imag))
    assert flat["dart point to centre"].value == pytest.approx(front.dart("bust dart").apex.real)
    assert flat["sleeve head"].value == pytest.approx(
        flat["armhole front"].value + flat["armhole back"].value + 25, abs=0.1)


@settings(max_examples=8, deadline=None)
@given(st.floats(0, 6.28), st.floats(-900, 900), st.booleans())
def test_hand_place_and_turn_change_no_length(angle, shift, other_hand):
    def laid(piece):
        piece = piece.mirrored(1j, 2 + 3j) if other_hand else piece
        return piece.mapped(lambda z: z * cmath.rect(1, angle) + shift)

    there = flat_of(replace(GARMENT, pieces=tuple(map(laid, GARMENT.pieces)))).lengths
    here = flat_of(GARMENT).lengths
    assert set(there) == set(here)
    for name, known in here.items():
        assert there[name].value == pytest.approx(known.value, abs=0.05), name


def test_what_the_pieces_do_not_show_is_not_there():
    skirt = flat_of(replace(GARMENT, pieces=(GARMENT.piece("skirt front"), GARMENT.piece("skirt back"))))
    assert set(skirt.lengths) == {"waist", "high hip", "hip", "waist to hip", "skirt length", "hem width"}
    assert skirt.get("bust") is None and skirt.get("no such length") is None
    assert skirt.pieces["hip"] == ("skirt front", "skirt back")
    assert set(flat_of(GARMENT).lengths) <= set(NAMES)


def test_a_bust_point_told_from_the_dart_is_less_sure():
    front = GARMENT.piece("bodice front")
    bare = GARMENT.with_piece(replace(front, landmarks=tuple(m for m in front.landmarks if m.name != "bust point")))
    sure, unsure = (flat_of(g).lengths["neck point to bust point"] for g in (GARMENT, bare))
    assert unsure.origin is Origin.ESTIMATED and unsure.spread > 4 > sure.spread
    assert unsure.value == pytest.approx(sure.value, abs=1)
