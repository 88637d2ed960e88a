"""What to alter on one pattern for one body: the rules gone through in the trade's order, each after those before it.

Every alteration that is worth doing is made on the garment before the next rule measures it, so what one brings along
(a hump raises the neck point, a full bust lengthens the front) is not asked for a second time; then the amounts are
settled against one another (:mod:`toilewright.fit.prescribe.settling`).
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import hypot

from toilewright.body.estimates import NEVER_CUT_FROM, estimate
from toilewright.body.tape import Body, Wish
from toilewright.errors import AlterationError, GeometryError
from toilewright.fit.alterations import find_alteration, made_alone
from toilewright.fit.handbook import DRAFTED_CUP
from toilewright.fit.levels import bodice_pieces, skirt_pieces
from toilewright.fit.prescribe.case import Case, MeasureMissing, Rule, too_little
from toilewright.fit.prescribe.held import Drafted
from toilewright.fit.prescribe.rules import RULES
from toilewright.fit.prescribe.settling import settled
from toilewright.fit.result import Order
from toilewright.fit.sides import SIDES
from toilewright.known import Known, Origin, asked
from toilewright.pattern.garment import Garment
from toilewright.tolerance import WORTH_DOING
from toilewright.units import show_length

SETTLED = 0.3
"""mm; amounts that would change by less are settled (less than a pen line)."""

EXACT = 1.0
"""mm; who asks for smaller amounts than this says that the measures are exact (a tape's error is 4 mm and more)."""

RETOLD = 0.5
"""mm; a reason whose amount changed by more is told again, with the others made."""

OTHERWISE = 2.0
"""mm; who measures the bought pieces herself would find an amount that is so much another, and is told why."""


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
              drafted: Drafted | None = None) -> tuple[Prescription, ...]:
    """The alterations for one body on one pattern: those worth doing first, each group in the trade's order.

    Args:
        wanted: by flat length, the ease she wants (mm); nothing else is asked there.
        standing: what she always needs; made first, and not worked out a second time.
        drafted_cup: for which full minus upper bust the pattern is drafted (mm).
        least: the least amount worth doing where a rule does not ask for more (mm).
        drafted: what the pattern was drafted for, see :func:`toilewright.fit.prescribe.drafted_for`; where it says
            nothing, the handbooks' ease.
    """
    work = _Work(body, wanted or {}, drafted or Drafted(), drafted_cup, least / WORTH_DOING)
    garment = _measured(garment)
    always, halves = work.standing(standing, (garment, garment))
    return (*always, *_ranked(work.found(halves, {(p.name, *_where(p.options)) for p in always})))


def _measured(garment: Garment) -> Garment:
    """The garment without what no tape is held against: facings, frills, bands, and a wrap skirt beside another one."""
    skirt = skirt_pieces(garment, wrapped=False) or skirt_pieces(garment, wrapped=True)
    names = {p.name for p in (*skirt, *bodice_pieces(garment))} | {p.name for p in garment.pieces if p.has_edge("cap")}
    return replace(garment, pieces=tuple(p for p in garment.pieces if p.name in names), seams=tuple(
        s for s in garment.seams if all(r.piece in names for r in (*s.a, *s.b))))


def _ranked(found: Sequence[Prescription]) -> list[Prescription]:
    """Those worth doing first, each group in the order it was found."""
    return sorted(found, key=lambda p: not p.worth_doing)


def _where(options: Mapping[str, str]) -> tuple[str, ...]:
    """On which piece and side: two of one name that agree in it correct the same thing."""
    side = options.get("side", "")
    return options.get("piece", ""), "" if side == "both" else side


_Halves = tuple[Garment, Garment]
"""The garment as her left and as her right asks for it; one and the same where they agree."""


@dataclass(frozen=True, slots=True)
class _Place:
    """A rule where it is asked: with which options, on which side."""

    rule: Rule
    options: Mapping[str, str]
    side: str = ""

    @property
    def said(self) -> dict[str, str]:
        return {**self.options, "side": self.side} if self.side else dict(self.options)

    def order(self, amount: float) -> Order:
        """An amount as something to be made; what is less than nothing by its opposite."""
        if amount < 0 and self.rule.opposite:
            return Order(self.rule.opposite, asked(-amount), self.said)
        return Order(self.rule.alteration, asked(amount), self.said)


@dataclass(frozen=True, slots=True)
class _Work:
    """A body with what is wanted for it."""

    body: Body
    wanted: Mapping[str, float]
    drafted: Drafted
    drafted_cup: float
    strictness: float

    # -- what she always needs ------------------------------------------------------------------------

    def standing(self, wishes: Sequence[Wish], halves: _Halves) -> tuple[list[Prescription], _Halves]:
        """The body's own alterations with last time's amounts; one that says "auto" is left to its rule."""
        found = []
        for wish in wishes:
            one, sign = find_alteration(wish.name)
            if wish.amount is None or not one.has_place(halves[0], wish.options):
                continue
            told = Prescription(one.name, asked(sign * wish.amount), wish.options,
                                "You always need this, and last time it was so much.", because="standing")
            try:
                halves = _made(halves, told.order)
            except (AlterationError, GeometryError) as problem:
                told = replace(told, worth_doing=False, reason=f"{told.reason} It cannot be made here: {problem}")
            found.append(told)
        return found, halves

    # -- the rules ------------------------------------------------------------------------------------

    def found(self, start: _Halves, done: set[tuple[str, ...]]) -> list[Prescription]:
        """Every rule asked in turn, and the amounts settled against one another."""
        told: dict[int, Prescription] = {}
        amounts: dict[int, float] = {}
        unread: set[int] = set()
        places = self._places(start, done)

        def ask(halves: _Halves, settles: bool) -> _Halves:
            for i, place in enumerate(places):
                asked_now = self._acts(place) is settles
                one = self._told(place, halves) if asked_now else None
                if one is not None:
                    told[i], halves = self._fitting(one, halves)
                    if told[i].worth_doing:
                        amounts[i] = self._signed(place, told[i])
                        if abs(self._left(place, halves) - amounts[i]) < SETTLED:
                            unread.add(i)
            return halves

        halves = ask(start, settles=True)
        open_ones = {i for i, one in told.items() if not (one.needs_measure or self._too_much(one, places[i]))}
        for _ in range(2):
            halves = self._settled(places, amounts, start, halves, unread)
            more = {i: self._left(places[i], halves) for i in sorted(open_ones - set(amounts))}
            more = {i: v for i, v in more.items() if abs(v) >= self._least(places[i])}
            if not more or not amounts:
                break
            amounts |= more
        ask(halves, settles=False)
        found = [(i, self._retold(i, places, amounts, one, start)) for i, one in told.items()]
        return [one for i, one in sorted(found, key=lambda row: (_rank(row[1].name), row[0]))]

    @property
    def _exact(self) -> bool:
        """Are her measures taken for exact, because amounts are asked for that no tape could tell?"""
        return self.strictness * WORTH_DOING < EXACT

    def _too_much(self, told: Prescription, place: _Place) -> bool:
        """Was it set aside because it cannot be made?"""
        return not told.worth_doing and abs(told.amount.value) >= self._least(place)

    def _places(self, halves: _Halves, done: set[tuple[str, ...]]) -> list[_Place]:
        """Where each rule can be asked on this pattern, without what she always needs."""
        found = []
        for rule in RULES:
            one, _ = find_alteration(rule.alteration)
            for options in rule.ways(self._case(_Place(rule, {}), halves)):
                names = {(name, piece, side) for name in (rule.alteration, rule.opposite)
                         for piece in {"", options.get("piece", "")} for side in ("", *SIDES)}
                if one.has_place(halves[0], options) and not names & done:
                    found += [_Place(rule, options, side) for side in self._sides(rule, halves)]
        return found

    def _sides(self, rule: Rule, halves: _Halves) -> tuple[str, ...]:
        """Left and right where the tape sheet tells them apart, else both as one."""
        if not rule.by_side:
            return ("",)
        left, right = (self.body.on_side(rule.uses[0], side) for side in SIDES)
        apart = left is not None and right is not None and abs(left.value - right.value) > 1e-9
        return SIDES if apart or halves[0] is not halves[1] else ("",)

    def _case(self, place: _Place, halves: _Halves) -> Case:
        half = halves[1] if place.side == "right" else halves[0]
        return Case(place.rule.alteration, half, self.body, self.wanted, self.drafted, place.options,
                    self.drafted_cup, place.side)

    def _least(self, place: _Place) -> float:
        return place.rule.threshold * self.strictness

    def _told(self, place: _Place, halves: _Halves) -> Prescription | None:
        """What a rule says of the garment as it now is; None where it has nothing to say."""
        try:
            amount = place.rule.work(self._case(place, halves))
        except MeasureMissing as problem:
            waits = Prescription(place.rule.alteration, Known(0.0, Origin.MEASURED), place.said, str(problem), False,
                                 place.rule.threshold, (problem.measure,))
            return self._waiting(place, waits, halves)
        except AlterationError:
            return None
        return self._prescription(place, amount)

    def _prescription(self, place: _Place, amount: Known) -> Prescription:
        order = place.order(amount.value)
        return Prescription(order.name, replace(amount, value=order.amount.value), place.said, amount.reason,
                            abs(amount.value) >= self._least(place), place.rule.threshold)

    @staticmethod
    def _signed(place: _Place, told: Prescription) -> float:
        return -told.amount.value if told.name == place.rule.opposite else told.amount.value

    def _left(self, place: _Place, halves: _Halves) -> float:
        try:
            return place.rule.work(self._case(place, halves)).value
        except AlterationError:
            return 0.0

    # -- amounts that act on one another --------------------------------------------------------------

    def _settled(self, places: Sequence[_Place], amounts: dict[int, float], start: _Halves,
                 halves: _Halves, unread: Collection[int]) -> _Halves:
        """The amounts changed into those with which no rule finds anything more; and the garment with them.

        Those in `unread` stay: the pieces do not show that they are made, and they would be asked for again and again.
        """
        rows = [i for i in amounts if i not in unread]
        fixed = [places[i].order(v) for i, v in amounts.items() if i in unread]

        def found(now: Sequence[float]) -> list[float] | None:
            try:
                made = _all_made(start, [*fixed, *(places[i].order(v) for i, v in zip(rows, now, strict=True))])
            except (AlterationError, GeometryError):
                return None
            return [self._left(places[i], made) for i in rows]

        if len(rows) < 2:
            return halves
        now = settled(found, [amounts[i] for i in rows], SETTLED * min(self.strictness, 1.0))
        kept = {i: v for i, v in (amounts | dict(zip(rows, now, strict=True))).items()
                if abs(v) >= self._least(places[i])}
        try:
            halves = _all_made(start, [places[i].order(v) for i, v in kept.items()])
        except (AlterationError, GeometryError):
            return self._as_fits(places, amounts, start)
        amounts.clear()
        amounts.update(kept)
        return halves

    def _as_fits(self, places: Sequence[_Place], amounts: dict[int, float], start: _Halves) -> _Halves:
        """The amounts cut down to what fits when they are made in the trade's order; and the garment with them."""
        halves = start
        for i in sorted(amounts, key=lambda i: (_rank(places[i].order(amounts[i]).name), i)):
            order = places[i].order(amounts[i])
            told, halves = self._fitting(Prescription(order.name, order.amount, order.options), halves)
            if told.worth_doing:
                amounts[i] = self._signed(places[i], told)
            else:
                del amounts[i]
        return halves

    def _retold(self, i: int, places: Sequence[_Place], amounts: Mapping[int, float], first: Prescription,
                start: _Halves) -> Prescription:
        """A prescription with its settled amount; its reason told again where the others changed it."""
        told = first
        if first.worth_doing is not (i in amounts) or (abs(
                self._signed(places[i], first) - amounts.get(i, 0.0)) >= RETOLD and i in amounts):
            beside = [k for k in amounts if k != i and (self._acts(places[k]) or not self._acts(places[i]))]
            try:
                told = self._told(places[i], _all_made(start, [places[k].order(amounts[k]) for k in beside])) or first
            except (AlterationError, GeometryError):
                told = first
        if i not in amounts:
            return replace(told, worth_doing=False) if first.worth_doing else first
        order = places[i].order(amounts[i])
        return replace(told, name=order.name, amount=replace(told.amount, value=order.amount.value), worth_doing=True,
                       reason=self._in_company(told, order, self._told(places[i], start)))

    def _acts(self, place: _Place) -> bool:
        """Is this one settled together with others?"""
        return place.rule.settles or self._exact

    def _in_company(self, told: Prescription, order: Order, alone: Prescription | None) -> str:
        """A reason with what the other alterations have to do with it, so that its numbers lead to the amount."""
        unit = self.body.unit
        if show_length(abs(told.amount.value), unit) != show_length(abs(order.amount.value), unit):
            reason = told.reason.removesuffix(too_little(unit))
            return f"{reason} Together with the other alterations it takes {show_length(order.amount.value, unit)}."
        if alone is not None and abs(alone.amount.value - told.amount.value) >= OTHERWISE:
            return f"{told.reason} The pieces are measured with the other alterations made."
        return told.reason

    # -- what does not fit, what is not known ---------------------------------------------------------

    @staticmethod
    def _fitting(told: Prescription, halves: _Halves) -> tuple[Prescription, _Halves]:
        """It is made on the garment; where that much does not fit, as much of it as does."""
        if not told.worth_doing:
            return told, halves
        why = ""
        for share in (1.0, 0.75, 0.5, 0.25):
            part = replace(told, amount=replace(told.amount, value=share * told.amount.value))
            try:
                after = _made(halves, part.order)
            except (AlterationError, GeometryError) as problem:
                why = str(problem)
                continue
            return (part if share == 1.0 else replace(
                part, reason=f"{told.reason} So much at once does not fit here: {why}")), after
        return replace(told, worth_doing=False, reason=f"{told.reason} It cannot be made here: {why}"), halves

    def _waiting(self, place: _Place, told: Prescription, halves: _Halves) -> Prescription:
        """What waits for a measure, with what the other measures say of it; an amount only where cloth may be cut."""
        measure = told.needs_measure[0]
        probable = estimate(self.body, measure)
        if probable is None:
            return told
        told = replace(told, reason=f"{told.reason} Until then: {probable.reason}")
        if measure in NEVER_CUT_FROM:
            return told
        known = replace(self.body, measures=(*self.body.measures, (measure, probable.value)))
        try:
            amount = place.rule.work(replace(self._case(place, halves), body=known))
        except AlterationError:
            return told
        spread = hypot(amount.spread or 0.0, probable.spread or 0.0)
        return replace(told, amount=replace(amount, origin=Origin.ESTIMATED, spread=spread))


def _rank(name: str) -> int:
    return find_alteration(name)[0].rank


def _all_made(halves: _Halves, orders: Sequence[Order]) -> _Halves:
    """All of them, in the trade's order."""
    for order in sorted(orders, key=lambda o: _rank(o.name)):
        halves = _made(halves, order)
    return halves


def _made(halves: _Halves, order: Order) -> _Halves:
    left, right = halves
    if left is right and order.options.get("side", "both") == "both":
        now = made_alone(left, order)
        return now, now
    return made_alone(left, order, "left"), made_alone(right, order, "right")
