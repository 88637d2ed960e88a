"""Every alteration by its name, and a row of them made in the order of the trade."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from toilewright.errors import AlterationError, Finding, GeometryError, NameUnknown, Severity
from toilewright.fit.alterations import back, bust, lengths, neck_and_shoulder, sleeve, trousers, waist_and_hip
from toilewright.fit.alterations.cards import card_for
from toilewright.fit.alterations.kinds import Alteration, Change, Option, chosen, too_much
from toilewright.fit.follow import settle, trued
from toilewright.fit.moves.simple import is_simple
from toilewright.fit.result import Altered, Card, Done, Order
from toilewright.fit.sides import LEFT, RIGHT, SIDES, differing, divided, marks_to_move, names_of
from toilewright.pattern.garment import Garment
from toilewright.pattern.walk import SeamWalk, walk
from toilewright.tolerance import JOINT
from toilewright.units import show_both

ALTERATIONS: tuple[Alteration, ...] = tuple(
    replace(one, group=room.GROUP)
    for room in (lengths, neck_and_shoulder, back, bust, sleeve, waist_and_hip, trousers) for one in room.ALTERATIONS)

SIDE = Option("side", "both", *SIDES)
"""What every alteration understands besides its own options."""


def find_alteration(name: str) -> tuple[Alteration, float]:
    """The alteration of that name or alias, and the sign that the alias gives its amount.

    Raises:
        NameUnknown: there is none (the nearest name is offered).
    """
    wanted = " ".join(name.lower().split())
    for one in ALTERATIONS:
        if wanted == one.name or wanted in one.aliases:
            return one, one.signs.get(wanted, 1.0)
    raise NameUnknown.among("alteration", name, [n for one in ALTERATIONS for n in (one.name, *one.aliases)],
                            listed=[one.name for one in ALTERATIONS])


def alter(garment: Garment, orders: Sequence[Order]) -> Altered:
    """Make a row of alterations, in the trade's order: lengths, shoulders and back, bust, widths, waist and hip, hem.

    Partner pieces follow, darts are trued and every seam is walked at the end. An amount of 0 changes nothing. An order
    with the option ``side`` (``left``, ``right`` or ``both``) is made on that side of her only.

    Raises:
        NameUnknown: an alteration, or an option of one, that is not known.
        AlterationError: one that this pattern cannot take, or not by that much.
    """
    row, findings = _in_order(orders)
    if all(side == "both" for _, _, side in row):
        now, done = _run(garment, row)
        altered = Altered(now, garment, (now, now), done)
    else:
        altered = _uneven(garment, row)
        findings += marks_to_move(*altered.halves)
    for half in altered.halves if altered.uneven else altered.halves[:1]:
        _check_whole(garment, half, altered.done)
    walks = walk(altered.garment)
    return replace(altered, walks=walks, findings=(*findings, *_not_sewn(altered.bought, walks)))


def _check_whole(before: Garment, after: Garment, done: Sequence[Done]) -> None:
    """Raise AlterationError where the outline of a piece has come to cross itself."""
    for name in _changed(before, after):
        if not is_simple(after.piece(name)) and (not before.has(name) or is_simple(before.piece(name))):
            makers = [d for d in done if name in d.changed] or done
            raise AlterationError(f'The outline of "{name}" would cross itself; make less of {_or(makers)}.')


def _or(done: Sequence[Done]) -> str:
    return " or ".join(f'"{name}"' for name in dict.fromkeys(d.order.name for d in done))


def made_alone(garment: Garment, order: Order, side: str = "both") -> Garment:
    """The garment after one alteration, its darts trued; no seam is walked.

    Args:
        side: on which half of her; an order for the other side changes nothing there.

    Raises:
        NameUnknown, AlterationError: as :func:`alter`.
    """
    return _run(garment, _in_order([order])[0], side)[0]


_Row = Sequence[tuple[Alteration, Order, str]]
"""Alterations to be made: which, its order under its own name and sign, and on which side."""


def _in_order(orders: Sequence[Order]) -> tuple[_Row, tuple[Finding, ...]]:
    row = []
    for order in orders:
        one, sign = find_alteration(order.name)
        for word in order.options:
            if word != "side" and word not in one.options:
                raise NameUnknown.among("option", word, (*one.options, "side"), f'"{one.name}"')
        side = chosen(one.name, order.options, SIDE)
        if side == "both" and " ".join(order.name.lower().split()) in one.one_side:
            raise AlterationError(f'"{order.name}" is made on one side of her; say which, with side = "left" or '
                                  'side = "right".')
        row.append((one, replace(order, name=one.name, amount=replace(order.amount, value=sign * order.amount.value)),
                    side, order.name))
    ranked = sorted(row, key=lambda item: item[0].rank)
    moved = ", ".join(name for *_, name in ranked)
    findings = () if ranked == row else (Finding(
        "re-ordered", f"The alterations were made in the usual order: {moved}.", Severity.NOTE),)
    return [item[:3] for item in ranked], findings


def _run(garment: Garment, row: _Row, side: str = "both", share: float = 1.0) -> tuple[Garment, tuple[Done, ...]]:
    """One row of alterations made, without those of the other side.

    Args:
        share: how much of the amounts of one side is made.
    """
    done = []
    now = garment
    for one, order, on in row:
        if side != "both" and on not in ("both", side):
            continue
        # Of a girth, one side alone takes what both would share.
        times = 1.0 if on == "both" else share * (2.0 if one.whole_girth else 1.0)
        now, made = _make(now, one, order, times)
        done.append(made)
    try:
        return trued(garment, now), tuple(done)
    except GeometryError as problem:
        raise AlterationError(f"A dart cannot be folded after the alterations ({str(problem).rstrip('.')}); make less "
                              f"of {_or(done)}.") from problem


def _uneven(garment: Garment, row: _Row) -> Altered:
    """Her two sides made one by one, and put together."""
    (left, on_left), (right, on_right) = (_run(garment, row, side) for side in SIDES)
    mean, _ = _run(garment, row, "both", 0.5)
    apart = differing(left, right)
    now, bought = divided(left, right, mean, apart), divided(garment, garment, garment, apart)
    made = {LEFT: iter(on_left), RIGHT: iter(on_right)}
    done = []
    for *_, side in row:
        if side == "both":
            next(made[RIGHT])
        one = next(made[RIGHT if side == RIGHT else LEFT])
        on = "" if side == "both" else side
        done.append(replace(one, changed=tuple(n for p in one.changed for n in names_of(p, now, on)),
                            draw_card=partial(_sided, one, on)))
    return Altered(now, bought, (left, right), tuple(done))


def _sided(done: Done, side: str) -> Card:
    card = done.card
    return replace(card, title=f"{card.title}, on her {side} side only") if side else card


def _make(garment: Garment, one: Alteration, order: Order, times: float) -> tuple[Garment, Done]:
    amount = order.amount.value
    if abs(amount) < JOINT:
        return garment, Done(order, (), lambda: card_for(one, order, garment, garment, Change(garment)))
    one.check(garment, order.options)
    try:
        change = one.apply(garment, times * amount, {k: v for k, v in order.options.items() if k != "side"})
        after, told = settle(garment, change.garment)
    except AlterationError as problem:
        if problem.amount is None or problem.most is None or times == 1.0:
            raise
        # In her amount: what one side takes of a girth is told as it was asked.
        raise too_much(one.name, problem.amount / times, problem.piece, problem.why, problem.most / times) from problem
    except GeometryError as problem:
        raise AlterationError(
            f'"{one.name}" by {show_both(amount)} makes a shape that cannot be drawn on this pattern as it now is '
            f'({str(problem).rstrip(".")}); make less of "{one.name}", or of what comes before it.') from problem
    changed = _changed(garment, after)
    findings = (*change.findings, *told)
    if not one.sane[0] <= amount <= one.sane[1]:
        findings = (*findings, Finding(
            "unusual-amount", f'"{one.name}" by {show_both(amount)} is not usual (usual is '
            f"{show_both(one.sane[0])} to {show_both(one.sane[1])}); measure again before you cut.", asked=amount))
    return after, Done(order, changed, lambda: card_for(one, order, garment, trued(garment, after), change), findings)


def _changed(before: Garment, after: Garment) -> tuple[str, ...]:
    """Names of the pieces that are not what they were, the new ones among them."""
    old = {p.name: p for p in before.pieces}
    return tuple(q.name for q in after.pieces if old.get(q.name) is not q)


def _not_sewn(before: Garment, walks: Sequence[SeamWalk]) -> list[Finding]:
    """Seams that do not sew: a stop when the alterations broke them, a look when they were bought so."""
    off = [w for w in walks if not w.sews]
    bought_so = {w.seam for w in walk(before) if not w.sews} if off else set()
    return [Finding(
        "does-not-sew",
        f'The seam "{w.seam}" does not sew {"as bought" if w.seam in bought_so else "after the alterations"}: '
        f"{w.sides[0]} measures {w.length_a / 10:.1f} cm, {w.sides[1]} {w.length_b / 10:.1f} cm; {w.note}.",
        Severity.LOOK if w.seam in bought_so else Severity.STOP, asked=w.difference) for w in off]


__all__ = ["ALTERATIONS", "AlterationError", "alter", "find_alteration", "made_alone"]
