"""The hand card of an alteration: its words, and the pictures that go with them."""

from __future__ import annotations

from dataclasses import replace

from toilewright.draw.figure import Figure
from toilewright.fit.alterations.kinds import Alteration, Change
from toilewright.fit.alterations.plates import as_altered, as_cut, as_parts
from toilewright.fit.result import Card, Order
from toilewright.pattern.garment import Garment


def card_for(one: Alteration, order: Order, before: Garment, after: Garment, change: Change) -> Card:
    """The card, with pictures of the pieces that tell most."""
    if not order.amount.value:
        return Card(one.name.capitalize(), (), ("Nothing to do: the amount is 0.",), (), one.source)
    card = one.steps(order, change)
    return replace(card, title=f"{card.title}, {{{abs(order.amount.value):.1f} mm}}",
                   figures=_figures(before, after, change))


def _figures(before: Garment, after: Garment, change: Change) -> tuple[Figure, ...]:
    """Two pieces as altered; a piece that is alone is shown as it is cut, too, and one that is parted, its parts."""
    parts = tuple(n for n in change.pictures if not before.has(n))
    if parts:
        whole = next(n for n in change.pictures if before.has(n))
        return (as_cut(before.piece(whole), after.piece(whole), change.pictures[whole]),
                as_parts(tuple(after.piece(n) for n in (whole, *parts))))
    shown = [(before.piece(n), after.piece(n), p) for n, p in change.pictures.items()][:2]
    if len(shown) == 1:
        return as_cut(*shown[0]), as_altered(*shown[0])
    return tuple(as_altered(*item) for item in shown)
