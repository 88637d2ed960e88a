"""From sheets in many conventions back to the pieces they were drawn from."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from nest_builders import (
    Pen,
    arrow,
    bodice,
    bracket,
    by_look,
    dart,
    flattened,
    layered,
    notch,
    shared_front,
    sheet,
    with_bumps,
)

from toilewright.errors import Severity
from toilewright.geometry import Affine, Path, offset_ring
from toilewright.intake.drawing import Look
from toilewright.intake.recognise import recognise


def codes(raw):
    return {f.code for f in raw.findings}


def same_outline(piece, model, rel=1e-9):
    assert piece.outline.area() == pytest.approx(model.outline.area(), rel=rel)
    assert piece.outline.length == pytest.approx(model.outline.length, rel=max(rel, 1e-7))


def same_marks(piece, model, count=1, short=0.0):
    assert [n.count for n in piece.notches] == [count] * 3
    for at, _ in model.notches:
        assert min(abs(n.at - at) for n in piece.notches) < 0.1
    assert len(piece.darts) == 2
    for first, second, apex in (model.dart, model.waist_dart):
        near = min(piece.darts, key=lambda d: abs(d.apex - apex))
        assert abs(near.apex - apex) < 0.05
        assert abs(abs(near.first - first) - short) < 0.5 and abs(abs(near.second - second) - short) < 0.5


@pytest.mark.parametrize("cut_up", [True, False])
@pytest.mark.parametrize("how", ["in", "out", "across", "double", "triangle", "filled", "castle", "t"])
def test_layers_and_notches(cut_up, how):
    drawing, models = layered(3, how, cut_up=cut_up)
    raw = recognise(drawing)
    assert raw.sizes == ("8", "10", "12")
    assert [[p.name for p in piece] for piece in raw.pieces] == [["bodice front"] * 3]
    for piece, model in zip(raw.pieces[0], models, strict=True):
        same_outline(piece, model)
        same_marks(piece, model, 2 if how == "double" else 1)
        assert piece.outline.area() > 0
        assert abs(piece.grain[0] - (60 + 140j)) < 0.1 and abs(piece.grain[1] - (60 + 280j)) < 0.1
    assert (raw.allowance, raw.line) == (15.0, "cutting")
    assert raw.pieces[0][0].cut_count == 1 and raw.pieces[0][0].mirrored is False
    assert [w.text for w in raw.words] == ["Seam allowance 1.5 cm included"]


@pytest.mark.parametrize("how", ["v", "lines", "closed", "middle"])
@pytest.mark.parametrize("short", [0.0, 15.0])
def test_darts_however_drawn(how, short):
    raw = recognise(layered(2, how_dart=how, short=short)[0])
    for piece, model in zip(raw.pieces[0], layered(2)[1], strict=True):
        same_marks(piece, model, short=short)
        assert piece.lines == ()


@pytest.mark.parametrize("names", ["Size {}", "{}", "Gr. {}", "EU {}", "size_{}", "dress {}"])
def test_layer_names(names):
    assert recognise(layered(3, names=names)[0]).sizes == ("8", "10", "12")


@pytest.mark.parametrize(("colours", "dashes"), [(True, True), (True, False), (False, True)])
def test_sizes_by_look_with_legend(colours, dashes):
    drawing, models = by_look(4, colours, dashes)
    raw = recognise(drawing)
    assert raw.sizes == ("34", "36", "38", "40")
    for piece, model in zip(raw.pieces[0], models, strict=True):
        assert piece.name == "front bodice"
        same_outline(piece, model)
        same_marks(piece, model, short=15.0)
        assert piece.grain and piece.fold


def test_sizes_by_look_without_legend_get_numbers():
    raw = recognise(by_look(3, legend=False)[0])
    assert raw.sizes == ("1", "2", "3")
    assert "sizes-unnamed" in codes(raw)
    areas = [p.outline.area() for p in raw.pieces[0]]
    assert areas == sorted(areas)


def test_one_look_and_closed_outlines_are_told_apart_by_nesting():
    pen, models = Pen(), [bodice(i) for i in range(3)]
    for model in models:
        pen.draw(model.outline)
        dart(pen, model.dart, "v", 0.0)
        for at, out in model.notches:
            notch(pen, at, out, "out")
    raw = recognise(sheet(pen))
    assert raw.sizes == ("1", "2", "3") and "sizes-unnamed" in codes(raw)
    for piece, model in zip(raw.pieces[0], models, strict=True):
        same_outline(piece, model)
        assert len(piece.darts) == 1 and abs(piece.darts[0].apex - model.dart[2]) < 0.1


def test_one_size():
    pen, model = Pen(), bodice(0)
    pen.draw(*model.edges)
    arrow(pen, *model.grain)
    raw = recognise(sheet(pen))
    assert raw.sizes == ("1",) and "one-size" in codes(raw)
    same_outline(raw.pieces[0][0], model)


@pytest.mark.parametrize("common", [True, False])
@pytest.mark.parametrize("cut_up", [True, False])
def test_outlines_are_completed_from_lines_drawn_once(common, cut_up):
    drawing, models = shared_front(4, common, cut_up)
    raw = recognise(drawing)
    assert raw.sizes == ("8", "10", "12", "14")
    for piece, model in zip(raw.pieces[0], models, strict=True):
        same_outline(piece, model)
        assert len(piece.notches) == 3 and len(piece.darts) == 1 and piece.lines == ()
    assert not codes(raw) & {"outline-open", "outline-gap"}


@pytest.mark.parametrize("how", ["triangle", "vee", "castle", "slit"])
def test_notches_that_are_part_of_the_outline(how):
    pen, model = Pen(), bodice(1)
    pen.draw(with_bumps(model.outline, model.notches, how))
    piece = recognise(sheet(pen)).pieces[0][0]
    same_outline(piece, model, rel=2e-6)
    assert len(piece.notches) == 3
    for at, _ in model.notches:
        assert min(abs(n.at - at) for n in piece.notches) < 0.2


def test_flattened_outlines_become_curves_again():
    pen, model = Pen(), bodice(2)
    drawn = flattened(model.outline)
    pen.draw(drawn)
    piece = recognise(sheet(pen)).pieces[0][0]
    assert len(drawn.handles) > 100 and len(piece.outline.handles) <= 24
    same_outline(piece, model, rel=4e-5)
    assert max(piece.outline.nearest(p)[1] for p in drawn.nodes) <= 0.05
    for corner in (e.start for e in model.edges):
        assert min(abs(n - corner) for n in piece.outline.nodes) < 1e-6


def test_darts_cut_out_of_the_outline():
    pen, model = Pen(), bodice(0)
    first, second, apex = model.dart
    side = model.edges[1]
    pen.draw(model.edges[0], Path.polyline([side.start, first, apex, second, side.end]), *model.edges[2:])
    piece = recognise(sheet(pen)).pieces[0][0]
    same_outline(piece, model)
    assert [(abs(d.first - first) + abs(d.second - second) + abs(d.apex - apex)) < 1e-6 for d in piece.darts] == [True]


@pytest.mark.parametrize("dashed", [True, False])
def test_a_seam_line_inside_the_cutting_line(dashed):
    model = bodice(0)
    cut = Path.joined(offset_ring(model.edges, [15.0] * 6))
    pen, seam = Pen(), Pen(Look(dash=(2.0, 1.0)) if dashed else Look())
    pen.draw(cut)
    seam.draw(*model.edges)
    dart(seam, model.dart)
    raw = recognise(sheet(pen, seam))
    assert len(raw.sizes) == 1 and raw.line == "cutting" and raw.allowance == pytest.approx(15.0, abs=0.1)
    piece = raw.pieces[0][0]
    assert piece.outline.area() == pytest.approx(cut.area(), rel=1e-9)
    assert piece.seam_drawn.area() == pytest.approx(model.outline.area(), rel=1e-9)
    assert len(piece.darts) == 1


@pytest.mark.parametrize("heads", ["one", "both"])
@pytest.mark.parametrize("how", ["v", "wings", "filled"])
def test_grain_arrows(heads, how):
    pen, model = Pen(), bodice(0)
    pen.draw(*model.edges)
    arrow(pen, model.grain[1], model.grain[0], heads, how)
    grain = recognise(sheet(pen)).pieces[0][0].grain
    tail, head = (model.grain[1], model.grain[0]) if heads == "one" else model.grain
    assert abs(grain[0] - tail) < 0.1 and abs(grain[1] - head) < 0.1


def test_a_solid_arrow_and_a_line_with_the_word_grain():
    model = bodice(0)
    solid, worded = Pen().draw(*model.edges), Pen().draw(*model.edges)
    arrow(solid, *model.grain, how="whole")
    worded.line(*model.grain).write("GRAINLINE", complex(58, 180), 4, 1.5708)
    for pen in (solid, worded):
        grain = recognise(sheet(pen)).pieces[0][0].grain
        assert abs(grain[0] - model.grain[0]) < 0.5 and abs(grain[1] - model.grain[1]) < 0.5


def test_fold_by_bracket_and_by_words():
    model = bodice(0)
    drawn, worded, titled = (Pen().draw(*model.edges) for _ in range(3))
    bracket(drawn, complex(0, 250), complex(0, 60), -1 + 0j)
    worded.write("place on fold", complex(8, 100), 4, 1.5708)
    titled.write("Bodice front - cut 1 on fold", complex(40, 110), 6)
    arrow(titled, *model.grain)
    for pen in (drawn, worded, titled):
        raw = recognise(sheet(pen))
        fold = raw.pieces[0][0].fold
        assert {fold[0], fold[1]} == {model.edges[5].start, model.edges[5].end}
        assert raw.pieces[0][0].lines == ()


def test_inner_lines_keep_the_words_along_them():
    pen, model = Pen(), bodice(0)
    pen.draw(*model.edges).write("BODICE FRONT", complex(60, 250), 9)
    pen.line(complex(0, 60), complex(209, 60)).write("lengthen or shorten here", complex(60, 62), 4)
    pen.line(complex(0, 180), complex(180, 180)).write("bust line", complex(60, 181), 4)
    piece = recognise(sheet(pen)).pieces[0][0]
    assert piece.name == "bodice front"
    assert [(round(p.start.imag), said) for p, said in piece.lines] == [(60, "lengthen or shorten here"),
                                                                        (180, "bust line")]


def test_no_allowance_means_the_seam_line_is_printed():
    pen = Pen().draw(*bodice(0).edges).write("No seam allowance", complex(400, 100))
    raw = recognise(sheet(pen))
    assert (raw.allowance, raw.line) == (0.0, "seam")


def test_a_frame_round_the_sheet_is_no_piece():
    drawing, _ = layered(3)
    frame = Pen(Look("Size 8")).line(-50 - 50j, 900 - 50j, 900 + 700j, -50 + 700j, closed=True)
    raw = recognise(sheet(frame, Pen(strokes=list(drawing.pages[0].strokes), words=list(drawing.pages[0].words))))
    assert [len(raw.pieces), len([p for p in raw.pieces[0] if p])] == [1, 3]


# -- what cannot be made sense of ----------------------------------------------------------------------------

def test_a_dart_with_one_leg_is_said():
    pen, model = Pen(), bodice(0)
    pen.draw(*model.edges)
    dart(pen, model.dart, "leg")
    raw = recognise(sheet(pen))
    finding = next(f for f in raw.findings if f.code == "dart-one-leg")
    assert finding.piece == "piece 1" and finding.size == "1" and "175 mm from the left" in finding.text
    assert raw.pieces[0][0].darts == ()


def test_a_small_gap_is_closed_and_a_large_one_stops():
    model = bodice(0)
    side = model.edges[1]
    for gap, code, severity in ((3.0, "outline-gap", Severity.LOOK), (40.0, "outline-open", Severity.STOP)):
        pen = Pen().draw(model.edges[0], side.sub(0, side.length - gap), *model.edges[2:])
        raw = recognise(sheet(pen))
        finding = next(f for f in raw.findings if f.code == code)
        assert finding.severity is severity and finding.asked == pytest.approx(gap, abs=0.1)
        assert len(raw.pieces) == (1 if gap < 10 else 0)


def test_a_self_crossing_outline_stops_with_its_place():
    pen = Pen().line(0j, 200 + 0j, 200 + 300j, 120 + 300j, 260 + 150j, 0 + 150j, closed=True)
    finding = next(f for f in recognise(sheet(pen)).findings if f.code == "outline-crosses")
    assert finding.severity is Severity.STOP and "200 mm from the left" in finding.text


def test_a_piece_that_one_size_lacks_is_named():
    drawing, _ = layered(4)
    strokes = [s for s in drawing.pages[0].strokes if s.look.layer != "Size 12"]
    back = [Pen(Look(f"Size {8 + 2 * i}")).draw(*bodice(i, 400 + 0j).edges) for i in range(4)]
    raw = recognise(sheet(Pen(strokes=strokes, words=list(drawing.pages[0].words)), *back))
    finding = next(f for f in raw.findings if f.code == "piece-missing")
    assert (finding.piece, finding.size) == ("bodice front", "12")
    front = next(row for row in raw.pieces if any(p and p.name == "bodice front" for p in row))
    assert [p is None for p in front] == [False, False, True, False]


def test_nothing_closed_stops():
    raw = recognise(sheet(Pen().line(0j, 100 + 0j, 100 + 100j)))
    assert raw.pieces == () and "no-pieces" in codes(raw)


def test_sizes_laid_side_by_side_are_matched_by_name():
    pens = []
    for i in range(3):
        pen, at = Pen(Look(f"Size {8 + 2 * i}")), complex(700 * i, 40 * i)
        for name, shift in (("FRONT", 0j), ("BACK", 300 + 0j)):
            model = bodice(i, at + shift)
            pen.draw(*model.edges).write(name, at + shift + complex(40, 150), 8)
            arrow(pen, *model.grain)
        pens.append(pen)
    raw = recognise(sheet(*pens))
    assert sorted(row[0].name for row in raw.pieces) == ["back", "front"]
    for row in raw.pieces:
        assert [p.size for p in row] == ["8", "10", "12"]
        assert all(abs(p.grain[0] - p.outline.bounds[0] - 60 - 1j * p.outline.bounds[1]) < 200 for p in row)


@pytest.mark.parametrize("share", [1.0, 0.97])
def test_the_sheet_is_brought_to_true_scale_by_its_test_square(share):
    model = bodice(0)
    pen = Pen().draw(*model.edges).line(500 + 0j, 600 + 0j, 600 + 100j, 500 + 100j, closed=True)
    pen.write("Test square 10 cm x 10 cm", 505 + 45j, 4)
    small = Pen(strokes=[replace(s, path=s.path.mapped(lambda p: p * share)) for s in pen.strokes],
                words=[replace(w, at=w.at * share, height=w.height * share) for w in pen.words])
    raw = recognise(sheet(small))
    assert len(raw.pieces) == 1 and raw.test_square.width == pytest.approx(100 * share, abs=1e-6)
    assert raw.scale == pytest.approx(1 / share) and ("scale" in codes(raw)) == (share < 1)
    same_outline(raw.pieces[0][0], model)


def test_lines_that_run_past_each_other_at_corners():
    corners = (0j, 200 + 0j, 230 + 300j, -10 + 280j)
    pens = []
    for i in range(2):
        pen, grow = Pen(Look(f"Size {8 + 2 * i}")), 1 + 0.05 * i
        for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
            past = (b - a) / abs(b - a) * 4
            pen.line(a * grow - past, b * grow + past)
        pens.append(pen)
    raw = recognise(sheet(*pens))
    for piece, grow in zip(raw.pieces[0], (1.0, 1.05), strict=True):
        true = Path.polyline([*(c * grow for c in corners), corners[0] * grow])
        assert piece.outline.area() == pytest.approx(true.area(), rel=1e-6)
        assert piece.notches == ()


def test_a_piece_drawn_once_for_all_sizes():
    drawing, _ = layered(3)
    tie = Pen(Look("All sizes")).line(500 + 0j, 1300 + 0j, 1300 + 60j, 500 + 60j, closed=True)
    tie.write("WAIST TIE", 700 + 25j, 6).write("cut 2", 900 + 25j, 5)
    raw = recognise(sheet(Pen(strokes=list(drawing.pages[0].strokes), words=list(drawing.pages[0].words)), tie))
    row = next(r for r in raw.pieces if r[0].name == "waist tie")
    assert [p.size for p in row] == ["8", "10", "12"] and row[1].cut_count == 2
    assert row[2].outline.area() == pytest.approx(48_000.0)


def test_a_double_ended_dart_in_the_middle_is_no_dart_of_an_edge():
    pen, model = Pen().draw(*bodice(0).edges), bodice(0)
    dart(pen, model.dart)
    pen.line(90 + 60j, 100 + 110j, 90 + 160j, 80 + 110j, closed=True)
    piece = recognise(sheet(pen)).pieces[0][0]
    assert [abs(d.apex - model.dart[2]) < 1e-6 for d in piece.darts] == [True]
    assert sum(p.length for p, _ in piece.lines) == pytest.approx(4 * abs(10 + 50j))


@settings(max_examples=12, deadline=None)
@given(angle=st.floats(-3.1, 3.1), hand=st.booleans(), how=st.sampled_from(["in", "double", "triangle", "t"]))
def test_neither_place_nor_turn_nor_hand_of_the_sheet_matter(angle, hand, how):
    drawing, models = layered(3, how, names="{}")
    turn = Affine.turn(angle, 100 + 40j)
    move = Affine.mirror(0j, 1j).then(turn) if hand else turn
    page = drawing.pages[0]
    moved = replace(page, strokes=tuple(replace(s, path=s.path.mapped(move)) for s in page.strokes),
                    words=tuple(replace(w, at=move(w.at), angle=w.angle + angle) for w in page.words if not hand))
    raw = recognise(replace(drawing, pages=(moved,)))
    assert raw.sizes == ("8", "10", "12")
    for piece, model in zip(raw.pieces[0], models, strict=True):
        same_outline(piece, model)
        assert [n.count for n in piece.notches] == [2 if how == "double" else 1] * 3
        assert min(abs(n.at - move(model.notches[0][0])) for n in piece.notches) < 0.1
        for _, _, apex in (model.dart, model.waist_dart):
            assert min(abs(d.apex - move(apex)) for d in piece.darts) < 0.05
        assert abs(piece.grain[1] - move(model.grain[1])) < 0.1


def test_lines_drawn_twice_are_no_second_size():
    pen, model = Pen(), bodice(0)
    pen.draw(*model.edges, *(e.reversed() for e in model.edges), *model.edges)
    raw = recognise(sheet(pen))
    assert raw.sizes == ("1",) and len(raw.pieces) == 1
    same_outline(raw.pieces[0][0], model)
