"""Facings and interfacing: the piece's own edge, even in width, sewn where the garment is, and inside the seam line."""

import cmath

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon

from toilewright.blocks.choir_trousers import choir_trousers
from toilewright.blocks.choir_tunic import choir_tunic
from toilewright.blocks.concert import concert_dress
from toilewright.blocks.princess_dress import princess_dress
from toilewright.cutting.extra import find_kind
from toilewright.cutting.extra.beside import stretches, without_stubs
from toilewright.errors import InputError, NameUnknown
from toilewright.fit.alterations import alter
from toilewright.fit.result import Order
from toilewright.geometry.path import Path
from toilewright.known import asked
from toilewright.pattern.parts import EdgeKind
from toilewright.pattern.walk import walk

PATTERN = concert_dress()
DRESS = PATTERN.at("5")
TROUSERS = choir_trousers().at(choir_trousers().sizes[4])
FRONT = "trouser front waist + trouser back waist"

WISHES = [
    (DRESS, {"edge": "neck"}),
    (DRESS, {"edge": "armhole", "width": "4 cm"}),
    (DRESS, {"edge": "bodice waist", "width": "5 cm"}),
    (DRESS, {"edge": "wrap edge", "width": "7 cm"}),
    (DRESS, {"edge": "wrap skirt waist", "width": "5 cm"}),
    (DRESS, {"edge": "sleeve hem", "width": "3 cm"}),
    (DRESS, {"edge": "wrap skirt hem"}),
    (DRESS, {"edge": "bodice back centre back + bodice back neck", "width": "5 cm"}),
    (TROUSERS, {"edge": FRONT, "width": "4 cm"}),
]


def build(kind, garment=DRESS, **options):
    found = find_kind(kind)
    return found.build(garment, found.read(options, "cm", f'"{kind}"'))


def facings(built):
    return [p for p in built.pieces if p.cut.cloth != "interfacing"]


def polygon(piece):
    return Polygon([(p.real, p.imag) for e in piece.edges for p in e.path.flatten(0.01)[:-1]])


def shell_of(garment, facing):
    return max((p for p in garment.pieces if facing.name.startswith(p.name)), key=lambda p: len(p.name))


@pytest.mark.parametrize("garment, options", WISHES, ids=lambda v: v["edge"] if isinstance(v, dict) else "")
def test_a_facing_is_whole_and_sewn_to_its_edge_mark_to_mark(garment, options):
    built = build("facing", garment, **options)
    new = walk(built.put_into(garment))[len(garment.seams):]
    assert all(w.sews for w in new)
    assert new[0].difference == pytest.approx(0.0, abs=1e-3)
    assert new[0].notches and all(abs(n.offset) < 0.01 for n in new[0].notches)
    for piece in facings(built):
        ring = polygon(piece)
        assert ring.is_valid and ring.exterior.is_ccw
        shell = shell_of(garment, piece)
        way, own = (p.grain.end - p.grain.start for p in (shell, piece))
        assert abs(cmath.phase(own / way)) < 1e-9
        assert piece.notches
        grown = 2 if shell.on_fold and not piece.on_fold else 1
        assert piece.cut.count == shell.cut.count * grown
        assert piece.cut.mirrored == (shell.cut.mirrored or grown == 2)


@pytest.mark.parametrize("garment, options", WISHES, ids=lambda v: v["edge"] if isinstance(v, dict) else "")
def test_a_facing_is_as_wide_as_asked_all_along(garment, options):
    built = build("facing", garment, **options)
    width = find_kind("facing").read(options, "cm", "it")["width"]
    for piece in facings(built):
        lines = [e.path for e in piece.edges if any(e.name == r.edge and r.piece == piece.name
                                                    for r in built.seams[0].b)]
        faced = LineString([(p.real, p.imag) for path in lines for p in path.flatten(0.005)])
        outer = piece.edge("outer edge").path
        middle = [outer.point_at(outer.length * k / 20) for k in range(3, 18)]
        distances = [faced.distance(LineString([(p.real, p.imag), (p.real, p.imag + 1e-6)])) for p in middle]
        assert distances == pytest.approx([width] * len(distances), abs=0.4)


@given(width=st.floats(25, 75), size=st.sampled_from(PATTERN.sizes), edge=st.sampled_from(["neck", "armhole"]))
@settings(max_examples=20, deadline=None)
def test_a_facing_lies_on_its_piece_in_every_size(width, size, edge):
    garment = PATTERN.at(size)
    try:
        built = build("facing", garment, edge=edge, width=f"{width} mm", interfacing="no")
    except InputError as problem:
        assume("narrower" in str(problem))
        return
    for piece in built.pieces:
        assert polygon(shell_of(garment, piece)).buffer(0.1).contains(polygon(piece))
    assert all(w.sews for w in walk(built.put_into(garment)))


def test_where_two_facings_meet_they_are_seamed_as_the_garment_is():
    built = build("facing", edge="neck")
    front, back = (next(p for p in facings(built) if side in p.name) for side in ("front", "back"))
    assert [s.name for s in built.seams[1:]] == ["bodice front neck facing shoulder"]
    assert front.edge("shoulder").path.length == pytest.approx(back.edge("shoulder").path.length, abs=1e-6)
    assert front.on_fold and front.edge("centre front").allowance == 0.0
    assert back.edge("centre back").kind is EdgeKind.OPENING and back.edge("centre back").allowance == 20.0
    around = build("facing", edge="sleeve hem", width="3 cm")
    assert around.seams[1].a[0].piece == around.seams[1].b[0].piece == "sleeve hem facing"


def test_beside_a_princess_seam_the_facing_ends_before_it():
    princess = princess_dress().at("5")
    built = build("facing", princess, edge="neck", width="4 cm")
    assert all(w.sews for w in walk(built.put_into(princess))[len(princess.seams):])
    assert not any(f.code == "facing-across-panels" for f in built.worked.findings)
    with pytest.raises(InputError, match="narrower"):
        build("facing", princess, edge="neck", width="20 cm")


def test_darts_in_the_edge_are_closed_in_the_paper():
    built = build("facing", TROUSERS, edge=FRONT, width="4 cm")
    for piece in facings(built):
        shell = shell_of(TROUSERS, piece)
        assert not piece.darts and shell.darts
        assert piece.edge("waist").path.length == pytest.approx(shell.sewn_length("waist"), abs=1e-6)


def test_a_facing_follows_the_altered_neck():
    higher = alter(DRESS, [Order("neckline height", asked(20.0))]).garment
    was, now = (build("facing", g, edge="neck") for g in (DRESS, higher))
    assert now.worked.of("edge") < was.worked.of("edge") - 5.0
    assert all(w.sews for w in walk(now.put_into(higher))[len(higher.seams):])


def test_an_uneven_figure_gets_a_facing_all_round_her_neck():
    uneven = alter(DRESS, [Order("shoulder slope", asked(8.0), {"side": "left"})]).garment
    built = build("facing", uneven, edge="neck")
    assert all(w.sews for w in walk(built.put_into(uneven))[len(uneven.seams):])
    front = next(p for p in facings(built) if "front" in p.name)
    assert not front.on_fold and front.cut.count == 1


def test_an_open_edge_becomes_a_seam_and_a_seam_keeps_its_allowance():
    wrap = build("facing", edge="wrap edge", allowance="12 mm")
    assert wrap.changed[0].edge("wrap edge").kind is EdgeKind.SEAM
    assert wrap.changed[0].edge("wrap edge").allowance == 12.0 == facings(wrap)[0].edge("wrap edge").allowance
    neck = build("facing", edge="neck", allowance="12 mm")
    assert {p.edge("neck").allowance for p in (*neck.changed, *facings(neck))} == {15.0}


# -- interfacing ------------------------------------------------------------------------------------


@pytest.mark.parametrize("garment, options", WISHES, ids=lambda v: v["edge"] if isinstance(v, dict) else "")
def test_interfacing_lies_two_millimetres_inside_its_facing(garment, options):
    built = build("facing", garment, **options)
    by_name = {p.name: p for p in built.pieces}
    assert len(built.laid) == len(facings(built))
    for name, under in built.laid:
        inside, facing = by_name[name], by_name[under]
        assert inside.cut.cloth == "interfacing" and inside.cut.count == facing.cut.count
        assert {e.allowance for e in inside.edges} == {0.0} and inside.grain == facing.grain
        assert polygon(facing).buffer(1e-3).contains(polygon(inside))
        for edge in inside.edges:
            middle = edge.path.point_at(edge.path.length / 2)
            off = facing.edge(edge.name).path.nearest(middle)[1]
            assert off == pytest.approx(0.0 if edge.kind is EdgeKind.FOLD else 2.0, abs=0.05)


def test_of_a_band_in_two_layers_one_is_interfaced():
    built = build("interfacing", piece="waistband + front neck facing", inside="0")
    band, facing = built.pieces
    assert (band.name, band.cut.count, facing.cut.count) == ("waistband interfacing", 1, 1)
    assert band.area == pytest.approx(DRESS.piece("waistband").area)
    assert built.worked.findings[0].code == "half-interfaced"
    assert build("interfacing", piece="waistband", count="2").pieces[0].cut.count == 2


def test_a_bands_interfacing_lies_along_the_grain_and_a_collars_as_the_collar():
    band, tunic = build("interfacing", piece="waistband").pieces[0], choir_tunic().at("5")
    way = band.grain.end - band.grain.start
    assert abs(way.real) > 100 * abs(way.imag)
    collar = build("interfacing", tunic, piece="collar").pieces[0]
    assert collar.grain == tunic.piece("collar").grain and collar.cut.count == 1


def test_without_a_name_all_that_is_usually_interfaced_is():
    built = build("interfacing")
    assert [under for _, under in built.laid] == ["waistband", "front neck facing", "back neck facing"]
    again = built.put_into(DRESS)
    with pytest.raises(InputError, match="name the piece"):
        build("interfacing", again)


# -- what cannot be ---------------------------------------------------------------------------------


@pytest.mark.parametrize("kind, options, said", [
    ("facing", {"edge": "neck", "width": "20 cm"}, "narrower"),
    ("facing", {"edge": "armhole", "width": "7 cm"}, "bust dart"),
    ("facing", {"edge": "front neck facing neck"}, "edge of a facing"),
    ("facing", {"edge": "waistband waist", "width": "5 cm"}, "too narrow"),
    ("facing", {"edge": "neck", "width": "1 mm"}, '"width"'),
    ("facing", {}, '"edge"'),
    ("interfacing", {"piece": "sleeve frill", "inside": "2 cm"}, '"inside"'),
])
def test_what_does_not_go_is_refused_in_one_sentence(kind, options, said):
    with pytest.raises(InputError) as problem:
        build(kind, **options)
    assert said in str(problem.value) and "\n" not in str(problem.value)


def test_a_piece_that_is_not_there_gets_the_nearest_name():
    with pytest.raises(NameUnknown, match='did you mean "waistband"'):
        build("interfacing", piece="waist band")


def test_stubs_left_over_from_cutting_are_taken_away():
    line = Path.polyline([0j, 0.001j, 100 + 0j, 200 + 5j, 200.02 + 5.05j])
    clean = without_stubs(line)
    assert (clean.start, clean.end) == (line.start, line.end) and clean.nodes[1:-1] == (100 + 0j,)
    assert without_stubs(clean) == clean
    short = Path.line(0j, 0.01 + 0j)
    assert without_stubs(short) == short


def test_edges_are_put_into_the_order_of_the_ring():
    back = DRESS.piece("bodice back")
    assert stretches(back, ["centre back", "neck"]) == (("neck", "centre back"),)
    assert stretches(back, ["waist", "neck"]) == (("waist",), ("neck",))
    with pytest.raises(InputError, match="leave one out"):
        stretches(back, [e.name for e in back.edges])
