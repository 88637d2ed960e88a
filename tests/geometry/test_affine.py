"""Affine maps against NumPy's matrices."""

import numpy as np
import pytest
import strategies
from hypothesis import given, settings
from hypothesis import strategies as st

from toilewright.errors import GeometryError
from toilewright.geometry import Affine, reflected, rotated, turn

FEW = settings(max_examples=60, deadline=None)


def matrix(a, b, c, d, e, f):
    return np.array([[a, c, e], [b, d, f], [0, 0, 1]])


SIX = st.tuples(*[st.floats(-5, 5)] * 6)


@FEW
@given(SIX, SIX, strategies.points())
def test_composition_is_the_matrix_product(first, second, p):
    both = Affine.from_matrix(*first).then(Affine.from_matrix(*second))
    x, y, _ = matrix(*second) @ matrix(*first) @ np.array([p.real, p.imag, 1.0])
    assert both(p) == pytest.approx(complex(x, y), abs=1e-8)
    assert both.determinant == pytest.approx(np.linalg.det(matrix(*first)) * np.linalg.det(matrix(*second)), abs=1e-8)


@FEW
@given(strategies.affines(), strategies.points())
def test_inverse_undoes(change, p):
    assert change.inverse()(change(p)) == pytest.approx(p, abs=1e-8)
    assert change(change.inverse()(p)) == pytest.approx(p, abs=1e-8)


def test_a_flat_map_cannot_be_undone():
    with pytest.raises(GeometryError, match="squeezed flat"):
        Affine.from_matrix(1, 2, 2, 4, 0, 0).inverse()


@FEW
@given(strategies.points(), strategies.points(), st.floats(-7, 7))
def test_turn_mirror_and_scale(p, about, angle):
    assert Affine.turn(angle, about)(p) == pytest.approx(rotated(p, about, angle), abs=1e-9)
    assert Affine.turn(angle, about)(about) == pytest.approx(about, abs=1e-9)
    other = about + 3 - 4j
    mirror = Affine.mirror(about, other)
    assert mirror(p) == pytest.approx(reflected(p, about, other), abs=1e-9)
    assert mirror(mirror(p)) == pytest.approx(p, abs=1e-9)
    assert mirror.determinant == pytest.approx(-1.0)
    assert Affine.scale(2.0, about)(p) == pytest.approx(about + 2 * (p - about), abs=1e-9)


def test_directions():
    assert Affine.turn(np.pi / 2)(1 + 0j) == pytest.approx(1j)
    assert Affine.mirror(0j, 1j)(3 + 2j) == pytest.approx(-3 + 2j)
    assert Affine.from_matrix(1, 0, 0, -1, 0, 100)(10 + 30j) == 10 + 70j
    assert turn(1 + 0j, -1 + 0j) == pytest.approx(np.pi)
    assert turn(1j, 1 + 0j) == pytest.approx(-np.pi / 2)
