"""How much of the bust dart is moved, and pictures and words that its alterations share."""

from __future__ import annotations

from toilewright.errors import AlterationError
from toilewright.fit.alterations.kinds import Picture, Size, too_much
from toilewright.fit.frame import bust_point
from toilewright.fit.moves.bust_cut import LEAST_DART
from toilewright.fit.moves.swing import Swung
from toilewright.geometry.point import unit
from toilewright.pattern.parts import Dart
from toilewright.pattern.piece import Piece
from toilewright.units import show_both

AFTER_THE_BUST = 3
"""Rank of what is made of the dart: after all that needs the dart itself (full bust, height, point, armhole)."""


def share_of(piece: Piece, dart: Dart, name: str, amount: float) -> float:
    """How much of a dart's mouth is taken (mm): as asked, or all of it where what is left could not be sewn.

    Raises:
        AlterationError: the amount is negative, or more than the mouth.
    """
    width = width_of(piece, dart)
    if amount < 0:
        raise AlterationError(f'"{name}" by {show_both(amount)} would widen the dart; use "full bust" for that, or '
                              "give a positive amount.")
    if amount > width + 0.5:
        raise too_much(name, amount, piece.name, f'is more than its "{dart.name}" holds', width)
    return width if width - amount < LEAST_DART else amount


def width_of(piece: Piece, dart: Dart) -> float:
    """From foot to foot (mm)."""
    first, second = piece.feet(dart)
    return abs(second - first)


def swung_picture(piece: Piece, dart: Dart, swung: Swung) -> Picture:
    """The part that swings, and how wide the new place opens."""
    path = swung.piece.edge(swung.edge).path
    a, b = path.point_at(swung.start), path.point_at(swung.end)
    aim = bust_point(piece, dart)
    return Picture(swung.carried.regions, sizes=(Size(a, b, unit((a + b) / 2 - aim)),), crosses={"bust point": aim})
