"""Full or thin thigh: a leg wider or narrower just below the crotch, at both seams."""

from __future__ import annotations

from toilewright.fit.alterations.kinds import Alteration, Change, Options, Picture, Size, too_much
from toilewright.fit.alterations.trousers.leg import (
    INSEAM,
    PANEL,
    SIDE,
    SOURCE,
    hip_level,
    knee_level,
    out,
    panels,
    place_on,
    settled_point,
    swelled,
    thigh_level,
)
from toilewright.fit.moves.edges import redraw_edge, reline
from toilewright.fit.result import Card, Order
from toilewright.geometry.point import dot
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME = "thigh"

STEEPEST = 0.28
"""mm for each mm of side seam between hip and thigh: more makes a bulge (common practice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Each leg `amount` mm larger round the thigh (negative: smaller), evenly at side seam and inseam, front and back.

    The crotch points move with the inseam, so both crotch seams change by about a quarter of the amount. Inseams keep
    their length; knee, hem, hip and waist stay.

    Options:
        piece: only this one instead of both.

    Raises:
        AlterationError: an edge is missing, or the amount does not fit.
    """
    pictures = {}
    found = panels(garment, NAME, options)
    each = amount / (2 * len(found))
    for piece in found:
        moved, pictures[piece.name] = _wider(piece, amount, each)
        garment = garment.with_piece(moved)
    return Change(garment, pictures, {"each": each})


def _wider(piece: Piece, amount: float, each: float) -> tuple[Piece, Picture]:
    way, thigh = out(piece), thigh_level(piece)
    hip, widest, knee = (place_on(piece, SIDE, level, NAME) for level in (hip_level(piece), thigh, knee_level(piece)))
    most = STEEPEST * abs(widest - hip)
    if abs(each) > most:
        raise too_much(NAME, amount, piece.name, "makes a bulge in the side seam", most * amount / abs(each))
    side = swelled(piece.edge(SIDE), ((hip, 0j), (widest, way * each), (knee, 0j)))
    moved = reline(piece, redraw_edge(piece, side), SIDE)
    inner = _inner(piece)

    moved = settled_point(moved, NAME, amount, lambda p, share: dot(inner - _inner(p), way) - share * each, each)
    outer = piece.edge(SIDE).path.point_at(widest)
    return moved, Picture(sizes=(Size(outer, outer + way * each), Size(inner, inner - way * each)))


def _inner(piece: Piece) -> complex:
    """Where the thigh line meets the inseam."""
    return piece.edge(INSEAM).path.point_at(place_on(piece, INSEAM, thigh_level(piece), NAME))


def _card(order: Order, change: Change) -> Card:
    amount = order.amount.value
    each, larger = f"{{{abs(change.numbers['each']):.1f} mm}}", amount > 0
    names = " and ".join(change.pictures)
    steps = (f"On {names}, rule a line square to the grain a hand's breadth below the crotch.",
             f"On it, mark {each} {'outside' if larger else 'inside'} the side seam and {each} "
             f"{'outside' if larger else 'inside'} the inseam.",
             "Draw the side seam through its mark, from nothing at the hip line to nothing at the knee.",
             "Draw the inseam through its mark to the knee, and the crotch seam "
             f"{'out to it, as hollow as it was' if larger else 'back to it'}.",
             "Walk both inseams from the knee up, and set the crotch points where they are as long as they were.")
    check = (f"Each leg is {{{abs(amount):.1f} mm}} {'larger' if larger else 'smaller'} round the thigh.",
             "Front and back inseam are equal and as long as they were.", "Hip, knee, hem and waist are untouched.")
    return Card(f"{'Full' if larger else 'Thin'} thigh", ("paper", "tape", "curve"), steps, check, SOURCE)


ALTERATION = Alteration(
    NAME, ("full thigh", "thin thigh", "full thighs", "thin thighs"), (-50.0, 70.0), SOURCE, 3, apply, _card,
    {"thin thigh": -1.0, "thin thighs": -1.0}, needs=(PANEL,), instead='a skirt takes "hip in or out"')
