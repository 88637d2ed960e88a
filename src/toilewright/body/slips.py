"""What else an entry may have been meant to be: the other unit, a slipped comma, two digits the wrong way round."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from toilewright.units import MM_PER_INCH


class Slip(StrEnum):
    """How a number went wrong."""

    UNIT = "unit"
    COMMA = "comma"
    DIGITS = "digits"


@dataclass(frozen=True, slots=True)
class Guess:
    """What a value may have been meant to be (mm), and how it went wrong."""

    value: float
    slip: Slip


def guesses(value: float, unit: str) -> Iterator[Guess]:
    """What a length may have been meant to be, the likeliest first.

    Args:
        value: mm, as it was understood.
        unit: ``cm`` or ``in``, in which it was written.

    >>> [round(g.value, 1) for g in guesses(957.0, "cm") if g.slip is Slip.DIGITS]
    [597.0, 975.0]
    """
    other = 10 / MM_PER_INCH if unit == "in" else MM_PER_INCH / 10
    yield Guess(value * other, Slip.UNIT)
    for factor in (10.0, 0.1):
        yield Guess(value * factor, Slip.COMMA)
    size = MM_PER_INCH if unit == "in" else 1.0
    whole, rest = divmod(round(abs(value) / size, 4), 1.0)
    for swapped in _swapped(str(int(whole))):
        yield Guess((swapped + rest) * size, Slip.DIGITS)


def _swapped(digits: str) -> Iterator[int]:
    """Each pair of different neighbours the other way round."""
    for i in range(len(digits) - 1):
        if digits[i] != digits[i + 1]:
            yield int(digits[:i] + digits[i + 1] + digits[i] + digits[i + 2:])
