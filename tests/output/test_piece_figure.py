"""A piece on paper: every mark she needs, labels clear of the lines, words that say how it is cut."""

from dataclasses import replace

import pytest
import shapely
import shapely.affinity

from toilewright.blocks.chart import body_of
from toilewright.blocks.concert import dress_for
from toilewright.draw import Pen
from toilewright.geometry import Path
from toilewright.output.marks import dart_legs, fold_bracket, hole, notch_ticks, outline
from toilewright.output.paper import width_of
from toilewright.output.piece_figure import garment_figures, piece_figure
from toilewright.output.places import Line, place_label
from toilewright.output.words import allowance_words, cut_words, usual_allowance
from toilewright.pattern import Cut, EdgeKind

DRESS = dress_for(body_of("4"))
NAMES = [p.name for p in DRESS.pieces]


def line(path: Path) -> shapely.LineString:
    return shapely.LineString([(p.real, p.imag) for p in path.flatten(0.1)])


@pytest.mark.parametrize("name", NAMES)
def test_label_lies_on_the_piece_and_on_no_line(name):
    piece = DRESS.piece(name)
    figure = piece_figure(piece, "size 4, Åse")
    label = [c for c in figure.captions if piece.name.upper() in c.text or "size 4" in c.text or "cut " in c.text]
    assert any(cut_words(piece) in c.text for c in label)
    inside = shapely.Polygon(line(outline(piece)).coords)
    for caption in label:
        half = width_of(caption.text, caption.height) / 2
        box = shapely.box(-half, 0, half, caption.height)
        box = shapely.affinity.rotate(box, caption.angle, origin=(0, 0), use_radians=True)
        box = shapely.affinity.translate(box, caption.at.real, caption.at.imag)
        assert inside.contains(box)
        assert min(box.distance(line(m.path)) for m in figure.marks) > 0.5
        assert caption.height >= 1.2


@pytest.mark.parametrize("name", NAMES)
def test_every_mark_is_there(name):
    piece = DRESS.piece(name)
    figure = piece_figure(piece)
    count = {pen: sum(m.pen is pen for m in figure.marks) for pen in Pen}
    folds = sum(e.kind is EdgeKind.FOLD for e in piece.edges)
    assert count[Pen.CUT] == len(piece.edges) - folds
    assert count[Pen.SEAM] == sum(e.allowance > 0 for e in piece.edges)
    assert count[Pen.FOLD] == folds * 4
    assert count[Pen.DART] == 2 * len(piece.darts)
    assert count[Pen.NOTCH] == sum(n.count for n in piece.notches)
    assert count[Pen.GUIDE] == len(piece.lines)
    assert {m.layer for m in figure.marks} | {c.layer for c in figure.captions} == {name}


def test_notch_ticks_start_on_the_cutting_line_and_point_at_their_place():
    for piece in DRESS.pieces:
        ring = outline(piece)
        for notch in piece.notches:
            ticks = notch_ticks(piece, notch)
            assert len(ticks) == notch.count
            middle = sum(t.path.start for t in ticks) / len(ticks)
            edge = piece.edge(notch.edge)
            assert abs(middle - edge.path.point_at(notch.at)) == pytest.approx(edge.allowance, abs=0.4)
            for tick in ticks:
                assert ring.nearest(tick.path.start)[1] < 0.05


def test_dart_legs_run_from_the_cutting_line_through_the_feet():
    for piece in DRESS.pieces:
        ring = outline(piece)
        for dart in piece.darts:
            for leg, foot in zip(dart_legs(piece, dart), piece.feet(dart), strict=True):
                assert ring.nearest(leg.start)[1] < 0.01
                assert leg.nearest(foot)[1] < 1e-6
                assert leg.end == dart.apex


def test_fold_bracket_points_at_the_fold_from_inside():
    piece = DRESS.piece("bodice front")
    bracket, *wings = fold_bracket(piece, piece.edge("centre front").path)
    assert bracket.path.start.real == pytest.approx(0) and bracket.path.end.real == pytest.approx(0)
    assert all(p.real == pytest.approx(16.0) for p in bracket.path.nodes[1:3])
    assert [w.path.nodes[1] for w in wings] == [bracket.path.start, bracket.path.end]


def test_words_say_how_a_piece_is_cut():
    back = DRESS.piece("bodice back")
    assert [cut_words(DRESS.piece(n)) for n in ("bodice front", "bodice back", "sleeve frill")] == [
        "cut 1 on the fold", "cut 2, a pair", "cut 2"]
    assert cut_words(replace(back, cut=Cut(4, mirrored=True))) == "cut 4, 2 pairs"
    usual = usual_allowance(DRESS.pieces)
    assert usual == 15.0
    assert allowance_words(back, usual) == "seams 1.5 cm, centre back 2.0 cm"
    assert allowance_words(back, usual, "in") == "seams 5/8 in, centre back 3/4 in"


def test_a_label_too_long_for_its_piece_is_still_readable():
    square = Path.polyline((0j, 60 + 0j, 60 + 60j, 60j, 0j))
    captions, block = place_label([Line("A NAME THAT IS FAR TOO LONG FOR IT", 6.0)], square, [])
    assert captions[0].height >= 2.0
    assert abs(sum(block) / 4 - (30 + 30j)) < 20


def test_a_hole_mark_is_round():
    ring = hole(5 + 5j, 10.0)
    assert all(abs(abs(ring.point_at(k / 50 * ring.length) - (5 + 5j)) - 10.0) < 0.003 for k in range(50))


def test_figures_of_a_garment_come_in_its_order():
    assert [f.title for f in garment_figures(DRESS, "size 4")] == NAMES
