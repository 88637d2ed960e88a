"""Bust dart swung: part of it, or all, is closed and opens in another seam, about the bust point."""

from __future__ import annotations

from dataclasses import replace

from toilewright.errors import AlterationError, Finding, Severity
from toilewright.fit.alterations.bust.shares import AFTER_THE_BUST, share_of, swung_picture, width_of
from toilewright.fit.alterations.kinds import PIECE, Alteration, Change, Need, Option, Options, chosen
from toilewright.fit.alterations.neck_and_shoulder.halves import needed_centre
from toilewright.fit.frame import BUST_POINT_BEYOND, bust_dart, down, need_edges, needed_piece, on_axis, outward
from toilewright.fit.moves.bust_cut import WAIST_DART_STOPS, armhole_hinge
from toilewright.fit.moves.ring import Place, crossing
from toilewright.fit.moves.swing import Swung, aimed, swing_part, with_dart
from toilewright.fit.moves.wedge import foot_beside, square_to
from toilewright.fit.result import Card, Order
from toilewright.geometry.point import Point
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import Cut, Dart, EdgeKind
from toilewright.pattern.piece import Piece

NAME = "bust dart swung"

ONTO = Option("onto", "shoulder", "waist", "armhole", "neck", "side seam", "centre front")

SEAM = 15.0
"""mm of allowance at a centre that was a fold (5/8 in)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """The bust dart `amount` mm narrower at its mouth, and a dart of the same angle in another seam.

    Every seam keeps its sewn length. A waist dart that is there takes the room up; a centre on the fold becomes a seam.

    Options:
        piece: ``bodice front`` unless told otherwise.
        onto: the seam in which the new dart opens, ``shoulder`` unless told otherwise.

    Raises:
        AlterationError: there is no bust dart or no such seam, or the dart does not hold as much.
    """
    piece = needed_piece(garment, NAME, options, "bodice front")
    dart, onto = bust_dart(piece, NAME), chosen(NAME, options, ONTO)
    centre = needed_centre(piece, NAME)
    edge = centre if onto == "centre front" else onto
    if edge == "waist" and not piece.has_edge("waist"):
        edge = "hem"
    need_edges(piece, NAME, edge)
    if edge == dart.edge:
        raise AlterationError(f'"{NAME}" onto "{onto}": the bust dart of "{piece.name}" lies there already; name '
                              'another seam, or use "bust dart split".')
    by, pivot = share_of(piece, dart, NAME, amount), on_axis(piece, dart)
    lies = next((d for d in piece.darts if d.edge == edge and d.name != dart.name), None)
    stays = centre if edge != centre else next(e for e in ("waist", "hem") if piece.has_edge(e))
    place = foot_beside(piece, lies, Place(dart.edge, dart.start), stays) if lies else _place(piece, edge, pivot)
    swung = swing_part(piece, dart.name, by, pivot, place, stays)
    altered = _grown(swung, lies, pivot) if lies else with_dart(
        swung, f"{onto} dart", pivot, BUST_POINT_BEYOND, _pressed(piece, edge))
    altered, findings = _seamed(altered, edge) if edge == centre else (altered, ())
    numbers = {"by": by, "left": width_of(piece, dart) - by, "opens": swung.end - swung.start,
               "there": float(lies is not None)}
    return Change(garment.with_piece(altered), {piece.name: swung_picture(piece, dart, swung)}, numbers, findings)


def _place(piece: Piece, edge: str, pivot: Point) -> Place:
    """Where the new dart is cut: the usual place of a dart on that edge."""
    length = piece.edge(edge).path.length
    if edge == "shoulder":
        return Place(edge, length / 2)
    if edge == "armhole":
        return armhole_hinge(piece)
    if edge in ("waist", "hem"):
        return crossing(piece, edge, pivot, down(piece)) or Place(edge, length / 2)
    return square_to(piece, edge, pivot, 0.2)


def _pressed(piece: Piece, edge: str) -> Point:
    """Upright darts are pressed to the centre, level ones down (common practice)."""
    return -outward(piece, "armhole" if piece.has_edge("armhole") else "side seam") if edge in (
        "shoulder", "neck", "waist", "hem") else down(piece)


def _grown(swung: Swung, lies: Dart, pivot: Point) -> Piece:
    """The dart that lay there takes the opening up, and aims at the pivot."""
    now = swung.piece.dart(lies.name)
    wider = replace(now, start=min(now.start, swung.start), end=max(now.end, swung.end))
    piece = replace(swung.piece, darts=tuple(wider if d is now else d for d in swung.piece.darts))
    return aimed(piece, lies.name, pivot, max(abs(lies.apex - pivot), WAIST_DART_STOPS))


def _seamed(piece: Piece, centre: str) -> tuple[Piece, tuple[Finding, ...]]:
    """A fold cannot hold a dart: the centre becomes a seam, and the piece is cut twice."""
    if piece.edge(centre).kind is not EdgeKind.FOLD:
        return piece, ()
    edges = tuple(replace(e, kind=EdgeKind.SEAM, allowance=SEAM) if e.name == centre else e for e in piece.edges)
    note = Finding("centre-seam", f'The fold of "{piece.name}" is now a seam: cut the piece twice, as a pair, and sew '
                   "the centre with the darts closed.", Severity.LOOK, piece.name, centre)
    return replace(piece, edges=edges, cut=Cut(2 * piece.cut.count, True, piece.cut.cloth)), (note,)


def _card(order: Order, change: Change) -> Card:
    n, onto = change.numbers, order.options.get("onto", "shoulder")
    by, opens = f"{{{n['by']:.1f} mm}}", f"{{{n['opens']:.1f} mm}}"
    whole = n["left"] < 1.0
    where = {"shoulder": "the middle of the shoulder", "armhole": "the armhole notch", "neck": "the middle of the neck",
             "waist": "the leg of the waist dart" if n["there"] else "the waist, straight below",
             "side seam": "the side seam, square to it", "centre front": "the centre front, level with it"}[onto]
    steps = (
        f"Rule a line from the bust point to {where}. Lengthen the bust dart to the bust point.",
        "Cut along the new line and along the leg of the bust dart next to it, both up to the bust point, not through "
        "it.",
        f"Close the bust dart {'' if whole else f'by {by} at its mouth '}and tape it: the new cut opens by {opens}. "
        "Tape paper under it.",
        f"The new dart stops {{{BUST_POINT_BEYOND:.0f} mm}} short of the bust point"
        + ("." if whole else ", as the old one does: draw the legs of both anew.") + " True the mouths, folded.")
    if onto == "centre front":
        steps = (*steps, "Cut the front twice, with a seam allowance at the centre front.")
    check = (f"The bust dart is {'gone' if whole else by + ' narrower'}.", "Every seam measures what it did, closed.")
    return Card(f"Bust dart swung to the {onto}", ("paper", "tape", "ruler", "scissors"), steps, check, SOURCE)


SOURCE = "New Dressmaker (1921), ch. 4, and Liechty and others (1992), from memory; where darts lie: common practice"

ALTERATION = Alteration(
    NAME, ("swing bust dart", "move bust dart to another seam"),
    (8.0, 70.0), SOURCE, AFTER_THE_BUST, apply, _card, options=(PIECE, ONTO),
    needs=(Need("bodice front", ("shoulder", "armhole"), ("bust dart",)),),
    instead='"full bust dartless" makes a bust dart where there is none')
