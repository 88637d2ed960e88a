"""What every alteration is: its names, what it needs, how far it is sane, how it is made, and its card."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from toilewright.draw.figure import Mark, Pen
from toilewright.errors import AlterationError, Finding
from toilewright.fit.result import Card, Order
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.pattern.garment import Garment

Options = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Change:
    """What an alteration made.

    Attributes:
        cuts: by piece, the lines to cut and the hinges on the piece as it was, and the paper added to it.
        numbers: amounts that the card tells, by name (mm).
    """

    garment: Garment
    cuts: Mapping[str, tuple[Mark, ...]] = field(default_factory=dict)
    numbers: Mapping[str, float] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Alteration:
    """One alteration of the trade.

    Attributes:
        name, aliases: how she may call it.
        needs: in words.
        sane: least and most usual amount (mm).
        source: handbook it follows.
        rank: its place in the order of work: 0 lengths, 1 shoulders and back, 2 bust, 3 widths, 4 armhole and sleeve,
            5 waist and hip, 6 hem (common practice; the same in extension leaflets).
        apply: (garment, amount in mm, options) -> Change; never called with 0.
        steps: what the card says, from the change.
        signs: by alias, the sign that it gives to the amount.
        options: the words that `apply` understands.
    """

    name: str
    aliases: tuple[str, ...]
    needs: str
    sane: tuple[float, float]
    source: str
    rank: int
    apply: Callable[[Garment, float, Options], Change]
    steps: Callable[[Order, Change], Card]
    signs: Mapping[str, float] = field(default_factory=dict)
    options: tuple[str, ...] = ("piece",)


def hinge_mark(at: Point, size: float = 3.0) -> Mark:
    """A small diamond around a hinge."""
    return Mark(Path.polyline((at + size, at + size * 1j, at - size, at - size * 1j, at + size)), Pen.MARK)


def added(*corners: Point) -> Mark:
    """Paper that fills an opening, by its corners."""
    return Mark(Path.polyline((*corners, corners[0])), Pen.FILL)


def too_much(name: str, amount: float, piece: str, why: str, most: float) -> AlterationError:
    """The error for an amount that does not fit, with the most that does (mm)."""
    if abs(most) < 0.5:
        return AlterationError(f'"{name}" by {amount:.0f} mm on "{piece}" {why}; nothing fits there.')
    return AlterationError(f'"{name}" by {amount:.0f} mm on "{piece}" {why}; the most that fits is {most:.0f} mm.')
