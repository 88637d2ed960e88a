"""Sizes that do not correspond are found, named, and do not stop the others."""

from dataclasses import replace

import pytest
from raw_builders import raw_pattern

from toilewright.blocks.concert import concert_dress
from toilewright.errors import InputError, NameUnknown
from toilewright.geometry import Path
from toilewright.intake.assemble import build_pattern
from toilewright.intake.correspond import correspond
from toilewright.intake.labels import guess_labels
from toilewright.pattern import Pattern

DRESS = concert_dress()
SIZES = ("2", "3", "4", "5", "6")
FRONT = Pattern("front", SIZES, tuple(replace(DRESS.at(s), pieces=(DRESS.at(s).piece("bodice front"),)) for s in SIZES))
RAW = raw_pattern(FRONT)


def changed(size, **fields):
    """The front with one size drawn otherwise."""
    return replace(RAW, pieces=(tuple(replace(p, **fields) if p.size == size else p for p in RAW.pieces[0]),))


def drawn(size):
    return next(p for p in RAW.pieces[0] if p.size == size)


def built(raw):
    return build_pattern(raw, guess_labels(RAW))


def with_node(path, s, aside):
    """A kink of `aside` mm at an arc length."""
    a, b = path.split(s)
    out = -a.end_tangent * 1j * aside
    kink = Path.polyline((a.point_at(a.length - 30), a.end + out, b.point_at(30)))
    return Path.joined([a.split(a.length - 30)[0], kink, b.split(30)[1]])


def edge_of(size, name):
    raw, was = drawn(size), FRONT.at(size).piece("bodice front").edge(name).path
    return raw.outline.nearest(was.point_at(was.length / 2))[0]


def test_good_sizes_have_equal_corners_in_one_order():
    nest = correspond(RAW.pieces[0])
    assert nest.findings == () and [len(r.corners) for r in nest.rings] == [6] * 5
    for one, other in zip(nest.rings, nest.rings[1:], strict=False):
        for a, b in zip(one.corners, other.corners, strict=True):
            assert abs(a.at - b.at) < 30


def test_the_ring_may_start_anywhere():
    path = drawn("4").outline
    a, b = path.split(edge_of("4", "armhole"))
    pattern, findings = built(changed("4", outline=Path.joined([b, a])))
    assert findings == ()
    now, was = (p.at("4").piece("bodice front") for p in (pattern, FRONT))
    for edge in was.edges:
        assert now.edge(edge.name).path.length == pytest.approx(edge.path.length, abs=0.01)


def test_an_extra_soft_corner_in_one_size_is_passed_over():
    bent = with_node(drawn("4").outline, edge_of("4", "centre front"), 4.0)
    assert len(correspond(changed("4", outline=bent).pieces[0]).rings[2].corners) == 6
    pattern, findings = built(changed("4", outline=bent))
    assert {f.code for f in findings} <= {"edge-differs"}
    assert pattern.at("4").piece("bodice front").edge("side seam").path.length == pytest.approx(
        FRONT.at("4").piece("bodice front").edge("side seam").path.length, abs=0.05)


def test_an_extra_sharp_corner_is_reported_with_its_size():
    bent = with_node(drawn("4").outline, edge_of("4", "centre front"), 40.0)
    _, findings = built(changed("4", outline=bent))
    found = next(f for f in findings if f.code == "corner-extra")
    assert (found.piece, found.size, found.asked) == ("bodice front", "4", 6.0)
    assert "Size 4" in found.text and "shows 9 corners where other sizes show 6" in found.text


def test_a_corner_that_is_missing_is_put_where_the_others_have_it():
    outline = drawn("4").outline
    tip = next(c for c in correspond(RAW.pieces[0]).rings[2].corners if abs(c.at - FRONT.at("4").piece(
        "bodice front").landmark("shoulder tip")) < 30)
    a, b = outline.nearest(tip.at)[0] - 25, outline.nearest(tip.at)[0] + 25
    head, tail = outline.split(b)[0].split(a)[0], outline.split(b)[1]
    way_in, way_out = head.end_tangent * 18, tail.start_tangent * 18
    rounded = Path.joined([head, Path.cubic(head.end, head.end + way_in, tail.start - way_out, tail.start), tail])
    pattern, findings = built(changed("4", outline=rounded))
    found = next(f for f in findings if f.code == "corner-missing")
    assert found.size == "4" and "5 corners where other sizes show 6" in found.text
    was = FRONT.at("4").piece("bodice front")
    assert abs(pattern.at("4").piece("bodice front").landmark("underarm") - was.landmark("underarm")) < 0.1


def test_missing_marks_are_reported_with_size_and_edge():
    _, findings = built(changed("5", darts=drawn("5").darts[:1], notches=drawn("5").notches[:1]))
    assert {(f.code, f.size, f.edge) for f in findings} >= {("dart-missing", "5", "side seam"),
                                                           ("notch-missing", "5", "side seam")}


def test_the_same_slip_in_several_sizes_is_told_once():
    raw = replace(RAW, pieces=(tuple(replace(p, notches=p.notches[:1]) if p.size in ("2", "6") else p
                                     for p in RAW.pieces[0]),))
    found = [f for f in built(raw)[1] if f.code == "notch-missing"]
    assert len(found) == 1 and "Size 2 of" in found[0].text and found[0].text.endswith("(Likewise size 6.)")


def test_an_edge_that_leaves_the_run_of_sizes_is_reported():
    taller = drawn("4").outline.mapped(lambda p: complex(p.real, p.imag * 1.25))
    _, findings = built(changed("4", outline=taller, notches=(), darts=()))
    assert {f.size for f in findings if f.code == "edge-differs"} == {"4"}


def test_a_piece_missing_in_one_size_leaves_the_others():
    raw = replace(RAW, pieces=((*RAW.pieces[0][:2], None, *RAW.pieces[0][3:]),))
    pattern, findings = built(raw)
    assert [f.code for f in findings] == ["size-missing"] and findings[0].size == "4"
    assert [g.has("bodice front") for g in pattern.garments] == [True, True, False, True, True]


def test_labels_of_another_sheet_are_refused():
    labels = guess_labels(RAW)
    with pytest.raises(NameUnknown, match='no piece called "pocket"'):
        build_pattern(RAW, replace(labels, pieces=(replace(labels.pieces[0], printed="pocket"),)))
    with pytest.raises(NameUnknown, match='no size called "44"'):
        build_pattern(RAW, replace(labels, sizes=(("44", "44"),)))
    with pytest.raises(InputError, match="list all of them"):
        build_pattern(RAW, replace(labels, sizes=labels.sizes[1:]))
    with pytest.raises(InputError, match="should have 4 edges by the labels, but its outline has 6 corners"):
        build_pattern(RAW, replace(labels, pieces=(replace(labels.pieces[0], edges=labels.pieces[0].edges[:4]),)))
    with pytest.raises(InputError, match="name 1 darts"):
        build_pattern(RAW, replace(labels, pieces=(replace(labels.pieces[0], darts=("waist dart",)),)))
