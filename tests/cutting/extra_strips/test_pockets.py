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
from toilewright.pattern.walk import walk

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


# -- pockets in a seam ------------------------------------------------------------------------------

SEAMS = [(DRESS, "skirt front side seam", {}), (DRESS, "wrap skirt front side seam", {"below": "10 cm"}),
         (TROUSERS, "trouser front side seam", {"width": "13 cm", "cloth": "lining"}),
         (DRESS, "skirt back side seam", {"sides": "one"})]


@pytest.mark.parametrize("garment, edge, options", SEAMS)
def test_a_bag_is_sewn_to_both_sides_of_its_seam_mark_to_mark(garment, edge, options):
    built = build("seam pocket", garment, edge=edge, **options)
    bag = built.pieces[0]
    new = walk(built.put_into(garment))[len(garment.seams):]
    assert all(w.sews and not w.note for w in new)
    assert {p.name for p in built.changed} == {s.a[0].piece for s in built.seams[:2]}
    for one in new[:2]:
        assert one.difference == pytest.approx(0.0, abs=1e-6)
        assert [n.offset for n in one.notches] == pytest.approx([0.0, 0.0], abs=1e-6)
        assert [n.at_b for n in one.notches] in ([20.0, pytest.approx(185.0)], [pytest.approx(20.0), 185.0])
    assert bag.cut.mirrored and bag.cut.count == (2 if options.get("sides") else 4)
    assert polygon(bag.outline).is_valid and polygon(bag.outline).exterior.is_ccw
    assert polygon(built.changed[0].outline).buffer(0.6).contains(polygon(bag.outline))


@pytest.mark.parametrize("garment, edge, options", SEAMS)
def test_the_opening_lies_equally_far_below_the_top_on_front_and_back(garment, edge, options):
    built = build("seam pocket", garment, edge=edge, **options)
    below = 100.0 if "below" in options else 70.0
    for seam in built.seams[:2]:
        piece = next(p for p in built.changed if p.name == seam.a[0].piece)
        side = piece.edge(seam.a[0].edge).path
        marks = sorted(n.at for n in piece.notches if n.name == "pocket opening")
        up = dot(side.end - side.start, upwards(piece)) > 0
        from_top = side.length - marks[1] if up else marks[0]
        assert from_top == pytest.approx(below) and marks[1] - marks[0] == pytest.approx(165.0)


@given(st.floats(0, 150), st.floats(100, 200), st.floats(100, 180), st.floats(200, 320))
@settings(max_examples=30, deadline=None)
def test_any_bag_is_whole_and_sews_or_is_refused(below, opening, width, depth):
    wish = {name: f"{value:.3f} mm" for name, value in
            (("below", below), ("opening", opening), ("width", width), ("depth", depth))}
    try:
        built = build("seam pocket", edge="skirt front side seam", **wish)
    except InputError as problem:
        assert any(w in str(problem) for w in ("at least", "does not lie within"))
        return
    bag = built.pieces[0]
    assert polygon(bag.outline).is_valid and bag.area > 0.5 * width * depth
    low, high = (f(dot(p, 1j) for p in bag.outline.flatten(0.1)) for f in (min, max))
    assert high - low == pytest.approx(depth, abs=3.0)
    assert all(w.sews for w in walk(built.put_into(DRESS))[len(DRESS.seams):])


@pytest.mark.parametrize("options, said", [
    ({"edge": "bodice back side seam", "below": "2 cm", "opening": "12 cm"}, "bust dart"),
    ({"edge": "skirt front side seam", "below": "1 cm"}, "at least"),
    ({"edge": "skirt front side seam", "depth": "20 cm"}, "hardly hangs"),
    ({"edge": "skirt front side seam", "width": "35 cm"}, "does not lie within"),
    ({"edge": "skirt front side seam", "below": "45 cm"}, "beyond its end"),
    ({"edge": "wrap edge"}, "name a side seam"),
    ({"edge": "skirt front waist"}, "name a side seam"),
])
def test_a_bag_that_cannot_be_is_refused_in_one_sentence(options, said):
    with pytest.raises(InputError) as problem:
        build("seam pocket", **options)
    assert said in str(problem.value) and "\n" not in str(problem.value)
