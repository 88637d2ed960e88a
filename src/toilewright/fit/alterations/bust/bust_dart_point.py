"""Bust dart point: the point alone moves, nearer to the bust point or farther from it, inward or outward."""

from __future__ import annotations

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
from toilewright.fit.frame import bust_dart, bust_point, needed_piece, outward
from toilewright.fit.moves.darts import axis, move_dart
from toilewright.fit.result import Card, Order
from toilewright.geometry.point import Point, dot
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import Dart
from toilewright.pattern.piece import Piece
from toilewright.pattern.truing import true_darts
from toilewright.units import show_both

NAME = "bust dart point"

WAY = Option("way", "along", "in")

SHORTEST = 40.0
"""mm; a bust dart shorter than this is a tuck (common practice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Point of the bust dart nearer to the bust point by `amount` mm, farther when negative; its mouth stays.

    Options:
        piece: ``bodice front`` unless told otherwise.
        way: ``along`` the dart (as said above), or ``in``: parallel to the bust line, towards the centre front.

    Raises:
        AlterationError: there is no bust dart, or the point would pass the bust point.
    """
    piece = needed_piece(garment, NAME, options, "bodice front")
    dart = bust_dart(piece, NAME)
    way = chosen(NAME, options, WAY)
    along = axis(piece, dart) if way == "along" else -outward(piece, dart.edge)
    room = dot(bust_point(piece, dart) - dart.apex, along)
    if amount > room:
        raise too_much(NAME, amount, piece.name, "puts the point past the bust point", max(room, 0.0))
    length = dot(dart.apex - sum(piece.feet(dart)) / 2, axis(piece, dart))
    if length + amount < SHORTEST:
        raise too_much(NAME, amount, piece.name, f"leaves a dart of {show_both(length + amount)}", SHORTEST - length)
    apex = dart.apex + along * amount
    moved = true_darts(move_dart(piece, dart.name, apex))
    aim, up = bust_point(piece, dart), _over(piece, dart)
    picture = Picture(sizes=(Size(dart.apex, apex, up),), crosses={"bust point": aim},
                      near=(*piece.feet(dart), aim + 25 * up, aim - 45 * up))
    return Change(garment.with_piece(moved), {piece.name: picture}, {"stops": abs(aim - apex)})


def _over(piece: Piece, dart: Dart) -> Point:
    """Unit direction square to the dart, away from the waist where one is drawn."""
    square = axis(piece, dart) * 1j
    low = next((piece.edge(e).path for e in ("waist", "hem") if piece.has_edge(e)), None)
    return -square if low is not None and dot(low.point_at(low.length / 2) - dart.apex, square) > 0 else square


def _card(order: Order, change: Change) -> Card:
    amount = order.amount.value
    by = f"{{{abs(amount):.1f} mm}}"
    ways = ("in towards the centre front", "out towards the side") if order.options.get("way") == "in" else (
        "nearer to the bust point", "farther from the bust point")
    way = ways[0 if amount > 0 else 1]
    steps = (f"Mark the new point of the dart {by} {way}.",
             "Rule both legs anew from the new point to the ends of the old ones.",
             "Make the legs equal, fold the dart and cut its mouth while it is folded.")
    check = ("The mouth is where it was and as wide.",
             f"The point stops {{{change.numbers['stops']:.0f} mm}} short of the bust point.")
    return Card(f"Bust dart point {way.split()[0]}", ("ruler", "pencil"), steps, check, SOURCE)


SOURCE = "Threads no. 181 (1 in for a small bust to 2 1/2 in for a large one); common practice"

ALTERATION = Alteration(
    NAME, ("bust dart length", "dart point"), (-60.0, 40.0), SOURCE, 2, apply, _card,
    options=(PIECE, WAY), needs=(Need("bodice front", (), ("bust dart",)),),
    instead='"full bust dartless" makes a bust dart where there is none')
