"""Hand tests of how a cloth hangs, against what the literature works out."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from toilewright.cutting.drape import (
    CRISP,
    SOFT,
    STANDARD_ANGLE,
    bending_length,
    drape_coefficient,
    flexural_rigidity,
    hangs,
)
from toilewright.errors import InputError


@given(st.floats(1, 300))
def test_the_laboratorys_rule_of_half_the_overhang(overhang):
    """Peirce 1930: c = l/2 at 41.5 degrees and c = l at 7.1, as testers read them off; his formula is within 2 %."""
    assert bending_length(overhang, STANDARD_ANGLE) == pytest.approx(overhang / 2, rel=0.02)
    assert bending_length(overhang, 7.1) == pytest.approx(overhang, rel=0.001)


@given(st.floats(1, 300), st.floats(5, 80), st.floats(5, 80))
def test_the_further_it_sinks_the_softer_it_is(overhang, one, other):
    low, high = sorted((one, other))
    assert bending_length(overhang, low) >= bending_length(overhang, high)


def test_rigidity_goes_with_the_cube():
    """150 g/m2 with c = 2 cm: 15 mg/cm2 x 8 cm3 = 120 mg cm = 11.8 micronewton metres (Peirce 1930, G = w c^3)."""
    assert flexural_rigidity(20, 150) == pytest.approx(120e-6 * 1e-2 * 9.80665 * 1e6, rel=1e-9)
    assert flexural_rigidity(40, 150) == pytest.approx(8 * flexural_rigidity(20, 150))


def test_the_drape_coefficient_by_paper():
    """ISO 9073-9: of a 3.0 g ring, 2.1 g lie below the shadow at a drape coefficient of 70 %."""
    assert drape_coefficient(2.1, 3.0) == pytest.approx(0.70)
    assert drape_coefficient(500.0, 700.0, 250.0) == pytest.approx(250 / 450)
    assert (drape_coefficient(3.0, 3.0), drape_coefficient(250.0, 700.0, 250.0)) == (1.0, 0.0)


@pytest.mark.parametrize("call", [
    lambda: bending_length(0), lambda: bending_length(50, 0), lambda: bending_length(50, 90),
    lambda: bending_length(float("nan")), lambda: drape_coefficient(4, 3), lambda: drape_coefficient(1, 3, 2),
    lambda: drape_coefficient(3, 3, 3)])
def test_what_cannot_be_measured_is_refused(call):
    with pytest.raises(InputError):
        call()


def test_words_change_at_the_bounds():
    assert len({hangs(SOFT - 1), hangs(SOFT + 1), hangs(CRISP + 1)}) == 3
