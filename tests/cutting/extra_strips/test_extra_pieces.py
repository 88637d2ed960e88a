"""Extra pieces on the choir's dress: closed, simple, counted, and sewn to their partners as the walk sees it."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon

from toilewright.blocks.choir_trousers import choir_trousers
from toilewright.blocks.concert import concert_dress
from toilewright.cutting.allowances import cutting_line
from toilewright.cutting.extra import find_kind
from toilewright.cutting.extra.places import find_run, turning, with_notches
from toilewright.errors import InputError, NameUnknown, Severity
from toilewright.fit.alterations import alter
from toilewright.fit.result import Order
from toilewright.known import asked
from toilewright.pattern.parts import EdgeKind
from toilewright.pattern.walk import walk

DRESS = concert_dress().at("5")

WISHES = [
    ("tie", {"edge": "bodice front side seam", "at": "side notch", "length": "80 cm"}),
    ("tie", {"edge": "waistband left end", "width": "4 cm", "length": "1 m", "grain": "bias"}),
    ("strap", {"edge": "bodice front neck", "to": "bodice back neck", "length": "40 cm"}),
    ("bias", {"edge": "neck", "finished": "6 mm"}),
    ("bias", {"edge": "armhole", "finished": "8 mm", "fold": "double"}),
    ("bias", {"edge": "wrap skirt hem", "finished": "8 mm", "cloth width": "90 cm"}),
    ("frill", {"edge": "skirt hem", "weight": "firm"}),
    ("frill", {"edge": "skirt tier hem", "cut": "along"}),
    ("frill", {"edge": "sleeve frill hem", "tiers": 2, "ratio": 1.5, "hem": "double"}),
    ("frill", {"edge": "wrap skirt hem", "tiers": 3, "depth": "8 cm + 9 cm"}),
    ("frill", {"edge": "neck", "heading": "1 cm", "cloth": "fine"}),
    ("circle skirt", {"edge": "bodice waist", "part": "half", "seams": 3}),
    ("circle skirt", {"waist": "70 cm", "part": "three quarter", "seams": 1}),
    ("waistband", {"edge": "wrap skirt waist"}),
    ("waistband", {"edge": "wrap skirt waist", "shape": "shaped", "pieces": "two", "overlap side": "left"}),
    ("casing", {"edge": "sleeve frill hem", "way": "applied"}),
    ("casing", {"edge": "sleeve frill hem", "round": "25 cm"}),
    ("buttonholes", {"edge": "bodice back centre back", "count": 5}),
    ("facing", {"edge": "armhole", "width": "4 cm"}),
    ("patch pocket", {"edge": "skirt front side seam"}),
    ("seam pocket", {"edge": "skirt front side seam"}),
    ("lining", {}),
    ("interfacing", {"piece": "waistband"}),
]


def build(kind, garment=DRESS, **options):
    found = find_kind(kind)
    return found.build(garment, found.read(options, "cm", f'"{kind}"'))


def new_walks(built, garment=DRESS):
    return walk(built.put_into(garment))[len(garment.seams):]


def polygon(piece):
    return Polygon([(p.real, p.imag) for e in piece.edges for p in e.path.flatten()[:-1]])


@pytest.mark.parametrize("kind, options", WISHES)
def test_every_kind_walks_clean_and_is_whole(kind, options):
    built = build(kind, **options)
    garment = built.put_into(DRESS)
    for one in walk(garment):
        assert one.sews, one
        if one.seam in {s.name for s in built.seams}:
            assert all(one.meets(pair) for pair in one.notches), one
    for piece in built.pieces:
        assert polygon(piece).is_valid and polygon(piece).exterior.is_ccw and piece.grain is not None
        assert piece.cut.count >= 1
        outer = Polygon([(p.real, p.imag) for path in cutting_line(piece) for p in path.flatten()[:-1]])
        assert outer.is_valid and outer.buffer(0.01).contains(polygon(piece))
        for notch in piece.notches:
            assert -1e-6 <= notch.at <= piece.edge(notch.edge).path.length + 1e-6
        assert any(r.piece == piece.name for s in built.seams for r in s.b) or piece.name in dict(built.laid)
    for piece in built.changed:  # edges keep their lines; only marks, finishes and lines inside are new
        assert [e.path for e in piece.edges] == [e.path for e in DRESS.piece(piece.name).edges]
    assert built.worked.steps
    assert all(f.severity is not Severity.STOP for f in built.worked.findings)


@pytest.mark.parametrize("kind, options", WISHES)
def test_a_piece_that_grew_by_a_tenth_is_noticed(kind, options):
    """The walk is no formality: the same piece, a tenth longer, does not sew."""
    built = build(kind, **options)
    for seam in built.seams:
        if {r.piece for r in seam.a} == {r.piece for r in seam.b} or not built.pieces:
            continue
        name = seam.b[0].piece
        piece = next(p for p in built.pieces if p.name == name)
        grown = piece.mapped(lambda z: z * 1.1)
        wrong = replace(built, pieces=tuple(grown if p.name == name else p for p in built.pieces))
        part = seam.b[0].part
        if part is None:
            assert not next(w for w in new_walks(wrong) if w.seam == seam.name).sews


def test_a_frill_has_the_ratio_that_was_asked_and_quarters_that_meet():
    built = build("frill", edge="skirt hem", ratio="2")
    seam = new_walks(built)[0]
    assert seam.length_b == pytest.approx(2 * seam.length_a)
    assert seam.length_a == pytest.approx(4 * DRESS.piece("skirt tier").edge("hem").path.length)
    alone = build("frill", edge="sleeve frill hem", cut="along")
    marks = [n.at_a / new_walks(alone)[0].length_a for n in new_walks(alone)[0].notches]
    assert sorted(marks) == pytest.approx([0.25, 0.5, 0.75])


@given(ratio=st.floats(1.0, 4.0), size=st.sampled_from(concert_dress().sizes), tiers=st.integers(1, 3),
       cloth=st.floats(700, 1600))
@settings(max_examples=25)
def test_any_frill_is_seen_by_the_walk_at_its_ratio(ratio, size, tiers, cloth):
    garment = concert_dress().at(size)
    built = build("frill", garment, edge="skirt hem", ratio=ratio, tiers=tiers, **{"cloth width": f"{cloth} mm"})
    gathers = [w for w in new_walks(built, garment) if w.seam.endswith("gathers")]
    assert len(gathers) == tiers
    for one in gathers:
        assert one.sews and one.length_b == pytest.approx(ratio * one.length_a, rel=1e-9)
        assert all(one.meets(pair) for pair in one.notches)
    for piece in built.pieces:
        x0, _, x1, _ = piece.outline.bounds
        assert x1 - x0 + 20.0 <= cloth + 1e-6


def test_strips_keep_the_cloth_that_the_edge_asks_for():
    """All widths together have the area of the whole frill."""
    built = build("frill", edge="skirt hem", ratio="2", depth="8 cm")
    piece = built.pieces[0]
    assert piece.cut.count > 1
    assert piece.cut.count * piece.area == pytest.approx(2 * find_run(DRESS, "skirt hem").length * 80.0)


def test_a_frill_caught_in_a_hem_makes_a_seam_of_it_and_one_with_a_heading_leaves_it():
    caught = build("frill", edge="skirt hem").changed[0]
    assert caught.edge("hem").kind is EdgeKind.SEAM and caught.edge("hem").allowance == 10.0
    headed = build("frill", edge="skirt hem", heading="1 cm")
    assert headed.changed[0].edge("hem") == DRESS.piece("skirt tier").edge("hem")
    assert headed.pieces[0].line("stitching line") is not None


@pytest.mark.parametrize("options, seam, rows", [
    ({}, 80.0, [5.0, -5.0]), ({"rows": 3}, 80.0, [6.0, -3.0, -9.0]), ({"heading": "2 cm"}, 80.0, [5.0, -5.0]),
    ({"hem": "double"}, 160.0, [5.0, -5.0]), ({"allowance": "5 mm"}, 80.0, [3.5, -5.0]),
])
def test_rows_of_gathering_stitches_are_drawn_on_both_sides_of_the_seam_line(options, seam, rows):
    piece = build("frill", edge="skirt hem", depth="8 cm", **options).pieces[0]
    lines = [m.path for m in piece.lines if m.name.startswith("gathering row")]
    assert [path.start.imag - seam for path in lines] == pytest.approx(rows)
    assert all(path.length == pytest.approx(piece.edge("top").path.length) for path in lines)
    cut = Polygon([(p.real, p.imag) for path in cutting_line(piece) for p in path.flatten()[:-1]])
    assert all(cut.contains(LineString([(p.start.real + 1, p.start.imag), (p.end.real - 1, p.end.imag)]))
               for p in lines)


def test_what_is_sewn_along_an_edge_already_is_told_once():
    lined = build("lining").put_into(DRESS)
    band = [f for f in build("waistband", lined, edge="wrap skirt waist").worked.findings if f.code == "second-band"]
    assert len(band) == 1 and "waistband" in band[0].text and "lining" not in band[0].text
    told = [f.code for f in build("facing", lined, edge="wrap edge").worked.findings]
    assert told == ["lining-before-facing"]


def test_a_binding_is_shorter_round_a_hollow_and_the_edge_loses_its_allowance():
    neck = build("bias", edge="neck", finished="6 mm")
    one = new_walks(neck)[0]
    assert one.length_b == pytest.approx(0.97 * one.length_a)
    assert {p.edge("neck").allowance for p in neck.changed} == {0.0}
    assert {p.name for p in neck.changed} == {"bodice front", "bodice back"}
    hem = build("bias", edge="wrap skirt hem", finished="6 mm")
    assert new_walks(hem)[0].difference == pytest.approx(0.0, abs=1e-6)


def test_a_binding_is_cut_on_the_bias_four_times_its_width():
    piece = build("bias", edge="neck", finished="6 mm", turn="2 mm").pieces[0]
    arrow = piece.grain.end - piece.grain.start
    assert arrow.real == pytest.approx(arrow.imag)
    _, y0, _, y1 = piece.outline.bounds
    assert y1 - y0 + 12.0 == pytest.approx(4 * 6.0 + 2.0)


def test_a_continuous_binding_is_a_square_on_the_grain():
    built = build("bias", edge="armhole", finished="8 mm", way="continuous")
    square = built.pieces[0]
    assert len(built.pieces) == 1 and not built.seams and square.cut.count == 1
    side = built.worked.of("square_to_cut")
    assert square.area == pytest.approx(side * side)
    assert side * side > 2 * find_run(DRESS, "armhole").length * built.worked.of("cut_width") * 0.9
    assert any(f.code == "continuous-strip" for f in built.worked.findings)


def test_a_tie_goes_between_its_notches_at_the_notch_asked_for():
    built = build("tie", edge="bodice front side seam", at="side notch", length="80 cm", width="2 cm")
    front, tie = built.changed[0], built.pieces[0]
    places = [n.at for n in front.notches if n.name == "side seam tie place"]
    middle = next(n.at for n in DRESS.piece("bodice front").notches if n.name == "side notch")
    assert sorted(places) == pytest.approx([middle - 10.0, middle + 10.0])
    assert tie.cut.count == 2
    box = cutting_line(tie)
    xs = [v for path in box for v in (path.bounds[0], path.bounds[2])]
    ys = [v for path in box for v in (path.bounds[1], path.bounds[3])]
    assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx((820.0, 60.0))


def test_a_tie_that_is_nowhere_told_to_be_keeps_clear_of_the_dart_in_the_middle():
    front = DRESS.piece("bodice front")
    dart = front.darts_on("waist")[0]
    at = (dart.start + dart.end) / 2
    with pytest.raises(InputError, match='"at" lies on a dart'):
        build("tie", edge="bodice front waist", length="80 cm", width="2 cm", at=f"{at} mm")
    widest = front.edge("waist").path.length - dart.end
    asked = {"edge": "bodice front waist", "length": "80 cm", "width": f"{widest} mm"}
    with pytest.raises(InputError, match="no room beside the darts"):
        build("tie", **asked)
    for piece in DRESS.pieces:
        for edge in {d.edge for d in piece.darts}:
            built = build("tie", edge=f"{piece.name} {edge}", length="80 cm", width="2 cm")
            ends = [n.at for n in built.changed[0].notches if n.name.endswith("tie place")]
            assert len(ends) == 2 and max(ends) - min(ends) == pytest.approx(20.0)
            assert not any(d.start < max(ends) and min(ends) < d.end for d in piece.darts_on(edge))


def test_ties_near_a_childs_neck_are_warned_of_and_left_to_the_local_rule():
    found = build("tie", edge="bodice front neck", length="30 cm", wearer="child").worked.findings
    caution = next(f for f in found if f.code == "cords")
    assert caution.severity is Severity.LOOK and "EN 14682" in caution.text and "where you live" in caution.text
    grown = build("tie", edge="bodice front neck", length="30 cm").worked.findings
    assert next(f for f in grown if f.code == "cords").severity is Severity.NOTE


def test_a_circle_skirts_waist_is_the_bodices():
    built = build("circle skirt", edge="bodice waist", part="half", seams="3")
    waist = find_run(DRESS, "bodice waist").length
    panel = built.pieces[0]
    assert 3 * panel.edge("waist").path.length == pytest.approx(waist, abs=1e-3)
    assert panel.cut.count == 3
    inner, outer = abs(panel.edge("waist").path.start), abs(panel.edge("hem").path.start)
    assert outer - inner == pytest.approx(600.0)
    # Area of a ring's sector, from the schoolbook: half the angle times the difference of the squares.
    assert panel.area == pytest.approx(waist / inner / 3 / 2 * (outer ** 2 - inner ** 2), rel=1e-6)


def test_a_shaped_band_turns_as_the_waist_does():
    run = find_run(DRESS, "wrap skirt waist")
    band, *_ = build("waistband", edge="wrap skirt waist", shape="shaped", pieces="two", overlap="0",
                     width="4 cm").pieces
    assert band.edge("waist").path.length == pytest.approx(run.length, abs=1e-3)
    assert band.edge("top").path.length == pytest.approx(run.length + turning(DRESS, run) * 40.0, abs=1e-3)
    assert band.edge("top").path.length < run.length


def test_interfacing_has_no_allowances_and_its_own_cloth():
    _, inside = build("waistband", edge="wrap skirt waist", overlap="3 cm").pieces
    assert inside.cut.cloth == "interfacing" and {e.allowance for e in inside.edges} == {0.0}
    assert inside.edge("waist").path.length == pytest.approx(find_run(DRESS, "wrap skirt waist").length + 30.0)


def test_a_turned_down_casing_is_allowed_above_the_edge():
    changed = build("casing", edge="sleeve frill hem", elastic="2 cm", ease="5 mm").changed[0]
    assert changed.edge("hem").allowance == 35.0 and changed.edge("hem").kind is EdgeKind.HEM


def test_buttonholes_lie_inside_at_equal_steps():
    piece = build("buttonholes", edge="bodice back centre back", count=4, first="2 cm", last="3 cm").changed[0]
    lines = [line.path for line in piece.lines if line.name.startswith("buttonhole")]
    assert [p.length for p in lines] == pytest.approx([18.0] * 4)
    steps = [abs(b.start - a.start) for a, b in pairwise(lines)]
    assert steps == pytest.approx([(piece.edge("centre back").path.length - 50.0) / 3] * 3)
    whole = Polygon([(p.real, p.imag) for p in piece.outline.flatten()[:-1]])
    assert all(whole.contains(Polygon([(p.start.real, p.start.imag), (p.end.real, p.end.imag),
                                       (p.end.real, p.end.imag + 0.1)])) for p in lines)


def test_extras_follow_the_altered_pieces():
    order = Order("waist in or out", asked(20.0))
    grown = alter(DRESS, [order]).garment
    before, after = (find_run(g, "bodice waist").length for g in (DRESS, grown))
    made = build("circle skirt", grown, edge="bodice waist", part="half")
    assert made.worked.of("waist") == pytest.approx(after)
    assert all(w.sews for w in new_walks(made, grown))
    assert after == pytest.approx(before + 20.0, abs=1.0)


def test_an_uneven_figure_gets_a_binding_all_round_her_neck():
    uneven = alter(DRESS, [Order("shoulder slope", asked(8.0), {"side": "left"})]).garment
    built = build("bias", uneven, edge="neck", finished="6 mm")
    assert all(w.sews for w in new_walks(built, uneven))
    assert built.worked.of("edges") == 1
    assert built.worked.of("edge") == pytest.approx(find_run(DRESS, "neck").length, abs=15.0)


# -- lines ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("said, copies, closed, count", [
    ("neck", 1, False, 4), ("armhole", 2, True, 2), ("sleeve hem", 2, True, 1), ("skirt hem", 1, True, 4),
    ("wrap skirt hem", 1, False, 4), ("bodice waist", 1, False, 4), ("skirt front hem + skirt back hem", 1, False, 4),
    ("sleeve_frill.hem", 2, True, 1),
])
def test_a_line_goes_all_round_her(said, copies, closed, count):
    run = find_run(DRESS, said)
    assert (run.copies, run.closed, len(run.refs)) == (copies, closed, count)
    assert run.length == pytest.approx(sum(DRESS.piece(r.piece).sewn_length(r.edge) for r in run.refs))


def test_a_trouser_leg_is_a_ring_of_its_own():
    pattern = choir_trousers()
    run = find_run(pattern.at(pattern.sizes[4]), "trouser front hem + trouser back hem")
    assert (run.copies, run.closed, len(run.refs)) == (2, True, 2)


def test_edges_that_are_not_there_get_the_nearest_name():
    with pytest.raises(NameUnknown, match='did you mean "neck"'):
        find_run(DRESS, "nek")
    with pytest.raises(NameUnknown, match='did you mean "sleeve hem"'):
        find_run(DRESS, "sleve hem")
    with pytest.raises(InputError, match="write one of these"):
        find_run(DRESS, "hem")


@pytest.mark.parametrize("kind, options, said", [
    ("tie", {"edge": "waistband left end", "length": "50 cm", "width": "6 cm"}, "narrower"),
    ("tie", {"edge": "bodice front side seam", "length": "50 cm", "at": "side noch"}, 'did you mean "side notch"'),
    ("tie", {"edge": "bodice front side seam", "length": "50 cm", "at": "90 cm"}, "a place on it"),
    ("tie", {"edge": "bodice front waist", "length": "50 cm", "at": "10 cm", "width": "8 cm"}, "dart"),
    ("frill", {"edge": "skirt hem", "tiers": 2, "heading": "1 cm"}, "heading"),
    ("waistband", {"edge": "wrap skirt waist", "shape": "shaped"}, "two"),
    ("waistband", {"edge": "skirt hem", "shape": "shaped", "pieces": "two"}, "straight"),
])
def test_what_does_not_go_with_the_garment_is_refused_in_one_sentence(kind, options, said):
    with pytest.raises(InputError) as problem:
        build(kind, **options)
    assert said in str(problem.value) and "\n" not in str(problem.value)


def test_two_extras_of_one_name_are_told_apart():
    built = build("frill", edge="skirt hem")
    with pytest.raises(InputError, match="another name"):
        built.put_into(built.put_into(DRESS))


def test_marks_fall_where_they_are_asked_and_none_on_a_seam():
    run = find_run(DRESS, "neck")
    back = DRESS.piece("bodice back").edge("neck").path.length
    pieces = {p.name: p for p in with_notches(DRESS, run, [back, back / 2], "mine")}
    assert set(pieces) == {"bodice back"}
    mark = next(n for n in pieces["bodice back"].notches if n.name == "mine")
    assert mark.at == pytest.approx(back / 2)
