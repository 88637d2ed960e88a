"""Flat lengths of our blocks against the measures and the ease that they were drafted with."""

import pytest

from toilewright.blocks.chart import WHOLE_CHART, body_of
from toilewright.blocks.choir_trousers import trousers_for
from toilewright.blocks.concert import dress_for
from toilewright.blocks.princess_dress import princess_dress_for
from toilewright.blocks.trousers import TrouserEase
from toilewright.fit.flat import flat_of
from toilewright.geometry import Affine

SIZES = ("1", "5", "10")


@pytest.mark.parametrize("size", SIZES)
def test_a_princess_bodice_is_measured_with_all_its_pieces(size):
    body = body_of(size, WHOLE_CHART)
    plain, princess = (flat_of(f(body)).lengths for f in (dress_for, princess_dress_for))
    for name in ("waist", "shoulder front", "shoulder back", "centre back length", "neck front", "neck back",
                 "armhole front"):
        assert princess[name].value == pytest.approx(plain[name].value, abs=0.5), name
    assert abs(princess["bust"].value - plain["bust"].value) < 12.0  # a princess seam shapes above the bust line too


@pytest.mark.parametrize("size", SIZES)
def test_trousers_are_as_wide_at_the_hip_as_they_were_drafted(size):
    body = body_of(size, WHOLE_CHART)
    flat = flat_of(trousers_for(body)).lengths
    assert flat["hip"].value == pytest.approx(body["hip girth"] + TrouserEase().hip, abs=8.0)
    assert flat["waist"].value == pytest.approx(body["waist girth"] + TrouserEase().waist, abs=1.0)


def test_panels_that_stand_at_different_heights_are_measured_as_one():
    """As read from a sheet, where each piece lies somewhere else."""
    garment = princess_dress_for(body_of("5", WHOLE_CHART))
    side = garment.piece("bodice side front").mapped(Affine.shift(300 - 150j))
    told, moved = flat_of(garment).lengths, flat_of(garment.with_piece(side)).lengths
    for name in ("across chest", "across back", "shoulder slope front", "shoulder slope back"):
        assert moved[name].value == pytest.approx(told[name].value, abs=0.01), name
