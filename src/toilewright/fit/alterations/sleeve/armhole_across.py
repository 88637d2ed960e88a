"""Armhole in or out: its seam moved across chest or back, shoulder tip and underarm left where they are."""

from __future__ import annotations

from toilewright.errors import AlterationError
from toilewright.fit.alterations.kinds import (
    PIECE,
    Alteration,
    Change,
    Need,
    Option,
    Options,
    Picture,
    Size,
    chosen,
    too_much,
)
from toilewright.fit.alterations.sleeve.armholes import ARMHOLE, SIDE, armholes, sleeve_follows, sleeve_steps
from toilewright.fit.frame import down, outward
from toilewright.fit.moves.bow import bowed
from toilewright.fit.moves.edges import redraw_edge, reline
from toilewright.fit.moves.ring import crossing
from toilewright.fit.result import Card, Order
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME = "armhole in or out"

WHERE = Option("where", "both", "front", "back")

STEEPEST = 0.25
"""mm of shift for each mm of armhole from the level across to its nearer end (our own choice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """The armhole seam farther out by `amount` mm half way down (farther in when negative), at each armhole.

    The shift tapers to nothing at the shoulder tip and at the underarm; the sleeve's underarm follows
    what the armhole gains or loses.

    Options:
        where: ``front`` (across the chest), ``back`` or ``both``.
        piece: one piece by its name instead.

    Raises:
        AlterationError: an edge is missing, or the amount does not fit.
    """
    pieces = armholes(garment, NAME, options, chosen(NAME, options, WHERE))
    altered, pictures = garment, {}
    for piece in pieces:
        at, out = _level(piece), outward(piece, SIDE)
        path = piece.edge(ARMHOLE).path
        most = STEEPEST * min(at, path.length - at)
        if abs(amount) > most:
            raise too_much(NAME, amount, piece.name, "makes a corner in the armhole", most if amount > 0 else -most)
        moved = redraw_edge(piece, bowed(piece, ARMHOLE, at, out * amount))
        altered = altered.with_piece(reline(piece, moved, ARMHOLE))
        here = path.point_at(at)
        pictures[piece.name] = Picture(sizes=(Size(here, here + out * amount),),
                                       near=(path.start, path.end, here - 60 * out))
    altered, numbers = sleeve_follows(altered, pieces)
    return Change(altered, pictures, numbers)


def _level(piece: Piece) -> float:
    """Arc length half way down the armhole."""
    path = piece.edge(ARMHOLE).path
    place = crossing(piece, ARMHOLE, (path.start + path.end) / 2, down(piece) * 1j)
    if place is None:
        raise AlterationError(f'"{NAME}" on "{piece.name}" finds no place half way down its armhole; look at the names '
                              "of its edges in the labels file.")
    return place.at


def _card(order: Order, change: Change) -> Card:
    amount = order.amount.value
    by, out = f"{{{abs(amount):.1f} mm}}", "out" if amount > 0 else "in"
    steps = (f"On {' and '.join(change.pictures)}, half way down the armhole, measure {by} {out} from the seam line, "
             "square to the grain, and mark.",
             "Draw the armhole anew from the shoulder tip through the mark to the underarm, to nothing at both.",
             *sleeve_steps(change.numbers))
    check = (f"Half way down, the armhole seam lies {by} farther {out}.",
             "Shoulder seam and side seam are what they were.")
    return Card(f"Armhole moved {out}", ("paper", "ruler", "French curve", "tape"), steps, check, SOURCE)


SOURCE = "Liechty, Pottberg-Steineckert and Rasband (1992), from memory; the taper: common practice"

ALTERATION = Alteration(
    NAME, ("armhole out", "armhole in", "armhole moved out", "armhole moved in"),
    (-15.0, 15.0), SOURCE, 4, apply, _card, {"armhole in": -1.0, "armhole moved in": -1.0}, (WHERE, PIECE),
    (Need("", (ARMHOLE, SIDE)),),
    instead='"back width" and "shoulder width" move the whole armhole')
