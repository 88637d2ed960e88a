"""Every alteration by its name, and a row of them made in the order of the trade."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from toilewright.errors import AlterationError, Finding, NameUnknown, Severity
from toilewright.fit.alterations import back, bust, lengths, neck_and_shoulder, sleeve, trousers, waist_and_hip
from toilewright.fit.alterations.cards import card_for
from toilewright.fit.alterations.kinds import Alteration, Change
from toilewright.fit.moves.edges import reline
from toilewright.fit.result import Altered, Done, Order
from toilewright.pattern.garment import Garment
from toilewright.pattern.truing import true_darts
from toilewright.pattern.walk import SeamWalk, walk
from toilewright.units import show_both

ALTERATIONS: tuple[Alteration, ...] = tuple(
    replace(one, group=room.GROUP)
    for room in (lengths, neck_and_shoulder, back, bust, sleeve, waist_and_hip, trousers) for one in room.ALTERATIONS)


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

    Partner pieces follow, darts are trued and every seam is walked at the end. An amount of 0 changes nothing.

    Raises:
        NameUnknown: an alteration, or an option of one, that is not known.
        AlterationError: one that this pattern cannot take, or not by that much.
    """
    named = [(*find_alteration(order.name), order) for order in orders]
    for one, _, order in named:
        for word in order.options:
            if word not in one.options:
                raise NameUnknown.among("option", word, one.options, f'"{one.name}"')
    row = sorted(named, key=lambda item: item[0].rank)
    findings: list[Finding] = []
    if [o for *_, o in row] != list(orders):
        findings.append(Finding("re-ordered", "The alterations were made in the usual order: "
                                + ", ".join(o.name for *_, o in row) + ".", Severity.NOTE))
    done = []
    now = garment
    for one, sign, order in row:
        asked = replace(order, name=one.name, amount=replace(order.amount, value=sign * order.amount.value))
        now, made = _make(now, one, asked)
        done.append(made)
    now = _trued(garment, now)
    walks = walk(now)
    findings += _not_sewn(garment, walks)
    return Altered(now, tuple(done), tuple(findings), walks)


def _make(garment: Garment, one: Alteration, order: Order) -> tuple[Garment, Done]:
    amount = order.amount.value
    if amount == 0:
        return garment, Done(order, (), lambda: card_for(one, order, garment, garment, Change(garment)))
    one.check(garment, order.options)
    change = one.apply(garment, amount, order.options)
    after = change.garment
    changed = _changed(garment, after)
    findings = change.findings
    if not one.sane[0] <= amount <= one.sane[1]:
        findings = (*findings, Finding(
            "unusual-amount", f'"{one.name}" by {show_both(amount)} is not usual (usual is '
            f"{show_both(one.sane[0])} to {show_both(one.sane[1])}); measure again before you cut.", asked=amount))
    return after, Done(order, changed, lambda: card_for(one, order, garment, _trued(garment, after), change), findings)


def _changed(before: Garment, after: Garment) -> tuple[str, ...]:
    """Names of the pieces that are not what they were, the new ones among them."""
    old = {p.name: p for p in before.pieces}
    return tuple(q.name for q in after.pieces if old.get(q.name) is not q)


def _trued(before: Garment, after: Garment) -> Garment:
    changed = _changed(before, after)
    return replace(after, pieces=tuple(
        reline(q, true_darts(q), *{d.edge for d in q.darts}) if q.darts and q.name in changed else q
        for q in after.pieces))


def _not_sewn(before: Garment, walks: Sequence[SeamWalk]) -> list[Finding]:
    """Seams that do not sew: a stop when the alterations broke them, a look when they were bought so."""
    off = [w for w in walks if not w.sews]
    bought_so = {w.seam for w in walk(before) if not w.sews} if off else set()
    return [Finding(
        "does-not-sew",
        f'The seam "{w.seam}" does not sew {"as bought" if w.seam in bought_so else "after the alterations"}: '
        f"{w.sides[0]} measures {w.length_a / 10:.1f} cm, {w.sides[1]} {w.length_b / 10:.1f} cm; {w.note}.",
        Severity.LOOK if w.seam in bought_so else Severity.STOP, asked=w.difference) for w in off]


__all__ = ["ALTERATIONS", "AlterationError", "alter", "find_alteration"]
