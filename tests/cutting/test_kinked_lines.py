"""Cutting lines beside seams that bend by less than a degree here and there, as alterations leave them, stay simple."""

import cmath
import random
from itertools import pairwise

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from toilewright.blocks.chart import body_of
from toilewright.blocks.choir_trousers import trousers_for
from toilewright.cutting.allowances import cutting_line
from toilewright.cutting.allowing import AllowanceWish, with_allowances
from toilewright.fit.alterations import ALTERATIONS, alter
from toilewright.fit.result import Order
from toilewright.geometry import Path
from toilewright.geometry.offset import offset_path
from toilewright.geometry.tangle import combed
from toilewright.known import asked
from toilewright.pattern import Edge, EdgeKind, Piece

SEAMS, HEMS = [6.0, 10.0, 15.0, 20.0, 25.0, 30.0], [10.0, 20.0, 40.0, 60.0]


def polygon(path, within=0.02):
    return shapely.Polygon([(p.real, p.imag) for p in path.flatten(within)])


def kinked(kinks, bend, reach):
    """A line to the left, bent by `bend` radians for each 100 mm, with little turns after short curves.

    Args:
        kinks: (length of a curve in mm, the turn behind it in radians, how much it bends itself).
    """
    here, way, path = complex(reach, 300.0), cmath.pi, []
    for length, turn, own in [(60.0, 0.0, bend * 0.6), *kinks, (60.0, 0.0, bend * 0.6)]:
        out = way + own
        end = here + cmath.rect(length, way + own / 2)
        path.append(Path.cubic(here, here + cmath.rect(length / 3, way), end - cmath.rect(length / 3, out), end))
        here, way = end, out + turn
    return Path.joined(path)


little = st.tuples(st.floats(0.05, 12.0), st.floats(-0.02, 0.02), st.floats(-0.03, 0.03))


@settings(max_examples=200, deadline=None)
@given(st.lists(little, min_size=1, max_size=8), st.floats(-0.3, 0.3), st.sampled_from(SEAMS), st.sampled_from(SEAMS))
def test_the_line_beside_little_kinks_is_simple_and_keeps_its_distance(kinks, bend, allowance, other):
    top = kinked(kinks, bend, 200.0)
    low, right = complex(top.end.real, 0.0), 200.0 + 0.0j
    piece = Piece("panel", (
        Edge("waist", top, allowance=allowance), Edge("centre", Path.line(top.end, low), allowance=other),
        Edge("hem", Path.line(low, right), EdgeKind.HEM, 20.0), Edge("side", Path.line(right, top.start),
                                                                    allowance=other)))
    line = cutting_line(piece)[0]
    ring = polygon(Path.joined(cutting_line(piece)))
    assert ring.is_valid
    assert ring.covers(polygon(piece.outline))
    for k in range(401):
        s, off = top.nearest(line.point_at(line.length * k / 400))
        if 1.0 < s < top.length - 1.0:
            assert off == pytest.approx(allowance, abs=0.3)  # a pen line


def trousers_at_random(seed):
    """Trousers of a size or for a body near it, after up to four alterations, cut with allowances of every size."""
    rng = random.Random(seed)
    chart = body_of(str(rng.randint(1, 9)))
    garment = trousers_for(chart if seed % 2 else {k: v * rng.gauss(1, 0.03) for k, v in chart.items()})
    ready = [one for one in ALTERATIONS if one.has_place(garment, {})]
    row = []
    for one in rng.choices(ready, k=rng.randint(1, 4)):
        said = {str(o): rng.choice(o.words) for o in one.options if getattr(o, "words", ()) and rng.random() < 0.4}
        row.append(Order(one.name, asked(rng.uniform(*one.sane)), said))
    altered = alter(garment, row).garment
    wishes = [AllowanceWish("seams", rng.choice(SEAMS)), AllowanceWish("hem", rng.choice(HEMS))]
    return with_allowances(altered, wishes if seed % 3 else ())


@pytest.mark.parametrize("seed", [135, 249, 357, 1487, 1755])
def test_trousers_whose_cutting_line_turned_back(seed):
    """Found by trying two thousand rows of alterations: in the waist, the side seam, the inseam, at the fork."""
    for piece in trousers_at_random(seed).pieces:
        lines = cutting_line(piece)
        assert polygon(Path.joined(lines)).is_valid, piece.name
        assert polygon(Path.joined(lines), 0.002).is_valid, piece.name
        for edge, line in zip(piece.edges, lines, strict=True):
            away = [edge.path.nearest(line.point_at(line.length * k / 100))[1] for k in range(10, 91)]
            if edge.kind is not EdgeKind.FOLD:
                assert min(away) > edge.allowance - 0.2, (piece.name, edge.name)


# -- the line itself --------------------------------------------------------------------------------


def test_a_stretch_that_runs_back_is_bridged():
    line = Path.polyline((0j, 50 + 0j, 49.2 + 0.01j, 100 + 0.01j))
    made = combed(line)
    assert (made.start, made.end) == (line.start, line.end)
    assert made.length == pytest.approx(100.0, abs=1e-3)
    assert max(line.nearest(p)[1] for p in made.nodes) < 1e-9
    assert shapely.LineString([(p.real, p.imag) for p in made.nodes]).is_simple


def test_several_that_overlap_are_bridged_one_after_the_other():
    line = Path.polyline((0j, 50 + 0j, 49.2 + 0.01j, 49.4 + 0.01j, 48.9 + 0.02j, 100 + 0.02j, 99.99 + 0.03j,
                          100 + 0.03j))
    made = combed(line)
    assert all(b.real > a.real for a, b in pairwise(made.nodes))
    assert (made.start, made.end) == (line.start, line.end)


@pytest.mark.parametrize("points", [
    (0j, 50 + 0j, 48 + 3j, 100 + 3j),           # a step with a slant: farther from itself than a thread
    (0j, 50 + 0j, 30 + 0.01j, 100 + 0.02j),     # runs back too far to be meant to run on
    (0j, 50 + 0j, 50 + 2j, 52 + 2j, 52 + 0j, 90 + 0j),
    (0j, 50 + 0j, 20 + 1j)])
def test_what_turns_back_on_purpose_stays(points):
    assert combed(Path.polyline(points)) == Path.polyline(points)


def test_no_hook_at_the_end_of_a_bend_as_tight_as_the_allowance():
    """Where the bend is just not tighter than the distance, the line beside it hardly moves on, but never back."""
    seam = Path((6.7 - 8j, -0.019 - 204.551j, -35.203 - 277.985j),
                (None, (-1.598 - 250.574j, -15.988 - 275.087j)))
    line = offset_path(seam, 25.0)
    assert (line.end_tangent / seam.end_tangent).real > 0.9
