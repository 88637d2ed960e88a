"""Walking seams: lengths as sewn, what is allowed, notches, corners at the ends."""

from dataclasses import replace
from math import pi

import pytest

from toilewright.blocks.concert import concert_dress
from toilewright.errors import NameUnknown
from toilewright.geometry import Path
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.parts import Dart, Edge, Notch
from toilewright.pattern.piece import Piece
from toilewright.pattern.walk import walk


def box(name, width, height=50.0, darts=(), notches=()):
    corners = (0j, complex(width), complex(width, height), complex(0, height))
    return Piece(name, tuple(Edge(n, Path.line(corners[i], corners[(i + 1) % 4]))
                             for i, n in enumerate(("low", "right", "high", "left"))), darts, notches)


def one(a, b, **seam):
    sewn = Seam("seam", (EdgeRef(a.name, "high", reverse=True),), (EdgeRef(b.name, "low"),), **seam)
    return walk(Garment((a, b), (sewn,)))[0]


def test_plain_edges_of_one_length_sew():
    found = one(box("a", 100.0), box("b", 100.4))
    assert (found.length_a, found.length_b) == (100.0, 100.4)
    assert found.difference == pytest.approx(0.4)
    assert found.sews
    assert found.verdict == "sews"
    assert found.angles == pytest.approx((pi, pi))
    assert found.note == ""


def test_a_change_of_a_millimetre_and_a_half_is_noticed():
    found = one(box("a", 100.0), box("b", 101.5))
    assert found.verdict == "does not sew"
    assert "1.5 mm too long" in found.note
    assert "too short" in one(box("a", 100.0), box("b", 98.0)).note


def test_ease_has_a_least_and_a_most():
    for grown, sews in ((3.0, False), (5.0, True), (12.0, True), (15.0, False)):
        assert one(box("a", 100.0), box("b", 100.0 + grown), ease=(5.0, 12.0)).sews is sews


def test_gathers_may_differ_by_three_in_a_hundred():
    for length, sews in ((200.0, True), (205.0, True), (208.0, False), (192.0, False)):
        assert one(box("a", 100.0), box("b", length), ratio=2.0).sews is sews


def test_darts_are_closed():
    dart = Dart("waist dart", "low", 40.0, 60.0, 50 + 30j)
    found = one(box("a", 100.0), box("b", 120.0, darts=(dart,)))
    assert found.length_b == pytest.approx(100.0)
    assert found.sews


def test_notches_meet_or_are_told_apart():
    a = box("a", 100.0, notches=(Notch("side notch", "high", 70.0),))          # 30 mm from the start, as walked
    b = box("b", 100.0, notches=(Notch("side notch", "low", 33.0),))
    pair = one(a, b).notches[0]
    assert (pair.at_a, pair.at_b, pair.offset) == pytest.approx((30.0, 33.0, 3.0))


def test_an_edge_taken_twice_counts_twice():
    garment = Garment((box("a", 100.0), box("b", 200.0)),
                      (Seam("seam", (EdgeRef("a", "high", times=2),), (EdgeRef("b", "low"),)),))
    assert walk(garment)[0].length_a == 200.0


def test_a_corner_in_the_run_is_told():
    lean = box("a", 100.0)
    left = replace(lean.edge("left"), path=Path.line(50j, 20 + 0j))
    bent = replace(lean, edges=(replace(lean.edge("low"), path=Path.line(20 + 0j, 100 + 0j)), *lean.edges[1:3], left))
    assert "corner" in one(bent, box("b", 100.0)).note


def test_a_seam_of_a_missing_piece_offers_the_nearest():
    seam = Seam("seam", (EdgeRef("sleve", "low"),), (EdgeRef("sleeve", "high"),))
    garment = Garment((box("sleeve", 100.0),), (seam,))
    with pytest.raises(NameUnknown, match='did you mean "sleeve"'):
        walk(garment)


@pytest.mark.parametrize("size", ["1", "4", "10"])
def test_the_concert_dress_sews(size):
    for found in walk(concert_dress().at(size)):
        assert found.sews, found.seam
        if not found.seam.startswith("skirt tier"):
            assert all(abs(p.offset) < 0.1 for p in found.notches if p.name != "shoulder point"), found.seam
