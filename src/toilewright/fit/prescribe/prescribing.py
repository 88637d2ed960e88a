"""What to alter on one pattern for one body: the rules gone through in the trade's order, each after those before it.

Every alteration that is worth doing is made on the garment before the next rule measures it, so what one brings along
(a hump raises the neck point, a full bust lengthens the front) is not asked for a second time.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import hypot

from toilewright.body.estimates import NEVER_CUT_FROM, estimate
from toilewright.body.tape import Body, Wish
from toilewright.errors import AlterationError, GeometryError
from toilewright.fit.alterations import find_alteration, made_alone
from toilewright.fit.alterations.kinds import Alteration
from toilewright.fit.handbook import DRAFTED_CUP
from toilewright.fit.prescribe.case import Case, MeasureMissing, Rule
from toilewright.fit.prescribe.rules import RULES
from toilewright.fit.result import Order
from toilewright.fit.sides import SIDES
from toilewright.known import Known, Origin, asked
from toilewright.pattern.garment import Garment
from toilewright.tolerance import WORTH_DOING


@dataclass(frozen=True, slots=True)
class Prescription:
    """One alteration, how much of it, and why.

    Attributes:
        name, options: the alteration, as :func:`toilewright.fit.alterations.alter` takes it.
        amount: mm, signed as the alteration says, with its uncertainty.
        reason: one sentence with the numbers.
        worth_doing: is it large enough to show, and is everything known that it takes?
        threshold: the least amount worth doing (mm).
        needs_measure: what has to be measured before it can be told.
        because: ``body`` (her measures), ``standing`` (she always needs it) or ``toile``.
    """

    name: str
    amount: Known
    options: Mapping[str, str] = field(default_factory=dict)
    reason: str = ""
    worth_doing: bool = True
    threshold: float = WORTH_DOING
    needs_measure: tuple[str, ...] = ()
    because: str = "body"

    @property
    def order(self) -> Order:
        """The same as something to be made."""
        return Order(self.name, self.amount, dict(self.options))


def prescribe(garment: Garment, body: Body, wanted: Mapping[str, float] | None = None, standing: Sequence[Wish] = (),
              drafted_cup: float = DRAFTED_CUP, least: float = WORTH_DOING,
              drafted: Mapping[str, float] | None = None) -> tuple[Prescription, ...]:
    """The alterations for one body on one pattern: those worth doing first, each group in the trade's order.

    Args:
        wanted: by flat length, the ease she wants (mm); nothing else is asked there.
        standing: what she always needs; made first, and not worked out a second time.
        drafted_cup: for which full minus upper bust the pattern is drafted (mm).
        least: the least amount worth doing where a rule does not ask for more (mm).
        drafted: by flat length, what the pattern was drafted to have beyond its chart's body (mm), see
            :func:`toilewright.fit.prescribe.drafted_ease`; where it says nothing, the handbooks' ease.
    """
    work = _Work(body, wanted or {}, drafted or {}, drafted_cup, least / WORTH_DOING, (garment, garment))
    found = [*work.standing(standing)]
    done = {(p.name, *_where(p.options)) for p in found}
    for rule in RULES:
        found += [p for p in work.by(rule, done)]
    return tuple(sorted(found, key=lambda p: (not p.worth_doing, p.because != "standing")))


def _where(options: Mapping[str, str]) -> tuple[str, ...]:
    """On which piece and side: two of one name that agree in it correct the same thing."""
    side = options.get("side", "")
    return options.get("piece", ""), "" if side == "both" else side


@dataclass
class _Work:
    """The garment as it becomes, her left and her right."""

    body: Body
    wanted: Mapping[str, float]
    drafted: Mapping[str, float]
    drafted_cup: float
    strictness: float
    halves: tuple[Garment, Garment]

    def standing(self, wishes: Sequence[Wish]) -> Iterator[Prescription]:
        """The body's own alterations with last time's amounts; one that says "auto" is left to its rule."""
        for wish in wishes:
            one, sign = find_alteration(wish.name)
            if wish.amount is None or not one.has_place(self.halves[0], wish.options):
                continue
            amount = asked(sign * wish.amount)
            reason = "You always need this, and last time it was so much."
            made = Prescription(one.name, amount, wish.options, reason, amount.value != 0, WORTH_DOING, (), "standing")
            yield self._made(made)

    def by(self, rule: Rule, done: set[tuple[str, ...]]) -> Iterator[Prescription]:
        """What one rule finds: on each of its pieces, on both sides or on each."""
        one, _ = find_alteration(rule.alteration)
        for options in rule.ways(self._case(rule, {}, "")):
            if not one.has_place(self.halves[0], options):
                continue
            if {(rule.alteration, place, side) for place in ("", options.get("piece", ""))
                    for side in ("", *SIDES)} & done:
                continue
            for side in self._sides(rule):
                told = self._told(rule, one, options, side)
                if told is not None:
                    yield self._made(told) if told.worth_doing else told

    def _sides(self, rule: Rule) -> tuple[str, ...]:
        """Left and right where the tape sheet tells them apart, else both as one."""
        if not rule.by_side:
            return ("",)
        told = [self.body.on_side(m, side) for m in rule.uses[:1] for side in SIDES]
        apart = None not in told and abs(told[0].value - told[1].value) > 1e-9  # type: ignore[union-attr]
        return SIDES if apart or self.halves[0] is not self.halves[1] else ("",)

    def _case(self, rule: Rule, options: Mapping[str, str], side: str) -> Case:
        half = self.halves[1] if side == "right" else self.halves[0]
        return Case(rule.alteration, half, self.body, self.wanted, self.drafted, options, self.drafted_cup, side)

    def _told(self, rule: Rule, one: Alteration, options: Mapping[str, str], side: str) -> Prescription | None:
        least = rule.threshold * self.strictness
        said = {**options, "side": side} if side else dict(options)
        try:
            amount = rule.work(self._case(rule, options, side))
        except MeasureMissing as problem:
            return self._waiting(rule, Prescription(one.name, Known(0.0, Origin.MEASURED), said, str(problem), False,
                                                    rule.threshold, (problem.measure,)))
        except AlterationError:
            return None
        return Prescription(one.name, amount, said, amount.reason, abs(amount.value) >= least, rule.threshold)

    def _waiting(self, rule: Rule, told: Prescription) -> Prescription:
        """What waits for a measure, with what the other measures say of it; an amount only where cloth may be cut."""
        measure = told.needs_measure[0]
        probable = estimate(self.body, measure)
        if probable is None:
            return told
        told = replace(told, reason=f"{told.reason} Until then: {probable.reason}")
        if measure in NEVER_CUT_FROM:
            return told
        options = {k: v for k, v in told.options.items() if k != "side"}
        case = self._case(rule, options, told.options.get("side", ""))
        known = replace(self.body, measures=(*self.body.measures, (measure, probable.value)))
        try:
            amount = rule.work(replace(case, body=known))
        except AlterationError:
            return told
        spread = hypot(amount.spread or 0.0, probable.spread or 0.0)
        return replace(told, amount=replace(amount, origin=Origin.ESTIMATED, spread=spread))

    def _made(self, told: Prescription) -> Prescription:
        """It is made on the garment; where that much does not fit, as much of it as does."""
        for share in (1.0, 0.75, 0.5, 0.25):
            part = replace(told, amount=replace(told.amount, value=share * told.amount.value))
            try:
                self.halves = self._altered(part.order)
            except (AlterationError, GeometryError) as problem:
                why = str(problem)
                continue
            if share == 1.0:
                return told
            return replace(part, reason=f"{told.reason} So much at once does not fit here: {why}")
        return replace(told, worth_doing=False, reason=f"{told.reason} It cannot be made here: {why}")

    def _altered(self, order: Order) -> tuple[Garment, Garment]:
        left, right = self.halves
        if left is right and order.options.get("side", "both") == "both":
            now = made_alone(left, order)
            return now, now
        return made_alone(left, order, "left"), made_alone(right, order, "right")
