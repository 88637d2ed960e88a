"""A facing wider than its panel: drawn across the panel seam, as over one piece."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon

from toilewright.blocks.princess_dress import princess_dress
from toilewright.cutting.extra import find_kind
from toilewright.cutting.extra.across import GAP, strip_across
from toilewright.errors import InputError
from toilewright.geometry import Affine, Path
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.parts import Cut, Dart, Edge, EdgeKind, Grain, Notch
from toilewright.pattern.piece import Piece
from toilewright.pattern.walk import walk

PRINCESS = princess_dress()


def unfaced(size="5"):
    """The princess dress without the facings of the pattern."""
    garment = PRINCESS.at(size)
    return replace(garment, pieces=tuple(p for p in garment.pieces if "facing" not in p.name),
                   seams=tuple(s for s in garment.seams if "facing" not in s.name))


def build(garment, **options):
    kind = find_kind("facing")
    return kind.build(garment, kind.read({"interfacing": "no", **options}, "cm", "it"))


def polygon(path):
    return Polygon([(p.real, p.imag) for p in path.flatten(0.05)])


@pytest.mark.parametrize("size", PRINCESS.sizes)
@pytest.mark.parametrize(("edge", "width"), [("neck", 7.0), ("neck", 9.0), ("armhole", 7.5)])
def test_a_facing_over_two_panels_is_even_in_width_and_sews(size, edge, width):
    garment = unfaced(size)
    built = build(garment, edge=edge, width=f"{width} cm")
    assert all(w.sews for w in walk(built.put_into(garment)))
    for piece in built.pieces:
        line = LineString([(p.real, p.imag) for p in piece.edge(edge).path.flatten(0.02)])
        outer = piece.edge("outer edge").path
        places = [outer.point_at(outer.length * k / 40) for k in range(41)]
        far = [line.distance(Point(p.real, p.imag)) for p in places]
        assert max(far) <= 10 * width + 1.0 and min(far[4:-4]) >= 10 * width - 0.5
        assert piece.edge("shoulder").path.length == pytest.approx(10 * width, rel=0.05)
        assert polygon(piece.outline).is_valid


def test_it_is_told_across_which_seam_and_what_was_laid_to_the_piece():
    built = build(unfaced(), edge="neck", width="9 cm")
    told = {f.piece: f.text for f in built.worked.findings if f.code == "facing-across-panels"}
    assert '"princess seam front", with "bodice side front" laid' in told["bodice front neck facing"]
    assert '"princess seam back", with "bodice side back" laid' in told["bodice back neck facing"]


def test_the_panels_themselves_are_only_marked():
    garment = unfaced()
    built = build(garment, edge="neck", width="9 cm")
    assert {p.name for p in built.changed} == {"bodice front", "bodice back"}
    for piece in built.changed:
        before = garment.piece(piece.name)
        assert replace(piece, notches=before.notches) == before
        assert set(before.notches) <= set(piece.notches)


def test_the_shoulder_of_the_facing_is_that_of_both_panels():
    garment = unfaced()
    front, side = garment.piece("bodice front"), garment.piece("bodice side front")
    facing = next(p for p in build(garment, edge="neck", width="9 cm").pieces if p.name.startswith("bodice front"))
    shoulder, own = facing.edge("shoulder").path.reversed(), front.edge("shoulder").path.reversed()
    assert abs(shoulder.point_at(own.length - 0.01) - own.end) < 0.05
    rest, other = shoulder.length - own.length, side.edge("shoulder").path.reversed()
    assert rest > 20 and abs(shoulder.end - own.end) == pytest.approx(abs(other.point_at(rest) - other.start), abs=0.1)


def test_lining_says_that_it_cannot_tell_what_such_a_facing_covers():
    garment = unfaced()
    garment = build(garment, edge="neck", width="9 cm").put_into(garment)
    kind = find_kind("lining")
    built = kind.build(garment, kind.read({}, "cm", "it"))
    assert sum(f.code == "facing-not-taken-off" for f in built.worked.findings) == 2
    assert all(w.sews for w in walk(built.put_into(garment)))


# -- panels of straight lines -----------------------------------------------------------------------


def panel(name, corners, names, kinds=None, **more):
    paths = [Path.line(a, b) for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)]
    kinds = kinds or [EdgeKind.SEAM] * len(names)
    return Piece(name, tuple(Edge(n, p, k, 10.0) for n, p, k in zip(names, paths, kinds, strict=True)),
                 grain=Grain(corners[0] + (10 + 60j), corners[0] + (10 + 160j)), cut=Cut(2, True), **more)


def three(bend=0.0, reverse=True, **more):
    """A middle panel with a square neck, 15 mm of shoulder on both sides of it, and a panel on either side.

    `bend`: how far the seam of the right one leaves the straight line, 30 mm below the shoulder.
    """
    middle = panel("middle", (0j, 60 + 0j, 60 + 330j, 45 + 330j, 45 + 300j, 15 + 300j, 15 + 330j, 330j),
                   ("hem", "right seam", "right shoulder", "neck right", "neck", "neck left", "left shoulder",
                    "left seam"), **more)
    right = panel("right", (0j, 80 + 0j, 80 + 330j, 330j), ("hem", "side", "shoulder", "seam"))
    if bend:
        line = Path.polyline((330j, bend + 300j, 270j, 0j))
        right = replace(right, edges=tuple(replace(e, path=line) if e.name == "seam" else e for e in right.edges))
    away = Affine.turn(0.7).then(Affine.shift(900 + 40j))
    left = panel("left", (0j, 80 + 0j, 80 + 330j, 330j), ("hem", "seam", "shoulder", "side"))
    seams = (Seam("right panel", (EdgeRef("middle", "right seam"),), (EdgeRef("right", "seam", reverse),)),
             Seam("left panel", (EdgeRef("left", "seam"),), (EdgeRef("middle", "left seam", True),)))
    return Garment((middle, right.mapped(away), left.mapped(away)), seams)


NECK = ("neck right", "neck", "neck left")


def test_where_both_ends_are_too_narrow_a_panel_is_laid_to_both():
    garment = three()
    found = strip_across(garment, garment.piece("middle"), NECK, 40.0)
    assert found.panels == ("right", "left") and found.seams == ("right panel", "left panel") and found.gap < 1e-6
    strip = found.strip
    assert strip.from_before == pytest.approx(40.0) and strip.to_after == pytest.approx(40.0)
    assert strip.before.path.start == pytest.approx(140 + 330j) and strip.after.path.end == pytest.approx(-80 + 330j)
    assert strip.inner.start == pytest.approx(85 + 330j) and strip.inner.end == pytest.approx(-25 + 330j)


def test_a_piece_that_is_wide_enough_is_left_as_it_is():
    garment = three()
    found = strip_across(garment, garment.piece("middle"), NECK, 14.0)
    assert found.panels == () and found.strip.piece is garment.piece("middle")


@given(st.floats(0.5, 12.0))
def test_only_panels_that_lie_flat_side_by_side_are_laid_together(bend):
    garment = three(bend)
    middle = garment.piece("middle")
    if bend > GAP + 0.5:
        with pytest.raises(InputError, match='"middle" is too narrow beside "neck right"'):
            strip_across(garment, middle, NECK, 60.0)
    elif bend < GAP - 0.5:
        assert 0.0 < strip_across(garment, middle, NECK, 60.0).gap <= GAP


@pytest.mark.parametrize("changed", [
    lambda g: replace(g, seams=g.seams[1:]),
    lambda g: replace(g, seams=(replace(g.seams[0], ratio=1.5), g.seams[1])),
    lambda g: replace(g, seams=(replace(g.seams[0], upon=True), g.seams[1])),
    lambda g: g.with_piece(replace(g.piece("right"), cut=Cut(1))),
    lambda g: g.with_piece(replace(g.piece("right"), darts=(Dart("dart", "seam", 100.0, 120.0, g.piece("right").edge(
        "seam").path.point_at(110.0) + 5),))),
    lambda g: g.with_piece(replace(g.piece("right"), edges=tuple(
        replace(e, kind=EdgeKind.HEM) if e.name == "shoulder" else e for e in g.piece("right").edges))),
    lambda g: three(reverse=False),
], ids=["not sewn", "gathered", "upon", "other count", "dart in the seam", "hemmed there", "walked the same way round"])
def test_what_does_not_go_on_beyond_the_seam_is_not_laid_to_it(changed):
    garment = changed(three())
    with pytest.raises(InputError, match="too narrow"):
        strip_across(garment, garment.piece("middle"), NECK, 40.0)


def test_marks_stay_where_they_are_on_the_edge_that_goes_on():
    marks = (Notch("right mark", "right shoulder", 5.0), Notch("left mark", "left shoulder", 5.0),
             Notch("seam mark", "right seam", 50.0))
    garment = three(notches=marks)
    piece = strip_across(garment, garment.piece("middle"), NECK, 40.0).strip.piece
    at = {n.name: piece.edge(n.edge).path.point_at(n.at) for n in piece.notches}
    assert at == {"right mark": pytest.approx(55 + 330j), "left mark": pytest.approx(10 + 330j)}
