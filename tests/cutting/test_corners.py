"""Corners: after sewing, partners' allowances end on each other; after turning, folded ends lie on what is beside."""

import cmath
import math
import random
from dataclasses import replace

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from toilewright.blocks.chart import body_of
from toilewright.blocks.choir_trousers import trousers_for
from toilewright.blocks.choir_tunic import tunic_for
from toilewright.blocks.concert import dress_for
from toilewright.blocks.princess_dress import princess_dress_for
from toilewright.cutting.allowances import corners_of, cutting_line, seam_line, square_ends
from toilewright.cutting.allowing import AllowanceWish, CornerWish, with_allowances
from toilewright.cutting.corners import MISS, partners, with_corners
from toilewright.errors import AlterationError, InputError
from toilewright.fit.alterations import ALTERATIONS, alter
from toilewright.fit.result import Order
from toilewright.geometry import Affine, Path
from toilewright.known import asked
from toilewright.pattern import Corner, CornerCut, Edge, EdgeKind, EdgeRef, Garment, Piece, Seam

BLOCKS = {"dress": dress_for, "princess": princess_dress_for, "tunic": tunic_for, "trousers": trousers_for}
MADE = {name: make(body_of("5")) for name, make in BLOCKS.items()}
ANGLES = st.one_of(st.floats(45, 70), st.floats(110, 135))


def panels(angle: float, a: float = 15.0, b: float = 15.0, bend: float = 0.0, other_b: float | None = None) -> Garment:
    """Two panels and their common seam; the edge above them runs on across it, `angle` degrees off the seam."""
    low, top, lean = 0j, 300j, cmath.rect(120, math.radians(90 + angle))
    left, right = top + lean, top - lean
    seam = Path.cubic(low, low + 100j + bend, top - 100j - bend, top)
    one = Piece("left panel", (
        Edge("hem", Path.line(-100 + 0j, low), EdgeKind.HEM, 40.0), Edge("panel seam", seam, allowance=a),
        Edge("top", Path.line(top, left), allowance=b),
        Edge("side", Path.line(left, -100 + 0j), allowance=15.0)))
    other = Piece("right panel", (
        Edge("hem", Path.line(low, 100 + 0j), EdgeKind.HEM, 40.0),
        Edge("side", Path.line(100 + 0j, right), allowance=15.0),
        Edge("top", Path.line(right, top), allowance=b if other_b is None else other_b),
        Edge("panel seam", seam.reversed(), allowance=a)))
    return Garment((one, other), (Seam("panel seam", (EdgeRef("left panel", "panel seam"),),
                                       (EdgeRef("right panel", "panel seam", reverse=True),)),))


def allowance_end(piece: Piece, seam: str, at_end: bool) -> tuple[complex, complex]:
    """The outer corner of a seam's allowance and where its end meets the seam line run on, from that end of the seam.

    In the frame of the seam's end: x along the seam line outwards, y to the cloth's outside (so that partners, laid
    right sides together, have the same).
    """
    names = [e.name for e in piece.edges]
    i = names.index(seam)
    path, line = piece.edges[i].path, cutting_line(piece)[i]
    corner = path.end if at_end else path.start
    along = path.end_tangent if at_end else -path.start_tangent
    out = along * (-1j if at_end else 1j)
    ring = Path.joined(cutting_line(piece))
    tips = [p for p in line.nodes if abs(((p - corner) / along).real) < 200]
    local = [complex(((p - corner) * along.conjugate()).real, ((p - corner) * out.conjugate()).real) for p in tips]
    outer = max((p for p in local if abs(p.imag - piece.edges[i].allowance) < 0.02), key=lambda p: p.real)
    far = shapely.LineString([(c.real, c.imag) for c in (corner + along * 1e-3, corner + along * 400)])
    hits = far.intersection(shapely.LineString([(p.real, p.imag) for p in ring.flatten(0.002)]))
    points = [complex(g.x, g.y) for g in getattr(hits, "geoms", [hits]) if g.geom_type == "Point"]
    return outer, complex(min((abs(p - corner) for p in points), default=math.nan), 0)


def both_ends(garment: Garment, seam: Seam, at_start: bool):
    found = []
    for ref in (seam.a[0], seam.b[0]):
        found.append(allowance_end(garment.piece(ref.piece), ref.edge, at_start == ref.reverse))
    return found


@settings(max_examples=40, deadline=None)
@given(ANGLES, st.floats(10, 25), st.floats(8, 25), st.sampled_from([-8.0, 0.0, 0.0, 8.0]))
def test_square_ends_lie_on_each_other_when_the_seam_is_sewn(angle, a, b, bend):
    garment = with_corners(panels(angle, a, b, bend))
    assert all(p.corners and p.corners[0].cut is CornerCut.SQUARE for p in garment.pieces)
    (one, inner), (other, other_inner) = both_ends(garment, garment.seams[0], at_start=False)
    assert abs(one - other) < 0.02
    assert abs(inner - other_inner) < 0.03
    assert one.real == pytest.approx(inner.real, abs=0.03)  # square to the seam
    bent = abs(math.asin(bend / abs(100j + bend)))  # by so much the seam arrives off the upright
    assert one.real == pytest.approx(b / math.sin(math.radians(angle)), rel=1.5 * bent, abs=0.03)


@given(ANGLES)
@settings(max_examples=20, deadline=None)
def test_mitred_ends_of_sharp_corners_would_miss_each_other(angle):
    garment = panels(angle)
    (one, _), (other, _) = both_ends(garment, garment.seams[0], at_start=False)
    assert abs(one - other) == pytest.approx(30 / abs(math.tan(math.radians(angle))), abs=0.05)


def test_corners_that_are_all_but_square_stay_mitred():
    assert all(not p.corners for p in with_corners(panels(88.0)).pieces)


@settings(max_examples=20, deadline=None)
@given(ANGLES, st.floats(6, 25), st.floats(6, 25))
def test_square_ends_lie_on_each_other_where_the_edges_above_have_unlike_allowances(angle, b, other_b):
    garment = with_corners(panels(angle, 15.0, b, other_b=other_b))
    if not garment.pieces[0].corners:
        return
    (one, _), (other, _) = both_ends(garment, garment.seams[0], at_start=False)
    assert abs(one - other) < 0.02


@settings(max_examples=25, deadline=None)
@given(ANGLES, st.floats(10, 20), st.floats(8, 20), st.floats(-3, 3), st.booleans())
def test_seam_lines_come_back_from_square_corners(angle, a, b, turned, other_hand):
    for piece in with_corners(panels(angle, a, b)).pieces:
        piece = piece.mapped(Affine.turn(turned, 40 + 90j)).moved(300 - 200j)
        if other_hand:
            piece = piece.mirrored(0j, 1 + 2j)
        found = seam_line(cutting_line(piece), [e.allowance for e in piece.edges], square_ends(piece))
        for edge, path in zip(piece.edges, found, strict=True):
            assert abs(edge.path.start - path.start) < 0.05 and abs(edge.path.end - path.end) < 0.05
            assert edge.path.length == pytest.approx(path.length, abs=0.1)


@settings(max_examples=20, deadline=None)
@given(st.floats(60, 120), st.floats(20, 60), st.floats(8, 20), st.booleans())
def test_a_folded_opening_lies_on_the_neckline_when_it_is_turned_back(angle, facing, neck, mirrored):
    """A facing grown on at the centre front, whose neck runs off at an angle."""
    away = cmath.rect(100, math.radians(90 + angle))
    corner = 300j
    piece = Piece("front", (
        Edge("hem", Path.line(-150 + 0j, 0j), EdgeKind.HEM, 30.0),
        Edge("centre front", Path.line(0j, corner), EdgeKind.OPENING, facing),
        Edge("neck", Path.line(corner, corner + away), allowance=neck),
        Edge("side", Path.polyline((corner + away, complex(-250, 150), -150 + 0j)))))
    piece = piece.mirrored(0j, 1j) if mirrored else piece
    garment = with_corners(Garment((piece,)))
    piece = garment.pieces[0]
    index = next(i for i, c in enumerate(corners_of(piece)) if {c.before, c.after} == {"centre front", "neck"})
    cut = corners_of(piece)[index].cut
    assert cut is (CornerCut.MITRED if abs(angle - 90) < 1 else CornerCut.FOLDED)
    if cut is CornerCut.MITRED:
        return
    lines = dict(zip([e.name for e in piece.edges], cutting_line(piece), strict=True))
    opening = piece.edge("centre front").path
    fold = Affine.mirror(opening.start, opening.end)
    tip = lines["centre front"].end if not mirrored else lines["centre front"].start
    edge = piece.edge("neck").path
    # Turned back, the allowance's end lies on the neck's own cutting line: as far beyond the seam line.
    image = fold(tip)
    way = (edge.end - edge.start) / edge.length
    assert abs(((image - edge.start) * (1j * way).conjugate()).real) == pytest.approx(neck, abs=0.05)


@pytest.mark.parametrize("name", BLOCKS)
def test_every_pair_of_corners_of_a_block_ends_within_a_notch(name):
    garment = with_corners(MADE[name])
    count = 0
    for one, other in partners(garment):
        places = []
        for spot in (one, other):
            piece = garment.piece(spot.piece)
            if {EdgeKind.HEM, EdgeKind.FOLD} & {piece.edge(spot.seam).kind, piece.edge(spot.beside).kind}:
                break
            places.append(allowance_end(piece, spot.seam, piece.edges[spot.index].name == spot.seam)[0])
        if len(places) == 2:
            count += 1
            assert abs(places[0] - places[1]) < MISS + 1.0
    assert count >= (2 if name == "trousers" else 4)


def test_the_sleeve_is_squared_to_its_underarm_seam_where_the_cap_is_sharp():
    """A flat cap that leaves the underarm far flatter at the front than at the back."""
    cap = Path.of([*Path.cubic(150 + 0j, 100 + 60j, 60 + 90j, 0 + 90j).curves,
                   *Path.cubic(0 + 90j, -60 + 90j, -90 + 10j, -150 + 0j).curves])
    sleeve = Piece("sleeve", (
        Edge("hem", Path.line(-120 - 300j, 120 - 300j), EdgeKind.HEM, 30.0),
        Edge("underarm front", Path.line(120 - 300j, 150 + 0j)),
        Edge("cap", cap), Edge("underarm back", Path.line(-150 + 0j, -120 - 300j))))
    garment = with_corners(Garment((sleeve,), (Seam(
        "underarm", (EdgeRef("sleeve", "underarm front"),), (EdgeRef("sleeve", "underarm back", True),)),)))
    cuts = {frozenset((c.before, c.after)): c for c in garment.pieces[0].corners}
    for side in ("underarm front", "underarm back"):
        assert cuts[frozenset((side, "cap"))].cut is CornerCut.SQUARE
        assert cuts[frozenset((side, "cap"))].first == side
    (one, inner), (other, other_inner) = both_ends(garment, garment.seams[0], at_start=False)
    assert abs(one - other) < 0.02 and abs(inner - other_inner) < 0.02


def tapered_sleeve() -> Piece:
    return Piece("sleeve", (
        Edge("hem", Path.line(-80 + 0j, 80 + 0j), EdgeKind.HEM, 40.0),
        Edge("underarm front", Path.line(80 + 0j, 160 + 300j)), Edge("cap", Path.line(160 + 300j, -160 + 300j)),
        Edge("underarm back", Path.line(-160 + 300j, -80 + 0j))))


def test_a_tapered_sleeve_hem_folds_up_onto_the_sleeve():
    sleeve = tapered_sleeve()
    hem = cutting_line(sleeve)[0]
    ring = shapely.Polygon([(p.real, p.imag) for p in Path.joined(cutting_line(sleeve)).flatten()])
    assert hem.length > 160 + 30 + 2 * 10  # wider than the fold, so that it goes round the wider sleeve above it
    for tip in (hem.start, hem.end):
        assert ring.exterior.distance(shapely.Point(tip.real, -tip.imag)) < 0.05


@pytest.mark.parametrize("name", BLOCKS)
@pytest.mark.parametrize("seed", range(5))
def test_cutting_lines_of_altered_blocks_are_simple_and_enclose_the_seam(name, seed):
    rng = random.Random(f"corners {name} {seed}")
    garment = MADE[name]
    ready = [one for one in ALTERATIONS if one.has_place(garment, {})]
    for one in rng.choices(ready, k=3):
        try:
            garment = alter(garment, [Order(one.name, asked(rng.uniform(*one.sane) / 2), {})]).garment
        except (AlterationError, InputError):
            continue
    wide = AllowanceWish("seams", rng.choice([10.0, 15.0, 20.0]))
    for made in (with_allowances(garment), with_allowances(garment, [wide])):
        for piece, before in zip(made.pieces, garment.pieces, strict=True):
            assert [e.path for e in piece.edges] == [e.path for e in before.edges]
            lines = cutting_line(piece)
            ring = shapely.Polygon([(p.real, p.imag) for p in Path.joined(lines).flatten(0.05)])
            seam = shapely.Polygon([(p.real, p.imag) for p in piece.outline.flatten(0.05)])
            assert ring.is_valid, piece.name
            assert ring.buffer(0.1).covers(seam), piece.name
            for edge, line in zip(piece.edges, lines, strict=True):
                middle = line.point_at(line.length / 2)
                assert edge.path.nearest(middle)[1] == pytest.approx(edge.allowance, abs=1.0), (piece.name, edge.name)


@pytest.mark.parametrize("name", BLOCKS)
def test_more_allowance_is_more_cloth(name):
    areas = []
    for amount in (8.0, 12.0, 20.0):
        made = with_allowances(MADE[name], [AllowanceWish("seams", amount)])
        areas.append([Path.joined(cutting_line(p)).area() for p in made.pieces])
    for less, more, most in zip(*areas, strict=True):
        assert less < more < most


# -- as asked in a make file ------------------------------------------------------------------------


def test_a_corner_is_cut_as_asked_and_so_is_its_partner():
    made = with_allowances(MADE["dress"], (), [CornerWish("bodice front", ("neck", "shoulder"), CornerCut.SQUARE)])
    (one,), (other,) = made.piece("bodice front").corners, made.piece("bodice back").corners
    assert one.cut is other.cut is CornerCut.SQUARE
    assert one.first == other.first == "shoulder" and one.reach == other.reach
    seam = next(s for s in made.seams if s.name == "shoulder")
    neck_at_start = made.piece("bodice front").edges[-2].name == "neck"
    ends = both_ends(made, seam, at_start=not (seam.a[0].reverse ^ neck_at_start ^ True))
    assert abs(ends[0][0] - ends[1][0]) < 0.02


def test_a_hem_may_be_mitred_or_square_instead_of_folded():
    sleeve = tapered_sleeve()
    at = ("hem", "underarm front")
    lines = {}
    for cut in CornerCut:
        made = with_allowances(Garment((sleeve,)), (), [CornerWish("sleeve", at, cut)])
        lines[cut] = Path.joined(cutting_line(made.pieces[0]))
    assert lines[CornerCut.FOLDED] == Path.joined(cutting_line(sleeve))
    assert len({round(line.length, 3) for line in lines.values()}) == 3


def test_a_corner_that_was_asked_for_is_kept_against_the_usual_one():
    made = with_allowances(panels(60.0), (), [CornerWish("left panel", ("top", "panel seam"), CornerCut.MITRED),
                                              CornerWish("right panel", ("top", "panel seam"), CornerCut.MITRED)])
    assert [c.cut for p in made.pieces for c in p.corners] == [CornerCut.MITRED] * 2
    assert [cutting_line(p) for p in made.pieces] == [cutting_line(p) for p in panels(60.0).pieces]


@pytest.mark.parametrize(("wish", "said"), [
    (CornerWish("bodise front", ("neck", "shoulder"), CornerCut.SQUARE), 'did you mean "bodice front"'),
    (CornerWish("bodice front", ("nekc", "shoulder"), CornerCut.SQUARE), 'did you mean "neck"'),
    (CornerWish("bodice front", ("neck", "waist"), CornerCut.SQUARE), "do not meet in a corner; next to"),
    (CornerWish("bodice front", ("neck", "shoulder"), CornerCut.SQUARE, "waist"), "is no edge of the corner"),
])
def test_a_corner_that_is_none_is_said_in_a_sentence(wish, said):
    with pytest.raises(InputError, match=said):
        with_allowances(MADE["dress"], (), [wish])


def test_a_mirrored_piece_keeps_its_corners():
    piece = with_corners(panels(60.0)).pieces[0]
    there = piece.mirrored(0j, 1j)
    ring = Path.joined(cutting_line(piece)).mapped(lambda p: -p.conjugate())
    other = Path.joined(cutting_line(there))
    assert max(ring.nearest(p)[1] for p in other.nodes) < 1e-6
    assert -ring.area() == pytest.approx(other.area(), rel=1e-9)


def test_a_corner_that_cannot_be_folded_is_mitred():
    piece = panels(60.0).pieces[0]
    flat = replace(piece, edges=tuple(replace(e, allowance=0.0) if e.name == "panel seam" else e for e in piece.edges))
    folded = replace(flat, corners=(Corner("panel seam", "top", CornerCut.FOLDED, "panel seam"),))
    assert cutting_line(folded) == cutting_line(flat)
