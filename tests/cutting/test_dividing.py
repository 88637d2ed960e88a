"""A piece divided by seams: nothing lost, nothing counted twice, every seam as long as before, every mark in its place.

Outside check: areas, unions and what lies where are those of shapely, a general-purpose geometry library.
"""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import Point as Spot
from shapely import Polygon, union_all

from toilewright.blocks.choir_trousers import choir_trousers
from toilewright.blocks.concert import concert_dress
from toilewright.blocks.princess_dress import princess_dress
from toilewright.cutting.allowances import corners_of, cutting_line
from toilewright.cutting.allowing import with_allowances
from toilewright.cutting.dividing import Stretch, divided, extent, grain_of, resewn
from toilewright.cutting.extra import find_kind
from toilewright.cutting.extra.joins import parts_for
from toilewright.errors import GeometryError, InputError, NameUnknown
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.parts import Corner, CornerCut, EdgeKind
from toilewright.pattern.walk import walk

DRESS = with_allowances(concert_dress().at("5"))
GARMENTS = (DRESS, with_allowances(princess_dress().garments[4]), with_allowances(choir_trousers().garments[3]))
EVERY = [(garment, piece) for garment in GARMENTS for piece in garment.pieces]


def polygon(piece):
    return Polygon([(p.real, p.imag) for e in piece.edges for p in e.path.flatten(0.002)[:-1]])


def join(garment=DRESS, **options):
    kind = find_kind("join")
    return kind.build(garment, kind.read(options, "cm", '"join"'))


@settings(max_examples=120, deadline=None)
@given(st.sampled_from(EVERY), st.floats(0.05, 0.95), st.booleans(), st.floats(-0.5, 0.5))
def test_two_halves_are_the_whole(of, share, along, slant):
    """At any place, in any direction: area, edges, marks, darts, landmarks and lines, and the seams they sew."""
    garment, piece = of
    way = grain_of(piece) * (1 if along else 1j) * complex(1, slant) / abs(complex(1, slant))
    low, high = extent(piece, way * -1j)
    try:
        found = divided(piece, way, [low + share * (high - low)], ("one", "two"), ("cut",), 12.0)
    except GeometryError as problem:
        assert any(words in str(problem) for words in ("leave", "run through", "places", "twice"))
        assume(False)
    one, two = found.parts
    whole, halves = polygon(piece), [polygon(p) for p in found.parts]
    assert all(h.is_valid and h.exterior.is_ccw for h in halves)
    assert sum(h.area for h in halves) == pytest.approx(whole.area, rel=1e-5)
    assert union_all(halves).symmetric_difference(whole).area < 1e-4 * whole.area
    assert halves[0].centroid.x * (way * -1j).real + halves[0].centroid.y * (way * -1j).imag < \
        halves[1].centroid.x * (way * -1j).real + halves[1].centroid.y * (way * -1j).imag
    for edge in piece.edges:
        runs = [s for s in found.stretches if s.edge == edge.name]
        assert runs[0].start == 0.0 and runs[-1].end == pytest.approx(edge.path.length)
        assert all(a.end == b.start for a, b in pairwise(runs))
        for run in runs:
            part = next(p for p in found.parts if p.name == run.piece).edge(edge.name)
            assert part.path.length == pytest.approx(run.end - run.start, abs=1e-3)
            assert part.allowance == edge.allowance and part.kind is edge.kind
    marks = sorted((n.name, n.edge, p.edge(n.edge).path.point_at(n.at)) for p in found.parts for n in p.notches
                   if n.edge != "cut")
    for name, edge, at in marks:
        assert any(n.name == name and n.edge == edge and abs(piece.edge(edge).path.point_at(n.at) - at) < 1e-2
                   for n in piece.notches)
    cuts = [p.edge("cut").path for p in found.parts]
    assert cuts[0].start == cuts[1].end and cuts[0].end == cuts[1].start
    lost = [n for n in piece.notches if not any((n.name, n.edge) == (m, e) for m, e, _ in marks)]
    for n in lost:
        assert min(abs(piece.edge(n.edge).path.point_at(n.at) - p) for p in (cuts[0].start, cuts[0].end)) < 3.1
    assert sorted(d.name for p in found.parts for d in p.darts) == sorted(d.name for d in piece.darts)
    for part in found.parts:
        for dart in part.darts:
            old = piece.dart(dart.name)
            assert abs(part.feet(dart)[0] - piece.feet(old)[0]) < 1e-2
            assert abs(part.feet(dart)[1] - piece.feet(old)[1]) < 1e-2
    assert sorted(m.name for p in found.parts for m in p.landmarks) == sorted(m.name for m in piece.landmarks)
    for part, half in zip(found.parts, halves, strict=True):
        assert all(half.distance(Spot(m.at.real, m.at.imag)) < 1e-6 or whole.distance(Spot(m.at.real, m.at.imag)) > 0
                   for m in part.landmarks)
    assert sum(m.path.length for p in found.parts for m in p.lines) == pytest.approx(
        sum(m.path.length for m in piece.lines), abs=1e-2)
    before = walk(garment)
    rest = tuple(p for p in garment.pieces if p.name != piece.name)
    after = walk(Garment((*rest, one, two), resewn(garment.seams, piece.name, found.stretches)))
    for was, now in zip(before, after, strict=True):
        assert (was.length_a, was.length_b, was.sews) == (pytest.approx(now.length_a, abs=0.01),
                                                          pytest.approx(now.length_b, abs=0.01), now.sews)
        for pair in now.notches:  # a mark that met its partner still does, where it did
            assert any(pair.name == old.name and abs(pair.at_b - old.at_b) < 0.05 for old in was.notches) \
                or len(now.notches) <= len(was.notches) + 2


@pytest.mark.parametrize("garment, piece", EVERY)
@pytest.mark.parametrize("run", ["along the grain", "across the grain"])
@pytest.mark.parametrize("parts", [2, 3, 4])
def test_equal_parts_are_equal_and_can_be_cut(garment, piece, run, parts):
    try:
        built = join(garment, piece=piece.name, run=run, parts=parts)
    except GeometryError as problem:
        assert "dart" in str(problem) or "seam would" in str(problem)
        return
    done = built.put_into(garment)
    assert len(done.pieces) == len(garment.pieces) - 1 + len(built.pieces)
    area = sum(p.area * p.cut.count * (2 if p.on_fold else 1) for p in built.pieces)
    assert area == pytest.approx(piece.area * piece.cut.count * (2 if piece.on_fold else 1), rel=1e-6)
    walks = {w.seam: w for w in walk(done)}
    for seam in built.seams:
        assert walks[seam.name].sews and all(walks[seam.name].meets(pair) for pair in walks[seam.name].notches)
        assert len(walks[seam.name].notches) == 1 and walks[seam.name].difference == pytest.approx(0.0, abs=1e-6)
    assert [w.sews for w in walk(garment)] == [walks[s.name].sews for s in garment.seams]
    way = grain_of(piece) * (1 if run.startswith("along") else 1j)
    wide = []
    for part in built.pieces:
        low, high = extent(part, way * -1j)
        folds = [e for e in part.edges if e.kind is EdgeKind.FOLD
                 and abs(((e.path.end - e.path.start) * way.conjugate()).imag) < 0.1]
        wide.append((high - low) * (2 if folds else 1))
        outer = Polygon([(p.real, p.imag) for path in cutting_line(part) for p in path.flatten()[:-1]])
        assert outer.is_valid and outer.buffer(0.01).contains(polygon(part))
        assert part.grain is not None and abs(grain_of(part) - grain_of(piece)) < 1e-6
        assert polygon(part).buffer(1.0).contains(Spot(part.grain.start.real, part.grain.start.imag))
    straight = all(len(e.path.handles) == 1 and not e.path.handles[0] for e in piece.edges)
    if straight:
        assert max(wide) == pytest.approx(min(wide), abs=0.01)
    assert built.worked.of("joins") == len(built.seams)


def test_a_piece_on_the_fold_that_is_halved_has_a_seam_in_its_place():
    built = join(piece="skirt tier")
    tier, old = built.pieces[0], DRESS.piece("skirt tier")
    assert (tier.name, tier.cut.count) == ("skirt tier", 2 * old.cut.count) and tier.cut.mirrored and not tier.on_fold
    assert tier.edge("centre front").allowance == 15.0 and old.edge("centre front").allowance == 0.0
    assert built.seams[0].name == "skirt tier join at the fold"
    assert built.worked.steps[0].startswith("Do not lay it on the fold") and "Draw" not in " ".join(built.worked.steps)


def test_three_parts_keep_the_middle_one_on_the_fold():
    built = join(piece="skirt tier", parts=3)
    inner, outer = built.pieces
    assert inner.on_fold and inner.cut.count == 2 and not outer.on_fold and outer.cut.count == 4 and outer.cut.mirrored
    assert 2 * inner.edge("hem").path.length == pytest.approx(outer.edge("hem").path.length, rel=1e-3)


def test_at_a_distance_from_an_edge_that_is_named():
    built = join(piece="waistband", at="20 cm", **{"from": "right end"})
    short = min(built.pieces, key=lambda p: p.area)
    assert short.has_edge("right end") and short.edge("waist").path.length == pytest.approx(200.0)
    assert '{200 mm} from "right end"' in built.worked.steps[0]
    from_left = join(piece="waistband", at="20 cm")
    assert from_left.pieces[0].has_edge("left end")
    assert from_left.pieces[0].edge("waist").path.length == pytest.approx(200.0)


def _on(ref):
    """Where the parts of a waistband divided at its first 300 mm come in a seam that takes `ref`."""
    stretches = (Stretch("band 1", "top", 0.0, 300.0), Stretch("band 2", "top", 300.0, 1000.0),
                 Stretch("band 2", "end", 0.0, 40.0))
    (seam,) = resewn((Seam("waist", (EdgeRef("skirt", "waist"),), (ref,)),), "band", stretches)
    assert seam.a == (EdgeRef("skirt", "waist"),)
    return seam.b


def test_a_seam_passes_the_parts_in_its_own_order():
    one, two = EdgeRef("band 1", "top"), EdgeRef("band 2", "top")
    assert _on(EdgeRef("band", "top")) == (one, two)
    assert _on(EdgeRef("band", "top", reverse=True)) == (replace(two, reverse=True), replace(one, reverse=True))
    assert _on(EdgeRef("band", "top", times=2)) == (one, two, one, two)
    assert _on(EdgeRef("band", "end", times=2)) == (EdgeRef("band 2", "end", times=2),)
    assert _on(EdgeRef("band", "top", part=(100.0, 450.0))) == (replace(one, part=(100.0, 300.0)),
                                                                replace(two, part=(0.0, 150.0)))
    assert _on(EdgeRef("band", "top", part=(300.0, 450.0))) == (replace(two, part=(0.0, 150.0)),)


def test_a_corner_keeps_its_cut_where_it_is_still_one():
    skirt = DRESS.piece("wrap skirt front")
    said = (Corner("wrap edge", "hem", CornerCut.MITRED), Corner("hem", "side seam", CornerCut.SQUARE, "side seam"))
    garment = DRESS.with_piece(replace(skirt, corners=said))
    left, right = join(garment, piece="wrap skirt front").pieces
    assert said[0] in left.corners and said[1] not in left.corners
    assert said[1] in right.corners and said[0] not in right.corners


def test_a_join_at_a_hem_is_folded_back_like_any_seam_there():
    left, right = join(piece="wrap skirt front").pieces
    assert Corner("hem", "join", CornerCut.FOLDED, "hem") in corners_of(left)
    assert Corner("join", "hem", CornerCut.FOLDED, "hem") in corners_of(right)


def test_what_lies_on_the_fold_is_counted_whole():
    built = join(piece="skirt tier", at="40 cm")
    assert built.worked.of("widest_part") == pytest.approx(2 * (400.0 + 15.0))


def test_a_part_can_be_divided_again():
    first = join(piece="waistband").put_into(DRESS)
    again = join(first, piece="waistband 2", parts=2).put_into(first)
    assert [p.name for p in again.pieces if p.name.startswith("waistband")] == ["waistband 1", "waistband 2 1",
                                                                               "waistband 2 2"]
    assert all(w.sews for w in walk(again)) and sum(s.name == "waistband 2 join 1" for s in again.seams) == 1


@pytest.mark.parametrize("options, words", [
    ({"piece": "bodice front", "at": "10 cm"}, "waist dart"),
    ({"piece": "waistband", "at": "2 m"}, "leave"),
    ({"piece": "skirt tier", "from": "hem"}, '"at" too'),
])
def test_what_cannot_be_is_said(options, words):
    with pytest.raises((GeometryError, InputError), match=words):
        join(**options)


def test_a_piece_or_edge_that_is_not_there():
    with pytest.raises(NameUnknown, match="skirt tier"):
        join(piece="skirt teir")
    with pytest.raises(NameUnknown, match="right end"):
        join(piece="waistband", at="20 cm", **{"from": "rihgt end"})


def test_as_many_parts_as_the_cloth_asks():
    """The tier is 1096 mm and allowances of 15 mm at each end wide."""
    assert DRESS.piece("skirt tier").edge("hem").path.length == pytest.approx(548.0, abs=0.1)
    assert [parts_for(DRESS, "skirt tier", width) for width in (1080.0, 580.0, 570.0, 390.0)] == [2, 2, 3, 4]
    with pytest.raises(InputError, match="even in 8 parts"):
        parts_for(DRESS, "skirt tier", 100.0)
