"""Pockets: cut sizes, corners, and that they lie where the marks on the garment say."""

from cmath import rect
from math import pi

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import Polygon

from toilewright.blocks.choir_trousers import choir_trousers
from toilewright.blocks.concert import concert_dress
from toilewright.cutting.allowances import cutting_line
from toilewright.cutting.extra import find_kind
from toilewright.cutting.extra.patch_pockets import mitre
from toilewright.cutting.extra.upright import upwards
from toilewright.cutting.marks import MarkKind, cut_marks
from toilewright.errors import InputError
from toilewright.geometry.point import dot

DRESS = concert_dress().at("5")
TROUSERS = choir_trousers().at(choir_trousers().sizes[4])
BESIDE = {"edge": "skirt front side seam"}


def build(kind, garment=DRESS, **options):
    found = find_kind(kind)
    return found.build(garment, found.read(options, "cm", f'"{kind}"'))


def polygon(path):
    return Polygon([(p.real, p.imag) for p in path.flatten(0.01)[:-1]])


def cut_box(piece):
    boxes = [path.bounds for path in cutting_line(piece)]
    return (max(b[2] for b in boxes) - min(b[0] for b in boxes), max(b[3] for b in boxes) - min(b[1] for b in boxes))


def drills(piece):
    return [m.at[0] for m in cut_marks(piece) if m.kind is MarkKind.DRILL and m.name.startswith("pocket")]


# -- patch pockets ----------------------------------------------------------------------------------


def test_a_patch_pocket_is_cut_with_its_hem_and_allowances():
    built = build("patch pocket", **BESIDE, width="14 cm", depth="16 cm", hem="2.5 cm", allowance="1 cm")
    pocket = built.pieces[0]
    assert cut_box(pocket) == pytest.approx((160.0, 205.0))
    assert (built.worked.of("cut_width"), built.worked.of("cut_depth")) == (160.0, 205.0)
    assert pocket.cut.count == 2 and pocket.grain is not None
    assert {n.name for n in pocket.notches} == {"hem fold", "pocket middle"}
    assert built.laid == (("patch pocket", "skirt front"),)


@pytest.mark.parametrize("shape, area", [
    ("square", 140.0 * 160.0), ("round", 140.0 * 160.0 - (2 - pi / 2) * 30.0 ** 2),
    ("pointed", 140.0 * 160.0 - 140.0 * 25.0 / 2)])
@pytest.mark.parametrize("corners", ["mitred", "square"])
def test_a_patch_pockets_shape_is_what_its_name_says(shape, area, corners):
    pocket = build("patch pocket", **BESIDE, shape=shape, corners=corners).pieces[0]
    assert pocket.area == pytest.approx(area, rel=1e-5)
    whole = Polygon([(p.real, p.imag) for path in cutting_line(pocket) for p in path.flatten()[:-1]])
    assert whole.is_valid and whole.buffer(1e-3).contains(polygon(pocket.outline))


def test_turned_under_a_square_corner_lies_on_its_side():
    """The bottom's allowance, turned up, ends on the side's cutting line: nothing stands out, nothing is short."""
    pocket = build("patch pocket", **BESIDE, shape="pointed", corners="square").pieces[0]
    bottom, side = cutting_line(pocket)[0], cutting_line(pocket)[1]
    seam = pocket.edge("bottom").path
    tip = side.start
    turned = tip - 2 * dot(tip - seam.end, seam.end_tangent * -1j) * (seam.end_tangent * -1j)
    assert abs(bottom.end - tip) < 1e-6
    assert turned.real == pytest.approx(side.end.real, abs=0.02)


@given(st.floats(0.3, pi - 0.3), st.floats(3, 20))
def test_a_mitre_is_the_same_from_both_sides(turned, allowance):
    """Folded along the bisector its halves lie on each other, and both end on the cutting lines."""
    arriving = 1 + 0j
    leaving = rect(1.0, turned)
    line = mitre(0j, arriving, leaving, allowance)
    assert abs(line.start + line.end) < 1e-9
    assert line.start.imag == pytest.approx(-allowance)
    assert dot(line.end, leaving * -1j) == pytest.approx(allowance)
    bisector = leaving - arriving
    assert dot(line.end - line.start, bisector) == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("garment, edge", [(DRESS, "skirt front side seam"), (DRESS, "wrap skirt front wrap edge"),
                                           (TROUSERS, "trouser back side seam"), (DRESS, "bodice back side seam")])
def test_drill_marks_lie_three_millimetres_inside_the_pockets_corners(garment, edge):
    built = build("patch pocket", garment, edge=edge, below="2 cm", width="11 cm", depth="12 cm")
    shell = built.changed[0]
    marks = drills(shell)
    assert len(marks) == 4
    place = polygon(next(m.path for m in shell.lines if m.name == "patch pocket place"))
    assert place.area == pytest.approx(110.0 * 120.0)
    assert place.buffer(-3.0 + 1e-3).buffer(2e-3).contains(Polygon([(p.real, p.imag) for p in marks]).convex_hull)
    assert Polygon([(p.real, p.imag) for p in marks]).convex_hull.area == pytest.approx(104.0 * 114.0)
    assert polygon(shell.outline).contains(place)


@given(below=st.floats(0, 400), beside=st.floats(0, 150), width=st.floats(60, 180), depth=st.floats(60, 220))
@settings(max_examples=40, deadline=None)
def test_a_pocket_lies_where_it_was_asked_or_is_refused(below, beside, width, depth):
    wish = {name: f"{value:.3f} mm" for name, value in
            (("below", below), ("beside", beside), ("width", width), ("depth", depth))}
    try:
        built = build("patch pocket", **BESIDE, **wish)
    except InputError as problem:
        assert "does not lie within" in str(problem)
        assume(False)
    shell = built.changed[0]
    place = next(m.path for m in shell.lines if m.name == "patch pocket place")
    seam = DRESS.piece("skirt front").edge("side seam").path
    assert polygon(shell.outline).buffer(0.6).contains(polygon(place))
    top = max(place.nodes, key=lambda p: (round(p.imag, 6), p.real))
    start = seam.point_at(seam.length - below)
    assert start - top == pytest.approx(beside, abs=2e-3)


def test_over_the_fold_there_is_one_pocket():
    built = build("patch pocket", edge="skirt front centre front", beside="0", width="24 cm", shape="round")
    assert built.pieces[0].cut.count == 1
    place = polygon(next(m.path for m in built.changed[0].lines if m.name == "patch pocket place"))
    assert place.area == pytest.approx(built.pieces[0].area / 2, rel=1e-4)
    assert len(drills(built.changed[0])) == 2


def test_up_is_towards_the_head_whichever_way_the_grain_was_drawn():
    for garment in (DRESS, TROUSERS):
        for piece in garment.pieces:
            if any(w in piece.name for w in ("frill", "tie", "waistband", "tier")):
                continue
            assert upwards(piece).imag > 0.99, piece.name
            assert upwards(piece.mapped(lambda z: -z)).imag < -0.99, piece.name


@pytest.mark.parametrize("options, said", [
    ({"edge": "skirt front waist"}, "runs across"),
    ({"edge": "skirt front side seam", "below": "60 cm"}, "beyond its end"),
    ({"edge": "skirt front side seam", "beside": "25 cm"}, "does not lie within"),
    ({"edge": "skirt front side seam", "shape": "pointed", "point": "9 cm"}, "shorter"),
    ({"edge": "skirt front side seam", "shape": "round", "radius": "8 cm"}, "smaller radius"),
    ({"edge": "skirt front side seam", "depth": "3 cm"}, "hem narrower"),
    ({"edge": "centre back"}, "which of them"),
    ({}, '"edge"'),
])
def test_a_pocket_that_cannot_be_is_refused_in_one_sentence(options, said):
    with pytest.raises(InputError) as problem:
        build("patch pocket", **options)
    assert said in str(problem.value) and "\n" not in str(problem.value)
