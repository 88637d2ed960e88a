"""Neck and shoulder against what the handbooks agree on: what grows, by how much, and what stays.

Sources: New Mexico State University Cooperative Extension C-228; Texas AgriLife Extension E-372; Liechty,
Pottberg-Steineckert and Rasband (1992), from memory.
"""

import cmath
from dataclasses import replace
from math import pi

import pytest
from alter_kit import altered, assert_whole, dress, made, order
from canon_kit import block, most_that_fits

from toilewright.errors import AlterationError
from toilewright.fit.alterations import alter
from toilewright.fit.flat import flat_of
from toilewright.fit.frame import down
from toilewright.fit.moves.edges import corner
from toilewright.geometry.point import dot
from toilewright.pattern.truing import run_angle

FRONT, BACK = "bodice front", "bodice back"
SIZES = pytest.mark.parametrize("size", ["1", "5", "10"])


def change(before, after, piece, edge):
    return after.piece(piece).sewn_length(edge) - before.piece(piece).sewn_length(edge)


def changes(before, after, piece):
    """Edges of a piece that have another length, and by how much (mm)."""
    found = {e.name: change(before, after, piece, e.name) for e in before.piece(piece).edges}
    return {name: by for name, by in found.items() if abs(by) > 0.05}


def width(piece, name):
    first, second = piece.feet(piece.dart(name))
    return abs(second - first)


def moved(before, after, piece, edge, other):
    """How a corner has moved, on a piece that has not been turned."""
    return corner(after.piece(piece), edge, other) - corner(before.piece(piece), edge, other)


def flat(garment, name):
    return flat_of(garment).lengths[name].value


# -- round and erect upper back ----------------------------------------------------------------------


@SIZES
@pytest.mark.parametrize("takes_up", ["shoulder dart", "neck dart"])
def test_rounded_upper_back(size, takes_up):
    """The high round back's cut lower, at the blade; a shoulder dart grows (C-228, E-372)."""
    before = dress(size)
    found = altered(before, "rounded upper back", 14.0, **{"takes up": takes_up})
    after = found.garment
    assert changes(before, after, BACK) == {"centre back": pytest.approx(14.0)}
    assert changes(before, after, FRONT) == {}
    assert 5.0 < width(after.piece(BACK), takes_up) < 16.0
    assert after.piece(BACK).grain == before.piece(BACK).grain
    assert after.piece(FRONT) is before.piece(FRONT)


def test_the_blade_lies_lower_than_the_hump():
    def level(name):
        card = altered(dress(), name, 12.0).done[0].card
        return float(card.steps[0].split("measure {")[1].split(" ")[0])
    assert level("rounded upper back") > level("high round back") + 30


@pytest.mark.parametrize("dart", ["shoulder dart", "neck dart"])
def test_a_dart_that_is_there_grows_and_shrinks(dart):
    first = made(dress(), "high round back", 14.0, **{"takes up": dart})
    grown = made(first, "rounded upper back", 10.0)
    assert changes(first, grown, BACK) == {"centre back": pytest.approx(10.0)}
    assert width(grown.piece(BACK), dart) > width(first.piece(BACK), dart) + 3
    assert len(grown.piece(BACK).darts) == len(first.piece(BACK).darts)
    shrunk = made(grown, "erect back", 10.0)
    assert changes(grown, shrunk, BACK) == {"centre back": pytest.approx(-10.0)}
    assert width(shrunk.piece(BACK), dart) < width(grown.piece(BACK), dart) - 2
    for garment in (first, grown, shrunk):
        assert_whole(garment.piece(BACK))


@SIZES
def test_erect_back_without_a_dart_draws_the_neck_in_and_the_facing_with_it(size):
    before = dress(size)
    after = made(before, "erect back", 12.0)
    found = changes(before, after, BACK)
    assert found["centre back"] == pytest.approx(-12.0)
    assert found["neck"] == change(before, after, "back neck facing", "neck") < -2.0
    assert set(found) == {"centre back", "neck"}
    along = after.piece(BACK).edge("centre back").path
    assert cmath.phase(along.end_tangent / before.piece(BACK).edge("centre back").path.end_tangent) == pytest.approx(0)


def test_a_dart_cannot_give_what_it_does_not_hold():
    with pytest.raises(AlterationError, match='leave "takes up" out'):
        altered(dress(), "erect back", 10.0, **{"takes up": "shoulder dart"})


@pytest.mark.parametrize(("name", "other"), [
    ("rounded upper back", "erect back"), ("erect back", "rounded upper back"),
    ("neckline gaping front", "neckline width"), ("neckline gaping back", "neckline width")])
def test_the_opposite_is_another_alteration(name, other):
    with pytest.raises(AlterationError, match=f'"{other}"'):
        altered(dress(), name, -8.0)


# -- shoulders ---------------------------------------------------------------------------------------


@SIZES
@pytest.mark.parametrize("amount", [10.0, -7.0])
def test_square_and_sloping_shoulders(size, amount):
    """The tip goes up or down, the armhole with it: the sleeve fits as before (C-228, E-372)."""
    before = dress(size)
    after = made(before, "shoulder slope", amount)
    for piece in (FRONT, BACK):
        found = changes(before, after, piece)
        assert set(found) <= {"side seam", "waist"}
        assert abs(found.get("waist", 0.0)) < 0.3
        way = down(before.piece(piece))
        assert -dot(moved(before, after, piece, "shoulder", "armhole"), way) == pytest.approx(amount)
        assert 0.6 < -dot(moved(before, after, piece, "armhole", "side seam"), way) / amount < 1.0
        assert moved(before, after, piece, "shoulder", "neck") == 0
    assert after.piece("sleeve") is before.piece("sleeve")
    assert (flat(after, "shoulder slope back") - flat(before, "shoulder slope back")) * amount < 0


@pytest.mark.parametrize("side", ["left", "right"])
def test_one_shoulder_lower(side):
    before = dress()
    found = altered(before, "one shoulder lower", 9.0, side=side)
    assert all(w.sews for w in found.walks), [w.note for w in found.walks]
    other = "right" if side == "left" else "left"
    low, kept = (found.garment.piece(f"bodice back {s}").landmark("shoulder tip").imag for s in (side, other))
    assert kept - low == pytest.approx(9.0)
    assert found.garment.piece(f"bodice back {other}").area == pytest.approx(before.piece(BACK).area)
    assert found.garment.piece(FRONT).area < 2 * before.piece(FRONT).area


def test_one_shoulder_lower_asks_which():
    with pytest.raises(AlterationError, match='side = "left" or side = "right"'):
        altered(dress(), "one shoulder lower", 9.0)


def test_pieces_of_other_names():
    renamed = replace(dress(), seams=(), pieces=tuple(
        replace(p, name=p.name.replace("bodice", "tunic")) for p in dress().pieces))
    asked = {"front": "tunic front", "back": "tunic back"}
    for name in ("forward neck", "forward shoulder", "shoulder width", "shoulder slope", "neckline width"):
        assert set(altered(renamed, name, 6.0, **asked).done[0].changed) >= set(asked.values())
        with pytest.raises(AlterationError, match="bodice"):
            altered(renamed, name, 6.0)


@pytest.mark.parametrize("amount", [9.0, -6.0])
def test_shoulders_divided_by_a_princess_seam(amount):
    before = block("princess dress")
    found = altered(before, "shoulder slope", amount)
    after = found.garment
    assert all(w.sews for w in found.walks), [(w.seam, w.note) for w in found.walks if not w.sews]
    for side in ("front", "back"):
        panel, centre = f"bodice side {side}", f"bodice {side}"
        way = down(before.piece(panel))
        rise, at_seam, beside = (-dot(moved(before, after, *corner_), way) / amount for corner_ in (
            (panel, "shoulder", "armhole"), (panel, "shoulder", "princess seam"),
            (centre, "shoulder", "princess seam")))
        assert rise == pytest.approx(1.0)
        assert at_seam == pytest.approx(beside, abs=0.1) == pytest.approx(0.5, abs=0.1)
        assert set(changes(before, after, panel)) <= {"side seam", "princess seam", "waist"}
        assert change(before, after, panel, "armhole") == pytest.approx(0, abs=0.01)
        assert moved(before, after, centre, "shoulder", "neck") == 0
    assert after.piece("sleeve") is before.piece("sleeve")


@pytest.mark.parametrize("amount", [10.0, -7.0])
def test_a_forward_shoulder_past_a_princess_seam(amount):
    before = block("princess dress")
    found = altered(before, "forward shoulder", amount)
    after = found.garment
    assert all(w.sews for w in found.walks), [(w.seam, w.note) for w in found.walks if not w.sews]
    for side, by in (("front", -amount), ("back", amount)):
        assert change(before, after, f"bodice side {side}", "armhole") == pytest.approx(by, abs=0.01)
        at_seam = change(before, after, f"bodice {side}", "princess seam")
        assert 0.35 < at_seam / by < 0.6, "half of the shoulder away from the neck"
        assert moved(before, after, f"bodice {side}", "shoulder", "neck") == 0
    with pytest.raises(AlterationError, match='"forward neck"'):
        altered(before, "forward shoulder", amount, neck="parallel")


def test_the_armhole_runs_as_smoothly_over_a_square_shoulder():
    def run(garment):
        return run_angle(garment.piece(FRONT), "shoulder", "armhole", garment.piece(BACK), "shoulder", "armhole")
    assert run(made(dress(), "shoulder slope", 12.0)) == pytest.approx(run(dress()), abs=0.02)
    assert run(dress()) == pytest.approx(pi, abs=0.05)


@SIZES
@pytest.mark.parametrize("amount", [12.0, -10.0])
def test_broad_and_narrow_shoulders(size, amount):
    """Cut from the middle of the shoulder, hinged on the armhole (C-228, E-372)."""
    before = dress(size)
    after = made(before, "shoulder width", amount)
    for piece in (FRONT, BACK):
        assert changes(before, after, piece) == {"shoulder": pytest.approx(amount, abs=0.02)}
        assert moved(before, after, piece, "armhole", "side seam") == 0
    assert after.piece("sleeve") is before.piece("sleeve")
    assert flat(after, "shoulder front") - flat(before, "shoulder front") == pytest.approx(amount, abs=0.02)


@pytest.mark.parametrize("size", ["1", "5"])
@pytest.mark.parametrize("amount", [9.0, -8.0])
def test_forward_neck(size, amount):
    before = dress(size)
    after = made(before, "forward neck", amount)
    for piece, by, centre in ((FRONT, -amount, "centre front"), (BACK, amount, "centre back")):
        found = changes(before, after, piece)
        assert found.pop(centre) == pytest.approx(by)
        assert abs(found.pop("neck", 0.0)) < 0.35 * abs(amount)
        assert found == {}
        assert moved(before, after, piece, "shoulder", "armhole") == 0
        point = moved(before, after, piece, "shoulder", "neck")
        assert abs(point) == pytest.approx(abs(amount), rel=0.01)
        assert dot(point, down(before.piece(piece))) * by < 0
    lost, gained = (change(before, after, f"{side} neck facing", "neck") for side in ("front", "back"))
    assert (lost, gained) == tuple(pytest.approx(change(before, after, p, "neck"), abs=0.05) for p in (FRONT, BACK))


# -- necklines ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("amount", [14.0, -25.0])
@pytest.mark.parametrize(("where", "pieces"), [("front", (FRONT,)), ("back", (BACK,)), ("both", (FRONT, BACK))])
def test_neckline_height(amount, where, pieces):
    before = dress()
    after = made(before, "neckline height", amount, where=where)
    for piece in pieces:
        found = changes(before, after, piece)
        assert found.pop(f"centre {piece.split()[1]}") == pytest.approx(amount)
        assert found.pop("neck") * amount < 0
        assert found == {}
        assert moved(before, after, piece, "neck", "shoulder") == 0
        neck = after.piece(piece).edge("neck").path
        assert abs(dot(neck.end_tangent, down(before.piece(piece)))) < 1e-6, "square to the centre"
        facing = f"{piece.split()[1]} neck facing"
        assert change(before, after, facing, "neck") == pytest.approx(change(before, after, piece, "neck"), abs=0.05)
    assert {p for p in (FRONT, BACK) if after.piece(p) is before.piece(p)} == {FRONT, BACK} - set(pieces)


@pytest.mark.parametrize("amount", [20.0, -9.0])
def test_neckline_width(amount):
    before = dress()
    after = made(before, "neckline width", amount)
    for piece in (FRONT, BACK):
        assert change(before, after, piece, "shoulder") == pytest.approx(-amount, abs=1e-6)
        assert change(before, after, piece, "armhole") == 0
        assert moved(before, after, piece, "neck", f"centre {piece.split()[1]}") == 0
        assert moved(before, after, piece, "shoulder", "armhole") == 0
    assert (flat(after, "neck width") - flat(before, "neck width")) * amount > 0.8 * amount * amount


@SIZES
def test_a_neckline_is_widened_as_far_as_its_facing_has_room(size):
    with pytest.raises(AlterationError, match="the most that fits is"):
        altered(dress(size), "neckline width", 90.0)
    before = dress("1")
    after = made(before, "neckline width", 57.0)
    assert after.piece("back neck facing").edge("shoulder").path.length == pytest.approx(60.0, abs=0.6)


@SIZES
@pytest.mark.parametrize("amount", [4.0, 11.0])
def test_a_neckline_that_gapes_in_front_goes_to_the_bust_dart(size, amount):
    before = dress(size)
    after = made(before, "neckline gaping front", amount)
    assert changes(before, after, FRONT) == {"neck": pytest.approx(-amount, abs=0.05)}
    new, old = (width(g.piece(FRONT), "bust dart") for g in (after, before))
    assert 0.3 * amount < new - old < 0.9 * amount
    assert after.piece(FRONT).edge("centre front") == before.piece(FRONT).edge("centre front")
    assert after.piece(FRONT).dart("bust dart").apex == pytest.approx(before.piece(FRONT).dart("bust dart").apex)
    assert after.piece(BACK) is before.piece(BACK)


def test_a_front_without_a_bust_dart_gives_it_to_the_waist_dart():
    front = dress().piece(FRONT)
    before = dress().with_piece(replace(front, darts=tuple(d for d in front.darts if d.name == "waist dart")))
    after = made(replace(before, seams=()), "neckline gaping front", 8.0)
    assert width(after.piece(FRONT), "waist dart") > width(front, "waist dart") + 3
    assert change(before, after, FRONT, "neck") == pytest.approx(-8.0, abs=0.05)
    assert_whole(after.piece(FRONT))


@pytest.mark.parametrize(("amount", "dart"), [(8.0, True), (3.0, False)])
def test_a_neckline_that_gapes_behind_goes_to_the_shoulder(amount, dart):
    before = dress()
    found = altered(before, "neckline gaping back", amount)
    lengths = changes(before, found.garment, BACK)
    assert lengths.pop("neck") == pytest.approx(-amount, abs=0.05)
    assert any(d.name == "shoulder dart" for d in found.garment.piece(BACK).darts) == dart
    assert (lengths == {}) == dart, "what is not sewn into a dart is eased onto the front"
    assert all(w.sews for w in found.walks)
    assert found.garment.piece(FRONT) is before.piece(FRONT)


def test_a_shoulder_dart_that_is_there_takes_the_gape():
    first = made(dress(), "rounded upper back", 12.0)
    after = made(first, "neckline gaping back", 6.0)
    assert changes(first, after, BACK) == {"neck": pytest.approx(-6.0, abs=0.1)}
    assert width(after.piece(BACK), "shoulder dart") > width(first.piece(BACK), "shoulder dart") + 2


@pytest.mark.parametrize("amount", [9.0, 12.0])
def test_a_gape_is_not_folded_out_through_a_dart_of_the_neck(amount):
    """Beside a neck dart there is only so much room; a wedge that reached into it took far more than was asked."""
    first = alter(dress(), [order("high round back", 30.0, **{"takes up": "neck dart"}),
                            order("neckline gaping back", amount)]).garment
    with pytest.raises(AlterationError, match="through a dart of the neck; the most that fits is") as refused:
        made(first, "neckline gaping back", amount)
    most = most_that_fits(refused.value)
    assert 2.0 < most < amount
    after = made(first, "neckline gaping back", most - 0.6)  # it is told in tenths of a centimetre
    assert change(first, after, BACK, "neck") == pytest.approx(0.6 - most, abs=0.5)
    assert width(after.piece(BACK), "neck dart") == pytest.approx(width(first.piece(BACK), "neck dart"), abs=0.1)


# -- together ----------------------------------------------------------------------------------------


def test_all_of_them_in_one_row_still_sew():
    found = alter(dress(), [
        order("forward neck", 6.0), order("square shoulders", 6.0), order("broad shoulders", 5.0),
        order("rounded upper back", 10.0), order("forward shoulder", 6.0), order("lower neckline", 10.0),
        order("neckline gaping front", 5.0)])
    assert all(w.sews for w in found.walks), [(w.seam, w.note) for w in found.walks if not w.sews]
    for piece in found.garment.pieces:
        assert_whole(piece)


def test_a_pattern_without_its_edges_is_told_what_would_serve():
    with pytest.raises(AlterationError, match=r'needs a piece called "bodice back".*"back length"'):
        altered(block("choir trousers"), "rounded upper back", 8.0)
