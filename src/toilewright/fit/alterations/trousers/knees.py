"""Knock knees and bow legs: the leg from the knee down moved inwards or outwards across the grain."""

from __future__ import annotations

from dataclasses import replace
from math import copysign

from toilewright.fit.alterations.kinds import Alteration, Change, Options, Picture, Size, too_much
from toilewright.fit.alterations.trousers.leg import (
    HEM,
    INSEAM,
    PANEL,
    SIDE,
    SOURCE,
    crotch_point,
    knee_level,
    out,
    panels,
    place_on,
    swelled,
)
from toilewright.fit.frame import down
from toilewright.fit.moves.edges import Redrawn, corner, redraw_edge, reline
from toilewright.fit.result import Card, Order
from toilewright.geometry.point import dot
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME = "knees"

STEEPEST = 0.12
"""mm for each mm of leg between crotch and knee: more twists the leg (our own choice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Knee, calf and hem `amount` mm further in, towards the inseam, for knock knees (negative: out, for bow legs).

    From the crotch line to the knee both seams lean over; above and below nothing changes its width.

    Options:
        piece: only this one instead of both.

    Raises:
        AlterationError: an edge is missing, or the amount does not fit.
    """
    pictures = {}
    for piece in panels(garment, NAME, options):
        moved, pictures[piece.name] = _shifted(piece, amount)
        garment = garment.with_piece(moved)
    return Change(garment, pictures)


def _shifted(piece: Piece, amount: float) -> tuple[Piece, Picture]:
    knee, high, by, way = knee_level(piece), crotch_point(piece), -out(piece) * amount, down(piece)
    most = STEEPEST * dot(knee - high, way)
    if abs(amount) > most:
        raise too_much(NAME, amount, piece.name, "twists the leg", copysign(most, amount))
    drawn = [swelled(piece.edge(edge), ((place_on(piece, edge, high, NAME), 0j),
                                        (place_on(piece, edge, knee, NAME), by))) for edge in (SIDE, INSEAM)]
    hem = piece.edge(HEM).path
    drawn.append(Redrawn(HEM, hem.moved(by), (0.0, hem.length), (0.0, hem.length)))
    lower = dot(knee, way) - 1e-6
    marks = {m.name: m.at + by for m in piece.landmarks if dot(m.at, way) > lower}
    moved = redraw_edge(piece, *drawn, landmarks=marks)
    moved = replace(moved, lines=tuple(
        replace(m, path=m.path.moved(by)) if min(dot(p, way) for p in m.path.nodes) > lower else m
        for m in moved.lines))
    here = corner(piece, INSEAM, HEM)
    return reline(piece, moved, SIDE, INSEAM), Picture(sizes=(Size(here, here + by, way),))


def _card(order: Order, change: Change) -> Card:
    amount = order.amount.value
    by, knock = f"{{{abs(amount):.1f} mm}}", amount > 0
    names = " and ".join(change.pictures)
    steps = (f"On {names}, mark the knee line at both seams.",
             f"Cut the leg off at the knee, move the lower part {by} "
             f"{'inwards, towards the inseam' if knock else 'outwards, towards the side seam'}, square to the grain, "
             "and tape it on again, over paper.",
             "Draw side seam and inseam anew from the crotch line to the knee, where they meet the moved part.")
    check = ("Knee, calf and hem are as wide as they were.", "Crotch seam and waist are untouched.",
             "Walk inseam and side seam: front and back are equal; true them at the hem.")
    return Card("Knock knees" if knock else "Bow legs", ("paper", "tape", "ruler", "curve", "scissors"), steps, check,
                SOURCE)


ALTERATION = Alteration(
    NAME, ("knock knees", "bow legs", "bow knees"), (-30.0, 30.0), SOURCE, 3, apply, _card,
    {"bow legs": -1.0, "bow knees": -1.0}, needs=(PANEL,), instead="a skirt needs no change for the knees")
