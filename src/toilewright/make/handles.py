"""Where an alteration can be taken hold of: the named point of a piece that it moves most, and which way.

Found by making the alteration a little larger and looking what moved, so that every alteration has its handles
without a line of its own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from toilewright.errors import AlterationError, GeometryError, InputError
from toilewright.fit.alterations import alter
from toilewright.fit.result import Order
from toilewright.geometry.point import Point
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

STEP = 1.0
"""mm by which the amount is made larger."""

LEAST = 0.15
"""mm of movement for 1 mm of amount; what moves less is no handle."""

MOST = 3
"""handles for one alteration."""

_FAVOUR = {"landmark": 1.6, "dart": 1.6, "corner": 1.0, "middle": 0.95, "notch": 0.7, "line": 1.0,
           "line end": 0.9}
"""How much sooner each kind of point is taken than a corner that moves as far: she knows it on her body."""


@dataclass(frozen=True, slots=True)
class Handle:
    """A point to take hold of.

    Attributes:
        piece, name: whose point, and which.
        at: where it is at the present amount (mm).
        along: how far it moves for each mm of amount (mm).
    """

    piece: str
    name: str
    at: Point
    along: Point


def handles(before: Garment, orders: Sequence[Order], index: int, made: Garment | None = None) -> tuple[Handle, ...]:
    """The handles of one of a row of alterations, the clearest first; none where nothing moves with it.

    Args:
        before: the pieces as bought.
        orders: all alterations, settled amounts.
        index: which one.
        made: the pieces under these orders, when they are at hand already.
    """
    here = made or _made(before, orders, index, 0.0)
    step = STEP
    there = here and _made(before, orders, index, step)
    if here and not there:  # at its most; look the other way
        step = -STEP
        there = _made(before, orders, index, step)
    if not here or not there:
        return ()
    found = []
    for old in here.pieces:
        new = there.piece(old.name) if there.has(old.name) else old
        if old is new or old == new:
            continue
        moved = {(kind, name): at for kind, name, at in named_points(new)}
        for kind, name, at in named_points(old):
            if (kind, name) in moved:
                along = (moved[kind, name] - at) / step
                found.append((abs(along) * _FAVOUR[kind], Handle(old.name, name, at, along)))
    found = [pair for pair in found if abs(pair[1].along) >= LEAST]
    found.sort(key=lambda pair: (-round(pair[0], 2), pair[1].piece, pair[1].name))
    best: dict[str, Handle] = {}
    for _, handle in found:
        best.setdefault(handle.piece, handle)
    return tuple(best.values())[:MOST]


def _made(before: Garment, orders: Sequence[Order], index: int, more: float) -> Garment | None:
    row = list(orders)
    amount = row[index].amount
    row[index] = replace(row[index], amount=replace(amount, value=amount.value + more))
    try:
        return alter(before, row).garment
    except (AlterationError, GeometryError, InputError):
        return None


def named_points(piece: Piece) -> Iterator[tuple[str, str, Point]]:
    """Every point of a piece that has a name, as (kind, name, where); a notch may be called as a landmark is."""
    for landmark in piece.landmarks:
        yield "landmark", landmark.name, landmark.at
    for dart in piece.darts:
        yield "dart", f"{dart.name} point", dart.apex
    for edge in piece.edges:
        yield "corner", f"start of {edge.name}", edge.path.start
        if not edge.path.closed:
            yield "middle", f"middle of {edge.name}", edge.path.point_at(edge.path.length / 2)
    for notch in piece.notches:
        yield "notch", f"{notch.name} on {notch.edge}", piece.edge(notch.edge).path.point_at(notch.at)
    for line in piece.lines:
        yield "line", line.name, line.path.point_at(line.path.length / 2)
        yield "line end", f"start of {line.name}", line.path.start
        yield "line end", f"end of {line.name}", line.path.end
