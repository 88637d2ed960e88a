"""The six moves on their own: hinges on the seam line, angles kept, edges that keep their lengths."""

import cmath

import pytest
from alter_kit import assert_whole, dress
from hypothesis import given, settings
from hypothesis import strategies as st

from toilewright.errors import AlterationError
from toilewright.fit.moves import Place, move_dart, slash_parallel, slash_spread, swing_dart
from toilewright.fit.moves.edges import bend, corner, ends_at, fair_joint, match_length, redraw_across, redraw_edge
from toilewright.fit.moves.ring import point_of
from toilewright.geometry import Affine, Path
from toilewright.pattern.truing import dart_legs, true_darts

FRONT = dress("4").piece("bodice front")
BACK = dress("4").piece("bodice back")


@settings(max_examples=20, deadline=None)
@given(share=st.floats(0.1, 0.9), angle=st.floats(0.01, 0.2))
def test_slash_and_spread_opens_at_the_cut_and_hinges_exactly(share, angle):
    cut = Place("centre back", BACK.edge("centre back").path.length * 0.3)
    hinge = Place("armhole", BACK.edge("armhole").path.length * share)
    sign = -1 if point_of(BACK, cut).real < point_of(BACK, hinge).real else 1
    carried = slash_spread(BACK, cut, hinge, sign * angle, "waist")
    after = carried.piece
    for edge in ("armhole", "shoulder", "neck", "waist", "side seam"):
        assert after.edge(edge).path.length == pytest.approx(BACK.edge(edge).path.length, abs=1e-6), edge
    opened = carried.at("centre back", cut.at, after=True) - carried.at("centre back", cut.at)
    radius = abs(point_of(BACK, cut) - point_of(BACK, hinge))
    assert opened == pytest.approx(2 * radius * abs(cmath.rect(1, angle / 2).imag), abs=1e-6)
    assert point_of(after, Place("armhole", carried.at("armhole", hinge.at))) == pytest.approx(
        point_of(BACK, hinge), abs=1e-6)
    assert after.edge("waist") is BACK.edge("waist")
    assert after.grain == BACK.grain


def test_slash_parallel_moves_what_lies_beyond_the_cut():
    one, other = Place("centre front", 320.0), Place("side seam", 40.0)
    after = slash_parallel(FRONT, one, other, -30j, "shoulder").piece
    assert after.edge("waist").path.end == FRONT.edge("waist").path.end - 30j
    assert after.landmark("side waist") == FRONT.landmark("side waist") - 30j
    assert after.landmark("underarm") == FRONT.landmark("underarm")
    assert after.dart("bust dart").apex == FRONT.dart("bust dart").apex
    assert after.dart("waist dart").apex == FRONT.dart("waist dart").apex
    assert after.sewn_length("waist") == pytest.approx(FRONT.sewn_length("waist"), abs=1e-9)


@settings(max_examples=20, deadline=None)
@given(share=st.floats(0.2, 0.8), edge=st.sampled_from(["shoulder", "armhole", "neck"]))
def test_a_swung_dart_keeps_its_angle_and_every_sewn_edge(share, edge):
    def angle(piece, name):
        dart = piece.dart(name)
        first, second = piece.feet(dart)
        return abs(cmath.phase((second - dart.apex) / (first - dart.apex)))

    onto = Place(edge, FRONT.edge(edge).path.length * share)
    after = swing_dart(FRONT, "bust dart", onto, "new dart", "centre front")
    assert angle(after, "new dart") == pytest.approx(angle(FRONT, "bust dart"), abs=1e-9)
    assert "bust dart" not in [d.name for d in after.darts]
    for other in FRONT.edges:
        assert after.sewn_length(other.name) == pytest.approx(FRONT.sewn_length(other.name), abs=1e-6), other.name
    assert dart_legs(after, after.dart("new dart")) == pytest.approx(
        (abs(point_of(FRONT, onto) - after.dart("new dart").apex),) * 2, abs=1e-6)


def test_a_dart_whose_point_moves_keeps_its_mouth():
    apex = FRONT.dart("bust dart").apex + 12 + 3j
    after = true_darts(move_dart(FRONT, "bust dart", apex))
    assert_whole(after)
    assert after.dart("bust dart").apex == apex
    assert sum(after.feet(after.dart("bust dart"))) == pytest.approx(sum(FRONT.feet(FRONT.dart("bust dart"))), abs=1e-3)


def test_bending_keeps_ends_directions_and_smooth_joints():
    path = BACK.edge("armhole").path
    shift = Affine.shift(3 - 8j)
    bent = bend(path, Affine(), shift)
    assert bent.start == path.start
    assert bent.end == path.end + 3 - 8j
    assert bent.start_tangent == pytest.approx(path.start_tangent)
    assert bent.end_tangent == pytest.approx(path.end_tangent)
    joint = bent.lengths[1]
    assert bent.tangent_at(joint - 1e-6) == pytest.approx(bent.tangent_at(joint + 1e-6), abs=1e-4)
    undone = bend(bent, Affine(), Affine.shift(-3 + 8j))
    assert max(abs(a - b) for a, b in zip(path.nodes, undone.nodes, strict=True)) < 0.2


def test_a_faired_joint_keeps_the_length_and_loses_the_corner():
    path = Path.polyline([0j, 100 + 0j, 200 + 12j])
    fair = fair_joint(path, 100.0, 70.0, 130.0)
    assert fair.length == pytest.approx(path.length, abs=1e-4)
    turns = [abs(cmath.phase(fair.tangent_at(s + 1) / fair.tangent_at(s))) for s in range(1, 198)]
    assert max(turns) < 0.02
    assert fair.start_tangent == path.start_tangent


def test_an_edge_made_to_measure_slides_its_corner_only():
    after = match_length(FRONT, "side seam", "waist", FRONT.sewn_length("side seam") + 0.8)
    assert after.sewn_length("side seam") == pytest.approx(FRONT.sewn_length("side seam") + 0.8, abs=1e-5)
    assert after.edge("armhole") is FRONT.edge("armhole")
    assert abs(after.landmark("side waist") - FRONT.landmark("side waist")) == pytest.approx(0.8, abs=0.01)
    assert corner(after, "side seam", "waist") == after.landmark("side waist")


def test_a_straight_edge_is_straight_again_across_a_cut():
    carried = slash_parallel(FRONT, Place("centre front", 320.0), Place("side seam", 40.0), -30j, "shoulder")
    gap = (carried.at("side seam", 40.0), carried.at("side seam", 40.0, after=True))
    after = redraw_edge(carried.piece, redraw_across(carried.piece, "side seam", *gap))
    dart = after.dart("bust dart")
    run = after.edge("side seam").path.sub(0.0, dart.start)
    assert run.length == pytest.approx(abs(run.end - run.start), abs=1e-9)


def test_edges_that_do_not_meet_are_told():
    assert ends_at(FRONT, "waist", "side seam") != ends_at(FRONT, "side seam", "waist")
    with pytest.raises(AlterationError, match="meet in a corner"):
        ends_at(FRONT, "waist", "neck")
