"""Bust dart turned into gathers: its mouth becomes seam, drawn in over the bust instead of folded."""

from __future__ import annotations

from dataclasses import replace

from toilewright.errors import Finding, Severity
from toilewright.fit.alterations.bust.shares import AFTER_THE_BUST, share_of, width_of
from toilewright.fit.alterations.kinds import PIECE, Alteration, Change, Need, Options, Picture, Size
from toilewright.fit.follow import allow_ease
from toilewright.fit.frame import bust_dart, bust_point, needed_piece
from toilewright.fit.moves.darts import axis
from toilewright.fit.moves.edges import soften
from toilewright.fit.result import Card, Order
from toilewright.geometry.path import Path
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import Dart, Notch
from toilewright.pattern.piece import Piece
from toilewright.units import show_both

NAME = "bust dart to gathers"

BEYOND = 20.0
"""mm on both sides of the dart over which it is gathered (common practice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """The bust dart `amount` mm narrower, and its seam as much longer, gathered onto its partner.

    Options:
        piece: ``bodice front`` unless told otherwise.

    Raises:
        AlterationError: there is no bust dart, or it does not hold as much.
    """
    piece = needed_piece(garment, NAME, options, "bodice front")
    dart = bust_dart(piece, NAME)
    by = share_of(piece, dart, NAME, amount)
    altered = _filled(piece, dart, by)
    grown = altered.sewn_length(dart.edge) - piece.sewn_length(dart.edge)
    first, second = piece.feet(dart)
    note = Finding("gathers", f'"{piece.name}" is {show_both(grown)} longer along "{dart.edge}"; gather it onto its '
                   "partner between the marks.", Severity.NOTE, piece.name, dart.edge)
    picture = Picture(sizes=(Size(first, second, -axis(piece, dart)),), crosses={"bust point": bust_point(piece, dart)})
    eased = allow_ease(garment.with_piece(altered), piece.name, dart.edge, grown)
    return Change(eased, {piece.name: picture}, {"grown": grown, "left": width_of(piece, dart) - by}, (note,))


def _filled(piece: Piece, dart: Dart, by: float) -> Piece:
    """The seam drawn straight over the mouth, with what is left of the dart in its middle and marks for the gathers."""
    path = piece.edge(dart.edge).path
    first, second = piece.feet(dart)
    line = Path.joined([path.sub(0.0, dart.start), Path.line(first, second), path.sub(dart.end, path.length)])
    shorter = dart.end - dart.start - abs(second - first)
    end = dart.end - shorter
    left = replace(dart, start=dart.start + by / 2, end=end - by / 2)
    others = tuple(replace(d, start=d.start - shorter, end=d.end - shorter)
                   if d.edge == dart.edge and d.start > dart.start else d for d in piece.darts if d is not dart)
    gone = left.end - left.start < 1.0
    marks = tuple(Notch(name, dart.edge, min(max(at, 5.0), line.length - 5.0))
                  for name, at in (("gather from here", dart.start - BEYOND), ("gather to here", end + BEYOND)))
    notches = tuple(replace(n, at=n.at - shorter) if n.edge == dart.edge and n.at > dart.end else n
                    for n in piece.notches)
    out = replace(
        piece, edges=tuple(replace(e, path=line) if e.name == dart.edge else e for e in piece.edges),
        darts=others if gone else (*others, left), notches=(*notches, *marks))
    reach = 0.45 * (end - dart.start)
    return soften(soften(out, dart.edge, dart.start, reach), dart.edge, end, reach) if gone else out


def _card(order: Order, change: Change) -> Card:
    n = change.numbers
    by, whole = f"{{{n['grown']:.1f} mm}}", n["left"] < 1.0
    steps = (
        "Draw the seam line straight across the mouth of the bust dart, from foot to foot"
        + ("; round both joints off." if whole else f", and a narrower dart of {{{n['left']:.1f} mm}} in its middle."),
        f"Mark {{{BEYOND:.0f} mm}} above the dart and as much below it: between the marks the seam is gathered.",
        "Mark the same places on the partner, the dart closed.",
        f"Sew two rows of long stitches between the marks, and draw in {by}.")
    check = (f"Between the marks the front is {by} longer than its partner.", "Nothing else has changed.")
    return Card("Bust dart turned into gathers", ("pencil", "French curve"), steps, check, SOURCE)


SOURCE = "New Dressmaker (1921), ch. 4, from memory; rows and marks: common practice"

ALTERATION = Alteration(
    NAME, ("gathers instead of bust dart", "bust gathers"), (8.0, 70.0), SOURCE, AFTER_THE_BUST,
    apply, _card, options=(PIECE,),
    needs=(Need("bodice front", (), ("bust dart",)),),
    instead='"full bust dartless" with fullness = "gathers" serves a front without darts')
