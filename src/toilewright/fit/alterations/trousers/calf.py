"""Full or thin calf: a leg wider or narrower between knee and hem, at both seams."""

from __future__ import annotations

from toilewright.fit.alterations.kinds import (
    PIECE,
    Alteration,
    Change,
    Option,
    Options,
    Picture,
    Size,
    chosen,
    too_much,
)
from toilewright.fit.alterations.trousers.leg import (
    HEM,
    INSEAM,
    PANEL,
    SIDE,
    SOURCE,
    Knots,
    knee_level,
    level_at,
    out,
    panels,
    place_on,
    swelled,
)
from toilewright.fit.moves.edges import Redrawn, bend, corner, ends_at, redraw_edge, reline
from toilewright.fit.result import Card, Order
from toilewright.geometry.affine import Affine
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME = "calf"

WAY_OF_HEM = Option("hem", "taper", "follow")

BELOW_KNEE = 0.36
"""Of the way from knee to hem: there the calf is, where no calf line is drawn (common practice)."""

STEEPEST = 0.2
"""mm for each mm of seam between knee and calf: more makes a bulge (common practice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Each leg `amount` mm larger round the calf (negative: smaller), evenly at side seam and inseam, front and back.

    Options:
        piece: only this one instead of both.
        hem: ``taper``: the hem stays as it is; ``follow``: the leg runs on parallel, the hem changes as much.

    Raises:
        AlterationError: an edge is missing, or the amount does not fit.
    """
    follow = chosen(NAME, options, WAY_OF_HEM) == "follow"
    pictures = {}
    found = panels(garment, NAME, options)
    each = amount / (2 * len(found))
    for piece in found:
        moved, pictures[piece.name] = _wider(piece, amount, each, follow)
        garment = garment.with_piece(moved)
    return Change(garment, pictures, {"each": each})


def _wider(piece: Piece, amount: float, each: float, follow: bool) -> tuple[Piece, Picture]:
    way, knee = out(piece), knee_level(piece)
    calf = level_at(piece, "calf line", knee + (corner(piece, INSEAM, HEM) - knee) * BELOW_KNEE)
    drawn, sizes, ends = [], [], {}
    for edge, by in ((SIDE, way * each), (INSEAM, -way * each)):
        path = piece.edge(edge).path
        at_knee, at_calf = (place_on(piece, edge, level, NAME) for level in (knee, calf))
        most = STEEPEST * abs(at_calf - at_knee)
        if abs(each) > most:
            raise too_much(NAME, amount, piece.name, "makes a bulge below the knee", most * amount / abs(each))
        at_hem = path.length if ends_at(piece, edge, HEM) else 0.0
        knots: Knots = ((at_knee, 0j), (at_calf, by), (at_hem, by if follow else 0j))
        drawn.append(swelled(piece.edge(edge), knots))
        here = path.point_at(at_calf)
        sizes.append(Size(here, here + by))
        ends[ends_at(piece, HEM, edge)] = by
    if follow:
        hem = piece.edge(HEM).path
        wider = bend(hem, Affine.shift(ends[False]), Affine.shift(ends[True]))
        drawn.append(Redrawn(HEM, wider, (0.0, hem.length), (0.0, wider.length)))
    return reline(piece, redraw_edge(piece, *drawn), SIDE, INSEAM), Picture(sizes=tuple(sizes))


def _card(order: Order, change: Change) -> Card:
    amount = order.amount.value
    each, larger = f"{{{abs(change.numbers['each']):.1f} mm}}", amount > 0
    follow = order.options.get("hem") == "follow"
    names = " and ".join(change.pictures)
    steps = (f"On {names}, rule a line square to the grain at the fullest part of the calf.",
             f"On it, mark {each} {'outside' if larger else 'inside'} the side seam and the inseam.",
             "Draw both seams through the marks, from nothing at the knee "
             f"{'and on beside the old ones, as far from them,' if follow else 'and to nothing'} at the hem.")
    check = (f"Each leg is {{{abs(amount):.1f} mm}} {'larger' if larger else 'smaller'} round the calf.",
             "The knee is what it was, and the hem has changed as much as the calf." if follow else
             "Knee and hem are what they were.", "Front and back seams are equal.")
    return Card(f"{'Full' if larger else 'Thin'} calf", ("paper", "tape", "curve"), steps, check, SOURCE)


ALTERATION = Alteration(
    NAME, ("full calf", "thin calf", "full calves", "thin calves"), (-40.0, 60.0), SOURCE, 3, apply, _card,
    {"thin calf": -1.0, "thin calves": -1.0}, (PIECE, WAY_OF_HEM), (PANEL,),
    'a skirt takes "hip in or out", a sleeve "upper arm"')
