"""The concert dress: every seam sews in every size, the ease is real, and the sizes lie in one another."""

from itertools import pairwise
from math import degrees, pi

import pytest
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Spot

from toilewright.blocks.chart import CHART, SIZES, body_of
from toilewright.blocks.concert import concert_dress
from toilewright.geometry import Cubic, cross, turn, unit
from toilewright.pattern import EdgeKind
from toilewright.pattern.truing import corner_angle, dart_legs, folded_mouth, run_angle

DRESS = concert_dress()
EVERY = pytest.mark.parametrize("size", SIZES)
PIECES = {
    "bodice front", "bodice back", "sleeve", "sleeve frill", "skirt front", "skirt back", "skirt tier",
    "wrap skirt front", "wrap skirt back", "waistband", "front neck facing", "back neck facing", "waist tie"}


def shape(piece):
    return Polygon([(p.real, p.imag) for p in piece.outline.flatten(0.01)])


def seam_length(garment, refs):
    return sum(garment.piece(r.piece).sewn_length(r.edge) * r.times for r in refs)


@EVERY
def test_all_pieces_are_closed_simple_and_counter_clockwise(size):
    garment = DRESS.at(size)
    assert {p.name for p in garment.pieces} == PIECES
    for piece in garment.pieces:
        polygon = shape(piece)
        assert polygon.is_valid, piece.name
        assert piece.area > 0
        assert piece.area == pytest.approx(polygon.area, rel=1e-3)


@EVERY
def test_everything_drawn_lies_on_its_piece(size):
    for piece in DRESS.at(size).pieces:
        room = shape(piece).buffer(0.3)
        assert piece.grain is not None
        assert (piece.grain.end - piece.grain.start).real == 0
        assert room.contains(LineString([(p.real, p.imag) for p in (piece.grain.start, piece.grain.end)]))
        for line in piece.lines:
            assert line.path.start.imag == pytest.approx(line.path.end.imag)  # across the grain
            assert room.contains(LineString([(p.real, p.imag) for p in line.path.nodes])), (piece.name, line.name)
        for spot in (*(m.at for m in piece.landmarks), *(d.apex for d in piece.darts)):
            assert room.contains(Spot(spot.real, spot.imag))
        for notch in piece.notches:
            assert 5 < notch.at < piece.edge(notch.edge).path.length - 5
            assert not any(d.edge == notch.edge and d.start - 5 < notch.at < d.end + 5 for d in piece.darts)


@EVERY
def test_every_seam_sews(size):
    garment = DRESS.at(size)
    for seam in garment.seams:
        a, b = seam_length(garment, seam.a), seam_length(garment, seam.b)
        if seam.ratio is None:
            assert seam.ease[0] - 0.01 <= b - a <= seam.ease[1] + 0.01, seam.name
        else:
            assert b / a == pytest.approx(seam.ratio, abs=1e-6), seam.name


@EVERY
def test_seams_are_walked_in_one_direction(size):
    """Corners that meet once sewn are named alike at both ends of each seam that joins two pieces of one quarter."""
    garment = DRESS.at(size)
    for name, one, other in (("shoulder", "bodice front", "bodice back"), ("side seam", "bodice front", "bodice back"),
                             ("side seam", "skirt front", "skirt back")):
        a, b = (garment.piece(p).edge(name).path for p in (one, other))
        assert abs(turn(a.end - a.start, b.end - b.start)) < 0.5


def test_notches_that_meet_lie_at_the_same_place():
    for size in SIZES:
        garment = DRESS.at(size)
        front, back, sleeve = (garment.piece(n) for n in ("bodice front", "bodice back", "sleeve"))
        notch = {(p.name, n.name): n for p in garment.pieces for n in p.notches}
        cap = sleeve.edge("cap").path.length
        top = notch["sleeve", "shoulder point"].at
        assert notch["sleeve", "front notch"].at == pytest.approx(notch["bodice front", "front notch"].at)
        assert cap - notch["sleeve", "back notch"].at == pytest.approx(notch["bodice back", "back notch"].at)
        ease_front = top - front.edge("armhole").path.length
        ease_back = cap - top - back.edge("armhole").path.length
        assert 0.35 < ease_front / (ease_front + ease_back) < 0.5
        for one, other, name in (("bodice front", "bodice back", "side notch"),
                                 ("skirt front", "skirt back", "hip notch"),
                                 ("wrap skirt front", "wrap skirt back", "hip notch")):
            assert (garment.piece(one).sewn_at("side seam", notch[one, name].at)
                    == pytest.approx(garment.piece(other).sewn_at("side seam", notch[other, name].at)))
        assert notch["bodice front", "front notch"].count == 1
        assert notch["bodice back", "back notch"].count == 2
        assert notch["sleeve", "back notch"].count == 2


def width_at(piece, line):
    """Cloth across a piece at the level of one of its lines, measured on the polygon (mm)."""
    y = piece.line(line).start.imag
    box = piece.outline.bounds
    return shape(piece).intersection(LineString([(box[0] - 9, y), (box[2] + 9, y)])).length


@EVERY
def test_the_ease_is_real(size):
    """Bust 3 to 4 in, waist about 1 to 2 in, hip 2 in or more: NMSU Extension C-228; upper arm 2 in or more: Threads
    magazine, 27 September 2021. Measured on the pieces, not taken from the draft."""
    garment, body = DRESS.at(size), body_of(size)
    front, back = garment.piece("bodice front"), garment.piece("bodice back")
    bust = 2 * (width_at(front, "bust line") + width_at(back, "bust line")) - body["bust girth"]
    assert 90 <= bust <= 100
    waist = 2 * (front.sewn_length("waist") + back.sewn_length("waist")) - body["waist girth"]
    assert 38 <= waist <= 51
    hip = 2 * (width_at(garment.piece("skirt front"), "hip line")
               + width_at(garment.piece("skirt back"), "hip line")) - body["hip girth"]
    assert 51 <= hip <= 90
    arm = width_at(garment.piece("sleeve"), "biceps line") - body["upper arm girth"]
    assert 51 <= arm <= 80
    neck = 2 * (front.edge("neck").path.length + back.edge("neck").path.length) - body["neck base girth"]
    assert 5 <= neck <= 40
    wrap = 2 * (garment.piece("wrap skirt front").sewn_length("waist")
                + garment.piece("wrap skirt back").sewn_length("waist")) - body["waist girth"]
    overlap = 2 * 0.19 * body["waist girth"]
    assert 5 <= wrap - overlap <= 25
    assert 1 / 3 <= overlap / body["waist girth"] <= 1 / 2


@EVERY
def test_darts_aim_and_stop_short(size):
    """The bust dart's axis runs through the bust point and stops 25 mm short; the waist dart ends 15 to 20 mm below it
    (common practice, no published source)."""
    front = DRESS.at(size).piece("bodice front")
    point, dart = front.landmark("bust point"), front.dart("bust dart")
    first, second = front.feet(dart)
    along = unit(dart.apex - (first + second) / 2)
    assert abs(cross(along, point - dart.apex)) < 0.01
    assert abs(point - dart.apex) == pytest.approx(25.0, abs=0.01)
    assert point.imag > dart.apex.imag > (first + second).imag / 2  # it slopes down to the side
    waist_dart = front.dart("waist dart")
    assert waist_dart.apex.real == pytest.approx(point.real)
    assert 15 <= point.imag - waist_dart.apex.imag <= 20
    body = body_of(size)
    assert abs(point - front.landmark("neck point")) == pytest.approx(body["neck shoulder point to bust point"])
    assert 2 * point.real == pytest.approx(body["bust point width"])


@EVERY
def test_dart_legs_are_equal_and_mouths_are_caught(size):
    for piece in DRESS.at(size).pieces:
        for dart in piece.darts:
            one, other = dart_legs(piece, dart)
            assert one == pytest.approx(other, abs=0.01)
            path = piece.edge(dart.edge).path
            for half in folded_mouth(piece, dart):
                for p in half.flatten(0.5):
                    on, off = path.nearest(p)
                    assert off < 0.05
                    assert not dart.start + 0.1 < on < dart.end - 0.1


def test_bodice_and_skirt_darts_meet_in_the_waist_seam():
    for size in SIZES:
        garment = DRESS.at(size)
        for half in ("front", "back"):
            above, below = garment.piece(f"bodice {half}"), garment.piece(f"skirt {half}")
            from_centre = below.edge("waist").path.length - below.dart("waist dart").end
            assert above.dart("waist dart").start == pytest.approx(from_centre, abs=1e-6)


CORNERS = [
    ("bodice front", "shoulder", "neck", 6.1), ("bodice back", "shoulder", "neck", 6.1),
    ("bodice front", "armhole", "shoulder", 1), ("bodice back", "armhole", "shoulder", 1),
    ("bodice front", "neck", "centre front", 0.01), ("bodice back", "neck", "centre back", 0.01),
    ("bodice front", "centre front", "waist", 0.01), ("bodice back", "centre back", "waist", 0.01),
    ("bodice front", "waist", "side seam", 1), ("bodice back", "waist", "side seam", 1),
    ("bodice front", "side seam", "armhole", 3.1), ("bodice back", "side seam", "armhole", 3.1),
    ("sleeve", "underarm front", "cap", 1), ("sleeve", "underarm back", "hem", 1),
    ("skirt front", "waist", "side seam", 1), ("skirt back", "side seam", "hem", 1),
    ("skirt front", "centre front", "hem", 0.01), ("wrap skirt front", "wrap edge", "waist", 0.01),
    ("front neck facing", "outer edge", "shoulder", 1), ("back neck facing", "outer edge", "centre back", 0.01)]


@pytest.mark.parametrize(("piece", "one", "other", "within"), CORNERS)
def test_corners_are_square(piece, one, other, within):
    for garment in DRESS.garments:
        assert degrees(corner_angle(garment.piece(piece), one, other)) == pytest.approx(90, abs=within)


RUNS = [
    ("shoulder", "neck", "bodice front", "bodice back"), ("shoulder", "armhole", "bodice front", "bodice back"),
    ("side seam", "armhole", "bodice front", "bodice back"), ("side seam", "waist", "bodice front", "bodice back"),
    ("side seam", "waist", "skirt front", "skirt back"), ("side seam", "hem", "skirt front", "skirt back"),
    ("side seam", "hem", "wrap skirt front", "wrap skirt back"),
    ("shoulder", "outer edge", "front neck facing", "back neck facing")]


@pytest.mark.parametrize(("seam", "run", "one", "other"), RUNS)
def test_edges_run_on_across_the_seams(seam, run, one, other):
    for garment in DRESS.garments:
        angle = run_angle(garment.piece(one), seam, run, garment.piece(other), seam, run)
        assert degrees(angle) == pytest.approx(180, abs=0.5)


def test_waists_run_on_behind_closed_darts():
    for garment in DRESS.garments:
        for piece in garment.pieces:
            for dart in (d for d in piece.darts if d.name == "waist dart"):
                path = piece.edge("waist").path
                before, after = path.sub(0, dart.start).end_tangent, path.sub(dart.end, path.length).start_tangent
                first, second = piece.feet(dart)
                closing = turn(second - dart.apex, first - dart.apex)
                assert turn(before, after) + closing == pytest.approx(0, abs=1e-3)


def turns(path):
    """How often a path changes from left-hand to right-hand curve, small ripples of the numbers left out."""
    bends = []
    for curve in path.curves:
        if isinstance(curve, Cubic):
            bends += [cross(curve.derivative(t), curve.second(t)) / abs(curve.derivative(t)) ** 3
                      for t in (k / 16 for k in range(1, 16))]
    signs = [b > 0 for b in bends if abs(b) > 1e-5]
    return sum(a != b for a, b in pairwise(signs))


def test_curves_have_no_bumps():
    for garment in DRESS.garments:
        for name in ("bodice front", "bodice back"):
            assert turns(garment.piece(name).edge("armhole").path) == 0, name
            assert turns(garment.piece(name).edge("neck").path) == 0, name
        assert turns(garment.piece("sleeve").edge("cap").path) == 2
        for name in ("front neck facing", "back neck facing"):
            assert turns(garment.piece(name).edge("outer edge").path) == 0


def test_smooth_joints_within_edges():
    """Inside an edge only darts make corners."""
    for garment in DRESS.garments:
        for piece in garment.pieces:
            for edge in piece.edges:
                mouths = [(d.start, d.end) for d in piece.darts_on(edge.name)]
                for i, s in enumerate(edge.path.lengths[1:-1], start=1):
                    if any(a - 1e-6 <= s <= b + 1e-6 for a, b in mouths):
                        continue
                    before, after = edge.path.curves[i - 1], edge.path.curves[i]
                    assert abs(turn(before.derivative(1.0), after.derivative(0.0))) < 1e-6, (piece.name, edge.name)


def structure(piece):
    return (tuple((e.name, e.kind, e.allowance, tuple(h is None for h in e.path.handles)) for e in piece.edges),
            tuple((d.name, d.edge, d.press) for d in piece.darts),
            tuple((n.name, n.edge, n.count) for n in piece.notches),
            tuple(m.name for m in piece.landmarks), tuple(x.name for x in piece.lines), piece.cut)


def test_all_sizes_correspond():
    for one in DRESS.garments[1:]:
        assert [p.name for p in one.pieces] == [p.name for p in DRESS.garments[0].pieces]
        for piece, first in zip(one.pieces, DRESS.garments[0].pieces, strict=True):
            assert structure(piece) == structure(first)


GIRTHS = [
    lambda g: width_at(g.piece("bodice front"), "bust line"), lambda g: width_at(g.piece("bodice back"), "bust line"),
    lambda g: g.piece("bodice front").sewn_length("waist"), lambda g: g.piece("bodice back").sewn_length("waist"),
    lambda g: g.piece("bodice front").edge("armhole").path.length,
    lambda g: g.piece("skirt back").edge("hem").path.length,
    lambda g: width_at(g.piece("sleeve"), "biceps line"), lambda g: g.piece("bodice back").edge("neck").path.length,
    lambda g: g.piece("bodice front").edge("shoulder").path.length,
    lambda g: width_at(g.piece("skirt front"), "hip line"),
    lambda g: g.piece("waistband").edge("waist").path.length, lambda g: g.piece("waist tie").edge("fold").path.length]


@pytest.mark.parametrize("girth", GIRTHS)
def test_sizes_grow(girth):
    values = [girth(g) for g in DRESS.garments]
    steps = [b - a for a, b in pairwise(values)]
    assert min(steps) > 0.5
    assert max(steps) < 4.5 * min(steps)  # uneven, but no size jumps


def test_allowances_suit_their_edges():
    for piece in DRESS.garments[0].pieces:
        for edge in piece.edges:
            usual = {EdgeKind.SEAM: (15, 15), EdgeKind.FOLD: (0, 0), EdgeKind.HEM: (30, 40), EdgeKind.OPENING: (20, 30),
                     EdgeKind.FREE: (5, 10)}[edge.kind]
            assert usual[0] <= edge.allowance <= usual[1]
        if piece.on_fold:
            assert not piece.cut.mirrored
    assert DRESS.garments[0].piece("bodice back").cut.mirrored
    assert DRESS.garments[0].piece("wrap skirt front").cut.count == 2


def test_the_chart_is_a_plausible_row_of_bodies():
    for name, row in CHART.rows:
        assert all(b >= a for a, b in pairwise(row)), name
    bust, upper, under, waist, high, hip = (CHART.row(n) for n in (
        "bust girth", "upper bust girth", "under-bust girth", "waist girth", "high hip girth", "hip girth"))
    steps = {b - a for a, b in pairwise(bust)}
    assert len(steps) > 2  # uneven
    for i in range(len(SIZES)):
        assert waist[i] < under[i] < upper[i] < bust[i] < hip[i]
        assert waist[i] < high[i] < hip[i]
        assert 0.7 < waist[i] / bust[i] < 0.9


def test_the_chart_lies_near_a_published_survey():
    """Means of 2,208 women of the US Army survey of 1988 (public data of the US Army Natick; means computed by us).

    Their bust is 907 mm on average; the chart, read at that bust, must lie near. The level of the chart's waist is the
    one half-way between rib and hip bone, so lengths to the waist are not compared.
    """
    means = {"waist girth": 725.5, "hip girth": 966.9, "under-bust girth": 769.7, "neck base girth": 346.2,
             "upper arm girth": 291.6, "wrist girth": 151.2, "bust point width": 184.8,
             "neck shoulder point to bust point": 268.0, "armscye depth": 185.7}
    small, large = body_of("4"), body_of("5")
    share = (907.1 - small["bust girth"]) / (large["bust girth"] - small["bust girth"])
    for name, mean in means.items():
        assert small[name] + share * (large[name] - small[name]) == pytest.approx(mean, rel=0.06), name


def test_the_cap_runs_on_across_the_underarm_seam():
    for garment in DRESS.garments:
        sleeve = garment.piece("sleeve")
        total = corner_angle(sleeve, "underarm front", "cap") + corner_angle(sleeve, "cap", "underarm back")
        assert total == pytest.approx(pi, abs=0.01)
