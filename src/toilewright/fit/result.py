"""What an alteration is asked, and what it gives back."""

from __future__ import annotations

from dataclasses import dataclass, field

from toilewright.draw.figure import Figure
from toilewright.errors import Finding
from toilewright.known import Known
from toilewright.pattern.garment import Garment


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


@dataclass(frozen=True, slots=True)
class Done:
    """One alteration that was made: the order, the names of the pieces it changed, and its card."""

    order: Order
    changed: tuple[str, ...]
    card: Card
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Altered:
    """A garment after a row of alterations, with each one done in the order it was made."""

    garment: Garment
    done: tuple[Done, ...]
    findings: tuple[Finding, ...] = ()
