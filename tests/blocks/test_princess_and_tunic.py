"""Princess dress and tunic: every seam sews in every size and on bodies in no chart; the princess bodice fits alike."""

from math import degrees

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from toilewright.blocks.bodice import draft_bodice
from toilewright.blocks.chart import SIZES, body_of
from toilewright.blocks.choir_tunic import choir_tunic, tunic_for
from toilewright.blocks.princess_dress import princess_dress, princess_dress_for
from toilewright.errors import InputError
from toilewright.geometry import turn
from toilewright.pattern.truing import corner_angle, dart_legs
from toilewright.pattern.walk import walk

PATTERNS = {"tunic": choir_tunic(), "princess": princess_dress()}
EVERY = pytest.mark.parametrize(("which", "size"), [(w, s) for w in PATTERNS for s in SIZES])
SMALL, LARGE = body_of("1"), body_of("10")
OWN_SHARE = ("waist girth", "hip girth", "upper arm girth", "bust point width", "across back width")


def shape(piece):
    return Polygon([(p.real, p.imag) for p in piece.outline.flatten(0.05)])


def check_sews(garment):
    for seam in walk(garment):
        assert seam.sews, seam
        assert not seam.note, seam
        assert all(seam.meets(pair) for pair in seam.notches), seam
    for piece in garment.pieces:
        assert shape(piece).is_valid, piece.name


@EVERY
def test_every_size_sews_and_is_drawn_cleanly(which, size):
    garment = PATTERNS[which].at(size)
    check_sews(garment)
    for piece in garment.pieces:
        room = shape(piece).buffer(0.3)
        assert piece.area > 0
        assert (piece.grain.end - piece.grain.start).real == 0
        for path in (line.path for line in piece.lines):
            assert room.contains(LineString([(p.real, p.imag) for p in path.nodes])), piece.name
        assert room.contains(LineString([(p.real, p.imag) for p in (piece.grain.start, piece.grain.end)])), piece.name
        for dart in piece.darts:
            one, other = dart_legs(piece, dart)
            assert one == pytest.approx(other, abs=0.01)
        for notch in piece.notches:
            assert 5 < notch.at < piece.edge(notch.edge).path.length - 5


@pytest.mark.parametrize("size", SIZES)
def test_the_princess_bodice_fits_as_the_darted_one_does(size):
    """Neck, armhole, waist and side seam are as long as they were; bust line and shoulder within what a dart does."""
    front, back = draft_bodice(body_of(size))
    garment = PATTERNS["princess"].at(size)
    for whole, which in ((front, "front"), (back, "back")):
        centre, side = garment.piece(f"bodice {which}"), garment.piece(f"bodice side {which}")
        for name in ("waist", "shoulder"):
            parts = sum(p.edge(name).path.length for p in (centre, side))
            assert parts == pytest.approx(whole.sewn_length(name), abs=0.01)
        assert centre.edge("neck") == whole.edge("neck")
        assert side.edge("armhole").path.length == pytest.approx(whole.edge("armhole").path.length, abs=1.5)
        assert side.edge("side seam").path.length == pytest.approx(whole.sewn_length("side seam"), abs=0.01)
        widths = sum(p.line("bust line").length for p in (centre, side))
        assert widths == pytest.approx(whole.line("bust line").length, abs=14)
    point = garment.piece("bodice front").landmark("bust point")
    assert point == front.landmark("bust point")
    side_point = garment.piece("bodice side front").landmark("bust point")
    assert garment.piece("bodice side front").edge("princess seam").path.nearest(side_point)[1] < 1e-6
    assert abs(side_point - point) < 6  # rounded off the corner, no more


@pytest.mark.parametrize("size", SIZES)
def test_princess_seams_match_above_and_below_the_point(size):
    garment = PATTERNS["princess"].at(size)
    for which in ("front", "back"):
        centre, side = garment.piece(f"bodice {which}"), garment.piece(f"bodice side {which}")
        marks = {n.name: n.at for n in centre.notches if n.edge == "princess seam"}
        length = side.edge("princess seam").path.length
        assert centre.edge("princess seam").path.length == pytest.approx(length, abs=1e-4)
        for notch in (n for n in side.notches if n.edge == "princess seam"):
            assert length - notch.at == pytest.approx(marks[notch.name], abs=1e-4)
        for piece in (centre, side):
            path = piece.edge("princess seam").path
            assert abs(turn(path.curves[0].derivative(1.0), path.curves[1].derivative(0.0))) < 1e-6


@pytest.mark.parametrize("size", SIZES)
def test_the_long_sleeve_bends_at_the_elbow(size):
    body = body_of(size)
    for pattern in PATTERNS.values():
        sleeve = pattern.at(size).piece("sleeve")
        dart = sleeve.dart("elbow dart")
        first, second = sleeve.feet(dart)
        assert 14 < abs(second - first) < 29
        assert sleeve.edge("hem").path.end.real + sleeve.edge("hem").path.start.real > 6  # forward is where x grows
        assert sleeve.line("elbow line").length > body["upper arm girth"] * 0.87 + 15
        middle = sleeve.edge("hem").path.point_at(sleeve.edge("hem").path.length / 2)
        assert abs(sleeve.landmark("shoulder point") - middle) == pytest.approx(body["arm length"], abs=12)


def test_the_tunic_is_loose_straight_and_without_darts():
    for size in SIZES:
        body, garment = body_of(size), PATTERNS["tunic"].at(size)
        front, back = garment.piece("bodice front"), garment.piece("bodice back")
        assert not front.darts
        assert not back.darts
        for level, name, ease in (("bust line", "bust girth", 172), ("hip line", "hip girth", 120)):
            width = 2 * sum(p.line(level).length for p in (front, back))
            assert width - body[name] == pytest.approx(ease, abs=3)
        assert degrees(corner_angle(front, "neck", "centre front")) == pytest.approx(90, abs=0.01)
        down = front.landmark("neck point") - front.landmark("bust point")
        assert abs(down) == pytest.approx(body["neck shoulder point to bust point"])


@settings(max_examples=20)
@given(st.floats(0, 1), st.tuples(*(st.floats(-0.2, 0.2) for _ in OWN_SHARE)))
def test_a_body_that_is_in_no_chart_gets_garments_that_sew(size, shares):
    own = {n: min(max(size + s, 0), 1) for n, s in zip(OWN_SHARE, shares, strict=True)}
    body = {n: SMALL[n] + own.get(n, size) * (LARGE[n] - SMALL[n]) for n in SMALL}
    for garment in (tunic_for(body), princess_dress_for(body)):
        check_sews(garment)


@pytest.mark.parametrize("drafted", [tunic_for, princess_dress_for])
def test_missing_measures_are_named(drafted):
    with pytest.raises(InputError, match="arm length"):
        drafted({n: v for n, v in body_of("4").items() if n != "arm length"})
