"""What every alteration is: its names, how far it is sane, how it is made, and its card."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from toilewright.errors import AlterationError, Finding
from toilewright.fit.moves.ring import Region
from toilewright.fit.result import Card, Order
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.pattern.garment import Garment
from toilewright.units import show_both

Options = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Size:
    """An amount to be shown between two points of a picture; `away` is the direction in which it stands off them."""

    a: Point
    b: Point
    away: Point = 0j


@dataclass(frozen=True, slots=True)
class Picture:
    """What a hand card shows of one piece.

    Attributes:
        regions: the parts that were cut loose, as they lay, and how each was moved; the rest stays.
        cuts: lines to cut or to fold on, on the piece as it was.
        hinges: where the paper must hold.
        sizes: amounts to show.
        near: points that a closer view must hold; empty when the whole piece will do.
        crosses: points to mark with a small cross, by name.
    """

    regions: tuple[Region, ...] = ()
    cuts: tuple[Path, ...] = ()
    hinges: tuple[Point, ...] = ()
    sizes: tuple[Size, ...] = ()
    near: tuple[Point, ...] = ()
    crosses: Mapping[str, Point] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Change:
    """What an alteration made.

    Attributes:
        pictures: by piece, what its card shows, the most telling piece first.
        numbers: amounts that the card tells, by name (mm).
    """

    garment: Garment
    pictures: Mapping[str, Picture] = field(default_factory=dict)
    numbers: Mapping[str, float] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Alteration:
    """One alteration of the trade.

    Attributes:
        name, aliases: how she may call it.
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
    sane: tuple[float, float]
    source: str
    rank: int
    apply: Callable[[Garment, float, Options], Change]
    steps: Callable[[Order, Change], Card]
    signs: Mapping[str, float] = field(default_factory=dict)
    options: tuple[str, ...] = ("piece",)


def chosen(name: str, options: Options, word: str, *ways: str) -> str:
    """What an option says; the first of the ways when it is not given.

    Raises:
        AlterationError: it says something else.
    """
    said = options.get(word, ways[0])
    if said not in ways:
        listed = " or ".join(f'"{w}"' for w in ways)
        raise AlterationError(f'"{name}" cannot do {word} = "{said}"; it can do {listed}.')
    return said


def too_much(name: str, amount: float, piece: str, why: str, most: float) -> AlterationError:
    """The error for an amount that does not fit, with the most that does (mm)."""
    if abs(most) < 0.5:
        return AlterationError(f'"{name}" by {show_both(amount)} on "{piece}" {why}; nothing fits there.')
    return AlterationError(
        f'"{name}" by {show_both(amount)} on "{piece}" {why}; the most that fits is {show_both(most)}.')
