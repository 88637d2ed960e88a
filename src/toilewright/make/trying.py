"""A row of alterations tried: those that work are made, each of the others says what stops it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from toilewright.body.tape import Wish
from toilewright.errors import AlterationError, GeometryError, InputError
from toilewright.fit.alterations import alter, find_alteration
from toilewright.fit.result import Altered, Done, Order
from toilewright.known import Known
from toilewright.make.outcome import Sized, amount_of, has_place, must_be_settled
from toilewright.tolerance import WORTH_DOING


class Fate(StrEnum):
    """What became of an alteration."""

    MADE = "made"
    TOO_SMALL = "too small"
    NO_PLACE = "no place"
    REFUSED = "refused"


@dataclass(frozen=True, slots=True)
class Asked:
    """One alteration that is to be tried.

    Attributes:
        key: its id, by which the answer is found.
        standing: one that the body always needs, left out where the pattern has no place for it.
    """

    key: str
    wish: Wish
    standing: bool = False


@dataclass(frozen=True)
class Tried:
    """What became of one.

    Attributes:
        amount: as asked or worked out; None where that was refused.
        why: the sentence that refuses it, or empty.
        done: when it was made.
    """

    key: str
    fate: Fate
    amount: Known | None = None
    why: str = ""
    done: Done | None = None


@dataclass(frozen=True)
class Trial:
    """The pieces under all alterations that work, and what became of each, in the order asked."""

    altered: Altered
    tried: tuple[Tried, ...]

    def of(self, key: str) -> Tried:
        """The one of that key (KeyError if there is none)."""
        return next((t for t in self.tried if t.key == key), None) or _missing(key)


def try_alterations(sized: Sized, rows: Sequence[Asked]) -> Trial:
    """Make what can be made of a row of alterations.

    Raises:
        InputError: the pattern sheet has to be put right first.
    """
    must_be_settled(sized.reading)
    found: dict[str, Tried] = {}
    orders: dict[str, Order] = {}
    for row in rows:
        order = _order(sized, row)
        if isinstance(order, Tried):
            found[row.key] = order
        else:
            orders[row.key] = order
    altered = _altered(sized, orders, found)
    # `alter` gives the orders back by rank, sorted as here, so that each finds its own.
    ranked = sorted(orders, key=lambda key: find_alteration(orders[key].name)[0].rank)
    for key, done in zip(ranked, altered.done, strict=True):
        found[key] = Tried(key, Fate.MADE, done.order.amount, "", done)
    return Trial(altered, tuple(found[row.key] for row in rows))


def _order(sized: Sized, row: Asked) -> Order | Tried:
    wish = row.wish
    if row.standing and not has_place(wish, sized.before):
        return Tried(row.key, Fate.NO_PLACE)
    try:
        known = amount_of(wish, sized)
    except (AlterationError, InputError) as problem:
        return Tried(row.key, Fate.REFUSED, None, str(problem))
    if wish.amount is None and abs(known.value) < WORTH_DOING:
        return Tried(row.key, Fate.TOO_SMALL, known)
    return Order(wish.name, known, dict(wish.options))


def _altered(sized: Sized, orders: dict[str, Order], found: dict[str, Tried]) -> Altered:
    """All orders made; those that cannot be are taken out of `orders` one by one, the first of the list stay first."""
    try:
        return alter(sized.before, tuple(orders.values()))
    except (AlterationError, GeometryError, InputError):
        pass
    kept: dict[str, Order] = {}
    altered = alter(sized.before, ())
    for key, order in list(orders.items()):
        try:
            altered = alter(sized.before, (*kept.values(), order))
            kept[key] = order
        except (AlterationError, GeometryError, InputError) as problem:
            found[key] = Tried(key, Fate.REFUSED, order.amount, str(problem))
            del orders[key]
    return altered


def _missing(key: str) -> Tried:
    raise KeyError(key)
