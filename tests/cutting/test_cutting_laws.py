"""Laws of the cutting line: hems that match when turned up, darts that lie in line when pressed, no line that crosses
itself whatever was altered and allowed."""

import math
import random
from dataclasses import replace

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from toilewright.blocks.chart import body_of
from toilewright.blocks.choir_trousers import trousers_for
from toilewright.blocks.choir_tunic import tunic_for
from toilewright.blocks.concert import dress_for
from toilewright.blocks.princess_dress import princess_dress_for
from toilewright.cutting.allowances import cutting_line
from toilewright.cutting.allowing import AllowanceWish, with_allowances
from toilewright.errors import AlterationError, InputError
from toilewright.fit.alterations import ALTERATIONS, alter
from toilewright.fit.result import Order
from toilewright.geometry import Affine, Path
from toilewright.known import asked
from toilewright.pattern import Dart, Edge, EdgeKind, Piece, Press
from toilewright.pattern.truing import true_darts

BLOCKS = {"dress": dress_for, "princess": princess_dress_for, "tunic": tunic_for, "trousers": trousers_for}
MADE = {name: make(body_of("5")) for name, make in BLOCKS.items()}
SOME = settings(max_examples=40, deadline=None)


def polygon(path: Path, within: float = 0.05) -> shapely.Polygon:
    return shapely.Polygon([(p.real, p.imag) for p in path.flatten(within)])


# -- hems -------------------------------------------------------------------------------------------


def panel(left: float, right: float, dip: float, tilt: float, bent: float) -> Piece:
    """A piece above its hem, each side leaning out (flared) or in (tapered) by radians.

    Args:
        dip: by how much the hem sags (mm); tilt: how much higher it ends than it starts (mm).
        bent: how far the sides are bowed (mm).
    """
    a, b = 0j, complex(320, tilt)
    c, d = b + complex(500 * math.tan(right), 500), a + complex(-500 * math.tan(left), 500)
    return Piece("sleeve", (
        Edge("hem", Path.cubic(a, a + 105 - dip * 1j, b - 105 - dip * 1j, b), EdgeKind.HEM),
        Edge("underarm front", Path.cubic(b, b + (c - b) / 3 + bent, c - (c - b) / 3 + bent, c)),
        Edge("top", Path.line(c, d)),
        Edge("underarm back", Path.cubic(d, d - (d - a) / 3 - bent, a + (d - a) / 3 - bent, a))))


@SOME
@given(st.floats(-0.3, 0.3), st.floats(-0.3, 0.3), st.floats(-12, 12), st.floats(-25, 25), st.floats(-4, 4),
       st.sampled_from([15.0, 30.0, 50.0]), st.sampled_from([6.0, 10.0, 15.0]), st.booleans())
def test_a_hem_turned_up_ends_on_the_cutting_lines_of_both_sides(left, right, dip, tilt, bent, hem, side, other_hand):
    piece = panel(left, right, dip, tilt, bent)
    piece = replace(piece, edges=tuple(replace(e, allowance=hem if e.kind is EdgeKind.HEM else side)
                                       for e in piece.edges))
    piece = piece.mirrored(0j, 1j) if other_hand else piece
    lines = dict(zip([e.name for e in piece.edges], cutting_line(piece), strict=True))
    fold, low = piece.edge("hem").path, lines["hem"]
    before, after = ("underarm back", "underarm front")[::-1 if other_hand else 1]
    for corner, at, along, name in ((low.start, fold.start, fold.start_tangent, before),
                                    (low.end, fold.end, fold.end_tangent, after)):
        # The sharp end of the allowance, turned up over the line in which the hem is folded there.
        image = Affine.mirror(at, at + along)(corner)
        assert lines[name].nearest(image)[1] < 0.05
        seam = piece.edge(name).path
        assert seam.nearest(image)[1] == pytest.approx(side, abs=0.05)
        assert abs(((corner - at) / along).imag) > 0.7 * hem  # it reaches down to the hem's own cutting line


@pytest.mark.parametrize("lean", [-0.25, 0.25])
def test_a_tapered_hem_is_cut_wider_below_and_a_flared_one_narrower(lean):
    piece = panel(lean, lean, 0.0, 0.0, 0.0)
    piece = replace(piece, edges=tuple(replace(e, allowance=40.0 if e.name == "hem" else 10.0) for e in piece.edges))
    width = cutting_line(piece)[0]
    # Both ends of the piece, 40 mm above the fold, with their allowances square to the sides.
    above = 320 + 2 * (40 * math.tan(lean) + 10 / math.cos(lean))
    assert abs(width.end - width.start) == pytest.approx(above, abs=0.05)


# -- darts ------------------------------------------------------------------------------------------


@SOME
@given(st.floats(8, 30), st.floats(90, 160), st.floats(-0.15, 0.15), st.sampled_from([6.0, 10.0, 15.0, 20.0]),
       st.sampled_from(list(Press)), st.booleans())
def test_a_dart_folded_and_pressed_leaves_one_straight_edge(width, depth, lean, allowance, press, other_hand):
    """Straight seam, dart across it: folded and pressed as said, the allowance's edge is one straight line."""
    top = 400 * math.cos(lean) * 1j + 400 * math.sin(lean)
    side = Path.line(0j, top)
    middle = side.point_at(200.0)
    dart = Dart("dart", "side", 200 - width / 2, 200 + width / 2, middle + depth * side.normal_at(200.0), press)
    piece = Piece("front", (
        Edge("side", side, allowance=allowance), Edge("top", Path.line(top, top - 300)),
        Edge("centre", Path.line(top - 300, -300 + 0j)), Edge("hem", Path.line(-300 + 0j, 0j))), (dart,))
    piece = true_darts(piece.mirrored(0j, 1j) if other_hand else piece)
    dart = piece.darts[0]
    first, second = piece.feet(dart)
    line = cutting_line(piece)[[e.name for e in piece.edges].index("side")]
    seam = piece.edge("side").path
    to_start = dart.press is Press.TO_START
    foot, other = (first, second) if to_start else (second, first)
    fold_line = (first + second) / 2
    peak = min(line.nodes, key=lambda p: abs(((p - dart.apex) / (fold_line - dart.apex)).imag)
               + (100 if abs(p - fold_line) > 3 * (allowance + width) else 0))
    s, e = line.nearest(peak)[0], line.nearest(foot)[0]
    flap = line.sub(min(s, e), max(s, e))
    far = seam.start if to_start else seam.end
    way = (far - foot) / abs(far - foot)
    # The half next to the foot it is pressed towards comes to lie mirrored in the leg, the other half turned with it.
    over_leg, over_fold = Affine.mirror(dart.apex, foot), Affine.mirror(dart.apex, fold_line)
    s2, e2 = s, line.nearest(other)[0]
    other_flap = line.sub(min(s2, e2), max(s2, e2))
    for k in range(2, 11):
        near = over_leg(flap.point_at(k / 12 * flap.length))
        turned = over_leg(over_fold(other_flap.point_at(k / 12 * other_flap.length)))
        for image in (near, turned):
            assert abs(((image - foot) / way).imag) == pytest.approx(allowance, abs=0.05)


@pytest.mark.parametrize("name", BLOCKS)
def test_every_dart_of_a_block_peaks_on_its_fold_line_beyond_its_seam(name):
    seen = 0
    for piece in MADE[name].pieces:
        for dart in piece.darts:
            seen += 1
            edge = piece.edge(dart.edge)
            line = cutting_line(piece)[piece.edges.index(edge)]
            middle = sum(piece.feet(dart)) / 2
            way = (middle - dart.apex) / abs(middle - dart.apex)
            tips = [p for p in line.nodes if abs(((p - dart.apex) / way).imag) < 0.05]
            assert tips and max(((p - middle) / way).real for p in tips) > 0.9 * edge.allowance, (piece.name, dart.name)
    assert seen


# -- simple lines -----------------------------------------------------------------------------------


def altered_at_random(name: str, seed: int):
    """A block after up to five alterations as strong as they come, cut with allowances of every size."""
    rng = random.Random(f"cutting {name} {seed}")
    garment = MADE[name]
    ready = [one for one in ALTERATIONS if one.has_place(garment, {})]
    for one in rng.choices(ready, k=rng.randint(1, 5)):
        try:
            garment = alter(garment, [Order(one.name, asked(rng.uniform(*one.sane)), {})]).garment
        except (AlterationError, InputError):
            continue
    wishes = [AllowanceWish("all", rng.choice([5.0, 10.0, 15.0, 25.0])),
              AllowanceWish("seams", rng.choice([6.0, 10.0, 15.0, 20.0, 25.0, 30.0]))]
    if any(e.kind is EdgeKind.HEM for p in garment.pieces for e in p.edges):
        wishes.append(AllowanceWish("hem", rng.choice([10.0, 20.0, 40.0, 60.0, 80.0])))
    return with_allowances(garment, wishes)


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("name", BLOCKS)
def test_the_cutting_line_of_every_altered_piece_is_simple_and_goes_round_the_seam(name, seed):
    for piece in altered_at_random(name, seed).pieces:
        seam, ring = polygon(piece.outline), polygon(Path.joined(cutting_line(piece)))
        assert seam.is_valid, piece.name
        assert ring.is_valid, piece.name
        assert ring.buffer(0.15).covers(seam), piece.name
        widest = max(e.allowance for e in piece.edges)
        assert seam.buffer(4 * widest + 0.1).covers(ring), f"{piece.name} runs out in a spike"
        for edge, line in zip(piece.edges, cutting_line(piece), strict=True):
            near = min(edge.path.nearest(line.point_at(line.length * k / 20))[1] for k in range(2, 19))
            assert near > 0.8 * edge.allowance - 0.5, (piece.name, edge.name)


@SOME
@given(st.lists(st.tuples(st.floats(-0.6, 0.6), st.floats(140, 260)), min_size=4, max_size=8),
       st.lists(st.sampled_from([0.0, 6.0, 10.0, 15.0, 25.0, 40.0]), min_size=8, max_size=8))
def test_the_cutting_line_of_any_plain_ring_is_simple_and_goes_round_the_seam(corners, allowances):
    n = len(corners)
    at = [complex(r * math.cos(a), r * math.sin(a))
          for a, r in ((2 * math.pi * (k + t / 3) / n, r) for k, (t, r) in enumerate(corners))]
    edges = [Edge(f"edge {k}", Path.line(at[k], at[(k + 1) % n]), allowance=allowances[k]) for k in range(n)]
    seam = polygon(Path.joined([e.path for e in edges]))
    assume(seam.is_valid and seam.area > 20_000)
    ring = polygon(Path.joined(cutting_line(Piece("panel", tuple(edges)))))
    assert ring.is_valid
    assert ring.buffer(0.1).covers(seam)
