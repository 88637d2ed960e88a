"""Drafts for bodies that are in no chart, and for bodies that cannot be."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from toilewright.blocks.bodice import BodiceEase, draft_bodice
from toilewright.blocks.chart import body_of
from toilewright.blocks.concert import dress_for
from toilewright.blocks.sleeve import SleeveEase, draft_sleeve
from toilewright.errors import GeometryError, InputError
from toilewright.pattern.truing import dart_legs

SMALL, LARGE = body_of("1"), body_of("10")
OF_THE_WAIST = ("waist girth",)
OF_THE_HIP = ("hip girth", "high hip girth", "waist to hip")


def between(bust, waist, hip):
    """A body between the smallest and the largest size, each part by its own share."""
    def share(name):
        return waist if name in OF_THE_WAIST else hip if name in OF_THE_HIP else bust
    return {n: SMALL[n] + share(n) * (LARGE[n] - SMALL[n]) for n in SMALL}


@settings(max_examples=25, deadline=None)
@given(st.floats(0, 1), st.floats(-0.25, 0.25), st.floats(-0.25, 0.25))
def test_a_body_between_sizes_gets_a_dress_that_sews(bust, waist, hip):
    waist, hip = min(max(bust + waist, 0), 1), min(max(bust + hip, 0), 1)
    garment = dress_for(between(bust, waist, hip))
    for seam in garment.seams:
        a, b = (sum(garment.piece(r.piece).sewn_length(r.edge) for r in side) for side in (seam.a, seam.b))
        low, top = seam.ease if seam.ratio is None else ((seam.ratio - 1) * a,) * 2
        assert low - 0.5 <= b - a <= top + 0.5, seam.name
    for piece in garment.pieces:
        assert Polygon([(p.real, p.imag) for p in piece.outline.flatten(0.1)]).is_valid
        for dart in piece.darts:
            one, other = dart_legs(piece, dart)
            assert one == pytest.approx(other, abs=0.01)


@given(st.floats(60, 120), st.floats(10, 80))
@settings(max_examples=15, deadline=None)
def test_ease_asked_for_is_ease_given(bust, waist):
    body = body_of("4")
    front, back = draft_bodice(body, BodiceEase(bust=bust, waist=waist))
    sewn = 2 * (front.sewn_length("waist") + back.sewn_length("waist"))
    assert sewn - body["waist girth"] == pytest.approx(waist, abs=0.1)
    across = 2 * sum(abs(p.line("bust line").end - p.line("bust line").start) for p in (front, back))
    assert across - body["bust girth"] == pytest.approx(bust, abs=0.1)
    sleeve = draft_sleeve(body, front, back, SleeveEase(cap=18.0))
    armhole = front.edge("armhole").path.length + back.edge("armhole").path.length
    assert sleeve.edge("cap").path.length - armhole == pytest.approx(18.0, abs=0.01)


def test_the_dart_takes_up_what_the_front_is_longer():
    body = body_of("5")
    longer = {**body, "neck shoulder point to waist": body["neck shoulder point to waist"] + 10.0}
    widths = []
    for b in (body, longer):
        front, back = draft_bodice(b)
        dart = front.dart("bust dart")
        widths.append(abs(front.feet(dart)[0] - front.feet(dart)[1]))
        assert front.sewn_length("side seam") == pytest.approx(back.sewn_length("side seam"), abs=0.01)
    assert widths[1] - widths[0] == pytest.approx(10.0, abs=1.5)


def test_missing_measures_are_named():
    body = dict(body_of("3"))
    del body["armscye depth"]
    with pytest.raises(InputError, match="armscye depth"):
        dress_for(body)


@pytest.mark.parametrize("change", [
    {"neck shoulder point to bust point": 5.0},
    {"neck shoulder point to waist": 300.0},
    {"waist girth": 2400.0},
    {"upper arm girth": 900.0},
    {"back neck point to waist": 120.0},
])
def test_bodies_that_cannot_be_are_refused_in_words(change):
    with pytest.raises(GeometryError, match=r"\."):
        dress_for({**body_of("4"), **change})
