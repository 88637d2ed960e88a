"""What an alteration is asked, and what it gives back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property

from toilewright.draw.figure import Figure
from toilewright.errors import Finding
from toilewright.known import Known
from toilewright.pattern.garment import Garment
from toilewright.pattern.walk import SeamWalk


@dataclass(frozen=True, slots=True)
class Order:
    """One alteration to be made.

    Attributes:
        name: e.g. ``high round back``.
        amount: mm, signed as the alteration says, with origin and reason.
        options: e.g. ``{"piece": "skirt front", "line": "lengthen or shorten"}``.
    """

    name: str
    amount: Known
    options: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Card:
    """How to make one alteration by hand on tissue.

    Attributes:
        title: e.g. ``High round back, 1.5 cm``.
        need: what to have at hand.
        steps: one sentence each, in order, with amounts in the form `{12.5 mm}` for the printer to show in her unit.
        check: what must be true when done.
        source: handbook it follows.
        figures: pictures with old lines, cuts and new lines, true to the piece, in mm.
    """

    title: str
    need: tuple[str, ...]
    steps: tuple[str, ...]
    check: tuple[str, ...]
    source: str
    figures: tuple[Figure, ...] = ()


@dataclass(frozen=True)
class Done:
    """One alteration that was made.

    Attributes:
        order: what was asked, by the alteration's own name and sign.
        changed: names of the pieces it changed.
        draw_card: makes its card.
    """

    order: Order
    changed: tuple[str, ...]
    draw_card: Callable[[], Card] = field(repr=False, compare=False)
    findings: tuple[Finding, ...] = ()

    @cached_property
    def card(self) -> Card:
        """How to do it by hand; drawn when first asked for."""
        return self.draw_card()


@dataclass(frozen=True, slots=True)
class Altered:
    """A garment after a row of alterations.

    Attributes:
        garment: all pieces; those that differ on her left and right stand in it twice, or opened out.
        bought: the pieces as they were, under the same names, to lay beneath.
        done: each alteration, in the order it was made.
        walks: every seam.
        halves: the garment of her left side and that of her right, each drawn as usual, from which ease is measured;
            twice the same where both sides are alike.
    """

    garment: Garment
    bought: Garment
    halves: tuple[Garment, Garment]
    done: tuple[Done, ...]
    findings: tuple[Finding, ...] = ()
    walks: tuple[SeamWalk, ...] = ()

    @property
    def uneven(self) -> bool:
        """Do her two sides get different pieces?"""
        return self.halves[0] is not self.halves[1]
