"""Directions and places of a piece by its names, whatever its hand and wherever it lies."""

from __future__ import annotations

from collections.abc import Mapping

from toilewright.errors import AlterationError
from toilewright.fit.moves.darts import axis
from toilewright.fit.moves.edges import towards
from toilewright.geometry.point import Point, dot, unit
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import Dart
from toilewright.pattern.piece import Piece

BUST_POINT_BEYOND = 25.0
"""mm; a bust point that is not drawn lies so far beyond the point of the bust dart (common practice, no published
source)."""

CENTRES = ("centre front", "centre back", "wrap edge")


def needed_piece(garment: Garment, alteration: str, options: Mapping[str, str], usual: str) -> Piece:
    """The piece that an alteration is made on: `piece` of its options, else the usual one.

    Raises:
        AlterationError: the pattern does not have it.
    """
    name = options.get("piece", usual)
    if not garment.has(name):
        known = ", ".join(f'"{p.name}"' for p in garment.pieces)
        raise AlterationError(f'"{alteration}" needs a piece called "{name}", which this pattern does not have; leave '
                              f"it out, name another one as its piece, or correct the labels (known here: {known}).")
    return garment.piece(name)


def need_edges(piece: Piece, alteration: str, *edges: str) -> None:
    """Raises AlterationError when an edge is missing."""
    missing = [e for e in edges if not piece.has_edge(e)]
    if missing:
        raise AlterationError(
            f'"{alteration}" on "{piece.name}" needs the edge "{missing[0]}", which the piece does not have '
            f"(it has {', '.join(e.name for e in piece.edges)}); correct the names in the labels file.")


def centre_of(piece: Piece) -> str | None:
    """Name of the edge at the centre, or None."""
    return next((c for c in CENTRES if piece.has_edge(c)), None)


def down(piece: Piece) -> Point:
    """Unit direction from the neck or waist towards the hem, along the centre or else along the grain."""
    low = next((e for e in ("hem", "waist") if piece.has_edge(e)), None)
    centre = centre_of(piece)
    if centre and low:
        path = towards(piece, centre, low)
        return unit(path.end - path.start)
    if piece.grain is None:
        raise AlterationError(f'"{piece.name}" shows neither a centre edge nor a grain line, so up and down cannot be '
                              "told; draw its grain line.")
    along = unit(piece.grain.end - piece.grain.start)
    if low is None:
        return -along
    edge = piece.edge(low).path
    middle = sum(e.path.start for e in piece.edges) / len(piece.edges)
    return along if dot(edge.point_at(edge.length / 2) - middle, along) > 0 else -along


def outward(piece: Piece, side: str = "side seam") -> Point:
    """Unit direction across the grain from the centre towards an edge."""
    across = down(piece) * 1j
    path = piece.edge(side).path
    middle = sum(e.path.start for e in piece.edges) / len(piece.edges)
    return across if dot(path.point_at(path.length / 2) - middle, across) > 0 else -across


def bust_dart(piece: Piece, alteration: str) -> Dart:
    """The bust dart.

    Raises:
        AlterationError: there is none.
    """
    dart = next((d for d in piece.darts if d.name == "bust dart"), None)
    if dart is None:
        has = ", ".join(f'"{d.name}"' for d in piece.darts) or "no darts"
        raise AlterationError(f'"{alteration}" needs a dart called "bust dart" on "{piece.name}", which has {has}; '
                              'name the dart in the labels file, or give length with "lengthen or shorten" and width '
                              'with "waist in or out".')
    return dart


def bust_point(piece: Piece, dart: Dart) -> Point:
    """The bust point as drawn, else estimated beyond the dart's apex."""
    drawn = piece.landmark("bust point")
    return dart.apex + axis(piece, dart) * BUST_POINT_BEYOND if drawn is None else drawn


def on_axis(piece: Piece, dart: Dart, at: Point | None = None) -> Point:
    """The bust point (or another one) moved onto the dart's axis: a cut along the dart that turns there keeps both legs
    equal."""
    along = axis(piece, dart)
    return dart.apex + along * dot((bust_point(piece, dart) if at is None else at) - dart.apex, along)
