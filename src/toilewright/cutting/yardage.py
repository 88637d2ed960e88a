"""What the trade's chart says of a length in another width, where there is an envelope's figure and no lay.

The chart is for garments with sleeves cut apart. It knows nothing of the pieces, so that it is a rule of thumb; a lay
of the pieces themselves goes before it.

Source: Yardage chart (see SOURCES.md).
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise

from toilewright.units import MM_PER_INCH

WIDTHS = (35.5, 39.0, 41.0, 44.5, 50.0, 53.0, 59.0, 66.0)
"""inches; of a span of widths such as 44-45 the middle."""

ROWS = (
    (1.75, 1.5, 1.5, 1.375, 1.25, 1.125, 1.0, 0.875),
    (2.0, 1.75, 1.75, 1.625, 1.5, 1.375, 1.25, 1.125),
    (2.25, 2.0, 2.0, 1.75, 1.625, 1.5, 1.375, 1.25),
    (2.5, 2.25, 2.25, 2.125, 1.75, 1.75, 1.625, 1.5),
    (2.875, 2.5, 2.5, 2.25, 2.0, 1.875, 1.75, 1.625),
    (3.125, 2.75, 2.75, 2.5, 2.25, 2.0, 1.875, 1.75),
    (3.375, 3.0, 2.875, 2.75, 2.375, 2.25, 2.0, 1.875),
    (3.75, 3.25, 3.125, 2.875, 2.625, 2.375, 2.25, 2.125),
    (4.25, 3.5, 3.375, 3.125, 2.75, 2.625, 2.375, 2.25),
    (4.5, 3.75, 3.625, 3.375, 3.0, 2.75, 2.625, 2.5),
    (4.75, 4.0, 3.875, 3.625, 3.25, 2.875, 2.75, 2.625),
    (5.0, 4.25, 4.125, 3.875, 3.375, 3.125, 2.875, 2.75),
)
"""yards; a row holds one garment in every width."""

ONE_WAY = 0.25
"""yards more for cloth with a direction, for a very different width, or where sleeves and body are one piece; the same
source."""

VERY_DIFFERENT = 15.0
"""inches by which two widths differ before the quarter yard is added; the chart says "large" only (our own bound)."""

_YARD = 36 * MM_PER_INCH


def by_chart(length: float, width: float, other: float, one_way: bool = False) -> float | None:
    """The length that the chart gives for another width (mm); None for widths that it does not reach.

    Between two rows and two widths it is divided evenly; shorter or longer than all its rows it goes in proportion to
    the nearest.

    Args:
        length, width: what the envelope says (mm).
        other: the width that it does not name (mm).
        one_way: for cloth with a direction, where the envelope's figure is for cloth without.

    >>> round(by_chart(2.875 * 914.4, 35.5 * 25.4, 59 * 25.4) / 914.4, 3)
    2.0
    >>> by_chart(2000, 1400, 3000) is None
    True
    """
    columns = _column(width / MM_PER_INCH), _column(other / MM_PER_INCH)
    if None in columns or length <= 0.0:
        return None
    here, there = columns
    yards = length / _YARD
    if yards <= here[0]:
        found = there[0] * yards / here[0]
    elif yards >= here[-1]:
        found = there[-1] * yards / here[-1]
    else:
        at = bisect_right(here, yards) - 1
        part = (yards - here[at]) / (here[at + 1] - here[at])
        found = there[at] + part * (there[at + 1] - there[at])
    if one_way or abs(width - other) > VERY_DIFFERENT * MM_PER_INCH:
        found += ONE_WAY
    return found * _YARD


def _column(inches: float) -> Sequence[float] | None:
    """The chart's column for a width, between its own divided evenly; None beyond an inch and a half of its ends."""
    if not WIDTHS[0] - 1.5 <= inches <= WIDTHS[-1] + 1.5:
        return None
    inches = min(max(inches, WIDTHS[0]), WIDTHS[-1])
    for at, (low, high) in enumerate(pairwise(WIDTHS)):
        if low <= inches <= high:
            part = (inches - low) / (high - low)
            return tuple(row[at] + part * (row[at + 1] - row[at]) for row in ROWS)
    return None
