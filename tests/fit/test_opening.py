"""Cuts opened and lapped on a square of paper, checked by plain geometry."""

import pytest

from toilewright.errors import GeometryError
from toilewright.fit.moves.opening import open_cut, open_right_across
from toilewright.fit.moves.ring import Place
from toilewright.geometry.path import Path
from toilewright.pattern.parts import Edge, EdgeKind
from toilewright.pattern.piece import Piece

CORNERS = (0j, 100 + 0j, 100 + 100j, 100j)
NAMES = ("bottom", "right", "top", "left")
PAPER = Piece("paper", tuple(Edge(n, Path.line(CORNERS[i], CORNERS[(i + 1) % 4]), EdgeKind.SEAM)
                             for i, n in enumerate(NAMES)))
BOTTOM, TOP = Place("bottom", 50.0), Place("top", 50.0)


@pytest.mark.parametrize("stays", ["right", "left"])
@pytest.mark.parametrize("by", [8.0, -8.0])
def test_a_cut_to_a_hinge_opens_as_far_as_asked_and_the_far_edge_keeps_its_length(stays, by):
    after, carried = open_cut(PAPER, BOTTOM, TOP, by, stays)
    near, far = carried.at("bottom", 50.0), carried.at("bottom", 50.0, after=True)
    lips = abs(carried.piece.edge("bottom").path.point_at(near) - carried.piece.edge("bottom").path.point_at(far))
    assert lips == pytest.approx(8.0, abs=1e-6)
    assert (after.area - PAPER.area) * by > 0
    assert after.edge("top").path.length == pytest.approx(100.0, abs=0.01)
    assert after.edge(stays).path == PAPER.edge(stays).path


@pytest.mark.parametrize("stays", ["right", "left"])
@pytest.mark.parametrize("by", [8.0, -8.0])
@pytest.mark.parametrize("cuts", [(BOTTOM, TOP), (TOP, BOTTOM)])
def test_a_cut_right_across_moves_the_parts_apart(stays, by, cuts):
    after, _ = open_right_across(PAPER, *cuts, by, stays)
    assert after.area == pytest.approx(PAPER.area + 100 * by)
    assert after.edge("top").path.length == pytest.approx(100 + by)
    assert after.edge(stays).path == PAPER.edge(stays).path


def test_a_direction_can_be_told():
    after, _ = open_right_across(PAPER, BOTTOM, TOP, 10.0, "left", 1j)
    assert after.edge("right").path.start == 100 + 10j


def test_a_cut_does_not_open_farther_than_it_is_long_twice():
    with pytest.raises(GeometryError, match="does not open by 25"):
        open_cut(PAPER, BOTTOM, TOP, 250.0, "left")
