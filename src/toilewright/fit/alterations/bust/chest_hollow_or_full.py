"""Chest hollow or full: the centre front above the bust shorter or longer, nothing at the armhole."""

from __future__ import annotations

from toilewright.errors import AlterationError
from toilewright.fit.alterations.kinds import PIECE, Alteration, Change, Need, Options, Picture, Size, too_much
from toilewright.fit.alterations.neck_and_shoulder.halves import needed_centre
from toilewright.fit.frame import down, need_edges, needed_piece, outward
from toilewright.fit.moves.centre import open_at_centre
from toilewright.fit.moves.edges import corner, other_end
from toilewright.fit.moves.ring import Place, crossing, point_of
from toilewright.fit.result import Card, Order
from toilewright.geometry.point import dot
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME = "chest hollow or full"

CUT_SHARE = 0.5
"""Of the way from the neck down to the underarm (or the bust), where the folds lie (common practice)."""

STEEPEST = 0.2
"""How far the centre may open for each mm of the cut's length before the cloth no longer lies flat (our own choice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Centre front longer by `amount` mm above the bust for a full chest, shorter for a hollow one.

    Armhole (or princess seam), shoulder and bust line stay; the neck is drawn to the centre, and its facing follows.

    Options:
        piece: ``bodice front`` unless told otherwise.

    Raises:
        AlterationError: an edge is missing, or the amount does not fit.
    """
    piece = needed_piece(garment, NAME, options, "bodice front")
    need_edges(piece, NAME, "neck", "shoulder")
    centre = needed_centre(piece, NAME)
    cut, hinge = _cut(piece, centre)
    a, h = point_of(piece, cut), point_of(piece, hinge)
    most = STEEPEST * abs(h - a)
    if abs(amount) > most:
        raise too_much(NAME, amount, piece.name, "turns the neck further than cloth lies flat",
                       most if amount > 0 else -most)
    opened = open_at_centre(piece, cut, hinge, amount, "neck")
    throat, tip = corner(piece, centre, "neck"), corner(piece, "shoulder", other_end(piece, "shoulder", "neck"))
    size = Size(a, a - down(piece) * amount, -outward(piece, "shoulder"))
    picture = Picture(opened.carried.regions, (), (h,), (size,),
                      (a + down(piece) * 40, h, tip, corner(piece, "neck", "shoulder"), throat))
    return Change(garment.with_piece(opened.piece), {piece.name: picture},
                  {"gained": opened.gained, "level": abs(a - throat), "at armhole": float(hinge.edge == "armhole")})


def _cut(piece: Piece, centre: str) -> tuple[Place, Place]:
    """Where a line square to the grain above the bust meets the centre, and the armhole or the princess seam."""
    edge = next((e for e in ("armhole", "princess seam") if piece.has_edge(e)), None)
    way, throat = down(piece), corner(piece, centre, "neck")
    bust = piece.landmark("bust point")
    below = corner(piece, "armhole", other_end(piece, "armhole", "shoulder")) if edge == "armhole" else bust
    if edge is None or below is None:
        raise AlterationError(f'"{NAME}" on "{piece.name}" cuts from the centre to the edge "armhole", or to the edge '
                              '"princess seam" above a bust point; name them in the labels file.')
    level = throat + way * (CUT_SHARE * dot(below - throat, way))
    cut, hinge = crossing(piece, centre, level, way * 1j), crossing(piece, edge, level, way * 1j)
    if cut is None or hinge is None:
        raise AlterationError(f'"{NAME}" on "{piece.name}" cuts from "{centre}" out to "{edge}", but does not reach '
                              "both; compare the names of the edges in the labels file.")
    return cut, hinge


def _card(order: Order, change: Change) -> Card:
    n, full = change.numbers, order.amount.value > 0
    by = f"{{{abs(order.amount.value):.1f} mm}}"
    where = "armhole" if n["at armhole"] else "princess seam"
    steps = (
        f"On the front, measure {{{n['level']:.1f} mm}} down from the neck along the centre front and rule a line from "
        f"there to the {where}, square to the grain.",
        f"Cut along it up to the seam line of the {where}, not through it, and raise the neck part by {by} at the "
        "centre. Tape it over paper." if full else
        f"Crease along it and fold out {by} at the centre front, tapering to nothing at the {where}. Tape.",
        "Rule the centre front straight up from the part below, and draw the neck to meet it square.",
        f"The neck is now {{{abs(n['gained']):.1f} mm}} {'longer' if n['gained'] > 0 else 'shorter'} on this half: "
        "redraw the facing to it, and a collar by as much.",
        f"Round off the {where} at the end of the line.")
    check = (f"The centre front is {by} {'longer' if full else 'shorter'} above the bust.",
             f"Shoulder and {where} measure what they did.", "The bust line and the grain below have not moved.")
    return Card("Full chest" if full else "Hollow chest", ("paper", "tape", "ruler", "French curve"), steps, check,
                SOURCE)


SOURCE = ("USDA Home Economics Research Report 32 (1966); Liechty and others (1992), from memory; fold out, slash and "
          "spread: NMSU Cooperative Extension C-228")

ALTERATION = Alteration(
    NAME, ("hollow chest", "full chest", "chest hollow", "chest full"), (-20.0, 20.0), SOURCE, 2, apply, _card,
    {"hollow chest": -1.0, "chest hollow": -1.0}, (PIECE,), (Need("bodice front", ("neck", "shoulder")),),
    instead='"lengthen or shorten" changes the whole front')
