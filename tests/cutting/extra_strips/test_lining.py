"""Lining from the garment's own pieces: sewn as they are, to what is not lined, shorter, without what facings cover."""

import cmath
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon

from toilewright.blocks.choir_trousers import choir_trousers
from toilewright.blocks.choir_tunic import choir_tunic
from toilewright.blocks.concert import concert_dress
from toilewright.blocks.princess_dress import princess_dress
from toilewright.cutting.allowances import cutting_line
from toilewright.cutting.extra import find_kind
from toilewright.errors import InputError, NameUnknown
from toilewright.fit.alterations import alter
from toilewright.fit.result import Order
from toilewright.known import asked
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import Cut, EdgeKind
from toilewright.pattern.walk import walk


def build(kind, garment, **options):
    found = find_kind(kind)
    return found.build(garment, found.read(options, "cm", f'"{kind}"'))


def with_facing(garment, edge, **options):
    return build("facing", garment, edge=edge, interfacing="no", **options).put_into(garment)


PATTERN = concert_dress()
DRESS = PATTERN.at("5")
PRINCESS = princess_dress().at("5")
TROUSERS = choir_trousers().at(choir_trousers().sizes[4])
TUNIC = with_facing(choir_tunic().at("5"), "bodice front neck + bodice back neck")
WRAP = with_facing(DRESS, "wrap edge")
GARMENTS = {"dress": DRESS, "princess": PRINCESS, "trousers": TROUSERS, "tunic with a facing": TUNIC, "wrap": WRAP}


def closed_back(garment):
    """The garment with its back bodice on the fold, to open elsewhere."""
    back = garment.piece("bodice back")
    edges = tuple(replace(e, kind=EdgeKind.FOLD, allowance=0.0) if e.name == "centre back" else e for e in back.edges)
    return garment.with_piece(replace(back, edges=edges, cut=Cut(1)))


def polygon(piece):
    return Polygon([(p.real, p.imag) for e in piece.edges for p in e.path.flatten(0.02)[:-1]])


def new_walks(built, garment):
    return walk(built.put_into(garment))[len(garment.seams):]


@pytest.mark.parametrize("garment", GARMENTS.values(), ids=GARMENTS)
def test_every_seam_of_the_lining_sews_and_every_piece_is_whole(garment):
    built = build("lining", garment)
    before = {w.seam: w for w in walk(garment)}
    for one in new_walks(built, garment):
        assert one.sews, one
        was = before.get(one.seam.removeprefix("lining "))
        assert one.difference == pytest.approx(was.difference if was else 0.0, abs=0.05), one
        marks = {n.name: n.offset for n in was.notches} if was else {}
        assert all(n.offset == pytest.approx(marks.get(n.name, 0.0), abs=0.1) for n in one.notches)
    for piece in built.pieces:
        ring, shell = polygon(piece), garment.piece(piece.name.removesuffix(" lining"))
        assert ring.is_valid and ring.exterior.is_ccw
        assert polygon(shell).buffer(0.05).contains(ring)
        assert piece.cut == replace(shell.cut, cloth="lining")
        way, own = (p.grain.end - p.grain.start for p in (shell, piece))
        assert abs(cmath.phase(own / way)) < 1e-9
        ends = Polygon([(p.real, p.imag) for p in (piece.grain.start, piece.grain.end, piece.grain.end + 1e-3)])
        assert ring.contains(ends)
        assert len(piece.darts) == len(shell.darts)
    sewn = {(r.piece, r.edge) for s in built.seams for r in (*s.a, *s.b)}
    for piece in built.pieces:
        for edge in piece.edges:
            twins = piece.cut.mirrored and edge.kind is EdgeKind.SEAM
            assert edge.kind in (EdgeKind.HEM, EdgeKind.FOLD) or (piece.name, edge.name) in sewn or twins


@pytest.mark.parametrize("garment", GARMENTS.values(), ids=GARMENTS)
def test_the_cutting_line_keeps_the_allowance_beside_every_seam(garment):
    """No stub left over from cutting points a corner astray: beside a seam the cloth is as wide as said to its end."""
    for piece in build("lining", garment).pieces:
        for edge, line in zip(piece.edges, cutting_line(piece), strict=True):
            assert all(length > 0.09 for length in (edge.path.lengths[1], edge.path.length - edge.path.lengths[-2]))
            off = [line.nearest(edge.path.point_at(edge.path.length * k / 50))[1] for k in (0, 1, 25, 49, 50)]
            if not piece.darts_on(edge.name):
                assert min(off) > edge.allowance - 0.05


def test_which_pieces_are_lined():
    names = {p.name for p in build("lining", DRESS).pieces}
    assert names == {f"{n} lining" for n in ("bodice front", "bodice back", "sleeve", "skirt front", "skirt back",
                                             "wrap skirt front", "wrap skirt back")}
    some = build("lining", DRESS, pieces="Skirt front + skirt_back", name="underskirt", cloth="voile")
    assert {(p.name, p.cut.cloth) for p in some.pieces} == {("skirt front underskirt", "voile"),
                                                            ("skirt back underskirt", "voile")}


@given(st.floats(0, 60), st.sampled_from(PATTERN.sizes))
@settings(max_examples=12, deadline=None)
def test_it_ends_as_far_above_the_finished_hem_as_asked(shorter, size):
    garment = PATTERN.at(size)
    built = build("lining", garment, pieces="wrap skirt front + wrap skirt back", hem=f"{shorter:.3f} mm")
    for piece in built.pieces:
        hem = garment.piece(piece.name.removesuffix(" lining")).edge("hem").path
        own = piece.edge("hem").path
        off = [hem.nearest(own.point_at(own.length * k / 10))[1] for k in range(1, 10)]
        assert off == pytest.approx([shorter] * 9, abs=0.05)
        assert piece.edge("hem").kind is EdgeKind.HEM and piece.edge("hem").allowance == 20.0
    side = next(w for w in new_walks(built, garment) if w.seam == "lining wrap side seam")
    assert side.sews and side.difference == pytest.approx(0.0, abs=1e-3)


@pytest.mark.parametrize("garment, edge", [(DRESS, "neck"), (PRINCESS, "neck"), (TUNIC, "neck"), (WRAP, "wrap edge")],
                         ids=["dress", "princess", "tunic", "wrap"])
def test_what_the_facing_covers_is_taken_off(garment, edge):
    built = build("lining", garment)
    seams = [s for s in built.seams if "facing" in s.a[0].piece]
    assert seams
    for seam in seams:
        facing = next(p for p in built.changed if p.name == seam.a[0].piece)
        assert facing.edge("outer edge").kind is EdgeKind.SEAM and facing.edge("outer edge").allowance == 10.0
        piece = next(p for p in built.pieces if p.name == seam.b[0].piece)
        shell = garment.piece(piece.name.removesuffix(" lining"))
        # The lining lies where the facing does not, and together they are the garment's piece, but for the hem.
        rest = polygon(shell).difference(polygon(facing)).difference(polygon(piece))
        hem = polygon(shell).intersection(LineString([(p.real, p.imag) for p in shell.edge("hem").path.flatten()])
                                          .buffer(20.05)) if shell.has_edge("hem") else Polygon()
        assert rest.difference(hem).area < 2e-3 * shell.area
        assert polygon(piece).intersection(polygon(facing)).area < 2e-3 * shell.area
        walked = next(w for w in new_walks(built, garment) if w.seam == seam.name)
        assert len(walked.notches) == 1 and abs(walked.notches[0].offset) < 0.1
    kept = build("lining", garment, facings="on")
    assert not kept.changed
    assert any(s.name.endswith(f"{edge} to {s.a[0].piece}") for s in kept.seams)


def test_a_facing_that_was_drawn_elsewhere_is_found_on_its_piece():
    moved = [p.mapped(lambda z: z * cmath.rect(1, 0.7) + 300) if "facing" in p.name else p for p in DRESS.pieces]
    turned = [p.mirrored(0j, 1j) if "facing" in p.name else p for p in DRESS.pieces]
    here = build("lining", DRESS)
    there = build("lining", Garment(tuple(moved), DRESS.seams))
    assert [p.area for p in there.pieces] == pytest.approx([p.area for p in here.pieces], rel=1e-6)
    seams = tuple(s if "facing" not in s.name else replace(
        s, a=tuple(replace(r, reverse=r.reverse != ("facing" in r.piece)) for r in s.a),
        b=tuple(replace(r, reverse=r.reverse != ("facing" in r.piece)) for r in s.b)) for s in DRESS.seams)
    over = build("lining", Garment(tuple(turned), seams))
    assert [p.area for p in over.pieces] == pytest.approx([p.area for p in here.pieces], rel=1e-4)


def test_a_dart_in_a_faced_edge_goes_on_in_the_lining():
    darted = alter(DRESS, [Order("high round back", asked(14.0))]).garment
    dart = next(d for d in darted.piece("bodice back").darts if d.edge == "neck")
    faced = with_facing(darted, "neck")
    built = build("lining", faced)
    back = next(p for p in built.pieces if p.name == "bodice back lining")
    mine = next(d for d in back.darts if d.edge == "neck")
    assert mine.apex == dart.apex
    legs = [abs(back.edge("neck").path.point_at(at) - dart.apex) for at in (mine.start, mine.end)]
    whole = [abs(p - dart.apex) for p in darted.piece("bodice back").feet(dart)]
    assert legs[0] == pytest.approx(legs[1], abs=0.05) and whole[0] - legs[0] == pytest.approx(60.0, abs=8.0)
    assert mine.end - mine.start < dart.end - dart.start
    assert all(w.sews for w in new_walks(built, faced))
    seam = next(w for w in new_walks(built, faced) if w.seam == "bodice back lining to bodice back neck facing")
    assert seam.difference == pytest.approx(0.0, abs=0.05) and seam.notches[0].offset == pytest.approx(0.0, abs=0.1)
    assert not any(f.code == "facing-not-taken-off" for f in built.worked.findings)


def test_a_facing_that_fits_nowhere_is_told_and_left_on():
    facing = DRESS.piece("front neck facing")
    odd = DRESS.with_piece(facing.mapped(lambda z: z * 1.2))
    built = build("lining", odd)
    note = next(f for f in built.worked.findings if f.code == "facing-not-taken-off")
    assert "front neck facing" in note.text
    front = next(p for p in built.pieces if p.name == "bodice front lining")
    assert front.edge("neck").path == DRESS.piece("bodice front").edge("neck").path


@given(st.floats(5, 60))
@settings(max_examples=10, deadline=None)
def test_a_back_on_the_fold_gets_a_pleat(depth):
    garment = closed_back(DRESS)
    built = build("lining", garment, pleat=f"{depth:.3f} mm")
    flat = build("lining", garment, pleat="0")
    back, plain = (next(p for p in b.pieces if p.name == "bodice back lining") for b in (built, flat))
    centre = plain.edge("centre back").path
    assert back.edge("centre back").path.length == pytest.approx(centre.length)
    assert abs(back.edge("centre back").path.start - centre.start) == pytest.approx(depth, abs=1e-3)
    assert back.area - plain.area == pytest.approx(depth * centre.length, rel=1e-3)
    assert back.line("centre back pleat") == centre
    assert sorted(n.edge for n in back.notches if n.name == "centre back pleat") == ["neck", "waist"]
    for one, other in zip(new_walks(built, garment), new_walks(flat, garment), strict=True):
        assert one.sews and one.difference == pytest.approx(other.difference, abs=1e-3)
    assert any("pleat" in step for step in built.worked.steps)
    assert not any("pleat at the centre back" in step for step in flat.worked.steps)


def test_a_back_that_opens_has_none_and_it_is_said():
    built = build("lining", DRESS)
    assert any(f.code == "no-room-for-a-pleat" and "bodice back" in f.text for f in built.worked.findings)
    assert not any(m.name == "centre back pleat" for p in built.pieces for m in p.lines)


def test_lining_follows_the_altered_pieces():
    longer = alter(DRESS, [Order("waist in or out", asked(20.0))]).garment
    was, now = (build("lining", g) for g in (DRESS, longer))
    assert all(w.sews for w in new_walks(now, longer))
    assert sum(p.area for p in now.pieces) > sum(p.area for p in was.pieces) + 1000.0


def test_an_uneven_figure_is_lined_on_both_her_sides():
    uneven = alter(DRESS, [Order("shoulder slope", asked(8.0), {"side": "left"})]).garment
    built = build("lining", uneven)
    assert all(w.sews for w in new_walks(built, uneven))


def test_what_cannot_be_lined_is_refused_in_one_sentence():
    with pytest.raises(NameUnknown, match='did you mean "skirt front"'):
        build("lining", DRESS, pieces="skirt frnt")
    ties = Garment(tuple(p for p in DRESS.pieces if "tie" in p.name))
    with pytest.raises(InputError, match="name those that are to be"):
        build("lining", ties)
    with pytest.raises(InputError, match='"hem"'):
        build("lining", DRESS, hem="1 m")
