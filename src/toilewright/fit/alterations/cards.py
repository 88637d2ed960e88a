"""The hand card of an alteration, with a picture of every piece that changes."""

from __future__ import annotations

from dataclasses import replace

from toilewright.draw.figure import Figure, Mark, Pen
from toilewright.fit.alterations.kinds import Alteration, Change
from toilewright.fit.result import Card, Order
from toilewright.geometry.path import Path
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece


def card_for(one: Alteration, order: Order, before: Garment, after: Garment, change: Change) -> Card:
    """The card, with a figure for every piece that changed."""
    if not order.amount.value:
        return Card(one.name.capitalize(), (), ("Nothing to do: the amount is 0.",), (), one.source)
    card = one.steps(order, change)
    figures = tuple(_figure(p, q, change.cuts.get(p.name, ()))
                    for p, q in zip(before.pieces, after.pieces, strict=True) if p is not q)
    return replace(card, title=f"{card.title}, {{{abs(order.amount.value):.1f} mm}}", figures=figures)


def _figure(before: Piece, after: Piece, cuts: tuple[Mark, ...]) -> Figure:
    paper = [m for m in cuts if m.pen is Pen.FILL]
    marks = (*paper, *_lines(before, Pen.OLD), *_lines(after, Pen.NEW), *(m for m in cuts if m.pen is not Pen.FILL))
    return Figure(marks, title=before.name)


def _lines(piece: Piece, pen: Pen) -> list[Mark]:
    return [*(Mark(e.path, pen) for e in piece.edges), *_darts(piece, pen)]


def _darts(piece: Piece, pen: Pen) -> list[Mark]:
    out = []
    for dart in piece.darts:
        first, second = piece.feet(dart)
        out.append(Mark(Path.polyline((first, dart.apex, second)), pen))
    return out
