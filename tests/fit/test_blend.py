"""Blended sizes: smooth along the seam, between their sizes, and still sewn together."""

import cmath
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from toilewright.blocks.chart import body_of as chart_body
from toilewright.blocks.concert import concert_dress
from toilewright.body import body_of
from toilewright.errors import GeometryError, InputError, NameUnknown
from toilewright.fit.between import between, mixed
from toilewright.fit.blend import blend, size_place
from toilewright.fit.ease import measure_ease
from toilewright.geometry import Path
from toilewright.pattern import Pattern
from toilewright.pattern.truing import dart_legs
from toilewright.pattern.walk import walk

DRESS = concert_dress()
SIZES = st.sampled_from(DRESS.sizes)
MIDDLE = st.sampled_from(DRESS.sizes[2:6])


def girths(garment):
    body = body_of("x", chart_body("4"))
    return {row.place: row.garment.value for row in measure_ease(garment, body)}


@settings(max_examples=10, deadline=None)
@given(SIZES)
def test_equal_sizes_are_the_straight_size(size):
    assert blend(DRESS, {"bust": size, "waist": size, "hip": size}) is DRESS.at(size)
    assert blend(DRESS, {"hip": size}) is DRESS.at(size)


@settings(max_examples=15, deadline=None)
@given(MIDDLE, MIDDLE, MIDDLE)
def test_each_place_has_the_girth_of_its_size(bust, waist, hip):
    got = girths(blend(DRESS, {"bust": bust, "waist": waist, "hip": hip}))
    # Below the underarm a ruled side seam runs on to the waist's size, so a quarter of that shows at the bust line.
    off = girths(DRESS.at(waist))["waist"] - girths(DRESS.at(bust))["waist"]
    assert abs(got["bust"] - girths(DRESS.at(bust))["bust"]) <= 0.3 * abs(off) + 0.5
    # Truing leans the waist beside the darts a little.
    assert got["waist"] == pytest.approx(girths(DRESS.at(waist))["waist"], abs=3.0)
    assert got["hip"] == pytest.approx(girths(DRESS.at(hip))["hip"], abs=1.0)
    assert got["upper arm"] == pytest.approx(girths(DRESS.at(bust))["upper arm"], abs=1e-6)
    assert got["shoulder"] == pytest.approx(girths(DRESS.at(bust))["shoulder"], abs=1e-6)
    assert got["back length"] == pytest.approx(girths(DRESS.at(bust))["back length"], abs=0.1)


PLACES = st.floats(2, 5).map(lambda p: str(round(p + 1, 2)))


@settings(max_examples=20, deadline=None)
@given(PLACES, PLACES, PLACES)
def test_every_seam_still_sews(bust, waist, hip):
    garment = blend(DRESS, {"bust": bust, "waist": waist, "hip": hip})
    for seam in walk(garment):
        assert seam.sews, seam
        if seam.seam in ("side seam", "skirt side seam", "waist", "waistband", "underarm", "neck facing"):
            assert abs(seam.difference) < 0.1, seam
        if seam.seam in ("side seam", "skirt side seam"):
            assert all(abs(pair.offset) < 0.5 for pair in seam.notches), seam
    for piece in garment.pieces:
        assert piece.area > 0
        for dart in piece.darts:
            first, second = dart_legs(piece, dart)
            assert first == pytest.approx(second, abs=0.05)


@settings(max_examples=10, deadline=None)
@given(st.sampled_from(DRESS.sizes[:8]), st.floats(0.05, 0.95))
def test_between_two_sizes_lies_between_them(size, share):
    low = DRESS.sizes.index(size)
    garment = blend(DRESS, {"bust": f"{low + 1 + share:.4f}"})
    small, large, got = girths(DRESS.garments[low]), girths(DRESS.garments[low + 1]), girths(garment)
    for where in ("bust", "waist", "hip", "upper arm", "back length"):
        assert got[where] == pytest.approx(small[where] + share * (large[where] - small[where]), abs=0.6)


def test_a_blend_is_smooth_where_the_sizes_are():
    side = blend(DRESS, {"bust": "4", "waist": "4", "hip": "6"}).piece("skirt front").edge("side seam").path
    joint = side.lengths[1]
    before, after = side.tangent_at(joint - 1e-6), side.tangent_at(joint + 1e-6)
    assert abs(cmath.phase(after / before)) < 0.02
    xs = [side.point_at(side.length * k / 40).real for k in range(41)]
    assert xs == sorted(xs, reverse=True)


def test_the_centre_stays_on_the_fold():
    for name in ("bodice front", "bodice back", "skirt front", "skirt back"):
        piece = blend(DRESS, {"bust": "3", "waist": "5", "hip": "6"}).piece(name)
        centre = piece.edge("centre front" if "front" in name else "centre back").path
        assert max(abs(p.real) for p in centre.nodes) < 1e-9


def test_the_wrap_edge_hangs_along_the_grain():
    front = blend(DRESS, {"bust": "3", "waist": "5", "hip": "8"}).piece("wrap skirt front")
    edge = front.edge("wrap edge").path
    assert edge.start.real == edge.end.real == DRESS.at("5").piece("wrap skirt front").edge("wrap edge").path.start.real


def test_pieces_without_levels_follow_their_seam():
    garment = blend(DRESS, {"bust": "4", "waist": "5", "hip": "6"})
    assert garment.piece("sleeve") is DRESS.at("4").piece("sleeve")
    assert garment.piece("front neck facing") is DRESS.at("4").piece("front neck facing")
    assert garment.piece("waistband") is DRESS.at("5").piece("waistband")
    assert garment.piece("waist tie") is DRESS.at("5").piece("waist tie")
    assert garment.piece("skirt tier") is DRESS.at("6").piece("skirt tier")


def laid(pattern, how):
    return replace(pattern, garments=tuple(
        replace(g, pieces=tuple(how(p, i) for p in g.pieces)) for i, g in enumerate(pattern.garments)))


@settings(max_examples=6, deadline=None)
@given(st.floats(0, 6.28), st.booleans())
def test_hand_turn_and_how_the_sizes_are_nested_do_not_matter(angle, other_hand):
    def how(piece, i):
        piece = piece.mirrored(0j, 1 + 2j) if other_hand else piece
        # Every size somewhere else, as on a sheet that is nested at another corner.
        return piece.mapped(lambda z: z * cmath.rect(1, angle) + 17 * i - 40j * i)
    sizes = {"bust": "4", "waist": "5", "hip": "6"}
    here, there = blend(DRESS, sizes), blend(laid(DRESS, how), sizes)
    for piece in here.pieces:
        for edge in piece.edges:
            assert there.piece(piece.name).edge(edge.name).path.length == pytest.approx(edge.path.length, abs=1e-3)


def cut_up(path, parts):
    """The same line with other nodes."""
    return Path.joined(path.cut_at([path.length * k / parts for k in range(1, parts)]))


def test_sizes_with_other_nodes_are_walked_and_drawn_again():
    """Size 5 comes with other nodes on every edge: the blend is the same line within what is drawn."""
    def how(piece, i):
        if i != 4:
            return piece
        return replace(piece, edges=tuple(replace(e, path=cut_up(e.path, 3)) for e in piece.edges))
    other = laid(DRESS, how)
    sizes = {"bust": "4", "waist": "5", "hip": "6"}
    here, there = blend(DRESS, sizes), blend(other, sizes)
    for name in ("bodice front", "bodice back", "skirt front", "skirt back"):
        for edge in here.piece(name).edges:
            got = there.piece(name).edge(edge.name).path
            assert got.length == pytest.approx(edge.path.length, abs=1.5), (name, edge.name)
            assert max(edge.path.nearest(p)[1] for p in got.flatten()) < 2.5, (name, edge.name)
    assert all(w.sews for w in walk(there))


def test_a_size_without_the_dart_is_told():
    def how(piece, i):
        return replace(piece, darts=()) if i == 4 and piece.name == "bodice front" else piece
    with pytest.raises(GeometryError, match='"bodice front" cannot be blended: its sizes 4 and 5'):
        blend(laid(DRESS, how), {"bust": "4", "waist": "5"})


def test_names_of_sizes_and_places():
    assert size_place(DRESS, "4") == 3 and size_place(DRESS, "4,5") == 3.5
    uneven = Pattern("x", ("8", "12"), DRESS.garments[:2])
    assert size_place(uneven, "9") == 0.25
    words = Pattern("x", ("S", "M"), DRESS.garments[:2])
    with pytest.raises(NameUnknown, match="size"):
        size_place(words, "4.5")
    with pytest.raises(NameUnknown, match="size"):
        size_place(DRESS, "11")
    with pytest.raises(NameUnknown, match="hip"):
        blend(DRESS, {"hips": "4"})
    with pytest.raises(InputError, match="No size"):
        blend(DRESS, {})


@given(st.floats(0, 1))
def test_mixed_is_exact_at_the_sizes(share):
    assert mixed({0: 2 + 1j, 1: 4 + 3j}, 0.0) == 2 + 1j
    assert mixed({0: 2 + 1j, 1: 4 + 3j}, share) == pytest.approx(2 + 1j + share * (2 + 2j), abs=1e-6)


@settings(max_examples=20, deadline=None)
@given(st.floats(0.01, 0.99), st.integers(2, 5))
def test_a_line_walked_in_steps_agrees_with_its_nodes(at, parts):
    """Two similar curves: half-way lines by nodes and by even steps are the same curve."""
    small = Path.cubic(0j, 30 + 0j, 60 + 30j, 60 + 60j)
    large = small.mapped(lambda z: 1.2 * z)
    by_nodes = between({0: small, 1: large}, {}, 0, lambda z: at, at, at)
    by_steps = between({0: small, 1: cut_up(large, parts)}, {}, 0, lambda z: at, at, at)
    assert by_steps.path.length == pytest.approx(by_nodes.path.length, abs=0.05)
    assert max(by_nodes.path.nearest(p)[1] for p in by_steps.path.flatten()) < 0.05
    assert by_steps.path.start == pytest.approx(by_nodes.path.start) and by_steps.path.end == pytest.approx(
        by_nodes.path.end)


def test_a_node_in_the_middle_of_a_ruled_line_does_not_bend_it():
    small, large = Path.line(0j, 100j), Path.line(20 + 0j, 20 + 100j)
    paths = {0: cut_up(small, 2), 1: cut_up(large, 2)}
    line = between(paths, {}, 0, lambda z: 0.9, 0.0, 1.0)
    assert line.path.handles == (None,) and line.path.end == 20 + 100j
    # A place on it is carried in proportion.
    assert line.carried({0: 25.0, 1: 25.0}, 0.5) == pytest.approx(line.path.length / 4)
