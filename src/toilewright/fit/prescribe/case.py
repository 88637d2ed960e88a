"""One pattern held against one body: what a rule asks of them, and how it answers."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import hypot

from toilewright.body.measures import find_measure
from toilewright.body.tape import Body, missing
from toilewright.errors import AlterationError
from toilewright.fit.flat import Flat, flat_of
from toilewright.fit.handbook import DRAFTED_CUP, RULES
from toilewright.fit.prescribe.held import Drafted
from toilewright.known import Known, Origin
from toilewright.pattern.garment import Garment
from toilewright.tolerance import WORTH_DOING
from toilewright.units import show_length

LENGTH_EASE = 5.0
"""mm by which a bodice usually is longer than the body, so that one can move (common practice, no published source)."""


class MeasureMissing(AlterationError):
    """An amount that waits for a measure.

    Attributes:
        measure: its ISO 8559-1 name.
    """

    def __init__(self, text: str, measure: str) -> None:
        """With the sentence that asks for it."""
        super().__init__(text)
        self.measure = measure


@dataclass(frozen=True)
class Case:
    """What a rule works from.

    Attributes:
        name: of the alteration, for messages.
        garment: the pieces as they are before this alteration.
        wanted: by flat length, the ease she wants (mm).
        drafted: what the pattern was drafted for, as far as its chart says.
        options: the alteration's further words.
        drafted_cup: for which full minus upper bust the pattern is drafted (mm).
        side: ``left`` or ``right`` where only that side of her is looked at, else "".
    """

    name: str
    garment: Garment
    body: Body
    wanted: Mapping[str, float] = field(default_factory=dict)
    drafted: Drafted = field(default_factory=Drafted)
    options: Mapping[str, str] = field(default_factory=dict)
    drafted_cup: float = DRAFTED_CUP
    side: str = ""

    @cached_property
    def flat(self) -> Flat:
        """The flat lengths of the pieces."""
        return flat_of(self.garment, self.body)

    def show(self, mm: float) -> str:
        """A length in her unit."""
        return show_length(mm, self.body.unit)

    def taken(self, measure: str) -> Known | None:
        """A measure of hers, on the side that is looked at, or None when it was not taken."""
        return self.body.on_side(measure, self.side) if self.side else self.body.get(measure)

    def tape(self, measure: str) -> Known:
        """A measure that must be there.

        Raises:
            MeasureMissing: it was not taken.
        """
        found = self.taken(measure)
        if found is None:
            raise MeasureMissing(f'The amount of "{self.name}" cannot be taken from the body: '
                                 f"{missing(self.body, measure)}", find_measure(measure).name)
        return found

    def read(self, name: str) -> Known:
        """A flat length that the pieces must show.

        Raises:
            AlterationError: they do not.
        """
        found = self.flat.get(name)
        if found is None:
            raise self.cannot(f"the pieces do not show the {name}", "measure it on a toile and write the amount")
        return found

    def cannot(self, why: str, way: str) -> AlterationError:
        """The error for an amount that cannot be worked out here."""
        return AlterationError(f'The amount of "{self.name}" cannot be computed here: {why}; {way}.')

    def ease(self, name: str, usual: float) -> float:
        """How much a flat length should have beyond the body (mm): as wanted, as drafted, else as is usual."""
        return self.wanted.get(name, self.drafted.ease.get(name, usual))

    def said(self, name: str) -> bool:
        """Does she, or the chart of the pattern, say which ease this flat length should have?"""
        return name in self.wanted or name in self.drafted.ease

    def ease_range(self, name: str) -> tuple[float, float]:
        """Least and most usual ease at a girth (mm); both the same where it is wanted or drafted."""
        if self.said(name):
            goal = self.ease(name, 0.0)
            return goal, goal
        low, high = RULES[name].usual
        return low, high or low

    def known(self, amount: float, reason: str, *spreads: float | None, origin: Origin = Origin.MEASURED) -> Known:
        """The amount with its reason; too small ones are called so."""
        if 0 < abs(amount) < WORTH_DOING:
            reason += too_little(self.body.unit)
        return Known(amount, origin, hypot(*(s or 0.0 for s in spreads)), reason)


def too_little(unit: str) -> str:
    """What is added to the reason of an amount that would not show."""
    return (f" Under {show_length(WORTH_DOING, unit)} an alteration is not worth doing: cloth, tape and hand are no "
            "better.")


def _once(case: Case) -> Sequence[Mapping[str, str]]:
    return ({},)


@dataclass(frozen=True, slots=True)
class Rule:
    """How the amount of one alteration is worked out.

    Attributes:
        alteration: its name.
        uses: the measures that the amount is worked out from, the telling one first.
        work: the amount; raises AlterationError where it cannot be worked out.
        ways: the options to try it with, e.g. each piece that may be lengthened.
        threshold: the least amount worth doing (mm).
        opposite: the alteration that takes away what this one adds, where it has another name.
        settles: is it asked again with all the others made? Not where two measures that lie close together tell two
            causes apart: the tape's errors would grow with every asking. It is asked once, after all the others, unless
            she asks for amounts far smaller than the tape's errors, so that her measures are exact.
        by_side: may left and right be looked at by themselves?
    """

    alteration: str
    uses: tuple[str, ...]
    work: Callable[[Case], Known]
    ways: Callable[[Case], Sequence[Mapping[str, str]]] = _once
    threshold: float = WORTH_DOING
    by_side: bool = False
    opposite: str = ""
    settles: bool = True
