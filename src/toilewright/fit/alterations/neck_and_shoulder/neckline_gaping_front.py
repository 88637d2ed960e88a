"""Front neckline gapes: a wedge is folded out to the point of the bust dart, which grows by it."""

from __future__ import annotations

from toilewright.errors import AlterationError
from toilewright.fit.alterations.kinds import Alteration, Change, Need, Options, Picture, Size, too_much
from toilewright.fit.alterations.neck_and_shoulder.halves import needed_centre
from toilewright.fit.frame import need_edges, needed_piece
from toilewright.fit.moves.edges import corner
from toilewright.fit.moves.ring import point_of
from toilewright.fit.moves.wedge import fold_out, foot_beside, square_to
from toilewright.fit.result import Card, Order
from toilewright.geometry.point import unit
from toilewright.pattern.garment import Garment
from toilewright.units import show_both

NAME = "neckline gaping front"

HOSTS = ("bust dart", "armhole dart", "shoulder dart", "waist dart")

MOST_SHARE = 0.2
"""Share of the neck that may be folded out before it no longer lies round the neck (our own choice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Front neck shorter by `amount` mm on each half; the bust dart takes up what is folded out.

    Options:
        piece: ``bodice front`` unless told otherwise.

    Raises:
        AlterationError: a dart or an edge is missing, or the amount does not fit.
    """
    piece = needed_piece(garment, NAME, options, "bodice front")
    need_edges(piece, NAME, "neck")
    if amount < 0:
        raise AlterationError(f'"{NAME}" by {show_both(amount)} asks for a longer neck; use "neckline width" or '
                              '"neckline height", or give a positive amount.')
    most = MOST_SHARE * piece.sewn_length("neck")
    if amount > most:
        raise too_much(NAME, amount, piece.name, "leaves the neck too short", most)
    centre = needed_centre(piece, NAME)
    dart = next(d for name in HOSTS for d in piece.darts if d.name == name)
    fold = square_to(piece, "neck", dart.apex)
    altered, carried = fold_out(piece, fold, amount, dart.apex, foot_beside(piece, dart, fold, centre), centre)
    old, new = (abs(p.feet(p.dart(dart.name))[1] - p.feet(p.dart(dart.name))[0]) for p in (piece, altered))
    at = point_of(piece, fold)
    along = unit(piece.edge("neck").path.tangent_at(fold.at)) * amount / 2
    picture = Picture(carried.regions, (), (), (Size(at - along, at + along, unit(at - dart.apex)),))
    return Change(garment.with_piece(altered), {piece.name: picture},
                  {"dart": new, "old dart": old, "from centre": abs(corner(piece, "neck", centre) - at)})


def _card(order: Order, change: Change) -> Card:
    n, by = change.numbers, f"{{{order.amount.value:.1f} mm}}"
    steps = (
        f"On the front, mark the middle of the gape on the neck, {{{n['from centre']:.0f} mm}} from the centre front, "
        "and rule a line from there to the point of the bust dart.",
        "Cut along the leg of the dart next to the armhole, up to its point, not through it.",
        f"Fold a wedge out along the line, {by} wide at the neck and nothing at the dart's point: the dart opens from "
        f"{{{n['old dart']:.0f} mm}} to {{{n['dart']:.0f} mm}}. Tape it over paper.",
        "Draw the neck smoothly over the fold, and true the mouth of the dart.",
        "Redraw the facing to the new neck.")
    check = (f"The neck is {by} shorter on this half.",
             "Armhole, shoulder and the side seam, its dart closed, measure what they did.",
             "The centre front and the grain have not moved.")
    return Card("Front neckline gapes", ("paper", "tape", "ruler", "French curve", "scissors"), steps, check, SOURCE)


SOURCE = "fold out: NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372; into the dart: common practice"

ALTERATION = Alteration(
    NAME, ("gaping front neckline", "front neckline gapes", "neckline gaping", "gaping neckline"),
    (3.0, 20.0), SOURCE, 1, apply, _card, needs=(Need("bodice front", ("neck", "shoulder"), HOSTS),),
    instead='without a dart, take it out at a princess seam, or narrow the neck with "neckline width"')
