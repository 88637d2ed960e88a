"""Back neckline gapes: a wedge is folded out from the neck to the shoulder blade, and taken up at the shoulder."""

from __future__ import annotations

from dataclasses import replace

from toilewright.errors import AlterationError
from toilewright.fit.alterations.kinds import Alteration, Change, Need, Options, Picture, Size, too_much
from toilewright.fit.alterations.neck_and_shoulder.upper_back import DART_LENGTH, cut_to_armhole, shortened
from toilewright.fit.follow import allow_ease
from toilewright.fit.frame import need_edges, needed_piece
from toilewright.fit.moves.edges import corner, ends_at, redraw_across, redraw_edge
from toilewright.fit.moves.ring import Place, point_of
from toilewright.fit.moves.wedge import fold_out, foot_beside, square_to
from toilewright.fit.result import Card, Order
from toilewright.geometry.point import Point, unit
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import Dart, Press
from toilewright.pattern.piece import Piece
from toilewright.tolerance import WORTH_DOING
from toilewright.units import show_both

NAME = "neckline gaping back"

DART = "shoulder dart"

BLADE = 0.66
"""Of the way from the nape down to the underarm: the level of the shoulder blades (common practice)."""

NEAR = 0.5
"""mm; the neck is folded out by what was asked within this (a pen line and a little)."""

MOST_SHARE = 0.2
"""Share of the neck that may be folded out before it no longer lies round the neck (our own choice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Back neck shorter by `amount` mm on each half; what is folded out goes to the shoulder.

    A shoulder dart that is there grows; else one is made when it is worth sewing, or the shoulder is eased.

    Options:
        piece: ``bodice back`` unless told otherwise.

    Raises:
        AlterationError: an edge is missing, or the amount does not fit.
    """
    piece = needed_piece(garment, NAME, options, "bodice back")
    need_edges(piece, NAME, "neck", "shoulder", "armhole", "centre back")
    if amount < 0:
        raise AlterationError(f'"{NAME}" by {show_both(amount)} asks for a longer neck; use "neckline width" or '
                              '"neckline height", or give a positive amount.')
    most = MOST_SHARE * piece.sewn_length("neck")
    if amount > most:
        raise too_much(NAME, amount, piece.name, "leaves the neck too short", most)
    dart = next((d for d in piece.darts if d.name == DART), None)
    point = dart.apex if dart else sum(point_of(piece, p) for p in cut_to_armhole(piece, NAME, BLADE)) / 2
    fold = square_to(piece, "neck", point)
    onto = foot_beside(piece, dart, fold, "centre back") if dart else Place(
        "shoulder", piece.edge("shoulder").path.length / 2)
    if not _folds(piece, fold, amount, point, onto):
        raise too_much(NAME, amount, piece.name, "folds the wedge out through a dart of the neck",
                       _most(piece, fold, amount, point, onto))
    altered, carried = fold_out(piece, fold, amount, point, onto, "centre back")
    width = carried.at("shoulder", onto.at, after=True) - carried.at("shoulder", onto.at)
    if dart is None and width < WORTH_DOING:
        altered = redraw_edge(altered, redraw_across(altered, "shoulder", onto.at, onto.at + width))
        garment = allow_ease(garment, piece.name, "shoulder", width)
    elif dart is None:
        press = Press.TO_END if ends_at(piece, "shoulder", "neck") else Press.TO_START
        new = Dart(DART, "shoulder", onto.at, onto.at + width, point, press)
        altered = shortened(replace(altered, darts=(*altered.darts, new)), DART)
    at = point_of(piece, fold)
    along = unit(piece.edge("neck").path.tangent_at(fold.at)) * amount / 2
    nape, tip = corner(piece, "neck", "centre back"), corner(piece, "shoulder", "armhole")
    picture = Picture(carried.regions, (), (), (Size(at - along, at + along, unit(at - point)),), (nape, tip, point))
    dart_now = 0.0 if dart is None and width < WORTH_DOING else width
    return Change(garment.with_piece(altered), {piece.name: picture},
                  {"width": width, "dart": dart_now, "grows": float(dart is not None), "from centre": abs(nape - at)})


def _folds(piece: Piece, fold: Place, by: float, point: Point, onto: Place) -> bool:
    """Is the neck shorter by so much once the wedge is out? It is not where the wedge reaches a dart of the neck."""
    folded, _ = fold_out(piece, fold, by, point, onto, "centre back")
    return abs(piece.sewn_length("neck") - folded.sewn_length("neck") - by) < NEAR


def _most(piece: Piece, fold: Place, amount: float, point: Point, onto: Place) -> float:
    """The most that can be folded out there, less than an amount with which it cannot (mm)."""
    low, high = 0.0, amount
    for _ in range(6):
        middle = (low + high) / 2
        low, high = (middle, high) if _folds(piece, fold, middle, point, onto) else (low, middle)
    return low if low > NEAR else 0.0


def _card(order: Order, change: Change) -> Card:
    n, by = change.numbers, f"{{{order.amount.value:.1f} mm}}"
    width = f"{{{n['width']:.1f} mm}}"
    steps = (
        f"On the back, mark the middle of the gape on the neck, {{{n['from centre']:.0f} mm}} from the centre back, "
        f"and rule a line from there to {'the point of the shoulder dart' if n['grows'] else 'the shoulder blade'}.",
        "Cut along the leg of the dart next to the neck, up to its point." if n["grows"] else
        "Cut from the middle of the shoulder seam to the same point, not through it.",
        f"Fold a wedge out along the line, {by} wide at the neck and nothing at the blade: the shoulder opens by "
        f"{width}. Tape it over paper.",
        "The shoulder dart has grown by it; true its legs." if n["grows"] else
        f"Make a shoulder dart of it, {{{DART_LENGTH:.0f} mm}} long." if n["dart"] else
        "Rule the shoulder across the gap and ease it onto the front.",
        "Draw the neck smoothly over the fold; redraw the facing to it.")
    check = (f"The neck is {by} shorter on this half.",
             "Centre back, armhole and the sewn shoulder measure what they did.")
    return Card("Back neckline gapes", ("paper", "tape", "ruler", "French curve", "scissors"), steps, check, SOURCE)


SOURCE = ("fold out: NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372; into the shoulder dart, its "
          "length: common practice")

ALTERATION = Alteration(
    NAME, ("gaping back neckline", "back neckline gapes"), (2.0, 12.0), SOURCE, 1, apply, _card,
    needs=(Need("bodice back", ("neck", "shoulder", "armhole", "centre back", "side seam")),),
    instead='where a princess seam starts at the neck or shoulder, take it out there; or narrow the neck with '
            '"neckline width"')
