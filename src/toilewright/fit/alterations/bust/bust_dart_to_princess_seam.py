"""Bust dart turned into a princess seam: front and side front, the darts gone into the seam between them."""

from __future__ import annotations

from dataclasses import replace

from toilewright.errors import AlterationError
from toilewright.fit.alterations.bust.shares import AFTER_THE_BUST, width_of
from toilewright.fit.alterations.kinds import (
    PIECE,
    Alteration,
    Change,
    Need,
    Option,
    Options,
    Picture,
    chosen,
    too_much,
)
from toilewright.fit.alterations.neck_and_shoulder.halves import needed_centre
from toilewright.fit.frame import bust_dart, down, need_edges, needed_piece, on_axis
from toilewright.fit.moves.bust_cut import levelled
from toilewright.fit.moves.edges import ends_at, fair_joint, match_length
from toilewright.fit.moves.parting import Parting, landmark_at, notch_along, part, reseamed
from toilewright.fit.moves.ring import Place, crossing, point_of
from toilewright.fit.moves.slash import holds
from toilewright.fit.moves.swing import swing_part
from toilewright.fit.result import Card, Order
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, dot
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.parts import Cut, Grain
from toilewright.pattern.piece import Piece

NAME = "bust dart to princess seam"

FROM = Option("from", "shoulder", "armhole")

SEAM = "princess seam"

ALLOWANCE = 15.0
"""mm (5/8 in)."""

ROUNDED = 60.0
"""mm above and below the bust point over which the seam is rounded (a French curve's length)."""

SHOULDER_LEFT = 20.0
"""mm of shoulder that must stay beside the seam (common practice)."""

ARMHOLE_SHARE = 0.6
"""Of the armhole from the shoulder down: lower than this the seam runs too level over the bust (common practice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """A seam from the shoulder, `amount` mm from its tip, over the bust point and down along the waist dart.

    Bust dart and waist dart are gone; both panels of the new seam are equally long, and every other seam measures what
    it did.

    Options:
        piece: ``bodice front`` unless told otherwise.
        from: the seam starts in the ``shoulder``, or `amount` mm below the tip in the ``armhole``.

    Raises:
        AlterationError: a dart or an edge is missing, or the seam would start where there is no room.
    """
    piece = needed_piece(garment, NAME, options, "bodice front")
    dart, top = bust_dart(piece, NAME), chosen(NAME, options, FROM)
    centre = needed_centre(piece, NAME)
    need_edges(piece, NAME, "shoulder", "armhole")
    pivot = on_axis(piece, dart)
    start = _start(piece, top, amount)
    low = next(e for e in ("waist", "hem") if piece.has_edge(e))
    swung = swing_part(piece, dart.name, width_of(piece, dart), pivot, start, centre)
    closed = landmark_at(levelled(piece, swung.piece, pivot), "bust point", pivot)
    feet, gap = _feet(closed, low, pivot), (Place(top, swung.start), Place(top, swung.end))
    if holds(closed, gap[1], feet[0], centre):
        ends = ((gap[1], feet[0]), (feet[1], gap[0]))
    else:
        ends = ((feet[1], gap[0]), (gap[1], feet[0]))
    plain = replace(closed, darts=tuple(d for d in closed.darts if not (d.edge == low and d.start == feet[0].at)))
    front = _panel(plain, piece.name, *ends[0], pivot)
    side = _panel(plain, _side_name(piece.name), *ends[1], pivot)
    side = match_length(_side_cut(side, piece), SEAM, low, front.sewn_length(SEAM))
    seams = (*reseamed(garment, piece, (front, side)),
             Seam("princess seam front", (EdgeRef(front.name, SEAM),), (EdgeRef(side.name, SEAM, reverse=True),)))
    pieces = [q for p in garment.pieces for q in ((front, side) if p.name == piece.name else (p,))]
    lines = [Path.polyline((point_of(piece, start), pivot, *(piece.feet(d)[0] for d in piece.darts_on(low))))]
    picture = Picture(cuts=tuple(lines), crosses={"bust point": pivot})
    return Change(Garment(tuple(pieces), seams), {piece.name: picture, side.name: Picture()},
                  {"seam": front.sewn_length(SEAM), "at": amount})


def _start(piece: Piece, top: str, amount: float) -> Place:
    """Where the seam starts, so far from the shoulder tip."""
    other = "armhole" if top == "shoulder" else "shoulder"
    path = piece.edge(top).path
    most = path.length - SHOULDER_LEFT if top == "shoulder" else ARMHOLE_SHARE * path.length
    if amount > most:
        raise too_much(NAME, amount, piece.name, f"leaves no {top} beside the seam", most)
    if amount < SHOULDER_LEFT:
        raise AlterationError(f'"{NAME}" starts at least {SHOULDER_LEFT / 10:.0f} cm from the shoulder tip; ask for '
                              'more, or let it start in the armhole: from = "armhole".')
    return Place(top, path.length - amount if ends_at(piece, top, other) else amount)


def _feet(piece: Piece, low: str, pivot: Point) -> tuple[Place, Place]:
    """Where the seam ends: both feet of the waist dart below the bust point, or twice the place straight below it."""
    across = down(piece) * 1j
    dart = next((d for d in piece.darts_on(low) if abs(dot(d.apex - pivot, across)) < 40.0), None)
    if dart is not None:
        return Place(low, dart.start), Place(low, dart.end)
    place = crossing(piece, low, pivot, down(piece)) or Place(low, piece.edge(low).path.length / 2)
    return place, place


def _panel(piece: Piece, name: str, start: Place, end: Place, pivot: Point) -> Piece:
    """One panel: the ring from start to end, and the seam from there over the bust point back to the start."""
    a, b = point_of(piece, end), point_of(piece, start)
    line = Path.polyline((a, pivot, b))
    at = abs(pivot - a)
    reach = min(ROUNDED, 0.8 * at, 0.8 * abs(pivot - b))
    panel = part(piece, name, Parting(start, end, fair_joint(line, at, at - reach, at + reach)), SEAM, ALLOWANCE)
    place = panel.edge(SEAM).path.nearest(pivot)[0]
    return notch_along(panel, SEAM, {"bust notch": place})


def _side_name(name: str) -> str:
    words = name.split()
    return " ".join((*words[:-1], "side", words[-1])) if len(words) > 1 else f"{name} side"


def _side_cut(side: Piece, piece: Piece) -> Piece:
    """The side panel is cut as a pair, its grain through its middle and along that of the front."""
    count = piece.cut.count * (2 if piece.on_fold else 1)
    grain = None
    if piece.grain is not None:
        x0, y0, x1, y1 = side.outline.bounds
        half = (piece.grain.end - piece.grain.start) / 2 * 0.6
        middle = complex(x0 + x1, y0 + y1) / 2
        grain = Grain(middle - half, middle + half)
    return replace(side, grain=grain, cut=Cut(count, True, piece.cut.cloth))


def _card(order: Order, change: Change) -> Card:
    along = "along the shoulder" if order.options.get("from", "shoulder") == "shoulder" else "down the armhole"
    at = f"{{{change.numbers['at']:.0f} mm}}"
    steps = (
        f"Mark the start of the seam {at} from the shoulder tip {along}, and rule a line from there to the bust point "
        "and on to the leg of the waist dart nearest the centre.",
        "Lengthen both darts to the bust point. Cut along the line and along both legs of the waist dart: the front "
        "falls in two. Close the bust dart of the side panel and tape it.",
        f"Round off both edges, {{{ROUNDED:.0f} mm}} above and below the bust point, and mark a notch there on both.",
        f"Add {{{ALLOWANCE:.0f} mm}} of allowance to both, and rule the side panel's grain along that of the front.",
        "Walk the two edges along each other, and true the difference at the waist.")
    check = (f"Both edges of the new seam measure {{{change.numbers['seam']:.0f} mm}}.",
             "Every other seam measures what it did, the darts closed.")
    return Card("Bust dart into princess seam", ("ruler", "French curve", "paper", "tape", "scissors"), steps,
                check, SOURCE)


SOURCE = "Liechty and others (1992), from memory; the rounding: common practice"

ALTERATION = Alteration(
    NAME, ("princess seam", "bust dart into princess seam"), (25.0, 100.0), SOURCE, AFTER_THE_BUST, apply, _card,
    options=(PIECE, FROM),
    needs=(Need("bodice front", ("shoulder", "armhole"), ("bust dart",), without=(SEAM,)),),
    instead='"full bust dartless" makes a bust dart where there is none')
