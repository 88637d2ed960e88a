"""What the toiles of several makes had in common: what a body always needs, with its amount and how sure it is.

One make may differ from the next because of its pattern, its cloth, or a hand that slipped. So the amount is drawn
towards nothing as long as few makes speak for it (a shrunken mean), and it only becomes standing when it is more than
what it may be off.

The sum, for amounts x_i of n makes, each +- s_i: what one make tells about a body is +- m_i, with m_i^2 = s_i^2 + d^2,
where d is how far makes of one body differ (:data:`BETWEEN_MAKES`, or the scatter that was seen, if that is larger).
With weights w_i = 1 / m_i^2 and p = 1 / u^2, where u is how much bodies differ from patterns (:data:`USUAL`):

    amount = sum(w_i x_i) / (p + sum(w_i)),    spread = 1 / sqrt(p + sum(w_i))

This is the mean of a normal distribution after normal observations; d and u are judgement, our own choice.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from math import hypot, sqrt

from toilewright.tolerance import WORTH_DOING
from toilewright.units import show_length

USUAL = 20.0
"""mm; how far bodies usually are from what patterns are drafted for (judgement, our own choice)."""

BETWEEN_MAKES = 6.0
"""mm; how far two makes of one body differ in what their toiles ask for (judgement, our own choice)."""

SEVERAL = 2
"""makes that must agree before an alteration is proposed as standing: one alone may be the pattern's fault."""


@dataclass(frozen=True, slots=True)
class Lesson:
    """What the toiles of one make ended in, for one alteration.

    Attributes:
        make: which make (an id or a title).
        amount: all that it took beyond the pattern (mm); 0 where its toiles sat without it.
        spread: how far that may be off (mm).
    """

    make: str
    name: str
    amount: float
    spread: float
    options: Mapping[str, str] = field(default_factory=dict)
    date: str = ""


@dataclass(frozen=True, slots=True)
class Learned:
    """What several makes had in common, for one alteration.

    Attributes:
        amount: mm, drawn towards nothing while few makes speak for it.
        spread: how far it may be off (mm).
        makes: from how many makes.
        standing: is it worth making always: told by several makes, more than cloth shows, and more than it may be off?
        lessons: oldest first.
    """

    name: str
    options: Mapping[str, str]
    amount: float
    spread: float
    makes: int
    standing: bool
    lessons: tuple[Lesson, ...]

    def say(self, unit: str = "cm") -> str:
        """How it comes about, in one sentence in her unit."""
        told = ", ".join(show_length(one.amount, unit) for one in self.lessons)
        often = "one make" if self.makes == 1 else f"{self.makes} makes"
        return (f"The toiles of {often} asked for {told}; drawn towards nothing as far as that is little to go by, it "
                f"is {show_length(self.amount, unit)} give or take {show_length(self.spread, unit)}.")


def learn(lessons: Iterable[Lesson]) -> tuple[Learned, ...]:
    """What the lessons have in common, alteration by alteration; the largest first.

    Of two lessons of one make about one alteration the later one counts.

    >>> [one] = learn([Lesson("a", "high round back", 15.0, 4.0), Lesson("b", "high round back", 12.0, 4.0)])
    >>> round(one.amount, 1), round(one.spread, 1), one.makes, one.standing
    (12.7, 4.9, 2, True)
    """
    rows: dict[tuple[str, tuple[tuple[str, str], ...]], dict[str, Lesson]] = {}
    for one in lessons:
        rows.setdefault((one.name, tuple(sorted(one.options.items()))), {})[one.make] = one
    found = [_learned(name, dict(options), tuple(by_make.values())) for (name, options), by_make in rows.items()]
    return tuple(sorted(found, key=lambda one: (not one.standing, -abs(one.amount), one.name)))


def _learned(name: str, options: Mapping[str, str], lessons: Sequence[Lesson]) -> Learned:
    apart = max(BETWEEN_MAKES, _scatter([one.amount for one in lessons]))
    weights = [1.0 / hypot(one.spread, apart) ** 2 for one in lessons]
    known = 1.0 / USUAL**2 + sum(weights)
    amount = sum(w * one.amount for w, one in zip(weights, lessons, strict=True)) / known
    spread = 1.0 / sqrt(known)
    return Learned(name, options, amount, spread, len(lessons),
                   len(lessons) >= SEVERAL and abs(amount) >= max(WORTH_DOING, spread), tuple(lessons))


def _scatter(values: Sequence[float]) -> float:
    """Standard deviation of a few values (mm); 0 for one."""
    if len(values) < 2:
        return 0.0
    mean = sum(values) / len(values)
    return sqrt(sum((v - mean) ** 2 for v in values) / (len(values) - 1))
