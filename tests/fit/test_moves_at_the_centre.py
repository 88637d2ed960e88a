"""Cuts from the centre that leave it straight, wedges folded out, and edges that end in another direction: on paper."""

import cmath
from dataclasses import replace
from math import pi

import pytest

from toilewright.fit.moves.bow import ending_along
from toilewright.fit.moves.centre import open_at_centre, run_centre_on
from toilewright.fit.moves.ring import Place, point_of
from toilewright.fit.moves.wedge import fold_out, foot_beside, square_to
from toilewright.geometry.path import Path
from toilewright.pattern.parts import Dart, Edge, Grain
from toilewright.pattern.piece import Piece

CORNERS = (0j, 200 + 0j, 200 + 300j, 300j)
NAMES = ("bottom", "side", "top", "centre")
DART = Dart("dart", "side", 100.0, 120.0, 90 + 110j)
PAPER = Piece("paper", tuple(Edge(n, Path.line(CORNERS[i], CORNERS[(i + 1) % 4])) for i, n in enumerate(NAMES)),
              grain=Grain(60 + 20j, 60 + 120j))
CUT, HINGE = Place("centre", 100.0), Place("side", 200.0)


def other_hand(piece):
    return piece.mirrored(0j, 1j)


def mirrored_place(piece, place):
    return Place(place.edge, piece.edge(place.edge).path.length - place.at)


@pytest.mark.parametrize("hand", [False, True])
@pytest.mark.parametrize("edge", ["top", "bottom"])
@pytest.mark.parametrize("by", [12.0, -12.0])
def test_the_centre_gains_what_was_asked_and_stays_straight(hand, edge, by):
    piece = other_hand(PAPER) if hand else PAPER
    cut, hinge = (mirrored_place(PAPER, p) if hand else p for p in (CUT, HINGE))
    opened = open_at_centre(piece, cut, hinge, by, edge)
    centre = opened.piece.edge("centre").path
    assert centre.length == pytest.approx(300 + by)
    assert max(abs(p.real) for p in centre.flatten()) < 1e-9, "still on its line"
    assert opened.piece.edge("side").path.length == pytest.approx(300, abs=1e-6)
    other = "bottom" if edge == "top" else "top"
    assert opened.piece.edge(other).path == piece.edge(other).path
    assert opened.gained == pytest.approx(opened.piece.edge(edge).path.length - 200)
    assert opened.gained * by > 0, "swung out at the centre, the edge is drawn out to it; lapped, drawn in"
    path = opened.piece.edge(edge).path
    at_centre = path.end_tangent if abs(path.end.real) < 1e-9 else path.start_tangent
    assert abs(cmath.phase(at_centre * at_centre)) < 1e-9, "square to the centre, as it was"
    assert opened.piece.grain == PAPER.grain or hand or edge == "bottom"


def test_an_edge_is_drawn_to_a_longer_centre_from_its_other_end():
    longer = run_centre_on(PAPER, "centre", "bottom", 15.0)
    assert longer.edge("centre").path.length == pytest.approx(315)
    assert longer.edge("bottom").path.end == 200 + 0j
    assert longer.edge("side").path == PAPER.edge("side").path


@pytest.mark.parametrize("hand", [False, True])
def test_a_wedge_goes_to_the_dart(hand):
    piece = replace(PAPER, darts=(DART,))
    piece = other_hand(piece) if hand else piece
    dart = piece.dart("dart")
    fold = square_to(piece, "top", dart.apex)
    onto = foot_beside(piece, dart, fold, "centre")
    after, _ = fold_out(piece, fold, 10.0, dart.apex, onto, "centre")
    assert after.edge("top").path.length == pytest.approx(190, abs=0.01)
    assert after.edge("centre").path == piece.edge("centre").path
    feet = after.feet(after.dart("dart"))
    opened = abs(feet[0] - feet[1]) - 20
    assert 10 * 110 / 195 * 0.8 < opened < 10 * 110 / 185 * 1.2, "as far as its legs are shorter than the wedge"
    assert after.sewn_length("side") == pytest.approx(piece.sewn_length("side"))
    assert after.dart("dart").apex == pytest.approx(dart.apex)


def test_an_edge_lies_square_to_a_point_but_not_at_its_very_end():
    assert point_of(PAPER, square_to(PAPER, "top", 90 + 100j)) == pytest.approx(90 + 300j)
    assert point_of(PAPER, square_to(PAPER, "top", 10 + 100j)) == pytest.approx(50 + 300j)


def test_an_edge_ends_in_another_direction():
    line = Path.line(0j, 100 + 0j)
    bent = ending_along(line, cmath.rect(1, pi / 12), 40.0)
    assert bent.end == line.end
    assert cmath.phase(bent.end_tangent) == pytest.approx(pi / 12)
    assert bent.point_at(50.0) == pytest.approx(50.0)
