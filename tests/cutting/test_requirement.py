"""From a lay to what is bought: washing, square ends, what shops cut; and the trade's chart against our lays."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from toilewright.blocks.choir_tunic import choir_tunic
from toilewright.blocks.princess_dress import princess_dress
from toilewright.cutting.cloth import Cloth, Fold
from toilewright.cutting.lay.arrange import Search, arrange
from toilewright.cutting.lay.pieces import cut_pieces
from toilewright.cutting.offers import ClothOffers, Envelope, Offer
from toilewright.cutting.requirement import (
    EIGHTH_OF_YARD,
    SELVEDGE,
    SoldBy,
    requirement,
    rounded_up,
    show_bought,
    show_yards,
    usable_width,
)
from toilewright.cutting.yardage import by_chart
from toilewright.errors import InputError
from toilewright.packing.first_fit import first_fit

YARD = 914.4
LENGTHS = st.floats(0, 30_000)
SHRINKS = st.floats(-0.2, 0.4)


@given(LENGTHS, SHRINKS, st.floats(0, 300), st.floats(0, 500), st.floats(0, 900))
def test_what_is_bought_is_enough_once_it_is_washed_and_squared(lay, shrinks, squaring, margin, start):
    need = requirement(lay, shrinks, squaring, margin, start)
    for sold_by in SoldBy:
        bought = need.bought(sold_by)
        left = bought * (1 - shrinks) - squaring - margin - start
        assert left >= lay - 0.01
        assert need.needed - 0.01 <= bought < need.needed + sold_by.step
        assert bought / sold_by.step == pytest.approx(round(bought / sold_by.step), abs=1e-9)


@given(LENGTHS, SHRINKS, SHRINKS)
def test_more_shrinkage_never_buys_less(lay, one, other):
    low, high = sorted((one, other))
    assert requirement(lay, low).bought() <= requirement(lay, high).bought()


@given(LENGTHS, LENGTHS, SHRINKS)
def test_a_longer_lay_never_buys_less(one, other, shrinks):
    low, high = sorted((one, other))
    assert requirement(low, shrinks).bought(SoldBy.YARD) <= requirement(high, shrinks).bought(SoldBy.YARD)


@given(st.integers(1, 200))
def test_a_length_that_the_shop_cuts_is_bought_as_it_is(steps):
    for sold_by in SoldBy:
        assert rounded_up(steps * sold_by.step, sold_by.step) == pytest.approx(steps * sold_by.step)
        assert rounded_up(steps * sold_by.step + 1, sold_by.step) == pytest.approx((steps + 1) * sold_by.step)


def test_worked_by_hand():
    """2 m of lay, both ends 2.5 cm, 3 % lost: 205 / 0.97 = 211.3 cm, so 2.2 m, or 2 3/8 yd (217.2 cm)."""
    need = requirement(2000.0, 0.03)
    assert need.needed == pytest.approx(2113.4, abs=0.05) and need.shrinkage == pytest.approx(63.4, abs=0.05)
    assert show_bought(need.bought()) == "2.2 m" and show_bought(need.bought(SoldBy.YARD), SoldBy.YARD) == "2 3/8 yd"
    assert usable_width(1400, 0.05) == 1400 * 0.95 - 2 * SELVEDGE


@pytest.mark.parametrize(("eighths", "said"), [
    (0, "0 yd"), (1, "1/8 yd"), (4, "1/2 yd"), (8, "1 yd"), (22, "2 3/4 yd")])
def test_yards_as_shops_say_them(eighths, said):
    assert show_yards(eighths * EIGHTH_OF_YARD) == said


@pytest.mark.parametrize(("lay", "more"), [
    (-1.0, {}), (1.0, {"shrinks": 0.6}), (1.0, {"shrinks": -0.5}), (1.0, {"squaring": -1.0}), (1.0, {"margin": -1.0}),
    (1.0, {"start": -1.0}), (1.0, {"shrinks": float("nan")})])
def test_what_cannot_be_is_refused(lay, more):
    with pytest.raises(InputError):
        requirement(lay, **more)


# -- offers ------------------------------------------------------------------------------------------


def offer(width, lay, price=None, **more):
    return Offer(width, Cloth(weight=200.0), need=None if lay is None else requirement(lay), price=price, **more)


def test_the_cheapest_width_is_by_price_where_all_have_one_and_else_by_cloth():
    narrow, wide = offer(900, 3050, 6.0), offer(1400, 2150, 9.0)
    assert (narrow.buy, wide.buy) == (3100, 2200)
    assert narrow.cost == pytest.approx(18.6) and wide.cost == pytest.approx(19.8)
    priced = ClothOffers("self", (narrow, wide, offer(600, None)))
    assert priced.by_price and priced.cheapest is narrow
    unpriced = ClothOffers("self", (narrow, offer(1400, 1840)))
    assert not unpriced.by_price and unpriced.cheapest.width == 1400  # 1.9 m x 1.4 = 2.66 m2 against 2.79
    assert ClothOffers("self", (offer(600, None),)).cheapest is None


def test_saved_against_the_envelope_in_cloth_money_and_weight():
    one = offer(1400, 2150, 10.0, envelope=Envelope(2700.0))
    assert (one.saved, one.money_saved) == (500, 5) and one.area == pytest.approx(3.08)
    assert one.weight == pytest.approx(616)
    assert offer(1400, 2150, envelope=Envelope(2000.0)).saved == -200
    nothing = offer(1400, None, 10.0, envelope=Envelope(2000.0))
    assert {nothing.buy, nothing.cost, nothing.area, nothing.saved, nothing.money_saved, nothing.weight} == {None}


# -- the trade's chart -------------------------------------------------------------------------------

# Length in yards by width in inches, garments with separate sleeves: some rows of the conversion chart of US
# Cooperative Extension clothing leaflets (SOURCES.md, Yardage chart). Columns: 35-36, 44-45, 52-54, 58-60.
CHART = ((2.0, 1.625, 1.375, 1.25), (2.5, 2.125, 1.75, 1.625), (2.875, 2.25, 1.875, 1.75), (3.375, 2.75, 2.25, 2.0),
         (4.25, 3.125, 2.625, 2.375), (5.0, 3.875, 3.125, 2.875))
COLUMNS = (35.5, 44.5, 53.0, 59.0)


@pytest.mark.parametrize("row", CHART)
def test_the_chart_is_read_as_it_is_printed(row):
    """From one column to the next; further than fifteen inches the same source adds a quarter of a yard."""
    for one, width in zip(row, COLUMNS, strict=True):
        for other, there in zip(row, COLUMNS, strict=True):
            more = 0.25 if abs(width - there) > 15 else 0.0
            found = by_chart(one * YARD, width * 25.4, there * 25.4) / YARD
            assert found == pytest.approx(other + more, abs=1e-9)


@given(st.floats(0.5, 8), st.floats(0.5, 8), st.floats(35, 67), st.floats(35, 67))
def test_more_in_one_width_is_more_in_another_and_one_way_cloth_takes_a_quarter_yard(one, other, width, there):
    low, high = (by_chart(y * YARD, width * 25.4, there * 25.4) for y in sorted((one, other)))
    assert low <= high + 1e-9
    assert by_chart(one * YARD, width * 25.4, width * 25.4) == pytest.approx(one * YARD)
    assert by_chart(one * YARD, width * 25.4, width * 25.4, one_way=True) == pytest.approx((one + 0.25) * YARD)


@pytest.mark.parametrize(("length", "width", "other"), [(2000, 800, 1400), (2000, 1400, 2000), (0, 1400, 900)])
def test_what_the_chart_does_not_reach_is_left_open(length, width, other):
    assert by_chart(length, width, other) is None


def quick(problem, seconds=0.0, seed=0, tell=None, stop=None):
    return first_fit(problem)


AGREE = 0.13
"""The chart goes in steps of an eighth of a yard, about 6 % of these lengths, and both lays may be off by some 5 %."""


@pytest.mark.parametrize("draft", [princess_dress, choir_tunic])
def test_lays_of_our_own_stand_in_the_charts_proportion(draft):
    """Two garments with separate sleeves on cloth folded lengthwise, as the leaflets' layouts are drawn: from 36 to 45
    and from 45 to 60 inches the lay shortens as the Yardage chart says, within 13 %."""
    pieces = cut_pieces(draft().at("5"))
    lays = {}
    for inches in (36, 45, 60):
        cloth = Cloth("self", usable_width(inches * 25.4), fold=Fold.LENGTHWISE)
        lays[inches] = arrange(pieces, cloth, Search(quick, 0.0)).length
    for one, other in ((36, 45), (45, 60)):
        told = by_chart(lays[one], one * 25.4, other * 25.4)
        assert lays[other] == pytest.approx(told, rel=AGREE), (one, other)
        assert lays[one] != pytest.approx(told, rel=AGREE / 2)  # the tolerance tells one width from another
