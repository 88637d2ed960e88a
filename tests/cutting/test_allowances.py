"""Cutting lines and their undoing on the concert dress, on other hands and places, and on made-up pieces."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from toilewright.blocks.chart import body_of
from toilewright.blocks.concert import dress_for
from toilewright.cutting.allowances import cutting_line, seam_line
from toilewright.errors import InputError
from toilewright.geometry import Affine, Path
from toilewright.pattern import Edge, EdgeKind, Piece

DRESSES = {size: dress_for(body_of(size)) for size in ("1", "5", "10")}
PIECES = [(size, p.name) for size, g in DRESSES.items() for p in g.pieces]


def apart(a: Path, b: Path, n: int = 40) -> float:
    """Largest distance of points of either path from the other, ends compared with ends."""
    ways = max(max(x.nearest(y.point_at(y.length * k / n))[1] for k in range(n + 1)) for x, y in ((a, b), (b, a)))
    return max(ways, abs(a.start - b.start), abs(a.end - b.end))


def back_again(piece: Piece) -> float:
    found = seam_line(cutting_line(piece), [e.allowance for e in piece.edges])
    return max(apart(e.path, f) for e, f in zip(piece.edges, found, strict=True))


def tier(flare: float, hem: float, side: float, dip: float) -> Piece:
    """A flared skirt piece on the fold with a curved hem: `flare` in radians off the grain."""
    low = complex(250 + 400 * math.sin(flare), 0)
    a, b, c, d = 0j, low + dip * 1j, complex(250, 400), 400j
    return Piece("tier", (
        Edge("hem", Path.cubic(a, a + low / 3, b - low / 3, b), EdgeKind.HEM, hem),
        Edge("side seam", Path.line(b, c), allowance=side),
        Edge("waist", Path.cubic(c, c - 80 - 12j, d + 80, d), allowance=15.0),
        Edge("centre front", Path.line(d, a), EdgeKind.FOLD, 0.0)))


@pytest.mark.parametrize(("size", "name"), PIECES)
def test_seam_line_comes_back(size, name):
    assert back_again(DRESSES[size].piece(name)) < 0.05


@pytest.mark.parametrize("name", ["bodice front", "bodice back", "sleeve", "skirt back", "front neck facing"])
@pytest.mark.parametrize(("seam", "hem"), [(6.35, 25.4), (10.0, 40.0), (15.875, 20.0)])
def test_seam_line_comes_back_from_other_allowances(name, seam, hem):
    piece = DRESSES["5"].piece(name)
    amounts = {EdgeKind.SEAM: seam, EdgeKind.HEM: hem, EdgeKind.OPENING: 20.0, EdgeKind.FREE: 6.0, EdgeKind.FOLD: 0.0}
    assert back_again(replace(piece, edges=tuple(replace(e, allowance=amounts[e.kind]) for e in piece.edges))) < 0.05


@settings(max_examples=25, deadline=None)
@given(st.floats(0.0, 0.35), st.sampled_from([10.0, 30.0, 50.0]), st.sampled_from([6.0, 10.0, 15.0]), st.floats(0, 15),
       st.floats(-3, 3), st.booleans())
def test_hems_come_back_whatever_the_flare_place_and_hand(flare, hem, side, dip, angle, other_hand):
    piece = tier(flare, hem, side, dip).mapped(Affine.turn(angle, 40 + 90j)).moved(300 - 200j)
    if other_hand:
        piece = piece.mirrored(0j, 1 + 2j)
    assert back_again(piece) < 0.05


@pytest.mark.parametrize(("size", "name"), PIECES)
def test_edges_run_end_to_end_outside_the_seam(size, name):
    piece = DRESSES[size].piece(name)
    lines = cutting_line(piece)
    assert len(lines) == len(piece.edges)
    for line, after in zip(lines, (*lines[1:], lines[0]), strict=True):
        assert line.end == after.start
    assert Path.joined(lines).area() > piece.area
    for edge, line in zip(piece.edges, lines, strict=True):
        middle = line.point_at(line.length / 2)
        assert edge.path.nearest(middle)[1] == pytest.approx(edge.allowance, abs=0.5)


def test_on_a_fold_the_line_is_the_fold_itself():
    piece = DRESSES["5"].piece("bodice front")
    line = cutting_line(piece)[0]
    assert max(abs(p.real) for p in line.nodes) < 1e-9
    assert line.length == pytest.approx(piece.edge("centre front").path.length + 30.0, abs=0.1)


@pytest.mark.parametrize("flare", [0.0, 0.1, 0.25])
def test_a_turned_up_hem_lies_on_the_sides(flare):
    piece = tier(flare, 30.0, 15.0, 0.0)
    hem, side = piece.edge("hem").path, piece.edge("side seam").path
    lines = cutting_line(piece)
    corner = lines[0].end
    # Turned up along the fold, the allowance's corner falls on the cutting line of the side.
    image = Affine.mirror(hem.end, hem.end + hem.end_tangent)(corner)
    assert lines[1].nearest(image)[1] < 0.05
    assert abs((image - side.start) * (1j * (side.end - side.start) / side.length).conjugate()) > 14.9


def test_a_pressed_dart_is_caught_in_the_seam_with_its_allowance():
    piece = DRESSES["5"].piece("bodice front")
    dart = piece.dart("bust dart")
    seam = piece.edge("side seam").path
    line = cutting_line(piece)[[e.name for e in piece.edges].index("side seam")]
    first, second = piece.feet(dart)
    middle = (first + second) / 2
    peak = max((p for p in line.nodes if abs(p - middle) < 40), key=lambda p: abs(p - dart.apex))
    assert abs(peak - dart.apex) > abs(middle - dart.apex) + 15.0
    # Pressed towards its first foot, the cloth next to that foot lies mirrored in the leg: its cut edge must then
    # lie on the cut edge of the seam below.
    fold = Affine.mirror(dart.apex, first)
    start, end = line.nearest(first)[0], line.nearest(peak)[0]
    below = seam.sub(0.0, dart.start)
    for share in (0.2, 0.5, 0.8):
        image = fold(line.point_at(start + share * (end - start)))
        assert below.nearest(image)[1] == pytest.approx(15.0, abs=0.05)


def test_one_allowance_for_each_edge():
    piece = DRESSES["5"].piece("sleeve")
    with pytest.raises(InputError, match="4 edges but 3 allowances"):
        seam_line(cutting_line(piece), [15.0, 15.0, 15.0])
