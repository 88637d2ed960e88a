"""Which way is up on a piece, and what lies within it."""

from __future__ import annotations

from collections.abc import Sequence

from toilewright.errors import InputError
from toilewright.geometry.point import Point, dot, unit
from toilewright.pattern.parts import Grain
from toilewright.pattern.piece import Piece
from toilewright.units import show_both

UPPER = ("neck", "shoulder", "cap")
"""Edges that lie above the middle of their piece; without one, a waist does."""

AWRY = 0.5
"""Cosine; an edge that runs nearer to across than this runs across."""


def upwards(piece: Piece) -> Point:
    """The direction along the grain towards her head (unit)."""
    grain = unit(piece.grain.end - piece.grain.start) if piece.grain else 1j
    middle = sum(piece.outline.flatten(1.0)[:-1]) / (len(piece.outline.flatten(1.0)) - 1)
    for words, sign in ((UPPER, 1.0), (("waist",), 1.0), (("hem",), -1.0)):
        places = [e.path.point_at(e.path.length / 2) for e in piece.edges if any(w in e.name.split() for w in words)]
        if places:
            height = dot(sum(places) / len(places) - middle, grain) * sign
            return grain if height >= 0 else -grain
    return grain


def from_top(piece: Piece, edge: str, down: float, option: str = "edge") -> float:
    """The place so far below the upper end of an edge, along it (arc length from its start, mm).

    Raises:
        InputError: the edge runs across the piece, or is shorter.
    """
    path = piece.edge(edge).path
    rise = dot(path.end - path.start, upwards(piece))
    if abs(rise) < AWRY * abs(path.end - path.start):
        raise InputError(f'"{option}" names "{edge}" of "{piece.name}", which runs across it; name an edge that runs '
                         "down, such as a side seam or the centre front.")
    if not 0.0 <= down <= path.length:
        raise InputError(f'{show_both(down)} below the upper end of "{edge}" of "{piece.name}" is beyond its end; it '
                         f"is {show_both(path.length)} long.")
    return path.length - down if rise > 0 else down


def inwards(piece: Piece, edge: str, at: float) -> Point:
    """The direction across the grain into the piece, from a place on an edge (unit)."""
    across = upwards(piece) * 1j
    return across if dot(piece.edge(edge).path.normal_at(at), across) >= 0 else -across


def holds(ring: Sequence[Point], p: Point) -> bool:
    """Does a closed ring of points hold a point?"""
    inside = False
    for a, b in zip(ring, (*ring[1:], ring[0]), strict=True):
        if (a.imag > p.imag) != (b.imag > p.imag):
            inside ^= p.real < a.real + (b.real - a.real) * (p.imag - a.imag) / (b.imag - a.imag)
    return inside


def outside(piece: Piece, points: Sequence[Point], slack: float = 0.5) -> bool:
    """Does one of some points lie outside a piece's seam line, by more than a slack (mm)?"""
    ring = piece.outline.flatten(0.1)[:-1]
    return any(not holds(ring, p) and piece.outline.nearest(p)[1] > slack for p in points)


def grain_within(grain: Grain, ring: Sequence[Point]) -> Grain:
    """A grain arrow shortened from both ends until it lies within a closed ring of points; its direction is kept."""
    middle, half = (grain.start + grain.end) / 2, (grain.end - grain.start) / 2
    for part in (1.0, 0.8, 0.6, 0.4, 0.25):
        if all(holds(ring, middle + half * part * s) for s in (-1.05, -0.5, 0.5, 1.05)):
            return Grain(middle - half * part, middle + half * part)
    return grain
