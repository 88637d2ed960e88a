"""From the length of a lay to the length that is bought: washing, squaring of the ends, what shops cut.

A lay is on cloth that is washed and whose ends are square. In the shop it is longer by what washing takes, and by what
each end loses until it runs straight with the weave.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import ceil

from toilewright.errors import InputError
from toilewright.units import MM_PER_INCH

SQUARING = 25.0
"""mm that each end may lose until it is straight with the weave (common practice, no published source; more where the
shop's cut runs slantwise)."""

SELVEDGE = 10.0
"""mm along each edge from which nothing is cut (common practice, no published source)."""

EIGHTH_OF_YARD = 36 * MM_PER_INCH / 8
"""mm; shops that sell by the yard cut eighths."""

TENTH_OF_METRE = 100.0
"""mm; shops that sell by the metre cut tenths."""

MOST_SHRINKAGE = 0.4
"""Part of its length; a measured square that loses more is felt, or was read wrongly (our own bound)."""

LEAST_SHRINKAGE = -0.2
"""Part of its length; some knits come out of the wash longer (our own bound)."""

WIDTHS = (900.0, 1100.0, 1150.0, 1400.0, 1500.0, 1600.0)
"""mm; widths on sale in shops that measure in metres. Cloth of 112 cm is sold in the place of 110."""

WIDTHS_INCHES = tuple(inches * MM_PER_INCH for inches in (36, 45, 54, 60))
"""mm; widths on sale in shops that measure in inches."""


class SoldBy(StrEnum):
    """In what a shop cuts and counts."""

    METRE = "metre"
    YARD = "yard"

    @property
    def step(self) -> float:
        """The shortest length by which what is bought grows (mm)."""
        return TENTH_OF_METRE if self is SoldBy.METRE else EIGHTH_OF_YARD

    @property
    def whole(self) -> float:
        """One of it (mm)."""
        return 1000.0 if self is SoldBy.METRE else 8 * EIGHTH_OF_YARD


@dataclass(frozen=True, slots=True)
class Requirement:
    """What has to be bought for one lay.

    Attributes:
        lay: length of the lay, on washed cloth with square ends (mm).
        squaring: what both ends lose together (mm).
        margin: for mishaps, as she wants it (mm).
        shrinkage: what washing takes of the length that is bought (mm); less than nought for cloth that grows.
        start: what it takes to begin at the line of a repeat at which the lay begins (mm).
    """

    lay: float
    squaring: float
    margin: float
    shrinkage: float
    start: float = 0.0

    @property
    def needed(self) -> float:
        """To the millimetre, as it comes from the shop (mm)."""
        return self.lay + self.start + self.squaring + self.margin + self.shrinkage

    def bought(self, sold_by: SoldBy = SoldBy.METRE) -> float:
        """What the shop cuts: rounded up to 10 cm, or to an eighth of a yard (mm)."""
        return rounded_up(self.needed, sold_by.step)


def requirement(lay: float, shrinks: float = 0.0, squaring: float = 2 * SQUARING, margin: float = 0.0,
                start: float = 0.0) -> Requirement:
    """What has to be bought for a lay.

    Args:
        lay: length on washed, squared cloth (mm).
        shrinks: part of its length that washing takes: what is bought is longer by 1 / (1 - shrinks).
        squaring: what both ends lose together, after washing (mm).
        margin: for mishaps (mm).
        start: a whole repeat where stripes are matched along the cloth: the shop cuts where its measure ends, and
            not at the line at which the lay begins (mm).

    Raises:
        InputError: the cloth would shrink away.

    >>> need = requirement(2000.0, shrinks=0.03)
    >>> round(need.needed, 1), need.bought(), show_yards(need.bought(SoldBy.YARD))
    (2113.4, 2200.0, '2 3/8 yd')
    """
    if not LEAST_SHRINKAGE <= shrinks <= MOST_SHRINKAGE:
        raise InputError(f"A cloth that loses {100 * shrinks:g} % of its length in the wash cannot be reckoned with; "
                         "measure a square before and after washing again.")
    if min(lay, squaring, margin, start) < 0.0:
        raise InputError("A lay, its start, the squaring of its ends and the margin are lengths of nought or more.")
    washed = lay + start + squaring + margin
    return Requirement(lay, squaring, margin, washed / (1.0 - shrinks) - washed, start)


def usable_width(sold: float, shrinks: float = 0.0, selvedge: float = SELVEDGE) -> float:
    """What can be cut from of a width as sold, washed and between its selvedges (mm).

    >>> round(usable_width(1400.0, shrinks=0.02))
    1352
    """
    return sold * (1.0 - shrinks) - 2 * selvedge


def rounded_up(length: float, step: float) -> float:
    """The least number of steps that is enough (mm); a thousandth of a millimetre too little is enough.

    >>> rounded_up(2000.0, 100.0), rounded_up(2000.1, 100.0)
    (2000.0, 2100.0)
    """
    return ceil((length - 1e-3) / step) * step


def show_yards(mm: float) -> str:
    """Yards to the nearest eighth, as shops say them.

    >>> show_yards(2286.0), show_yards(114.3)
    ('2 1/2 yd', '1/8 yd')
    """
    whole, part = divmod(round(mm / EIGHTH_OF_YARD), 8)
    below = 8
    while part and part % 2 == 0:
        part, below = part // 2, below // 2
    words = [str(whole)] if whole or not part else []
    return " ".join([*words, *([f"{part}/{below}"] if part else []), "yd"])


def show_bought(mm: float, sold_by: SoldBy = SoldBy.METRE) -> str:
    """A length as it is asked for in the shop.

    >>> show_bought(2300.0), show_bought(2286.0, SoldBy.YARD)
    ('2.3 m', '2 1/2 yd')
    """
    return show_yards(mm) if sold_by is SoldBy.YARD else f"{mm / 1000:.1f} m"
